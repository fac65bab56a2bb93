/**
 * Control charts on bare numbers, in the order in which they came (rule D4): exponentially weighted moving average, tabular cumulative sum,
 * and individuals. Formulas: NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2 to 6.3.2.4; its figures are checked in
 * `tests/published`. Knows nothing of parts and masses.
 */

/** Charts of a process: the weights and limits that it is watched with. Common practice; those of the e-Handbook's own tables. */
export const SHOP_EWMA = { lambda: 0.2, sigmas: 3 } as const;
export const SHOP_CUSUM = { k: 0.5, h: 5 } as const;

/**
 * How many points pass on average before each of these charts, and either of the two, calls a process that has not changed: the price of
 * watching. Drawn 20,000 times with a fixed seed from normal points with the deviation that they are said to have, by
 * `tests/shared/drift/process-run-length.test.ts`, which fails where these are not what it finds.
 */
export const FALSE_ALARM_RUN_LENGTH = { ewma: 554, cusum: 465, either: 372 } as const;

export type EwmaPoint = {
  readonly ewma: number;
  readonly lower: number;
  readonly upper: number;
  readonly side: Side | undefined;
};

/** Where a chart left its limits. */
export type Side = 'high' | 'low';

type EwmaGiven = { readonly target: number; readonly sd: number; readonly lambda: number; readonly sigmas: number };

/**
 * EWMA_i = lambda y_i + (1 - lambda) EWMA_{i-1}, begun at the target. The limits are exact and so widen with i:
 * target +- sigmas sd sqrt(lambda/(2 - lambda) (1 - (1 - lambda)^(2i))).
 */
export function ewmaChart(values: readonly number[], given: EwmaGiven): readonly EwmaPoint[] {
  let { target: ewma } = given;
  return values.map((value, at) => {
    const point = ewmaAfter(ewma, { value, at }, given);
    ewma = point.ewma;
    return point;
  });
}

/** The average after one more value, the one in place `at` of its chart, counted from 0. */
export function ewmaAfter(
  before: number,
  { value, at }: { readonly value: number; readonly at: number },
  { target, sd, lambda, sigmas }: EwmaGiven,
): EwmaPoint {
  const ewma = lambda * value + (1 - lambda) * before;
  const share = (lambda / (2 - lambda)) * (1 - (1 - lambda) ** (2 * (at + 1)));
  const width = sigmas * sd * Math.sqrt(share);
  const [lower, upper] = [target - width, target + width];
  return { ewma, lower, upper, side: ewma > upper ? 'high' : ewma < lower ? 'low' : undefined };
}

export type CusumPoint = {
  readonly high: number;
  readonly low: number;
  readonly side: Side | undefined;
  /** How far back each sum has been above nothing: the place of the first value in it; undefined where it is nothing. */
  readonly highFrom: number | undefined;
  readonly lowFrom: number | undefined;
};

/** Before the first value. */
export const CUSUM_START: CusumPoint = { high: 0, low: 0, side: undefined, highFrom: undefined, lowFrom: undefined };

type CusumGiven = { readonly target: number; readonly k: number; readonly h: number };

/**
 * S_hi = max(0, S_hi + y - target - k) and S_lo = max(0, S_lo + target - k - y), begun at 0; a signal where one exceeds h. `k` and `h` are
 * in the unit of the values. Where a sum that signals was last nothing is where its shift began.
 */
export function cusumChart(values: readonly number[], given: CusumGiven): readonly CusumPoint[] {
  let point = CUSUM_START;
  return values.map((value, at) => {
    point = cusumAfter(point, { value, at }, given);
    return point;
  });
}

/** The sums after one more value, the one in place `at`. */
export function cusumAfter(
  before: CusumPoint,
  { value, at }: { readonly value: number; readonly at: number },
  { target, k, h }: CusumGiven,
): CusumPoint {
  const high = Math.max(0, before.high + value - target - k);
  const low = Math.max(0, before.low + target - k - value);
  return {
    high,
    low,
    side: high > h ? 'high' : low > h ? 'low' : undefined,
    highFrom: high > 0 ? (before.highFrom ?? at) : undefined,
    lowFrom: low > 0 ? (before.lowFrom ?? at) : undefined,
  };
}

/** Mean of two neighbours' distance over the standard deviation, for normal values (e-Handbook 6.3.2.2). */
const RANGE_OF_TWO = 1.128;

/** Mean +- 3 (mean moving range)/1.128; undefined with fewer than two values, which have no range. */
export function individualsChart(
  values: readonly number[],
): { readonly centre: number; readonly lower: number; readonly upper: number } | undefined {
  if (values.length < 2) return undefined;
  const centre = values.reduce((sum, value) => sum + value, 0) / values.length;
  let ranges = 0;
  for (const [at, value] of values.entries()) ranges += at === 0 ? 0 : Math.abs(value - (values[at - 1] ?? value));
  const width = (3 * ranges) / (values.length - 1) / RANGE_OF_TWO;
  return { centre, lower: centre - width, upper: centre + width };
}
