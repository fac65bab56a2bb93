/** The allowances that a list did not state, in one sentence (rule E1). */
import { expect, it } from 'vitest';
import { allowanceSentence } from '#shared/table/added-allowances.ts';
import { importParts } from '#shared/table/parts-file.ts';
import { contextOf, tableOf } from './tables.ts';

const HEADINGS = 'number,group,process,estimate,evidence,allowance';

function sentence(lines: readonly string[], when: 'is' | 'was' = 'was') {
  return allowanceSentence(importParts(tableOf(HEADINGS, ...lines), contextOf()).allowances, when);
}

it('[E1] an import says which allowance is added where none is stated, and to how many estimates', () => {
  const two = ['A,wing,prepreg,1 kg,,', 'B,wing,wet lay-up,2 kg,,', 'C,wing,prepreg,3 kg,,10 %', 'D,wing,,,,'];
  expect(sentence(two)).toBe(
    '24 % growth allowance was added to 2 estimates that state none: the shop’s default for prepreg and wet lay-up, estimated.',
  );
  expect(sentence(['A,wing,machined,1 kg,calculated,'], 'is')).toBe(
    '4 % growth allowance is added to 1 estimate that states none: the shop’s default for machined, calculated.',
  );
  expect(sentence([...two, 'E,wing,machined,1 kg,,', 'F,wing,,1 kg,,'])).toBe(
    'Growth allowance was added to 4 estimates that state none, by the shop’s defaults: 24 % to 3 (prepreg, wet lay-up and parts of another process or none, estimated), 15 % to 1 (machined, estimated).',
  );
});

it('[E1] a list that states every allowance, or none but nought, is told of none', () => {
  expect(sentence(['A,wing,prepreg,1 kg,,24 %', 'B,wing,prepreg,1 kg,,0 %'])).toBeUndefined();
});
