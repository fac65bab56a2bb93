/** Very many masses at their arms, flat, against the same one by one. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { addTally, EMPTY_TALLY, type LengthNm, type MassNg, tallyOf } from '#shared/quantity/exact.ts';
import { ExactSums } from '#shared/quantity/exact-sum.ts';
import { FlatTally, MOST_FLAT_NG, MOST_FLAT_NM } from '#shared/quantity/flat-tally.ts';

const massNg = fc.maxSafeInteger().map((whole) => whole % MOST_FLAT_NG);
const armNm = fc.oneof(
  fc.maxSafeInteger().map((whole) => whole % MOST_FLAT_NM),
  fc.constant(Number.NaN),
);
const placed = fc.tuple(massNg, armNm, armNm, armNm);

function oneByOne(all: readonly (readonly [number, number, number, number])[]) {
  const arm = (nm: number) => (Number.isNaN(nm) ? undefined : (BigInt(nm) as LengthNm));
  return all.reduce(
    (sum, [mass, x, y, z]) => addTally(sum, tallyOf(BigInt(mass) as MassNg, { x: arm(x), y: arm(y), z: arm(z) })),
    EMPTY_TALLY,
  );
}

function flat(all: readonly (readonly [number, number, number, number])[]) {
  const tally = new FlatTally();
  for (const one of all) tally.add(...one);
  return tally.read();
}

test('[R3] very many masses at their arms come to the whole number that they come to one by one', () => {
  fc.assert(
    fc.property(fc.array(placed, { maxLength: 300, size: 'max' }), (all) => {
      expect(flat(all)).toEqual(oneByOne(all));
    }),
  );
});

test('[R3] the largest masses at the longest arms do too, however many', () => {
  const [mass, arm] = [MOST_FLAT_NG - 1, MOST_FLAT_NM - 1];
  for (const sign of [1, -1]) {
    const all = Array.from({ length: 1000 }, () => [sign * mass, arm, -arm, arm - 2 ** 20] as const);
    expect(flat(all)).toEqual(oneByOne(all));
  }
});

test('[R3] an exact sum is told as a whole number, negative ones too', () => {
  const sums = new ExactSums(2);
  for (let times = 0; times < 5000; times += 1) {
    sums.add(0, 2 ** 52 - 1, 1);
    sums.add(1, -(2 ** 52) + 3, 1);
  }
  expect(sums.readWhole(0)).toBe(5000n * (2n ** 52n - 1n));
  expect(sums.readWhole(1)).toBe(-5000n * (2n ** 52n - 3n));
});
