/** An estimate that is said again (rule E1): what is revised changes, and nothing else. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { estimateFromWords } from '#shared/estimate/from-words.ts';
import { estimateInWords } from '#shared/estimate/in-words.ts';
import type { PartId } from '#shared/ledger/entry.ts';
import { FieldReader } from '#shared/words/field-reader.ts';

const PART = { partId: '00000000-0000-4000-8000-000000000001' as PartId, process: 'prepreg' } as const;

function read(words: Readonly<Record<string, string>>) {
  const reader = new FieldReader(words);
  const estimate = estimateFromWords(reader, PART);
  if (estimate === undefined) throw new Error(JSON.stringify(reader.problems));
  return estimate;
}

function again(words: Readonly<Record<string, string>>) {
  const { typed, ...figures } = read(words);
  return estimateInWords({ ...figures, typed });
}

const grams = (most: number) => fc.integer({ min: 1, max: most }).map((g) => `${g} g`);
const some = (text: fc.Arbitrary<string>) => fc.option(text, { nil: undefined });
const words = fc.record({
  estimate: fc.oneof(
    grams(90_000).filter((text) => Number.parseInt(text, 10) > 500),
    fc.constant('12 lb 3.5 oz'),
  ),
  'std uncertainty': some(fc.oneof(grams(300), fc.constant('7 %'))),
  x: some(fc.integer({ min: -9000, max: 9000 }).map((at) => `${at / 100} in`)),
  y: some(fc.constant('-0.31 m')),
  'arm uncertainty': some(fc.constant('5 mm')),
  evidence: fc.constantFrom('estimated', 'calculated'),
  allowance: some(fc.integer({ min: 0, max: 90 }).map((share) => `${share} %`)),
  'later allowance': some(fc.constant('33 %')),
  flash: some(grams(400)),
  later: some(grams(400)),
});

it('[E1] an estimate in words reads as the same estimate, whatever of it was stated', () => {
  fc.assert(
    fc.property(words, (all) => {
      const stated = Object.fromEntries(
        Object.entries(all).flatMap(([field, text]) => (text === undefined ? [] : [[field, text]])),
      );
      const { typed: _, ...before } = read(stated);
      const { typed: __, ...after } = read(again(stated));
      expect(after).toEqual(before);
    }),
  );
});

it('[L4] what was typed is kept while it says the same, and told in SI where it does not', () => {
  const { typed, ...figures } = read({ estimate: '8.15 lb', x: '100 in', allowance: '12 %' });
  expect(estimateInWords({ ...figures, typed })).toMatchObject({ estimate: '8.15 lb', x: '100 in', allowance: '12 %' });
  // The datum has moved since: the arm is told from the present one.
  expect(estimateInWords({ ...figures, xM: 2.04, typed }).x).toBe('2.04 m');
  expect(estimateInWords({ ...figures, growthFrom: 'shop default', typed }).allowance).toBeUndefined();
});
