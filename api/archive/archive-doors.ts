/** The doors through which a whole aircraft goes out as a ZIP, and one comes in (rule X5). */
import { createRoute, z } from '@hono/zod-openapi';
import type { MiddlewareHandler } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import { admitted } from '#api/aircraft/aircraft-doors.ts';
import { noteHere } from '#api/audit/note.ts';
import { shopDay } from '#api/command/surroundings.ts';
import { aircraftAt, type DoorApp, type DoorEnv, json, needs, personAt, REFUSED } from '#api/door.ts';
import { params } from '#api/ledger/read-ledger.ts';
import { Problem, refusedInput } from '#api/problem/problem.ts';
import type { ArchiveProblem } from '#db/archive/archive.ts';
import { bringAircraft } from '#db/archive/bring-aircraft.ts';
import { aircraftToCarry } from '#db/archive/carry-out.ts';
import { AircraftReport } from '#shared/contract/aircraft.ts';

export const ARCHIVE_PATH = /^\/api\/archives$/;
const MOST_BODY_BYTES = 256 * 1_048_576;
const ZIP = 'application/zip';

const carryOut = createRoute({
  method: 'get',
  path: '/api/aircraft/{aircraftId}/archive',
  summary: 'The whole aircraft as a ZIP of tables, with photos and a list of all files',
  ...needs('lead'),
  request: { params },
  responses: {
    200: { description: 'A ZIP file', content: { [ZIP]: { schema: z.string() } } },
    ...REFUSED,
  },
});

const limit = bodyLimit({
  maxSize: MOST_BODY_BYTES,
  onError: () => {
    throw new Problem('archive-too-large');
  },
});

/** Sent as a ZIP: a form of another page cannot say so without asking first. */
const saysZip: MiddlewareHandler<DoorEnv> = async (c, next) => {
  if (!/^application\/zip\s*(;|$)/i.test(c.req.header('Content-Type') ?? '')) throw new Problem('archive-type');
  await next();
};

/** Who sends is asked before two hundred megabytes are read. */
function needsForArchives() {
  const { middleware, ...role } = needs('lead');
  const all: MiddlewareHandler<DoorEnv>[] = [middleware, saysZip, limit];
  return { ...role, middleware: all };
}

const bringIn = createRoute({
  method: 'post',
  path: '/api/archives',
  summary: 'Bring in an aircraft that was carried out, all of it or nothing',
  ...needsForArchives(),
  request: {
    query: z.object({ name: z.string().trim().min(1).max(80).optional() }),
    body: { required: true, content: { [ZIP]: { schema: z.string() } } },
  },
  responses: { 201: json(AircraftReport, 'The aircraft, as it is here now'), ...REFUSED },
});

export function archiveDoors(app: DoorApp): void {
  app.openapi(carryOut, async (c) => {
    const { db, now, archives } = c.get('services');
    const aircraft = aircraftAt(c);
    const stamp = { exportedAt: now().toISOString(), exportedBy: personAt(c).initials };
    const packed = await archives.pack({ pack: await aircraftToCarry(db, aircraft, stamp) });
    if (!packed.ok) throw refusedInput(packed.problems.map(placed));
    await noteHere(c, { kind: 'aircraft carried out', aircraftId: aircraft.id });
    const answer: Response = c.body(Uint8Array.from(packed.value), 200, {
      'Content-Type': ZIP,
      'Content-Disposition': 'attachment; filename="aircraft.zip"',
      // It is packed already.
      'Cache-Control': 'no-store, no-transform',
    });
    return answer as never;
  });

  app.openapi(bringIn, async (c) => {
    const { db, now, archives } = c.get('services');
    const person = personAt(c);
    const bytes = new Uint8Array(await c.req.arrayBuffer());
    const archive = await archives.unpack({ unpack: bytes, today: shopDay(now()) });
    if (!archive.ok) throw refusedInput(archive.problems.map(placed));
    const { name } = c.req.valid('query');
    const answer = await bringAircraft(db, { archive: archive.value, name, by: person.initials });
    if (!answer.ok) throw refusedInput([{ path: [], refusal: answer.refusal }]);
    await noteHere(c, { kind: 'aircraft brought in', aircraftId: answer.aircraftId });
    return c.json(await admitted(c, person, answer.aircraftId), 201);
  });
}

function placed({ file, line, column, refusal }: ArchiveProblem) {
  const place = [file, ...(line === 0 ? [] : [`${line}`]), ...(column === 0 ? [] : [`${column}`])];
  return { path: file === '' ? [] : place, refusal };
}
