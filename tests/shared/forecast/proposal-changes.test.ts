/** Scratch changes in words (rule F6): what is read is what is meant, and every problem is told at its place. */
import { describe, expect, it } from 'vitest';
import type { SentChange } from '#shared/contract/proposal.ts';
import { changesFromWords } from '#shared/forecast/proposal-changes.ts';
import { Chain, estimateOf, partIdOf, partOf, removedOf } from '../ledger/make-entries.ts';

function build(): Chain {
  const chain = new Chain();
  for (const number of [1, 2, 3]) {
    chain.record(partOf(number));
    chain.record(estimateOf(number, { massKg: 10, ...(number === 2 ? {} : { xM: 2 }) }));
  }
  chain.record(removedOf(3));
  return chain;
}

function read(sent: readonly SentChange[]) {
  const answer = changesFromWords(build().fold(), sent);
  if (!answer.ok) throw new Error(JSON.stringify(answer.refusal));
  return answer.value.map(({ part, change }) => ({ part, ...change }));
}

function problems(sent: readonly SentChange[]): readonly string[] {
  const answer = changesFromWords(build().fold(), sent);
  return answer.ok ? [] : answer.refusal.map(({ path, refusal }) => `${path.join('/')} ${refusal.code}`);
}

const partId = partIdOf(1);

describe('changes in words', () => {
  it('[F6] each act is read in the units it is typed in, and a part under its number in any case', () => {
    expect(
      read([
        { act: 'set mass', part: 'p-1', mass: '2 lb', uncertainty: '10 g' },
        { act: 'add mass', part: 'P-1', mass: '−250 g' },
        { act: 'add mass', part: 'P-1', mass: '+1 kg' },
        { act: 'set arm', part: 'P-2', x: '1500 mm', z: '-0.2 m' },
        { act: 'move', part: 'P-2', x: '-1 m' },
        { act: 'remove', part: 'P-2' },
        { act: 'add part', name: 'Radio', mass: '1.2 kg', y: '0 m' },
      ]),
    ).toEqual([
      { part: 'P-1', act: 'set mass', partId, massKg: 0.90718474, massStdKg: 0.01 },
      { part: 'P-1', act: 'add mass', partId, massKg: -0.25 },
      { part: 'P-1', act: 'add mass', partId, massKg: 1 },
      { part: 'P-2', act: 'set arm', partId: partIdOf(2), xM: 1.5, yM: undefined, zM: -0.2 },
      { part: 'P-2', act: 'move', partId: partIdOf(2), xM: -1, yM: undefined, zM: undefined },
      { part: 'P-2', act: 'remove', partId: partIdOf(2) },
      { part: 'Radio', act: 'add part', massKg: 1.2, massStdKg: undefined, xM: undefined, yM: 0, zM: undefined },
    ]);
  });

  it('[F6] all problems of all changes are told at once', () => {
    expect(
      problems([
        { act: 'paint', part: 'P-1' },
        { act: 'set mass', part: 'P-9', mass: '-1 kg' },
        { act: 'set mass', part: 'P-3', mass: '1' },
        { act: 'set arm', part: 'P-1' },
        { act: 'remove', mass: '1 kg' },
        { act: 'add mass', part: 'P-1', mass: '-100 %' },
        { act: 'add mass', part: 'P-1', mass: 'NaN kg' },
        { act: 'add mass', part: 'P-1', mass: '-11 kg' },
        { act: 'move', part: 'P-2', x: '1 m' },
        { act: '' },
      ]),
    ).toEqual([
      '0/act not-a-choice',
      '1/mass out-of-range',
      '1/part unknown-part',
      '2/mass unit-missing',
      '2/part unknown-part',
      '3/x missing',
      '4/mass field-unknown',
      '4/part missing',
      '5/mass unit-unknown',
      '6/mass not-a-number',
      '9/act missing',
      '7/mass change-takes-too-much',
      '8/part change-moves-no-station',
    ]);
  });

  it('[F6] a change that cannot be made is left out, and those after it are looked at without it', () => {
    const takes = { act: 'add mass', part: 'P-1', mass: '-6 kg' };
    expect(problems([takes, takes, { act: 'add mass', part: 'P-1', mass: '-4 kg' }])).toEqual([
      '1/mass change-takes-too-much',
    ]);
  });

  it('[F6] a refusal quotes what was typed, its sign too', () => {
    const answer = changesFromWords(build().fold(), [{ act: 'add mass', part: 'P-1', mass: '-x kg' }]);
    expect(answer.ok ? undefined : answer.refusal[0]?.refusal).toMatchObject({ text: '-x kg' });
  });
});
