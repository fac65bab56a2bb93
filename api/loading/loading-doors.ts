/** The doors to how the aircraft may be loaded (rules C1-C5). Limits themselves are recorded as any entry is. */
import { createRoute, z } from '@hono/zod-openapi';
import { shopDay } from '#api/command/surroundings.ts';
import { type DoorApp, json, needs, REFUSED } from '#api/door.ts';
import { asKnownAt, params, read } from '#api/ledger/read-ledger.ts';
import { LoadingReport } from '#shared/contract/loading.ts';
import { dayBefore, loadingReport, USUAL_DAYS } from '#shared/loading/report.ts';

const loading = createRoute({
  method: 'get',
  path: '/api/aircraft/{aircraftId}/loading',
  summary:
    'Loading limits, and every permitted loading held against them for the predicted and the forecast empty weight',
  ...needs('viewer'),
  request: {
    params,
    query: z.strictObject({
      asKnownAt,
      since: z.iso
        .date()
        .optional()
        .openapi({ description: `The day with which today is compared; left out, ${USUAL_DAYS} days ago` }),
    }),
  },
  responses: { 200: json(LoadingReport, 'The limits and what comes of them'), ...REFUSED },
});

export function loadingDoors(app: DoorApp): void {
  app.openapi(loading, async (c) => {
    const { asKnownAt: seq, since } = c.req.valid('query');
    const today = shopDay(c.get('services').now());
    const from = since ?? dayBefore(today, USUAL_DAYS);
    return c.json(await read(c, seq, (ledger) => loadingReport(ledger, from)), 200);
  });
}
