/**
 * The normal distribution, as far as a forecast needs it. The error function is good to 1.2e-7, so a probability is good to 6e-8: far
 * better than any forecast.
 */
import { errorFunction } from 'simple-statistics';

/** Share of a standard normal distribution below z; 0 and 1 at minus and plus infinity. */
export function normalBelow(z: number): number {
  if (z === Number.POSITIVE_INFINITY) return 1;
  if (z === Number.NEGATIVE_INFINITY) return 0;
  return (1 + errorFunction(z / Math.SQRT2)) / 2;
}

/** Nine in ten lie within this many standard deviations of the mean. */
export const NINETY_PERCENT = 1.6448536269514722;

/** Probability that a normal figure is at most `limit`. One without any uncertainty is below or it is not. */
export function chanceBelow(limit: number, figure: { readonly mean: number; readonly std: number }): number {
  if (!(figure.std > 0)) return figure.mean <= limit ? 1 : 0;
  return normalBelow((limit - figure.mean) / figure.std);
}

/** Probability that a normal figure lies within its range; an end that is not given is none. */
export function chanceWithin(
  range: { readonly from?: number | undefined; readonly to?: number | undefined },
  figure: { readonly mean: number; readonly std: number },
): number {
  if (!(figure.std > 0)) {
    const isWithin = figure.mean >= (range.from ?? figure.mean) && figure.mean <= (range.to ?? figure.mean);
    return isWithin ? 1 : 0;
  }
  const above = range.from === undefined ? 0 : chanceBelow(range.from, figure);
  const below = range.to === undefined ? 1 : chanceBelow(range.to, figure);
  return Math.max(0, below - above);
}
