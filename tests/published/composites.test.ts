/**
 * Fibre, resin and voids. Status beside each value: read in a copy or in a page that quotes it; derived: computed from values that were read;
 * memory: remembered, not seen.
 */
import { describe, expect, it } from 'vitest';
import { laminateKgM3, massFraction, voidContent, volumeFraction } from '#shared/layup/fractions.ts';
import { readLength } from '#shared/quantity/typed.ts';

describe('Kaw, Mechanics of Composite Materials, Example 3.1', () => {
  // Densities of glass and epoxy 2,500 and 1,200 kg/m³: memory.
  const densities = { fibreKgM3: 2500, resinKgM3: 1200 };

  it('[E3] a fibre volume fraction of 70 % is a density of 2,110 kg/m³ and 82.9384 % of the mass', () => {
    expect(laminateKgM3(0.7, densities)).toBeCloseTo(2110, 9); // read
    expect(massFraction(0.7, densities)).toBeCloseTo(0.829384, 6); // read
  });
});

describe('carbon of 1.8 and epoxy of 1.2 g/cm³', () => {
  const densities = { fibreKgM3: 1800, resinKgM3: 1200 };

  it('[E3] 60 % of the mass are 50 % of the volume, and back', () => {
    expect(volumeFraction(0.6, densities)).toBeCloseTo(0.5, 15); // derived
    expect(massFraction(0.5, densities)).toBeCloseTo(0.6, 15); // derived
  });
});

describe('a teaching page: resin per fibre by mass, fibre 1.6 times as dense as resin', () => {
  it.each([
    [0.3, 1.46],
    [0.35, 1.16],
    [0.4, 0.94],
    [0.45, 0.76],
    [0.5, 0.63],
    [0.55, 0.51],
    [0.6, 0.42],
    [0.65, 0.34],
    [0.7, 0.27],
  ])('[E3] at a fibre volume fraction of %d it is %d', (vf, printed) => {
    // read; rounded to two decimals there.
    const wf = massFraction(vf, { fibreKgM3: 1600, resinKgM3: 1000 });
    expect(Math.abs((1 - wf) / wf - printed)).toBeLessThanOrEqual(0.005 + 1e-12);
  });

  it('[E3] a sheet of 4.24 g carbon and 2.05 g epoxy, 1.78 and 1.1 g/cm³, has 56 % fibre by volume', () => {
    const vf = volumeFraction(4.24 / (4.24 + 2.05), { fibreKgM3: 1780, resinKgM3: 1100 });
    expect(vf.toFixed(2)).toBe('0.56'); // read
  });
});

describe('ASTM D2734, void content', () => {
  // The formula: read. The numbers: derived.
  const sample = { wf: 0.7, resinKgM3: 1200, fibreKgM3: 2500 };

  it('[E3] 30 % resin of 1.2 and 70 % glass of 2.5 g/cm³ have 1.886792 g/cm³ without voids', () => {
    expect(voidContent({ ...sample, measuredKgM3: 1850 }).theoreticalKgM3).toBeCloseTo(1886.792, 3);
  });

  it.each([
    [1850, '1.95', false],
    [1900, '-0.70', true],
  ])(
    '[E3] at a measured %d kg/m³ it is %s %%, and less than nothing is kept and said',
    (measuredKgM3, printed, isBelowZero) => {
      const voids = voidContent({ ...sample, measuredKgM3 });
      expect((voids.fraction * 100).toFixed(2)).toBe(printed);
      expect(voids.isBelowZero).toBe(isBelowZero);
    },
  );
});

describe('sheets of foam core', () => {
  // Common practice, no source: 5/8 in and 1/4 in. The inch is exact.
  it.each([
    ['0.625 in', 0.015875],
    ['0.25 in', 0.00635],
  ])('[E3] %s as typed', (text, lengthM) => {
    const read = readLength(text);
    expect(read.ok && read.value.si).toBe(lengthM);
  });
});
