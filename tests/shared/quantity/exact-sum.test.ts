/** Sums that can be carried on (rule L6). */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { ExactSums } from '#shared/quantity/exact-sum.ts';

const wholes = fc.array(
  fc.tuple(fc.double({ min: -(2 ** 80), max: 2 ** 80, noNaN: true }), fc.integer({ min: 0, max: 2 })),
  { maxLength: 200 },
);

test('[L6] a sum is what whole numbers of any length add up to, rounded once', () => {
  fc.assert(
    fc.property(wholes, (values) => {
      const sums = new ExactSums(3);
      const exact = [0n, 0n, 0n];
      for (const [value, at] of values) {
        sums.add(at, value, 1);
        const rounded = value < 0 ? -Math.round(-value) : Math.round(value);
        exact[at] = (exact[at] ?? 0n) + BigInt(rounded);
      }
      for (const [at, sum] of exact.entries()) {
        const is = sums.read(at);
        // Limbs of forty bits are put together from the top, which rounds up to three times.
        expect(Math.abs(is - Number(sum))).toBeLessThanOrEqual(Math.abs(Number(sum)) * 2 ** -51);
      }
    }),
    { seed: 7, numRuns: 300 },
  );
});

test('[L6] what was put in is taken out without a trace, in whatever order', () => {
  fc.assert(
    fc.property(wholes, (values) => {
      const sums = new ExactSums(3);
      sums.add(1, 12_345, 1);
      for (const [value, at] of values) sums.add(at, value, 1);
      for (const [value, at] of values.toReversed()) sums.add(at, value, -1);
      expect([0, 1, 2].map((at) => sums.read(at))).toEqual([0, 12_345, 0]);
    }),
    { seed: 7, numRuns: 300 },
  );
});

test('[L6] a hundred thousand of the largest numbers leave nothing behind', () => {
  const sums = new ExactSums(1);
  for (let at = 0; at < 100_000; at += 1) sums.add(0, 2 ** 119 - 2 ** 66, at % 2 === 0 ? 1 : -1);
  expect(sums.read(0)).toBe(0);
});
