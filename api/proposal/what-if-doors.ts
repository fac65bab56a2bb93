/** The doors to scratch changes (rules F6, F7): what they would do, and what ballast they would save or cost. Nothing is recorded. */
import { createRoute } from '@hono/zod-openapi';
import { type DoorApp, json, jsonBody, needs, REFUSED } from '#api/door.ts';
import { params, read, seqOf } from '#api/ledger/read-ledger.ts';
import { refusedInput } from '#api/problem/problem.ts';
import type { WhatIfReport } from '#shared/contract/forecast.ts';
import {
  BallastAnswer,
  type BallastReport,
  SentBallast,
  type SentChange,
  SentWhatIf,
  WhatIfAnswer,
} from '#shared/contract/proposal.ts';
import { changesFromWords } from '#shared/forecast/proposal-changes.ts';
import { rangeBallast } from '#shared/forecast/range-ballast.ts';
import { whatIf } from '#shared/forecast/what-if.ts';
import { inUnitsOf } from '#shared/ledger/display-units.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import { FieldReader } from '#shared/words/field-reader.ts';
import type { PathProblem } from '#shared/words/path-problem.ts';

const changed = createRoute({
  method: 'post',
  path: '/api/aircraft/{aircraftId}/what-if',
  summary: 'The forecast as it is, and with a scratch set of changes in words; nothing is recorded',
  ...needs('viewer'),
  request: { params, ...jsonBody(SentWhatIf) },
  responses: { 200: json(WhatIfAnswer, 'Before and after, and what each change does'), ...REFUSED },
});

const ballast = createRoute({
  method: 'post',
  path: '/api/aircraft/{aircraftId}/what-if/ballast',
  summary: 'The least ballast at a station that brings the forecast CG inside its range, and the payload it costs',
  ...needs('viewer'),
  request: { params, ...jsonBody(SentBallast) },
  responses: { 200: json(BallastAnswer, 'The ballast; nothing is recorded'), ...REFUSED },
});

export function whatIfDoors(app: DoorApp): void {
  app.openapi(changed, async (c) => {
    const { changes } = c.req.valid('json');
    const report = await read(c, undefined, (ledger) => {
      const tried = triedOn(ledger, changes);
      if ('problems' in tried) throw refusedInput(tried.problems);
      const { ballast: _, ...answer } = tried.report;
      return { seq: seqOf(ledger), ...answer };
    });
    return c.json(report, 200);
  });

  app.openapi(ballast, async (c) => {
    const { station, changes = [] } = c.req.valid('json');
    return c.json(await read(c, undefined, (ledger) => ballastOn(ledger, station, changes)), 200);
  });
}

function triedOn(
  ledger: Ledger,
  sent: readonly SentChange[],
): { readonly report: WhatIfReport } | { readonly problems: readonly PathProblem[] } {
  const read = changesFromWords(ledger, sent);
  if (!read.ok) return { problems: read.refusal.map(({ path, refusal }) => ({ path: ['changes', ...path], refusal })) };
  const report = whatIf(ledger, { changes: read.value.map(({ change }) => change) });
  if (!report.ok) throw new Error('changes that were read can be made');
  return { report: report.value };
}

function ballastOn(ledger: Ledger, station: string, changes: readonly SentChange[]): BallastReport & { seq: number } {
  const reader = new FieldReader({ station });
  reader.need('station');
  const stationM = reader.length('station')?.si;
  const tried = triedOn(ledger, changes);
  const problems = reader.problems.map(({ field, refusal }): PathProblem => ({ path: [field], refusal }));
  if ('problems' in tried) problems.push(...tried.problems);
  if (problems.length > 0 || stationM === undefined || 'problems' in tried) throw refusedInput(problems);
  const answer = rangeBallast(tried.report.after, stationM);
  if (!answer.ok) throw refusedInput([{ path: ['station'], refusal: inUnitsOf(ledger, answer.refusal) }]);
  return { seq: seqOf(ledger), ...answer.value };
}
