/**
 * By how much a process misses its estimates and allowances (rule F1): what is believed of it beforehand, updated by its releases since it
 * last changed. What was released before speaks of another process and is left out. Mass fractions throughout.
 */
import { type ProcessRecord, recordsOf } from '#shared/drift/process-records.ts';
import { deviationOf, type Release } from '#shared/drift/process-releases.ts';
import { ProcessWatch } from '#shared/drift/process-watch.ts';
import { COMMON_ERRORS, shopErrorsOf } from '#shared/estimate/shop-errors.ts';
import type { Process } from '#shared/ledger/entry.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import { Belief } from './belief.ts';
import type { Normal } from './normal-update.ts';

/** Standard deviation of a shift before anything was released, where the shop states none of its own. */
export const SHOP_PRIOR_STD = COMMON_ERRORS.processShiftStd;

/** A piece cannot lose more than all of it: beyond that, allowances that were not used up would make masses below nothing. */
const LEAST_SHIFT = -1;

/** What is believed of a process: its shift, and the releases that say so. */
export type ProcessShift = Normal & {
  /** Releases that count: those since the process last changed. */
  readonly releaseCount: number;
  /** Releases before that, which speak of a process that there is no more. */
  readonly earlierCount: number;
  readonly first: Release | undefined;
};

/** Follows the releases of a process, day by day: one more costs the same however many came before. */
export class ShiftAlong {
  readonly #watch = new ProcessWatch();
  readonly #shift = new RunningShift();

  /** The next release. */
  see(release: Release): void {
    this.#watch.add(deviationOf(release));
  }

  /** `released` begins with the releases that were seen. */
  read(released: readonly Release[], priorStd = SHOP_PRIOR_STD): ProcessShift {
    return this.#shift.read(this.#watch, released, priorStd);
  }
}

/** What is believed of a process, kept in step with its releases and its watch. */
class RunningShift {
  #wentBack = 0;
  #belief = new Belief();
  /** The releases in it, in order, and how many came before them. */
  #held: Release[] = [];
  #from = 0;

  read(watch: ProcessWatch, released: readonly Release[], priorStd: number): ProcessShift {
    const { from, count, wentBack } = watch;
    // While a watch does not go back, nothing that it has seen is changed.
    if (wentBack !== this.#wentBack || from !== this.#from) this.#hold(released.slice(from, count));
    this.#wentBack = wentBack;
    this.#from = from;
    for (let at = from + this.#held.length; at < count; at += 1) {
      const release = released[at];
      if (release === undefined) break;
      this.#held.push(release);
      this.#belief.add(release);
    }
    const { mean, std } = this.#belief.read({ mean: 0, std: priorStd });
    return {
      mean: Math.max(LEAST_SHIFT, mean),
      std,
      releaseCount: count - from,
      earlierCount: from,
      first: released[from],
    };
  }

  /** Takes out what is not there any more and puts in what has come; what is the same before and after that stays. */
  #hold(next: Release[]): void {
    const held = this.#held;
    let before = 0;
    const least = Math.min(held.length, next.length);
    while (before < least && held[before] === next[before]) before += 1;
    let after = 0;
    while (after < least - before && held.at(-1 - after) === next.at(-1 - after)) after += 1;
    const [gone, come] = [held.slice(before, held.length - after), next.slice(before, next.length - after)];
    this.#held = next;
    if (gone.length > next.length) {
      this.#belief = new Belief();
      for (const release of next) this.#belief.add(release);
      return;
    }
    for (const release of gone) this.#belief.remove(release);
    for (const release of come) this.#belief.add(release);
  }
}

/** The shift of a process by its releases, in order. */
export function shiftOf(released: readonly Release[], priorStd = SHOP_PRIOR_STD): ProcessShift {
  const along = new ShiftAlong();
  for (const release of released) along.see(release);
  return along.read(released, priorStd);
}

const ofRecord = new WeakMap<ProcessRecord, RunningShift>();

/** What is believed of each process now. */
export function shiftsNow(ledger: Ledger): (process: Process) => ProcessShift {
  const records = recordsOf(ledger);
  const { processShiftStd } = shopErrorsOf(ledger);
  const known = new Map<Process, ProcessShift>();
  return (process) => {
    const record = records.get(process);
    const shift =
      known.get(process) ??
      (record === undefined ? nothingReleased(processShiftStd) : runningShiftOf(record, processShiftStd));
    known.set(process, shift);
    return shift;
  };
}

function runningShiftOf(record: ProcessRecord, priorStd = SHOP_PRIOR_STD): ProcessShift {
  const shift = ofRecord.get(record) ?? new RunningShift();
  ofRecord.set(record, shift);
  return shift.read(record.watch, record.releases, priorStd);
}

export function nothingReleased(priorStd = SHOP_PRIOR_STD): ProcessShift {
  return { mean: 0, std: priorStd, releaseCount: 0, earlierCount: 0, first: undefined };
}
