/**
 * CG in per cent of the mean aerodynamic chord.
 * Source: FAA-H-8083-1B, Aircraft Weight and Balance Handbook, chapter 7. Status of each value stands beside it.
 */
import { describe, expect, it } from 'vitest';
import { LENGTH_UNIT_M } from '#shared/quantity/units.ts';
import { percentMac } from '#shared/rollup/centre-of-gravity.ts';

const inches = (length: number) => length * LENGTH_UNIT_M.in;

describe('per cent MAC', () => {
  it('[R2] a CG of +36.4 in on a chord of 58.0 in that begins at 25.98 in', () => {
    const chord = { lemacM: inches(25.98), macM: inches(58) }; // read
    const percent = percentMac(inches(36.4), chord); // read
    expect(Math.abs((percent / 100) * 58 - 10.42)).toBeLessThanOrEqual(0.005); // 10.42 in aft of LEMAC: read
    expect(Math.abs(percent - 17.9655)).toBeLessThanOrEqual(0.00005); // derived
  });

  it('[R2] a CG of 161 in on a chord of 62 in that begins at 144 in', () => {
    const percent = percentMac(inches(161), { lemacM: inches(144), macM: inches(62) }); // memory
    expect(Math.abs(percent - 27.4)).toBeLessThanOrEqual(0.05); // memory
  });

  it('[R2] a CG ahead of the chord is below zero and one behind it above a hundred', () => {
    const chord = { lemacM: inches(25.98), macM: inches(58) };
    expect(percentMac(inches(20), chord)).toBeLessThan(0);
    expect(percentMac(inches(90), chord)).toBeGreaterThan(100);
  });
});
