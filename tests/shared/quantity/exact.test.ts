/** Exact sums (rules L6, L8, R2, R3). */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Arms,
  addTally,
  EMPTY_TALLY,
  isEmptyTally,
  negateTally,
  seenFrom,
  subtractTally,
  tallyOf,
  toKg,
  toKgM,
  toLengthNm,
  toM,
  toMassNg,
} from '#shared/quantity/exact.ts';

const nowhere: Arms = { x: undefined, y: undefined, z: undefined };
const massKg = fc.integer({ min: 0, max: 1e9 }).map((milligrams) => milligrams / 1e6);
const armNm = fc.option(
  fc.integer({ min: -1e9, max: 1e9 }).map((um) => toLengthNm(um / 1e6)),
  { nil: undefined },
);
const tally = fc
  .record({ massKg, x: armNm, y: armNm, z: armNm })
  .map(({ massKg: kg, x, y, z }) => tallyOf(toMassNg(kg), { x, y, z }));

describe('sums', () => {
  it('[R3] sums do not depend on their order, to the last nanogram', () => {
    const anyOrder = fc.property(fc.array(tally, { maxLength: 20 }), (tallies) => {
      const sum = (list: typeof tallies) => list.reduce(addTally, EMPTY_TALLY);
      expect(sum([...tallies].reverse())).toEqual(sum(tallies));
    });
    fc.assert(anyOrder, { seed: 20_260_101, numRuns: 200 });
  });

  it('[L6] what is added and taken away again leaves nothing', () => {
    const there = fc.property(tally, tally, (a, b) => {
      expect(subtractTally(addTally(a, b), b)).toEqual(a);
      expect(isEmptyTally(addTally(a, negateTally(a)))).toBe(true);
    });
    fc.assert(there, { seed: 20_260_101, numRuns: 200 });
    expect(isEmptyTally(tallyOf(toMassNg(1), nowhere))).toBe(false);
  });

  it('[L8] from a datum further aft every station is less by as much', () => {
    const one = tallyOf(toMassNg(2), { x: toLengthNm(3), y: toLengthNm(1), z: undefined });
    const seen = seenFrom(one, toLengthNm(0.5));
    expect([toKgM(one.x.momentNgNm), toKgM(seen.x.momentNgNm)]).toEqual([6, 5]);
    expect({ ...seen, x: one.x }).toEqual(one);
    expect(seenFrom(one, toLengthNm(0))).toBe(one);
  });

  it('[R2] mass without an arm counts as mass only', () => {
    const one = tallyOf(toMassNg(2), { ...nowhere, y: toLengthNm(1) });
    expect([one.massNg, one.x.placedNg, one.y.placedNg]).toEqual([2_000_000_000_000n, 0n, 2_000_000_000_000n]);
  });
});

describe('whole units', () => {
  it('[W2] a pound, an ounce, an inch and a foot are whole numbers of the exact units', () => {
    expect(toMassNg(0.45359237)).toBe(453_592_370_000n);
    expect(toMassNg(0.45359237 / 16)).toBe(28_349_523_125n);
    expect(toLengthNm(0.0254)).toBe(25_400_000n);
    expect(toLengthNm(-0.3048)).toBe(-304_800_000n);
  });

  it('[L6] the largest mass and zero go through unchanged, a nanogram is kept', () => {
    for (const kg of [1e6, 0, 1e-12, 372.123456]) expect(toKg(toMassNg(kg))).toBe(kg);
    for (const m of [1000, -1000, 1e-9]) expect(toM(toLengthNm(m))).toBe(m);
    expect(toMassNg(-0)).toBe(0n);
    for (let grams = 0; grams < 5_000; grams += 1) {
      expect(toMassNg(grams / 1000)).toBe(BigInt(grams) * 1_000_000_000n);
      expect(toLengthNm(-grams / 1000)).toBe(BigInt(-grams) * 1_000_000n);
    }
  });
});
