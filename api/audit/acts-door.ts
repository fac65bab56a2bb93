/** The door to the list of who did what beside the ledgers (rule N18), a page at a time. */
import { createRoute, z } from '@hono/zod-openapi';
import { type DoorApp, json, needs, personAt, REFUSED } from '#api/door.ts';
import { sightsOf } from '#db/access/sight.ts';
import { listActs } from '#db/audit/acts.ts';
import { ActsReport } from '#shared/contract/acts.ts';

const list = createRoute({
  method: 'get',
  path: '/api/acts',
  summary: 'Who did what beside the ledgers: signed in, changed an account, carried an aircraft out, made a backup',
  ...needs('lead'),
  request: { query: z.strictObject({ before: z.uuid().optional() }) },
  responses: { 200: json(ActsReport, 'The newest first'), ...REFUSED },
});

export function actsDoor(app: DoorApp): void {
  app.openapi(list, async (c) => {
    const { db } = c.get('services');
    const sight = await sightsOf(db, personAt(c));
    return c.json(await listActs(db, { before: c.req.valid('query').before, sight }), 200);
  });
}
