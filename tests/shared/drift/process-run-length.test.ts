/**
 * How often the charts call a process that has not changed (rule D4). Run lengths are drawn with a fixed seed; they are nearly exponential,
 * so the mean of n of them has a relative standard error of about 1/sqrt(n): 0.7 % with 20,000, and four of those are allowed. The run
 * length of the cumulative sum is also reckoned by a Markov chain (Brook and Evans, 1972), as a second opinion.
 */
import { describe, expect, it } from 'vitest';
import {
  cusumChart,
  ewmaChart,
  FALSE_ALARM_RUN_LENGTH,
  individualsChart,
  SHOP_CUSUM,
  SHOP_EWMA,
} from '#shared/drift/control-charts.ts';
import { normalBelow } from '#shared/forecast/normal.ts';
import { chanceOf } from '#tests/support/chance.ts';

const RUNS = 20_000;
const TOLERANCE = 4 / Math.sqrt(RUNS);

/** The same recursions as in the charts, without keeping the points. */
function runLengths(shift: number, seed: number, runs = RUNS) {
  const chance = chanceOf(seed);
  const sum = { ewma: 0, cusum: 0, either: 0 };
  for (let run = 0; run < runs; run += 1) {
    let [ewma, high, low, decay] = [0, 0, 0, 1];
    let [ewmaAt, cusumAt] = [0, 0];
    for (let at = 1; ewmaAt === 0 || cusumAt === 0; at += 1) {
      const value = shift + chance.normal();
      ewma = SHOP_EWMA.lambda * value + (1 - SHOP_EWMA.lambda) * ewma;
      decay *= (1 - SHOP_EWMA.lambda) ** 2;
      const width = SHOP_EWMA.sigmas * Math.sqrt((SHOP_EWMA.lambda / (2 - SHOP_EWMA.lambda)) * (1 - decay));
      high = Math.max(0, high + value - SHOP_CUSUM.k);
      low = Math.max(0, low - value - SHOP_CUSUM.k);
      if (ewmaAt === 0 && Math.abs(ewma) > width) ewmaAt = at;
      if (cusumAt === 0 && (high > SHOP_CUSUM.h || low > SHOP_CUSUM.h)) cusumAt = at;
    }
    sum.ewma += ewmaAt;
    sum.cusum += cusumAt;
    sum.either += Math.min(ewmaAt, cusumAt);
  }
  return { ewma: sum.ewma / runs, cusum: sum.cusum / runs, either: sum.either / runs };
}

/** Run length of a one-sided cumulative sum of standard normal values, its range up to h cut into cells. */
function oneSidedByChain({ k, h }: { readonly k: number; readonly h: number }, cells = 200): number {
  const width = (2 * h) / (2 * cells - 1);
  const rows = Array.from({ length: cells }, (_, from) =>
    Array.from({ length: cells }, (_, to) => {
      const upTo = normalBelow((to - from) * width + width / 2 + k);
      return to === 0 ? upTo : upTo - normalBelow((to - from) * width - width / 2 + k);
    }),
  );
  // (I - Q) L = 1, by elimination: the diagonal is never small.
  const system = rows.map((row, at) => [...row.map((share, to) => (at === to ? 1 : 0) - share), 1]);
  for (let pivot = 0; pivot < cells; pivot += 1) {
    const top = system[pivot] ?? [];
    for (let below = pivot + 1; below < cells; below += 1) {
      const line = system[below] ?? [];
      const times = (line[pivot] ?? 0) / (top[pivot] ?? 1);
      for (let to = pivot; to <= cells; to += 1) line[to] = (line[to] ?? 0) - times * (top[to] ?? 0);
    }
  }
  const lengths = Array.from({ length: cells }, () => 0);
  for (let at = cells - 1; at >= 0; at -= 1) {
    const line = system[at] ?? [];
    let rest = line[cells] ?? 0;
    for (let to = at + 1; to < cells; to += 1) rest -= (line[to] ?? 0) * (lengths[to] ?? 0);
    lengths[at] = rest / (line[at] ?? 1);
  }
  return lengths[0] ?? 0;
}

describe('false alarms', () => {
  it('[D4] come after as many points as the charts say', () => {
    const drawn = runLengths(0, 20_261_125);
    for (const chart of ['ewma', 'cusum', 'either'] as const) {
      const apart = Math.abs(drawn[chart] / FALSE_ALARM_RUN_LENGTH[chart] - 1);
      expect({ chart, drawn: drawn[chart], isNear: apart <= TOLERANCE }).toMatchObject({ isNear: true });
    }
  });

  it('[D4] of the cumulative sum come as a Markov chain reckons them: half of one side', () => {
    const twoSided = oneSidedByChain(SHOP_CUSUM) / 2;
    expect(Math.abs(twoSided / FALSE_ALARM_RUN_LENGTH.cusum - 1)).toBeLessThan(0.005);
  });

  it('[D4] are rare beside what a shift of two deviations takes to be seen', () => {
    const { either } = runLengths(2, 7, 2000);
    expect(either).toBeLessThan(4);
    expect(either).toBeGreaterThan(1);
  });
});

describe('charts of little', () => {
  const given = { target: 0, sd: 1, ...SHOP_EWMA };

  it('[D4] no values have no points, and one has no moving range', () => {
    expect(ewmaChart([], given)).toEqual([]);
    expect(cusumChart([], { target: 0, ...SHOP_CUSUM })).toEqual([]);
    expect(individualsChart([3])).toBeUndefined();
  });

  it('[D4] equal values at the target stay there', () => {
    expect(individualsChart([3, 3, 3])).toEqual({ centre: 3, lower: 3, upper: 3 });
    expect(ewmaChart([0, 0, 0], given).every(({ ewma, side }) => ewma === 0 && side === undefined)).toBe(true);
    const sums = cusumChart([0, 0, 0], { target: 0, ...SHOP_CUSUM });
    expect(sums.at(-1)).toEqual({ high: 0, low: 0, side: undefined, highFrom: undefined, lowFrom: undefined });
  });

  it('[D4] low is told from high', () => {
    expect(ewmaChart([-4], given)[0]?.side).toBe('low');
    expect(cusumChart([-3, -3, -3], { target: 0, ...SHOP_CUSUM })).toMatchObject([
      { side: undefined, lowFrom: 0 },
      { low: 5, side: undefined, lowFrom: 0 },
      { side: 'low', lowFrom: 0 },
    ]);
  });
});
