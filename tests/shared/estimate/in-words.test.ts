/** An estimate that is said again (rule E1): what is revised changes, and nothing else. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { estimateFromWords } from '#shared/estimate/from-words.ts';
import { estimateInWords, estimateToSend, leavesLayUp } from '#shared/estimate/in-words.ts';
import { estimateOfLayUp } from '#shared/layup/compute.ts';
import { layUpInWords } from '#shared/layup/in-words.ts';
import type { PartId } from '#shared/ledger/entry.ts';
import { FieldReader } from '#shared/words/field-reader.ts';
import { PANEL, scheduleOf } from '../layup/make-schedules.ts';

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

it('[V2] a laid-up estimate with another arm, flash or allowance keeps its schedule; with another mass it does not', () => {
  const layUp = scheduleOf(PANEL);
  const { typed, ...figures } = read({ estimate: '9 kg', x: '2 m', allowance: '12 %', flash: '80 g' });
  const before = { ...figures, ...estimateOfLayUp(layUp), evidence: 'calculated', layUp, typed } as const;
  const was = estimateInWords(before);
  for (const changed of [{ x: '2.1 m' }, { flash: '90 g' }, { allowance: '9 %' }, { allowance: undefined }]) {
    const words = { ...was, ...changed };
    const beside = { x: '2 m', flash: '80 g', allowance: '12 %', ...changed };
    expect(estimateToSend(words, before)).toEqual({ ...beside, layUp: layUpInWords(layUp) });
    expect(leavesLayUp(words, before)).toBe(false);
  }
  // What is sent reads as the same schedule.
  expect(estimateOfLayUp(scheduleOf(estimateToSend(was, before)['layUp']))).toEqual(estimateOfLayUp(layUp));
  for (const changed of [
    { estimate: '2 kg' },
    { evidence: 'estimated' },
    { later: '10 g' },
    { 'std uncertainty': undefined },
    { finish: '1 g' },
  ]) {
    const words = { ...was, ...changed };
    expect(estimateToSend(words, before)).toEqual(words);
    expect(leavesLayUp(words, before)).toBe(true);
  }
  expect(leavesLayUp({ estimate: '2 kg' }, { ...before, layUp: undefined })).toBe(false);
  expect(leavesLayUp({ estimate: '2 kg' }, undefined)).toBe(false);
});

it('[V2] the masses of a schedule are told in no more digits than somebody would type', () => {
  const layUp = scheduleOf(PANEL);
  const { typed, ...figures } = read({ estimate: '9 kg' });
  const masses = { massKg: 3.123456789, massStdKg: 0.123456789, laterKg: 0.2, finishKg: 0.1 };
  const words = estimateInWords({ ...figures, ...masses, layUp, typed: {} });
  expect(words).toMatchObject({ estimate: '3.12346 kg', 'std uncertainty': '0.123457 kg', later: '0.2 kg' });
  expect(estimateInWords({ ...figures, ...masses, typed }).estimate).toBe('3.123456789 kg');
});
