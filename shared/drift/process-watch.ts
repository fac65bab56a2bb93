/**
 * A process watched release by release (rule D4): both charts as they stand after the last release, the first call of all, and where the
 * process was last seen to change. One more release costs the same however many came before it. Knows nothing of parts and masses.
 */
import {
  CUSUM_START,
  type CusumPoint,
  cusumAfter,
  type EwmaPoint,
  ewmaAfter,
  SHOP_CUSUM,
  SHOP_EWMA,
  type Side,
} from './control-charts.ts';

/** Where a chart called the process, counted in releases from 0. */
export type Call = {
  readonly at: number;
  /** Where the shift began, by the cumulative sum. */
  readonly began: number;
  readonly side: Side;
  readonly chart: 'ewma' | 'cusum' | 'both';
};

export class ProcessWatch {
  /** Releases seen. */
  count = 0;
  /** How many of them came before the process was last seen to change: 0 where it never was. */
  from = 0;
  /** The first call, about the level of no change at all. */
  first: Call | undefined;
  /** The level that the process is watched about. */
  #level = 0;
  #ewma = 0;
  #cusum = CUSUM_START;
  /** Deviations since the charts were begun anew. */
  #since: number[] = [];

  /**
   * Takes in how many standard deviations the next release missed by. After a change the process is watched about the level that it changed
   * to, so that one change is one, and a process that is put right again has changed once more.
   */
  add(deviation: number): void {
    const at = this.#since.length;
    this.#since.push(deviation);
    const next = { value: deviation, at };
    const average = ewmaAfter(this.#ewma, next, { target: this.#level, sd: 1, ...SHOP_EWMA });
    this.#cusum = cusumAfter(this.#cusum, next, { target: this.#level, ...SHOP_CUSUM });
    this.#ewma = average.ewma;
    const call = callAt(at, average, this.#cusum);
    this.count += 1;
    if (call === undefined) return;
    const begun = this.count - this.#since.length;
    this.first ??= call;
    this.from = begun + call.began;
    const since = this.#since.slice(call.began);
    this.#level = since.reduce((sum, one) => sum + one, 0) / since.length;
    this.#ewma = this.#level;
    this.#cusum = CUSUM_START;
    this.#since = [];
  }
}

export function watched(deviations: Iterable<number>): ProcessWatch {
  const watch = new ProcessWatch();
  for (const deviation of deviations) watch.add(deviation);
  return watch;
}

/** Where either chart is out. An average that is out while the sum of its side is nothing began there and then. */
function callAt(at: number, average: EwmaPoint, sums: CusumPoint): Call | undefined {
  const side = average.side ?? sums.side;
  if (side === undefined) return undefined;
  const began = (side === 'high' ? sums.highFrom : sums.lowFrom) ?? at;
  const chart = average.side === undefined ? 'cusum' : sums.side === average.side ? 'both' : 'ewma';
  return { at, began, side, chart };
}
