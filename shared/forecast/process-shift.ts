/**
 * By how much a process misses its estimates and allowances (rule F1): what is believed of it beforehand, updated by its releases. Mass
 * fractions throughout.
 */
import { missOf, releasesBeforeLastChange } from '#shared/drift/process-drift.ts';
import type { Release } from '#shared/drift/process-releases.ts';

/** Standard deviation of a shift before anything was released. Common practice, no source: adjust to your shop. */
export const SHOP_PRIOR_STD = 0.08;

export type Normal = { readonly mean: number; readonly std: number };

/** What is believed of a process: its shift, and the releases that say so. */
export type ProcessShift = Normal & {
  /** Releases that count: those since the process last changed. */
  readonly releases: readonly Release[];
  /** Releases before that, which speak of a process that there is no more. */
  readonly earlierCount: number;
};

/** One value that the mean was seen at, with the variance of that. */
export type Seen = { readonly value: number; readonly variance: number };

/**
 * A normal belief updated by values that are normal about the mean: 1/V = 1/V0 + sum 1/v_i, mean = V (mean0/V0 + sum y_i/v_i). Source: Johnson,
 * Ott, Dogucu, Bayes Rules!, chapter 5; its figures are checked in `tests/published`. What is certain beforehand stays, and a value without
 * variance decides.
 */
export function updateNormal(prior: Normal, seen: readonly Seen[]): Normal {
  if (!(prior.std > 0)) return prior;
  const exact = seen.filter(({ variance }) => !(variance > 0));
  if (exact.length > 0) return { mean: meanOf(exact), std: 0 };
  let precision = 1 / prior.std ** 2;
  let weighted = prior.mean * precision;
  for (const { value, variance } of seen) {
    precision += 1 / variance;
    weighted += value / variance;
  }
  return { mean: weighted / precision, std: Math.sqrt(1 / precision) };
}

/**
 * The shift of a process by its releases, in order. Where the charts saw the process change, what was released before speaks of another
 * one and is left out.
 */
export function shiftOf(released: readonly Release[], priorStd = SHOP_PRIOR_STD): ProcessShift {
  const earlierCount = releasesBeforeLastChange(released);
  const releases = released.slice(earlierCount);
  return { ...updateNormal({ mean: 0, std: priorStd }, seenIn(releases)), releases, earlierCount };
}

/** Names the estimate of a part. */
export function estimateKey({ partId, estimateSeq }: Pick<Release, 'partId' | 'estimateSeq'>): string {
  return `${partId} ${estimateSeq}`;
}

/** Releases under one estimate are off together by its error: they are one value, surer on the scale's side alone. */
function seenIn(releases: readonly Release[]): readonly Seen[] {
  const byEstimate = new Map<string, Release[]>();
  for (const release of releases) {
    const key = estimateKey(release);
    const known = byEstimate.get(key);
    if (known === undefined) byEstimate.set(key, [release]);
    else known.push(release);
  }
  return [...byEstimate.values()].map((under) => {
    const each = under.map((release) => ({
      value: missOf(release).missFraction,
      variance: release.scaleStdFraction ** 2,
    }));
    const together = combined(each);
    return { value: together.value, variance: together.variance + (under[0]?.estimateStdFraction ?? 0) ** 2 };
  });
}

/** The weighted mean of values seen independently. */
function combined(each: readonly Seen[]): Seen {
  const exact = each.filter(({ variance }) => !(variance > 0));
  if (exact.length > 0) return { value: meanOf(exact), variance: 0 };
  const precision = each.reduce((sum, { variance }) => sum + 1 / variance, 0);
  return {
    value: each.reduce((sum, { value, variance }) => sum + value / variance, 0) / precision,
    variance: 1 / precision,
  };
}

function meanOf(seen: readonly Seen[]): number {
  return seen.reduce((sum, { value }) => sum + value, 0) / seen.length;
}
