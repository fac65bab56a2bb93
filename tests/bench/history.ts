/**
 * The forecast of 500 dates, against one fold of the same entries. By how many entries a part has: many weighings of few parts, and one of each
 * of many.
 */
import { forecastByDay } from '#shared/forecast/history.ts';
import { foldEntries } from '#shared/ledger/fold.ts';
import { type Build, makeBuild } from './make-build.ts';
import { asRecorded } from './make-chain.ts';
import { line, medianMs } from './median.ts';

const DAYS = 500;
const RUNS = 3;
const BUILDS: readonly Omit<Build, 'dayCount'>[] = [
  { partCount: 10_000, weighingCount: 180_000, quantity: 18 },
  { partCount: 67_000, weighingCount: 66_000 },
  { partCount: 14_000, weighingCount: 12_000 },
];

export async function benchHistory(): Promise<string> {
  const told = [`Forecast of ${DAYS} dates, against one full fold\n`];
  for (const build of BUILDS) {
    const recorded = asRecorded(makeBuild({ ...build, dayCount: DAYS }));
    const [folds, histories]: [number[], number[]] = [[], []];
    let days = 0;
    for (let run = 0; run < RUNS; run += 1) {
      // Each ledger is let go before the next is folded: two of them do not fit beside much else.
      let ledger = foldEntries([]);
      folds.push(
        await medianMs(1, () => {
          ledger = foldEntries(recorded);
        }),
      );
      histories.push(
        await medianMs(1, () => {
          days = forecastByDay(ledger).length;
        }),
      );
    }
    const [foldMs, historyMs] = [folds, histories].map((each) => each.sort((a, b) => a - b)[RUNS >> 1] ?? 0);
    const [parts, count] = [build.partCount, recorded.length].map((one) => one.toLocaleString('en-GB'));
    told.push(
      line(`${days} dates, ${count} entries on ${parts} parts`, historyMs ?? 0, { name: 'one fold', ms: foldMs ?? 0 }),
    );
  }
  return told.join('');
}
