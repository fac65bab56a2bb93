/**
 * Control charts. Source: NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2 (individuals), 6.3.2.3 (cumulative sum) and 6.3.2.4
 * (EWMA): all figures read.
 */
import { describe, expect, it } from 'vitest';
import { cusumChart, ewmaChart, individualsChart } from '#shared/drift/control-charts.ts';

describe('EWMA', () => {
  const GIVEN = { target: 50, sd: 2.0539, lambda: 0.3, sigmas: 3 };
  const VALUES = [
    52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6,
    52.1,
  ];
  const PRINTED = [
    50.6, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36, 49.52, 50.05, 49.38, 49.92,
    50.73, 51.23, 51.94, 51.99,
  ];
  const points = ewmaChart(VALUES, GIVEN);

  it('[D4] has the twenty averages of the e-Handbook, none of them outside', () => {
    expect(points).toHaveLength(20);
    points.forEach(({ ewma, side }, at) => {
      expect(Math.abs(ewma - (PRINTED[at] ?? 0))).toBeLessThanOrEqual(0.005 + 1e-9);
      expect(side).toBeUndefined();
    });
  });

  it('[D4] comes to its steady limits, which the page reckons with a rounded root', () => {
    const late = ewmaChart(
      Array.from({ length: 100 }, () => 50),
      GIVEN,
    ).at(-1);
    expect(Math.abs((late?.upper ?? 0) - 52.5884)).toBeLessThanOrEqual(1e-4);
    expect(Math.abs((late?.lower ?? 0) - 47.4115)).toBeLessThanOrEqual(1e-4);
    // The first of the exact ones: 3 x 0.3 x 2.0539 from the target (derived).
    expect(points[0]?.upper).toBeCloseTo(50 + 1.84851, 10);
  });
});

describe('tabular CUSUM', () => {
  const VALUES = [
    324.925, 324.675, 324.725, 324.35, 325.35, 325.225, 324.125, 324.525, 325.225, 324.6, 324.625, 325.15, 328.325,
    327.25, 327.825, 328.5, 326.675, 327.775, 326.875, 328.35,
  ];
  const HIGH = [0, 0, 0, 0, 0.03, 0, 0, 0, 0, 0, 0, 0, 3.01, 4.94, 7.45, 10.63, 11.99, 14.44, 16.0, 19.04];
  const LOW = [0, 0.01, 0, 0.33, 0, 0, 0.56, 0.72, 0.17, 0.25, 0.31, 0, 0, 0, 0, 0, 0, 0, 0, 0];
  const points = cusumChart(VALUES, { target: 325, k: 0.3175, h: 4.1959 });

  it('[D4] has both columns of the e-Handbook', () => {
    points.forEach(({ high, low }, at) => {
      expect(Math.abs(high - (HIGH[at] ?? 0))).toBeLessThanOrEqual(0.005 + 1e-9);
      expect(Math.abs(low - (LOW[at] ?? 0))).toBeLessThanOrEqual(0.005 + 1e-9);
    });
  });

  it('[D4] signals first at the fourteenth value, and shows that the shift began at the thirteenth', () => {
    const at = points.findIndex(({ side }) => side !== undefined);
    expect(at + 1).toBe(14);
    expect(points[at]?.side).toBe('high');
    expect((points[at]?.highFrom ?? 0) + 1).toBe(13); // derived: the first of its column that is not 0
  });
});

describe('individuals', () => {
  it('[D4] has the mean and the limits of the e-Handbook', () => {
    const chart = individualsChart([49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]);
    expect(chart?.centre).toBeCloseTo(50.81, 10);
    expect(Math.abs((chart?.upper ?? 0) - 55.8041)).toBeLessThanOrEqual(0.00005);
    expect(Math.abs((chart?.lower ?? 0) - 45.8159)).toBeLessThanOrEqual(0.00005);
  });
});
