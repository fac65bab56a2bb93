/** The door to a signed checkpoint, for the lead (rule L10). Nothing of the ledger is changed; the key of the shop is made with the first one. */
import { createRoute, z } from '@hono/zod-openapi';
import { noteHere } from '#api/audit/note.ts';
import { aircraftAt, type DoorApp, needs, personAt, REFUSED } from '#api/door.ts';
import { params, readHeadline } from '#api/ledger/read-ledger.ts';
import { refusedInput } from '#api/problem/problem.ts';
import { makeCheckpoint } from '#db/checkpoint/checkpoint.ts';
import { shopKey } from '#db/checkpoint/key-file.ts';
import type { Refusal } from '#shared/problem/registry.ts';

const checkpoint = createRoute({
  method: 'get',
  path: '/api/aircraft/{aircraftId}/checkpoint',
  summary: 'How the ledger stands, signed with the key of the shop, as a page for the paper file',
  ...needs('lead'),
  request: { params },
  responses: {
    200: { description: 'One page of plain text', content: { 'text/plain': { schema: z.string() } } },
    ...REFUSED,
  },
});

export function checkpointDoor(app: DoorApp): void {
  app.openapi(checkpoint, async (c) => {
    const { db, now, checkpointKeyFile } = c.get('services');
    if (checkpointKeyFile === undefined) throw refused({ code: 'key-file-needed' });
    const key = await shopKey(checkpointKeyFile);
    if (!key.ok) throw refused(key.refusal);
    const made = await makeCheckpoint(db, {
      ...{ aircraft: aircraftAt(c), by: personAt(c).initials, madeAt: now().toISOString(), key: key.value },
      overviewAt: (seq, work) => readHeadline(c, seq, work),
    });
    if (!made.ok) throw refused(made.refusal);
    const { entry } = made.value.statement;
    await noteHere(c, { kind: 'checkpoint made', aircraftId: aircraftAt(c).id, detail: { entry } });
    return c.text(made.value.page, 200, { 'Content-Disposition': `attachment; filename="checkpoint-${entry}.txt"` });
  });
}

function refused(refusal: Refusal) {
  return refusedInput([{ path: [], refusal }]);
}
