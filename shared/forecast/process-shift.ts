/**
 * By how much a process misses its estimates and allowances (rule F1): what is believed of it beforehand, updated by its releases since it
 * last changed. What was released before speaks of another process and is left out. Mass fractions throughout.
 */
import { type ProcessRecord, recordsOf } from '#shared/drift/process-records.ts';
import { deviationOf, type Release } from '#shared/drift/process-releases.ts';
import { ProcessWatch } from '#shared/drift/process-watch.ts';
import type { Process } from '#shared/ledger/entry.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import { Belief } from './belief.ts';
import type { Normal } from './normal-update.ts';

/** Standard deviation of a shift before anything was released. Common practice, no source: adjust to your shop. */
export const SHOP_PRIOR_STD = 0.08;

/** What is believed of a process: its shift, and the releases that say so. */
export type ProcessShift = Normal & {
  /** Releases that count: those since the process last changed. */
  readonly releaseCount: number;
  /** Releases before that, which speak of a process that there is no more. */
  readonly earlierCount: number;
  readonly first: Release | undefined;
};

/** Follows the releases of a process, seen in order and never taken back: one more costs the same however many came before. */
export class ShiftAlong {
  readonly #watch: ProcessWatch;
  #belief = new Belief();
  #from = 0;
  #upTo = 0;

  /** With a watch that somebody else keeps going, this one only reads it. */
  constructor(watch = new ProcessWatch()) {
    this.#watch = watch;
  }

  /** The next release, where the watch is this one's own. */
  see(release: Release): void {
    this.#watch.add(deviationOf(release));
  }

  /** `released` as far as the watch has seen it, the releases that were there before unchanged. */
  read(released: readonly Release[], priorStd = SHOP_PRIOR_STD): ProcessShift {
    const { from, count } = this.#watch;
    if (from !== this.#from) {
      this.#belief = new Belief();
      this.#from = from;
      this.#upTo = from;
    }
    for (; this.#upTo < count; this.#upTo += 1) {
      const release = released[this.#upTo];
      if (release !== undefined) this.#belief.add(release);
    }
    return {
      ...this.#belief.read({ mean: 0, std: priorStd }),
      releaseCount: count - from,
      earlierCount: from,
      first: released[from],
    };
  }
}

/** The shift of a process by its releases, in order. */
export function shiftOf(released: readonly Release[], priorStd = SHOP_PRIOR_STD): ProcessShift {
  const along = new ShiftAlong();
  for (const release of released) along.see(release);
  return along.read(released, priorStd);
}

const ofWatch = new WeakMap<ProcessWatch, ShiftAlong>();

/** What is believed of each process now. */
export function shiftsNow(ledger: Ledger): (process: Process) => ProcessShift {
  const records = recordsOf(ledger);
  const known = new Map<Process, ProcessShift>();
  return (process) => {
    const record = records.get(process);
    const shift = known.get(process) ?? (record === undefined ? nothingReleased() : runningShiftOf(record));
    known.set(process, shift);
    return shift;
  };
}

/** A process that has to be watched anew has another watch. */
function runningShiftOf({ watch, releases }: ProcessRecord, priorStd = SHOP_PRIOR_STD): ProcessShift {
  const along = ofWatch.get(watch) ?? new ShiftAlong(watch);
  ofWatch.set(watch, along);
  return along.read(releases, priorStd);
}

export function nothingReleased(priorStd = SHOP_PRIOR_STD): ProcessShift {
  return { mean: 0, std: priorStd, releaseCount: 0, earlierCount: 0, first: undefined };
}
