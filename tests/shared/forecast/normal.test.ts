/** The normal distribution. The quantiles are in every table of it: 0, 1, 1.645, 1.96 and 3 standard deviations (memory). */
import { describe, expect, it } from 'vitest';
import { chanceBelow, chanceWithin, NINETY_PERCENT, normalBelow } from '#shared/forecast/normal.ts';

describe('shares of the normal distribution', () => {
  it.each([
    [0, 0.5],
    [1, 0.841344746],
    [-1, 0.158655254],
    [1.959963985, 0.975],
    [NINETY_PERCENT, 0.95],
    [-3, 0.001349898],
  ])('[F2] below %d is %d', (z, share) => {
    expect(Math.abs(normalBelow(z) - share)).toBeLessThan(1e-7);
  });

  it('[F2] have both ends', () => {
    expect([normalBelow(Number.NEGATIVE_INFINITY), normalBelow(Number.POSITIVE_INFINITY)]).toEqual([0, 1]);
    expect(normalBelow(40)).toBe(1);
    expect(normalBelow(-40)).toBeCloseTo(0, 12);
  });
});

describe('a chance', () => {
  it('[F2] of a figure without any uncertainty is all or nothing, and never NaN', () => {
    expect(chanceBelow(3, { mean: 3, std: 0 })).toBe(1);
    expect(chanceBelow(2.999, { mean: 3, std: 0 })).toBe(0);
    expect(chanceWithin({ from: 1, to: 2 }, { mean: 2, std: 0 })).toBe(1);
    expect(chanceWithin({ from: 1 }, { mean: 0.5, std: 0 })).toBe(0);
    expect(chanceWithin({ to: 1 }, { mean: 1.5, std: 0 })).toBe(0);
  });

  it('[F2] between two ends is what is below one and not below the other; an end that is missing is none', () => {
    const figure = { mean: 10, std: 2 };
    expect(chanceWithin({ from: 8, to: 12 }, figure)).toBeCloseTo(0.682689492, 6);
    expect(chanceWithin({ to: 12 }, figure)).toBeCloseTo(0.841344746, 6);
    expect(chanceWithin({ from: 12 }, figure)).toBeCloseTo(0.158655254, 6);
    expect(chanceWithin({}, figure)).toBe(1);
    expect(chanceWithin({ from: 12, to: 8 }, figure)).toBe(0);
  });
});
