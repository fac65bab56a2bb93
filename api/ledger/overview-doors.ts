/** The doors to what spans the whole aircraft: everything that is open, and where its mass is. */
import { createRoute, z } from '@hono/zod-openapi';
import { shopDay } from '#api/command/surroundings.ts';
import { type DoorApp, json, needs, REFUSED } from '#api/door.ts';
import { MOST_OPEN_SENT, OpenListReport, OpenWhat } from '#shared/contract/open-list.ts';
import { WhereReport } from '#shared/contract/where.ts';
import { openListReport } from '#shared/rollup/open-list.ts';
import { whereReport } from '#shared/rollup/where.ts';
import { asKnownAt, known, params, read, whole } from './read-ledger.ts';

const open = createRoute({
  method: 'get',
  path: '/api/aircraft/{aircraftId}/open',
  summary: 'Everything that somebody still has to do, costliest first, counted; of one kind where that is asked',
  ...needs('viewer'),
  request: {
    params,
    query: z.strictObject({
      asKnownAt,
      what: OpenWhat.optional(),
      limit: whole(0, MOST_OPEN_SENT).optional().openapi({ type: 'integer' }),
    }),
  },
  responses: { 200: json(OpenListReport, 'What is open'), ...REFUSED },
});

const where = createRoute({
  method: 'get',
  path: '/api/aircraft/{aircraftId}/where',
  summary: 'Every mass that counts, with its group, its station and its flag, beside the CG and its range',
  ...needs('viewer'),
  request: { params, query: known },
  responses: { 200: json(WhereReport, 'The masses'), ...REFUSED },
});

export function overviewDoors(app: DoorApp): void {
  app.openapi(open, async (c) => {
    const { asKnownAt: seq, what, limit: most = MOST_OPEN_SENT } = c.req.valid('query');
    const today = shopDay(c.get('services').now());
    return c.json(await read(c, seq, (ledger) => openListReport(ledger, { today, what, most })), 200);
  });

  app.openapi(where, async (c) => c.json(await read(c, c.req.valid('query').asKnownAt, whereReport), 200));
}
