/**
 * What is believed of a process (rule F1), carried on release by release: one more costs the work of the releases under its estimate. Sums are
 * exact, so the belief does not depend on the order in which it came about.
 */
import { missOf, type Release } from '#shared/drift/process-releases.ts';
import { ExactSums } from '#shared/quantity/exact-sum.ts';
import { meanOf, type Normal, posteriorOf, type Seen } from './normal-update.ts';

const PRECISION = 0;
const WEIGHTED = 1;
/** Precisions are taken to the nearest of these: against that of any belief, nothing. */
const PER_UNIT = 2 ** 40;
/** What is surer than this counts as exact: a millionth of a millionth of a mass is below any scale. */
const LEAST_VARIANCE = 1e-24;
/** More than anything that is made of masses; what exact sums hold. */
const MOST = 2 ** 150;

/** The releases under one estimate, and what they are in the sums. */
type Under = { readonly estimateVariance: number; readonly each: Seen[]; seen: Seen | undefined };

/** Names the estimate of a part. */
export function estimateKey({ partId, estimateSeq }: Pick<Release, 'partId' | 'estimateSeq'>): string {
  return `${partId} ${estimateSeq}`;
}

export class Belief {
  readonly #byEstimate = new Map<string, Under>();
  readonly #sums = new ExactSums(2);
  /** Values without variance, by estimate. */
  readonly #exact = new Map<string, number>();

  /** Releases under one estimate are off together by its error: they are one value, surer on the scale's side alone. */
  add(release: Release): void {
    const key = estimateKey(release);
    const under = this.#byEstimate.get(key) ?? {
      estimateVariance: release.estimateStdFraction ** 2,
      each: [],
      seen: undefined,
    };
    this.#byEstimate.set(key, under);
    under.each.push(seenIn(release));
    this.#renew(key, under);
  }

  /** Takes out a release that was put in. */
  remove(release: Release): void {
    const key = estimateKey(release);
    const under = this.#byEstimate.get(key);
    if (under === undefined) return;
    const { value, variance } = seenIn(release);
    const at = under.each.findIndex((one) => one.value === value && one.variance === variance);
    if (at >= 0) under.each.splice(at, 1);
    this.#renew(key, under);
    if (under.each.length === 0) this.#byEstimate.delete(key);
  }

  read(prior: Normal): Normal {
    const [precision, weighted] = [this.#sums.read(PRECISION) / PER_UNIT, this.#sums.read(WEIGHTED) / PER_UNIT];
    return posteriorOf(prior, { precision, weighted, exact: [...this.#exact.values()].sort((a, b) => a - b) });
  }

  #renew(key: string, under: Under): void {
    if (under.seen !== undefined) this.#put(key, under.seen, -1);
    under.seen = undefined;
    if (under.each.length === 0) return;
    const { value, variance } = combined(under.each);
    under.seen = { value, variance: variance + under.estimateVariance };
    this.#put(key, under.seen, 1);
  }

  #put(key: string, { value, variance }: Seen, times: 1 | -1): void {
    if (variance < LEAST_VARIANCE) {
      if (times === 1) this.#exact.set(key, value);
      else this.#exact.delete(key);
      return;
    }
    this.#sums.add(PRECISION, PER_UNIT / variance, times);
    this.#sums.add(WEIGHTED, Math.max(-MOST, Math.min(MOST, (PER_UNIT * value) / variance)), times);
  }
}

function seenIn(release: Release): Seen {
  return { value: missOf(release), variance: release.scaleStdFraction ** 2 };
}

/** The weighted mean of values seen independently, in whatever order they came. */
function combined(each: Seen[]): Seen {
  const [only] = each;
  if (each.length === 1 && only !== undefined) return only;
  each.sort((a, b) => a.variance - b.variance || a.value - b.value);
  const exact = each.filter(({ variance }) => !(variance > 0));
  if (exact.length > 0) return { value: meanOf(exact.map(({ value }) => value)), variance: 0 };
  const precision = each.reduce((sum, { variance }) => sum + 1 / variance, 0);
  return {
    value: each.reduce((sum, { value, variance }) => sum + value / variance, 0) / precision,
    variance: 1 / precision,
  };
}
