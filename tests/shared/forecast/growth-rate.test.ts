/** How fast the predicted mass has grown of late, and where that leads (rule F10). */
import fc from 'fast-check';
import { linearRegression } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { crossingOf, GROWTH_WINDOW_DAYS, growthRate } from '#shared/forecast/growth-rate.ts';
import { forecastByDay } from '#shared/forecast/history.ts';
import { chainFrom, randomSteps } from '../ledger/random-chain.ts';

function dayAt(at: number): string {
  return new Date(Date.UTC(2026, 0, 1) + at * 86_400_000).toISOString().slice(0, 10);
}

/** Predicted and forecast alike, on days counted from the first of January. */
const daysOf = (points: readonly (readonly [at: number, kg: number])[]) =>
  points.map(([at, kg]) => ({ day: dayAt(at), predictedKg: kg, forecastKg: kg }));

/** 0.1 kg a day from 100 kg, on every tenth day. */
const STEADY = daysOf([0, 10, 20, 30, 40].map((at) => [at, 100 + at / 10]));

describe('the rate of growth', () => {
  it('[F10] is the slope of the least-squares line, with its standard error', () => {
    const rate = growthRate(
      daysOf([
        [0, 10],
        [1, 12],
        [2, 12],
        [3, 13],
        [4, 14],
      ]),
    );
    expect(rate?.kgPerDay).toBeCloseTo(0.9, 12);
    // What is left over: -0.4, 0.7, -0.2, -0.1, 0: 0.7 in squares, over 3 degrees of freedom and a spread of 10.
    expect(rate?.kgPerDayStd).toBeCloseTo(Math.sqrt(0.7 / 3 / 10), 12);
    expect(rate).toMatchObject({ lastDay: '2026-01-05', dayCount: 5, isTold: true });
  });

  it('[F10] looks back 90 days from the last day with entries, and needs five of them', () => {
    expect(growthRate([])).toBeUndefined();
    expect(growthRate(STEADY.slice(1))).toBeUndefined();
    expect(growthRate(STEADY)?.dayCount).toBe(5);
    const old = { day: dayAt(40 - GROWTH_WINDOW_DAYS), predictedKg: 500, forecastKg: 500 };
    expect(growthRate([old, ...STEADY])?.kgPerDay).toBeCloseTo(0.1, 12);
    expect(growthRate([{ ...old, day: dayAt(41 - GROWTH_WINDOW_DAYS) }, ...STEADY])?.dayCount).toBe(6);
    expect(growthRate([old, ...STEADY.slice(1)])).toBeUndefined();
  });

  it('[F10] agrees with another least squares, and is a figure whatever the days', () => {
    const days = fc
      .uniqueArray(fc.nat(89), { minLength: 5, maxLength: 40 })
      .chain((ats) =>
        fc.tuple(
          fc.constant([...ats].sort((a, b) => a - b)),
          fc.array(fc.double({ min: 0, max: 900, noNaN: true }), { minLength: 40, maxLength: 40 }),
        ),
      );
    fc.assert(
      fc.property(days, ([ats, masses]) => {
        const points = ats.map((at, place): [number, number] => [at, masses[place] ?? 0]);
        const rate = growthRate(daysOf(points));
        expect(rate?.kgPerDay).toBeCloseTo(linearRegression(points).m, 8);
        expect(Number.isFinite(rate?.kgPerDayStd)).toBe(true);
      }),
      { seed: 20_261_128, numRuns: 200 },
    );
  });
});

describe('where the growth leads', () => {
  it('[F10] the forecast that grows on meets the aim on a day, and not before one where the rate is not sure', () => {
    expect(crossingOf(STEADY, 105)).toEqual({ is: 'ahead', on: dayAt(50), notBefore: dayAt(50) });
    // 2 kg are left; the slope is 0.9 and at most 0.9 + 2 x 0.1528 a day.
    const rough = daysOf([
      [0, 10],
      [1, 12],
      [2, 12],
      [3, 13],
      [4, 14],
    ]);
    expect(crossingOf(rough, 16)).toEqual({ is: 'ahead', on: dayAt(7), notBefore: dayAt(6) });
  });

  it('[F10] a rate that cannot be told from none names no day, but one before which it will not be', () => {
    const wild = daysOf([
      [0, 10],
      [1, 12],
      [2, 9],
      [3, 12],
      [4, 10],
    ]);
    expect(growthRate(wild)?.isTold).toBe(false);
    expect(crossingOf(wild, 20)).toMatchObject({ is: 'not before' });
  });

  it('[F10] a mass that stays or falls, too few days, and a day too far off lead nowhere', () => {
    const still = daysOf([0, 1, 2, 3, 4].map((at) => [at, 100]));
    expect(crossingOf(still, 105)).toEqual({ is: 'not in sight' });
    const falling = daysOf([0, 1, 2, 3, 4].map((at) => [at, 100 - at]));
    expect(crossingOf(falling, 105)).toEqual({ is: 'not in sight' });
    expect(crossingOf(STEADY.slice(2), 105)).toEqual({ is: 'not in sight' });
    expect(crossingOf(STEADY, 104 + 0.1 * 5 * 365 + 1)).toEqual({ is: 'not in sight' });
    expect(crossingOf([], 105)).toBeUndefined();
  });

  it('[F10] a forecast above its aim has crossed it on the day since which it has stayed above', () => {
    const crossed = daysOf([
      [0, 100],
      [5, 106],
      [6, 104],
      [8, 107],
      [9, 108],
    ]);
    expect(crossingOf(crossed, 105)).toEqual({ is: 'crossed', since: dayAt(8) });
    expect(crossingOf(crossed, 90)).toEqual({ is: 'crossed', since: dayAt(0) });
    expect(crossingOf(daysOf([[0, 105]]), 105)).toEqual({ is: 'not in sight' });
  });

  it('[F10] of any ledger it is a day or none, never another', () => {
    fc.assert(
      fc.property(randomSteps(), fc.double({ min: 0.1, max: 500, noNaN: true }), (steps, aimKg) => {
        const days = forecastByDay(chainFrom(steps).fold());
        const crossing = crossingOf(days, aimKg);
        expect(crossing === undefined).toBe(days.length === 0);
        for (const day of Object.values(crossing ?? {}).slice(1)) expect(day).toMatch(/^\d{4}-\d{2}-\d{2}$/);
      }),
      { seed: 20_261_129, numRuns: 100 },
    );
  });
});
