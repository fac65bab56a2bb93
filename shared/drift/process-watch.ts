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

type State = {
  /** Releases seen. */
  readonly count: number;
  /** How many of them came before the process was last seen to change: 0 where it never was. */
  readonly from: number;
  /** The first call, about the level of no change at all. */
  readonly first: Call | undefined;
  /** How many came before the charts were last begun anew, and the level that they are drawn about since. */
  readonly begun: number;
  readonly level: number;
  readonly ewma: number;
  readonly cusum: CusumPoint;
};

const START: State = { count: 0, from: 0, first: undefined, begun: 0, level: 0, ewma: 0, cusum: CUSUM_START };
/** A state is kept each time so many releases were seen, to go back to. */
const MARK_EVERY = 64;

export class ProcessWatch {
  readonly #deviations: number[] = [];
  readonly #marks: State[] = [START];
  #state = START;
  /** How often it went back. */
  wentBack = 0;

  get count(): number {
    return this.#state.count;
  }

  get from(): number {
    return this.#state.from;
  }

  get first(): Call | undefined {
    return this.#state.first;
  }

  /** Takes in how many standard deviations the next release missed by. */
  add(deviation: number): void {
    this.#deviations.push(deviation);
    this.#state = stateAfter(this.#state, this.#deviations);
    if (this.#state.count % MARK_EVERY === 0) this.#marks.push(this.#state);
  }

  /** Forgets all releases but the first so many. */
  backTo(count: number): void {
    if (count >= this.#state.count) return;
    this.wentBack += 1;
    this.#deviations.length = count;
    this.#marks.length = Math.floor(count / MARK_EVERY) + 1;
    this.#state = this.#marks.at(-1) ?? START;
    while (this.#state.count < count) this.#state = stateAfter(this.#state, this.#deviations);
  }
}

/**
 * One release further. After a change the process is watched about the level that it changed to, so that one change is one, and a process
 * that is put right again has changed once more.
 */
function stateAfter(state: State, deviations: readonly number[]): State {
  const { count: place, from, first, begun, level } = state;
  const next = { value: deviations[place] ?? level, at: place - begun };
  const average = ewmaAfter(state.ewma, next, { target: level, sd: 1, ...SHOP_EWMA });
  const cusum = cusumAfter(state.cusum, next, { target: level, ...SHOP_CUSUM });
  const count = place + 1;
  const call = callAt(next.at, average, cusum);
  if (call === undefined) return { count, from, first, begun, level, ewma: average.ewma, cusum };
  const began = begun + call.began;
  let sum = 0;
  for (let at = began; at < count; at += 1) sum += deviations[at] ?? 0;
  const to = sum / (count - began);
  return { count, from: began, first: first ?? call, begun: count, level: to, ewma: to, cusum: CUSUM_START };
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
