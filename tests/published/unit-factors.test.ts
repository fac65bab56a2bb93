/**
 * Unit factors and rounding.
 * Sources: NIST SP 811 (2008), appendix B, and NIST Handbook 44, appendix C. Status of each value stands beside it: read in a copy
 * or in a page that quotes it; derived: computed from values that were read; memory: remembered, not seen.
 */
import { describe, expect, it } from 'vitest';
import { showFixed } from '#shared/quantity/show.ts';
import { readLength, readMass } from '#shared/quantity/typed.ts';
import {
  AREAL_WEIGHT_UNIT_KG_PER_M2,
  DENSITY_UNIT_KG_PER_M3,
  LENGTH_UNIT_M,
  MASS_UNIT_KG,
  MOMENT_UNIT_KG_M,
  VOLUME_UNIT_M3,
} from '#shared/quantity/units.ts';

/** Equal but for the last bits of a product of binary fractions. */
function sameFactor(is: number, shouldBe: number): void {
  expect(Math.abs(is / shouldBe - 1)).toBeLessThan(4 * Number.EPSILON);
}

describe('exact factors', () => {
  it.each([
    ['pound to kilograms', MASS_UNIT_KG.lb, 0.45359237], // read
    ['ounce to kilograms', MASS_UNIT_KG.oz, 0.028349523125], // read
    ['inch to metres', LENGTH_UNIT_M.in, 0.0254], // read
    ['US gallon to litres', VOLUME_UNIT_M3['US gal'] / VOLUME_UNIT_M3.L, 3.785411784], // read; 231 cubic inches
    ['pound inch to kilogram metres', MOMENT_UNIT_KG_M['lb in'], 0.011521246198], // derived, exact to the digits given
  ])('[W2] %s', (_, factor, published) => {
    expect(Math.abs(factor / published - 1)).toBeLessThan(1e-11);
  });

  it('[W2] a foot is twelve inches and an ounce a sixteenth of a pound', () => {
    sameFactor(LENGTH_UNIT_M.ft, 12 * LENGTH_UNIT_M.in); // derived
    sameFactor(MASS_UNIT_KG.oz, MASS_UNIT_KG.lb / 16); // derived
  });
});

describe('printed to fewer digits', () => {
  it.each([
    ['ounce per square yard to grams per square metre', AREAL_WEIGHT_UNIT_KG_PER_M2['oz/yd²'] * 1000, 33.905747, 6], // derived
    ['6 pounds per US gallon to kilograms per litre', (6 * DENSITY_UNIT_KG_PER_M3['lb/US gal']) / 1000, 0.71895856, 8], // derived
  ] as const)('[W2] %s', (_, value, printed, decimals) => {
    expect(Math.abs(value - printed)).toBeLessThanOrEqual(0.5 * 10 ** -decimals);
  });
});

describe('as typed', () => {
  it.each([
    ['1 lb', 0.45359237], // read
    ['1 oz', 0.028349523125], // read
    ['1 in', 0.0254], // read
  ])('[W2] %s as a person types it', (text, published) => {
    const read = text.endsWith('in') ? readLength(text) : readMass(text);
    expect(read.ok && read.value.si).toBe(published);
  });
});

describe('rounding', () => {
  // NIST SP 811, B.7.1: a tie goes to the even digit. Both examples read.
  it.each([
    [6.9749505, '6.974950'],
    [6.9749515, '6.974952'],
  ])('[W2] %d to seven digits', (value, printed) => {
    expect(showFixed(value, 6)).toBe(printed);
  });
});
