/**
 * The forecast of 100,000 parts, full: mass, CG along three axes, bands, chances, and what each process adds. Against a bare pass that sums
 * masses and moments of as many parts from typed arrays.
 */
import { forecastOf } from '#shared/forecast/forecast.ts';
import { forecastReport } from '#shared/forecast/report.ts';
import type { Entry, EntryId, Statement } from '#shared/ledger/entry.ts';
import { applyEntry, foldEntries } from '#shared/ledger/fold.ts';
import { headlineReport } from '#shared/rollup/report.ts';
import { dayAt, makeBuild, weighingAt } from './make-build.ts';
import { asRecorded } from './make-chain.ts';
import { line, medianMs } from './median.ts';

const PARTS = 100_000;
const WEIGHED = 50_000;
const DAYS = 500;
const RUNS = 101;

export async function benchForecast(): Promise<string> {
  const bare = { name: 'a bare pass over as many parts', ms: await barePassMs() };
  const recorded = asRecorded(makeBuild({ partCount: PARTS, weighingCount: WEIGHED, dayCount: DAYS }));
  let ledger = foldEntries([]);
  const foldMs = await medianMs(1, () => {
    ledger = foldEntries(recorded);
  });
  const headlineMs = await medianMs(1, () => headlineReport(ledger));
  const firstMs = await medianMs(1, () => forecastReport(ledger));
  const fold = { name: 'folding the ledger', ms: foldMs };
  const next = async (dayOf: (run: number) => number) => {
    const ms: { entry: number; headline: number; forecast: number }[] = [];
    for (let run = 0; run < RUNS; run += 1) {
      const more = oneMore(ledger.entries.length, dayOf(run));
      const entry = await medianMs(1, () => applyEntry(ledger, more));
      const headline = await medianMs(1, () => headlineReport(ledger));
      ms.push({ entry, headline, forecast: await medianMs(1, () => forecastReport(ledger)) });
    }
    const middle = (of: (one: (typeof ms)[number]) => number) => ms.map(of).sort((a, b) => a - b)[RUNS >> 1] ?? 0;
    return {
      forecast: middle(({ forecast }) => forecast),
      all: middle(({ entry, headline, forecast }) => entry + headline + forecast),
    };
  };
  const today = await next(() => DAYS + 1);
  const backDated = await next((run) => DAYS - 1 - run);
  const plainMs = await medianMs(1, () => forecastOf(ledger));
  return [
    `Forecast of ${PARTS.toLocaleString('en-GB')} parts, half of them weighed, ${recorded.length.toLocaleString('en-GB')} entries\n`,
    line('the first headline', headlineMs, fold),
    line('the first forecast, after the headline', firstMs, fold),
    line('the forecast after one more weighing', today.forecast, bare),
    line('that weighing, its headline and its forecast together', today.all, bare),
    line('the forecast after a weighing of an earlier day', backDated.forecast, bare),
    line('for what if and what to weigh next: every source of error', plainMs, fold),
  ].join('');
}

function oneMore(entryCount: number, day: number) {
  const statement: Statement = weighingAt(entryCount - 2 * PARTS - 3, { partCount: PARTS });
  const id = `f0000000-0000-4000-8000-${entryCount.toString(16).padStart(12, '0')}` as EntryId;
  const entry: Entry = { ...statement, id, happenedOn: dayAt(day), by: 'AB' };
  return { seq: entryCount + 1, recordedAt: '2026-10-01T00:00:00.000Z', entry };
}

/** Mass and three moments. */
async function barePassMs(): Promise<number> {
  const column = (of: (at: number) => number) => Float64Array.from({ length: PARTS }, (_, at) => of(at));
  const massKg = column((at) => 0.4 + (at % 97) / 50);
  const [xM, yM, zM] = [column((at) => (at % 80) / 10), column((at) => ((at % 21) - 10) / 5), column(() => 0.5)];
  return medianMs(RUNS, () => {
    let [mass, x, y, z] = [0, 0, 0, 0];
    for (let at = 0; at < PARTS; at += 1) {
      const kg = massKg[at] as number;
      mass += kg;
      x += kg * (xM[at] as number);
      y += kg * (yM[at] as number);
      z += kg * (zM[at] as number);
    }
    return [x / mass, y / mass, z / mass];
  });
}
