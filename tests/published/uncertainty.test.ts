/**
 * Combined standard uncertainty of quotients, by the same reckoning that gives the CG its own: X = S/M with moment S and mass M.
 * Sources: Eurachem/CITAC Guide, Quantifying Uncertainty in Analytical Measurement, Example A1 (read); a ratio in concise notation
 * (read); the first aircraft of FAA-H-8083-1, chapter 3, with scales that show whole pounds (inputs read, uncertainties derived by
 * the first-order formula of JCGM 100, 5.1.2).
 */
import { describe, expect, it } from 'vitest';
import type { MassNg, MomentNgNm, Tally } from '#shared/quantity/exact.ts';
import { EMPTY_TALLY } from '#shared/quantity/exact.ts';
import { LENGTH_UNIT_M, MASS_UNIT_KG } from '#shared/quantity/units.ts';
import { headlineOf } from '#shared/rollup/headline.ts';
import { cgStdM, gather, massStdKg, momentShift, NOTHING, type Shift } from '#shared/uncertainty/shift.ts';
import { Chain, estimateOf, partOf, weighingOf } from '../shared/ledger/make-entries.ts';
import { cgIn, massLb, tallyOfPounds } from './pounds-and-inches.ts';

/** Numerator and denominator as a moment and a mass. */
function quotient(numerator: number, denominator: number): Tally {
  const placedNg = BigInt(Math.round(denominator * 1e12)) as MassNg;
  const momentNgNm = (BigInt(Math.round(numerator * 1e9)) * 10n ** 12n) as MomentNgNm;
  return { ...EMPTY_TALLY, massNg: placedNg, x: { placedNg, momentNgNm } };
}

const denominatorShift = (std: number): Shift => ({ ...NOTHING, massKg: std, x: { placedKg: std, momentKgM: 0 } });

describe('quotients', () => {
  it('[U2] a calibration standard of 1,002.7 mg/L is known to 0.9', () => {
    const [purity, massMg, volumeMl] = [0.9999, 100.28, 100.0];
    const shifts = new Map<string, Shift>();
    gather(shifts, 'purity', momentShift('x', 1000 * massMg * 0.000058));
    gather(shifts, 'mass', momentShift('x', 1000 * purity * 0.05));
    gather(shifts, 'volume', denominatorShift(0.07));
    const standard = quotient(1000 * massMg * purity, volumeMl);
    expect(Math.abs(Number(standard.x.momentNgNm) / Number(standard.x.placedNg) / 1e9 - 1002.7)).toBeLessThan(0.05); // read
    const std = cgStdM(shifts, standard, 'x') ?? 0;
    expect(Math.abs(std - 0.9)).toBeLessThanOrEqual(0.05); // read
    expect(Math.abs(std - 0.8637)).toBeLessThanOrEqual(0.00005); // read, unrounded
  });

  it('[U2] 0.1 (0.001) over 0.015 (0.0005) is 6.67(23)', () => {
    const shifts = new Map<string, Shift>();
    gather(shifts, 'numerator', momentShift('x', 0.001));
    gather(shifts, 'denominator', denominatorShift(0.0005));
    expect(Math.abs((cgStdM(shifts, quotient(0.1, 0.015), 'x') ?? 0) - 0.23)).toBeLessThanOrEqual(0.005); // read
  });
});

describe('the aircraft on three scales that show whole pounds', () => {
  const LB = MASS_UNIT_KG.lb;
  const IN = LENGTH_UNIT_M.in;
  const wheels = [
    { netLb: 833, armIn: 128 },
    { netLb: 833, armIn: 128 },
    { netLb: 340, armIn: 50 },
  ];

  it('[U2] weight and CG are known to 0.5000 lb and 0.009703 in', () => {
    const chain = new Chain();
    wheels.forEach(({ netLb, armIn }, at) => {
      chain.record(partOf(at + 1));
      chain.record(estimateOf(at + 1, { massKg: netLb * LB, massStdKg: 0, xM: armIn * IN }));
      chain.record(weighingOf(at + 1, netLb * LB, { grossResolutionKg: LB }));
    });
    const { predictedKg, predictedStdKg, cg } = headlineOf(chain.fold());
    expect(predictedKg / LB).toBeCloseTo(2006, 9); // read
    expect(Math.abs(predictedStdKg / LB - 0.5)).toBeLessThanOrEqual(0.00005); // derived
    expect(Math.abs((cg.xM ?? 0) / IN - 114.7797)).toBeLessThanOrEqual(0.00005); // read
    expect(Math.abs((cg.xStdM ?? 0) / IN - 0.009703)).toBeLessThanOrEqual(0.0000005); // derived
  });

  it('[U2] with both lengths known to 0.05 in the CG is known to 0.051633 in', () => {
    const tally = tallyOfPounds(wheels.map(({ netLb, armIn }) => [netLb, armIn]));
    const shifts = new Map<string, Shift>();
    wheels.forEach(({ armIn }, at) => {
      const std = LB / Math.sqrt(12);
      gather(shifts, `scale ${at}`, { ...NOTHING, massKg: std, x: { placedKg: std, momentKgM: std * armIn * IN } });
    });
    // All three wheels stand D from the datum, the nose wheel L ahead of that.
    gather(shifts, 'D', momentShift('x', massLb(tally) * LB * 0.05 * IN));
    gather(shifts, 'L', momentShift('x', -340 * LB * 0.05 * IN));
    expect(Math.abs(cgIn(tally) - 114.7797)).toBeLessThanOrEqual(0.00005); // read
    expect(massStdKg(shifts) / LB).toBeCloseTo(0.5, 9); // derived
    expect(Math.abs((cgStdM(shifts, tally, 'x') ?? 0) / IN - 0.051633)).toBeLessThanOrEqual(0.0000005); // derived
  });
});
