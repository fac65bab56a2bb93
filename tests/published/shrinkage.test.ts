/**
 * A normal belief updated by normal data. Source: Johnson, Ott, Dogucu, Bayes Rules! An Introduction to Applied Bayesian Modeling,
 * chapter 5: prior N(6.5, 0.4^2); 25 values with the mean 5.735 and the standard deviation 0.5 (read). The posterior there is
 * N(5.78, 0.097^2) (read); its digits beyond those are derived.
 */
import { describe, expect, it } from 'vitest';
import { updateNormal } from '#shared/forecast/normal-update.ts';

describe('a normal belief', () => {
  it('[F1] 25 values with a mean of 5.735 take it from 6.5 to 5.78', () => {
    const seen = Array.from({ length: 25 }, () => ({ value: 5.735, variance: 0.5 ** 2 }));
    const { mean, std } = updateNormal({ mean: 6.5, std: 0.4 }, seen);
    expect(mean).toBeCloseTo(5.78, 9); // read
    expect(std).toBeCloseTo(0.09701425, 8); // read as 0.097, derived beyond
    expect(std ** 2).toBeCloseTo(0.0094117647, 10); // read as 0.009, derived beyond
  });

  it('[F1] the mean of the values weighs as much as the values one by one', () => {
    const { mean, std } = updateNormal({ mean: 6.5, std: 0.4 }, [{ value: 5.735, variance: 0.5 ** 2 / 25 }]);
    expect(mean).toBeCloseTo(5.78, 9); // derived
    expect(std).toBeCloseTo(0.09701425, 8); // derived
  });
});
