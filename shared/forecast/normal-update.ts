/** A normal belief, and what values that were seen make of it (rule F1). Knows nothing of processes. */

export type Normal = { readonly mean: number; readonly std: number };

/** One value that the mean was seen at, with the variance of that. */
export type Seen = { readonly value: number; readonly variance: number };

/** What was seen, in sums: sum 1/v_i, sum y_i/v_i, and the values that were seen without any variance. */
export type SeenSums = { readonly precision: number; readonly weighted: number; readonly exact: readonly number[] };

/**
 * A normal belief updated by values that are normal about the mean: 1/V = 1/V0 + sum 1/v_i, mean = V (mean0/V0 + sum y_i/v_i). Source: Johnson,
 * Ott, Dogucu, Bayes Rules!, chapter 5; its figures are checked in `tests/published`. What is certain beforehand stays, and a value without
 * variance decides.
 */
export function updateNormal(prior: Normal, seen: readonly Seen[]): Normal {
  const open = seen.filter(({ variance }) => variance > 0);
  return posteriorOf(prior, {
    precision: open.reduce((sum, { variance }) => sum + 1 / variance, 0),
    weighted: open.reduce((sum, { value, variance }) => sum + value / variance, 0),
    exact: seen.flatMap(({ value, variance }) => (variance > 0 ? [] : [value])),
  });
}

/** The same where what was seen is in sums. */
export function posteriorOf(prior: Normal, seen: SeenSums): Normal {
  if (!(prior.std > 0)) return prior;
  if (seen.exact.length > 0) return { mean: meanOf(seen.exact), std: 0 };
  const before = 1 / prior.std ** 2;
  const precision = before + seen.precision;
  return { mean: (prior.mean * before + seen.weighted) / precision, std: Math.sqrt(1 / precision) };
}

export function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
