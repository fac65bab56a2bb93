/** What releases make of the belief in a process (rule F1), by hand. */
import { describe, expect, it } from 'vitest';
import type { Release } from '#shared/drift/process-releases.ts';
import { updateNormal } from '#shared/forecast/normal-update.ts';
import { SHOP_PRIOR_STD, shiftOf } from '#shared/forecast/process-shift.ts';
import { partIdOf } from '../ledger/make-entries.ts';

function releaseOf(part: number, missFraction: number, changes: Partial<Release> = {}): Release {
  return {
    partId: partIdOf(part),
    process: 'prepreg',
    part: `P-${part}`,
    seq: part * 3,
    on: `2026-01-${String(part).padStart(2, '0')}`,
    pieces: [1],
    estimateSeq: part * 3 - 1,
    differenceFraction: missFraction + 0.02,
    allowanceFraction: 0.02,
    estimateStdFraction: 0.03,
    scaleStdFraction: 0,
    ...changes,
  };
}

describe('the shift of a process', () => {
  it('[F1] is nothing, and as open as it is beforehand, until something is released', () => {
    expect(shiftOf([])).toEqual({
      mean: 0,
      std: SHOP_PRIOR_STD,
      releaseCount: 0,
      earlierCount: 0,
      first: undefined,
    });
    expect(shiftOf([], 0.05).std).toBe(0.05);
  });

  it('[F1] one release counts by its own variance against what was believed', () => {
    const { mean, std } = shiftOf([releaseOf(1, 0.05)]);
    // 0.05 / 0.0009 over 1/0.0064 + 1/0.0009
    expect(mean).toBeCloseTo(0.05 / 0.0009 / (1 / 0.0064 + 1 / 0.0009), 12);
    expect(std).toBeCloseTo(1 / Math.sqrt(1 / 0.0064 + 1 / 0.0009), 12);
  });

  it('[F1] each release counts by the variance of its own estimate and scale', () => {
    const { mean } = shiftOf([
      releaseOf(1, 0.04, { estimateStdFraction: 0.1 }),
      releaseOf(2, 0.01, { scaleStdFraction: 0.04 }),
    ]);
    const [a, b] = [1 / 0.01, 1 / (0.0009 + 0.0016)];
    expect(mean).toBeCloseTo((0.04 * a + 0.01 * b) / (1 / 0.0064 + a + b), 12);
  });

  it('[F1] many releases outweigh what was believed', () => {
    const many = Array.from({ length: 28 }, (_, at) => releaseOf(at + 1, at % 2 === 0 ? 0.02 : 0.01));
    const { mean, std } = shiftOf(many);
    expect(mean).toBeCloseTo(0.015, 3);
    expect(std).toBeCloseTo(0.03 / Math.sqrt(28), 4);
  });

  it('[F1] releases under one estimate share its error: ten of them are hardly surer than one', () => {
    const under = { partId: partIdOf(1), estimateSeq: 2, scaleStdFraction: 0.01 };
    const ten = shiftOf(Array.from({ length: 10 }, (_, at) => releaseOf(at + 1, 0.03, under)));
    const [one, other] = [shiftOf([releaseOf(1, 0.03)]), shiftOf([releaseOf(1, 0.03, under)])];
    expect(ten.std).toBeCloseTo(1 / Math.sqrt(1 / 0.0064 + 1 / (0.0009 + 0.00001)), 12);
    expect(ten.std).toBeGreaterThan(one.std);
    expect(ten.std).toBeLessThan(other.std);
    // Under estimates of their own they tell much more.
    expect(shiftOf(Array.from({ length: 10 }, (_, at) => releaseOf(at + 1, 0.03))).std).toBeLessThan(ten.std / 2.5);
  });

  it('[F1] of releases under one estimate the ones better weighed count more, and an exact scale decides', () => {
    const under = { partId: partIdOf(1), estimateSeq: 2 };
    const [rough, fine] = [
      releaseOf(1, 0.1, { ...under, scaleStdFraction: 0.02 }),
      releaseOf(2, 0.04, { ...under, scaleStdFraction: 0.01 }),
    ];
    const together = (0.1 / 0.0004 + 0.04 / 0.0001) / (1 / 0.0004 + 1 / 0.0001);
    const variance = 0.0009 + 1 / (1 / 0.0004 + 1 / 0.0001);
    expect(shiftOf([rough, fine]).mean).toBeCloseTo(together / variance / (1 / 0.0064 + 1 / variance), 12);
    const exact = shiftOf([rough, releaseOf(2, 0.04, under)]).mean;
    expect(exact).toBeCloseTo(shiftOf([releaseOf(2, 0.04)]).mean, 12);
  });

  it('[F1] what was released before the process changed is left out', () => {
    const before = Array.from({ length: 12 }, (_, at) => releaseOf(at + 1, at % 2 === 0 ? 0.004 : -0.004));
    const after = Array.from({ length: 6 }, (_, at) => releaseOf(at + 13, at % 2 === 0 ? 0.13 : 0.12));
    const { mean, std, first, releaseCount, earlierCount } = shiftOf([...before, ...after]);
    expect([first?.part, releaseCount, earlierCount]).toEqual(['P-13', 6, 12]);
    expect(mean).toBeCloseTo((0.125 * 6) / 0.0009 / (1 / 0.0064 + 6 / 0.0009), 12);
    expect(std).toBeCloseTo(1 / Math.sqrt(1 / 0.0064 + 6 / 0.0009), 12);
  });
});

describe('beliefs at their ends', () => {
  it('[F1] what is certain beforehand stays, what is seen exactly decides, and neither is NaN', () => {
    expect(updateNormal({ mean: 0.02, std: 0 }, [{ value: 1, variance: 0.1 }])).toEqual({ mean: 0.02, std: 0 });
    expect(updateNormal({ mean: 0, std: 0 }, [{ value: 1, variance: 0 }])).toEqual({ mean: 0, std: 0 });
    expect(
      updateNormal({ mean: 0, std: 1 }, [
        { value: 3, variance: 0 },
        { value: 5, variance: 0 },
        { value: 100, variance: 1 },
      ]),
    ).toEqual({ mean: 4, std: 0 });
  });
});
