/** The doors to the list of aircraft, to a new one, and to the invented one for trying out. */
import { randomUUID } from 'node:crypto';
import { createRoute } from '@hono/zod-openapi';
import { noteHere } from '#api/audit/note.ts';
import { shopDay } from '#api/command/surroundings.ts';
import { type DoorApp, type DoorContext, json, jsonBody, needs, personAt, REFUSED } from '#api/door.ts';
import { refusedInput, stillReading } from '#api/problem/problem.ts';
import { sightOf, sightsOf } from '#db/access/sight.ts';
import { listAircraft } from '#db/ledger/list-aircraft.ts';
import { addAccess } from '#db/people/change-people.ts';
import { inventedAircraft } from '#db/record/invented-aircraft.ts';
import { AircraftList, AircraftReport, AircraftRequest } from '#shared/contract/aircraft.ts';
import type { Person } from '#shared/contract/people.ts';
import { aircraftReport } from './aircraft-report.ts';
import { aircraftWithId } from './aircraft-with-id.ts';
import { beginAircraft } from './begin-aircraft.ts';

const list = createRoute({
  method: 'get',
  path: '/api/aircraft',
  summary: 'The aircraft that this person may see',
  ...needs('viewer'),
  responses: { 200: json(AircraftList, 'By name'), ...REFUSED },
});

const add = createRoute({
  method: 'post',
  path: '/api/aircraft',
  summary: 'Begin an aircraft: its name, datum, chord and units, in words',
  ...needs('lead'),
  request: jsonBody(AircraftRequest),
  responses: { 201: json(AircraftReport, 'The new aircraft'), ...REFUSED },
});

const demonstration = createRoute({
  method: 'post',
  path: '/api/demonstration',
  summary: 'Make the invented aircraft for trying out',
  ...needs('lead'),
  responses: { 201: json(AircraftReport, 'The invented aircraft'), ...REFUSED },
});

export function aircraftDoors(app: DoorApp): void {
  app.openapi(list, async (c) => {
    const { db, ledgers } = c.get('services');
    const person = personAt(c);
    const invented = await inventedAircraft(db);
    const aircraft: AircraftReport[] = [];
    const sightOn = await sightsOf(db, person);
    for (const one of await listAircraft(db)) {
      const sight = sightOn(one.id);
      if (sight === undefined) continue;
      const marks = { isInvented: invented.has(one.id), isReadOnly: sight === 'see' };
      const read = await ledgers.headline(one.id, undefined, (overview) => aircraftReport(one, overview, marks));
      if (read.ok) aircraft.push(read.value);
      else if ('reading' in read) throw stillReading(read.reading);
    }
    return c.json({ aircraft }, 200);
  });

  app.openapi(add, async (c) => {
    const { db, now } = c.get('services');
    const person = personAt(c);
    const aircraftId = randomUUID();
    await beginAircraft(db, c.req.valid('json'), { aircraftId, by: person.initials, day: shopDay(now()) });
    await noteHere(c, { kind: 'aircraft made', aircraftId });
    return c.json(await admitted(c, person, aircraftId), 201);
  });

  app.openapi(demonstration, async (c) => {
    const { db, now, createDemonstration } = c.get('services');
    const person = personAt(c);
    const answer = await createDemonstration(db, { by: person.initials, today: shopDay(now()) });
    if (!answer.ok) throw refusedInput([{ path: [], refusal: answer.refusal }]);
    await noteHere(c, { kind: 'demonstration made', aircraftId: answer.aircraftId });
    return c.json(await admitted(c, person, answer.aircraftId), 201);
  });
}

/** Who makes an aircraft may see it. */
export async function admitted(c: DoorContext, person: Person, aircraftId: string): Promise<AircraftReport> {
  const { db, ledgers } = c.get('services');
  if ((await sightOf(db, person, aircraftId)) === undefined) await addAccess(db, person.id, aircraftId);
  const aircraft = await aircraftWithId(db, aircraftId);
  if (aircraft === undefined) throw new Error('an aircraft that was just made is not there');
  const invented = await inventedAircraft(db);
  for (;;) {
    const marks = { isInvented: invented.has(aircraftId), isReadOnly: false };
    const read = await ledgers.headline(aircraftId, undefined, (overview) => aircraftReport(aircraft, overview, marks));
    if (read.ok) return read.value;
    // It is made: saying "ask again" would have somebody make it twice.
    if (!('reading' in read)) throw new Error('a ledger can be read as it stands');
  }
}
