/** The doors through which a lead closes an aircraft to all but the named, and opens it again (rule N17). */
import { createRoute } from '@hono/zod-openapi';
import { noteHere } from '#api/audit/note.ts';
import { aircraftAt, type DoorApp, json, jsonBody, needs, REFUSED } from '#api/door.ts';
import { params } from '#api/ledger/read-ledger.ts';
import { Problem } from '#api/problem/problem.ts';
import { accessTo, changeAccessTo } from '#db/access/close-aircraft.ts';
import { AircraftAccess, AircraftAccessRequest } from '#shared/contract/access.ts';

const show = createRoute({
  method: 'get',
  path: '/api/aircraft/{aircraftId}/access',
  summary: 'Whether this aircraft is closed to all but the named, and who is named',
  ...needs('lead'),
  request: { params },
  responses: { 200: json(AircraftAccess, 'Everybody with an account'), ...REFUSED },
});

const change = createRoute({
  method: 'post',
  path: '/api/aircraft/{aircraftId}/access',
  summary: 'Close this aircraft to all but leads and the named, or open it again',
  ...needs('lead'),
  request: { params, ...jsonBody(AircraftAccessRequest) },
  responses: { 200: json(AircraftAccess, 'As it is now'), ...REFUSED },
});

export function accessDoors(app: DoorApp): void {
  app.openapi(show, async (c) => c.json(await accessTo(c.get('services').db, aircraftAt(c).id), 200));

  app.openapi(change, async (c) => {
    const { db, lines } = c.get('services');
    const { id } = aircraftAt(c);
    const request = c.req.valid('json');
    const isDone = await changeAccessTo(db, id, request, async (tx) => {
      const now = await accessTo(tx, id);
      const named = (may: string) =>
        now.people.flatMap((person) => (person.may === may ? [person.initials] : [])).join(', ');
      const detail: Record<string, string> = now.isClosed
        ? { closed: 'yes', writers: named('write'), readers: named('see') }
        : { closed: 'no' };
      await noteHere(c, { kind: 'access to an aircraft changed', aircraftId: id, detail }, tx);
    });
    if (!isDone) throw new Problem('not-found');
    lines.recheck();
    return c.json(await accessTo(db, id), 200);
  });
}
