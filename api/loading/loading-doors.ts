/** The doors to how the aircraft may be loaded (rules C1-C5). Limits themselves are recorded as any entry is. */
import { createRoute, z } from '@hono/zod-openapi';
import { shopDay } from '#api/command/surroundings.ts';
import { type DoorApp, json, jsonBody, needs, REFUSED } from '#api/door.ts';
import { asKnownAt, params, read, seqOf } from '#api/ledger/read-ledger.ts';
import { refusedInput } from '#api/problem/problem.ts';
import { LoadingBallastReport, LoadingReport, SentLoadingBallast } from '#shared/contract/loading.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import { ballastFromWords } from '#shared/loading/ballast-from-words.ts';
import { ballastReport } from '#shared/loading/ballast-report.ts';
import { loadingIn, loadingReport } from '#shared/loading/report.ts';
import { dayBefore, USUAL_DAYS } from '#shared/loading/say.ts';

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

const ballast = createRoute({
  method: 'post',
  path: '/api/aircraft/{aircraftId}/loading/ballast',
  summary: 'The least ballast at one of several places that brings every permitted loading, or a case, inside',
  ...needs('viewer'),
  request: { params, ...jsonBody(SentLoadingBallast) },
  responses: { 200: json(LoadingBallastReport, 'The ballast, checked with it in; nothing is recorded'), ...REFUSED },
});

export function loadingDoors(app: DoorApp): void {
  app.openapi(loading, async (c) => {
    const { asKnownAt: seq, since } = c.req.valid('query');
    const today = shopDay(c.get('services').now());
    const from = since ?? dayBefore(today, USUAL_DAYS);
    return c.json(await read(c, seq, (ledger) => loadingReport(ledger, from)), 200);
  });

  app.openapi(ballast, async (c) => {
    const sent = c.req.valid('json');
    return c.json(await read(c, undefined, (ledger) => ballastOn(ledger, sent)), 200);
  });
}

function ballastOn(ledger: Ledger, sent: SentLoadingBallast): LoadingBallastReport {
  const loading = loadingIn(ledger);
  const asked = ballastFromWords(sent, loading);
  if (!asked.ok) throw refusedInput(asked.refusal);
  const answer = ballastReport(ledger, asked.value.loading, asked.value);
  if (!answer.ok) throw refusedInput([{ path: ['places', '0', 'x'], refusal: answer.refusal }]);
  return { seq: seqOf(ledger), ...answer.value };
}
