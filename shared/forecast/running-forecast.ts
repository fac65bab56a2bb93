/**
 * The forecast that follows its ledger entry by entry (rules F1-F3): one more entry costs the work of the parts that it touches, and then
 * that of the processes. It is the plain one of `forecast.ts` in figures, without the list of every source of error.
 */
import { isPresent, type Ledger, predictedOf } from '#shared/ledger/fold.ts';
import { oncePerEntry } from '#shared/ledger/once.ts';
import { type LengthNm, seenFrom } from '#shared/quantity/exact.ts';
import { type Running, runningOf } from '#shared/rollup/running.ts';
import { openPartOf } from './open-pieces.ts';
import { PendingSums, type ProcessPending, type Reckoned } from './pending-sums.ts';
import { type ProcessShift, shiftsNow } from './process-shift.ts';

export type ProcessStanding = ProcessPending & { readonly shift: ProcessShift };

/** About the first datum, as the books are kept. */
export type RunningForecast = Reckoned & { readonly processes: readonly ProcessStanding[] };

export const runningForecastOf: (ledger: Ledger) => RunningForecast = oncePerEntry((ledger) => {
  const { sources } = runningOf(ledger);
  const pending = pendingOf(ledger);
  const shiftOf = shiftsNow(ledger);
  const predicted = seenFrom(predictedOf(ledger), -ledger.datumNm as LengthNm);
  return {
    ...pending.forecast(predicted, sources, shiftOf),
    processes: pending.processes().map((one) => ({ ...one, shift: shiftOf(one.process) })),
  };
});

type Kept = { readonly running: Running; readonly pending: PendingSums; upTo: number };
const kept = new WeakMap<Ledger['books'], Kept>();

function pendingOf(ledger: Ledger): PendingSums {
  const { books } = ledger;
  const running = runningOf(ledger);
  const before = kept.get(books);
  // Where all leaves were read anew, so is what stands on them.
  const isOld = before?.running !== running;
  const now = isOld ? { running, pending: new PendingSums(), upTo: 0 } : before;
  const partIds = isOld ? books.byPart.keys() : new Set(books.touched.slice(now.upTo));
  for (const partId of partIds) {
    const state = books.byPart.get(partId)?.state;
    const open = state !== undefined && isPresent(state) ? openPartOf(state, books) : undefined;
    now.pending.put(partId, open, running.sources);
  }
  now.upTo = books.touched.length;
  if (isOld) kept.set(books, now);
  return now.pending;
}
