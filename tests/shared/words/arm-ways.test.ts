/** The ways in which an arm is measured without a drawing (rule W6), in words and at the ledger's door. */
import { describe, expect, it } from 'vitest';
import { objectionsTo } from '#shared/ledger/admit.ts';
import type { StatementOf } from '#shared/ledger/entry.ts';
import { armFromWords } from '#shared/words/arm-from-words.ts';
import { armOf, Chain, partIdOf, partOf, TODAY } from '../ledger/make-entries.ts';
import { problemsOf, readerOf } from './words.ts';

const ON_BAR = { how: 'balanced on a bar', 'balance point': '640 mm', 'balance uncertainty': '3 mm' };
const ON_SUPPORTS = {
  'first load': '2 kg',
  'first station': '0.5 m',
  'second load': '6 kg',
  'second station': '2.5 m',
};

function read(words: Readonly<Record<string, string>>) {
  const reader = readerOf(words);
  return { arm: armFromWords(reader, partIdOf(1)), problems: problemsOf(reader) };
}

function objections(changes: Partial<StatementOf<'arm measured'>>): readonly string[] {
  const chain = new Chain();
  chain.record(partOf(1));
  const { entry, seq } = chain.record(armOf(1, changes));
  return objectionsTo(entry, chain.fold(seq - 1), TODAY).map(({ path, refusal }) => `${path}: ${refusal.code}`);
}

describe('an arm balanced on a bar', () => {
  it('[W6] lies at the balance point, counted from the bench zero, as well as that is known', () => {
    expect(read({ ...ON_BAR, 'bench zero': '2 m', z: '0.1 m' }).arm).toMatchObject({
      ...{ how: 'balanced on a bar', xM: 2.64, zM: 0.1, armStdM: 0.003 },
      balance: { pointM: 0.64, benchZeroM: 2 },
      typed: { 'balance point': '640 mm', 'balance uncertainty': '3 mm', 'bench zero': '2 m' },
    });
    const { how: _, ...unsaid } = ON_BAR;
    expect(read(unsaid).arm).toMatchObject({ how: 'balanced on a bar', xM: 0.64 });
  });

  it('[W6] needs its point and the uncertainty of it, and takes no station beside them', () => {
    expect(read({ how: 'balanced on a bar' }).problems).toEqual([
      'balance point: missing',
      'balance uncertainty: missing',
    ]);
    expect(read({ ...ON_BAR, x: '2 m' }).problems).toEqual(['x: arm-stated-twice']);
    expect(read({ ...ON_BAR, 'balance uncertainty': '-3 mm' }).problems).toEqual(['balance uncertainty: negative']);
  });

  it('[W6] is admitted only as what follows from its point', () => {
    const balance = { pointM: 0.64, benchZeroM: 2 };
    expect(objections({ how: 'balanced on a bar', xM: 2.64, armStdM: 0.003, balance })).toEqual([]);
    for (const wrong of [
      { how: 'balanced on a bar', xM: 2.65, armStdM: 0.003, balance },
      { how: 'balanced on a bar', xM: 2.64, balance },
      { how: 'balanced on a bar', xM: 2.64, armStdM: 0.003 },
      { xM: 2.64, balance },
      { how: 'on two supports', xM: 2.64 },
    ] as const)
      expect(objections(wrong)).toEqual(['xM: arm-disagrees']);
  });
});

describe('an arm found by hand', () => {
  it('[W6] is taken with its uncertainty and refused without', () => {
    const arm = read({ how: 'by hand', x: '2 m', 'arm uncertainty': '20 mm' }).arm;
    expect(arm).toMatchObject({ how: 'by hand', xM: 2, armStdM: 0.02 });
    expect(read({ how: 'by hand', x: '2 m' }).problems).toEqual(['arm uncertainty: by-hand-without-uncertainty']);
    expect(objections({ how: 'by hand', xM: 2, armStdM: 0.02 })).toEqual([]);
    expect(objections({ how: 'by hand', xM: 2 })).toEqual(['armStdM: by-hand-without-uncertainty']);
  });
});

describe('one way at a time', () => {
  it('[W6] what belongs to one way does not go with another', () => {
    expect(read({ ...ON_SUPPORTS, ...ON_BAR }).problems).toEqual(['first load: arm-ways-mixed']);
    expect(read({ ...ON_SUPPORTS, how: 'on two supports', 'balance point': '1 m' }).problems).toEqual([
      'balance point: arm-ways-mixed',
    ]);
    const byHand = { how: 'by hand', x: '2 m', 'arm uncertainty': '20 mm' };
    expect(read({ ...byHand, 'balance point': '1 m' }).problems).toEqual(['balance point: arm-ways-mixed']);
    expect(read({ ...byHand, 'bench zero': '1 m' }).problems).toEqual(['bench zero: arm-ways-mixed']);
    expect(read({ how: 'by eye', x: '2 m' }).problems).toEqual(['how: not-a-choice']);
  });

  it('[W6] loads on two supports say their way themselves, or with the word', () => {
    expect(read(ON_SUPPORTS).arm).toMatchObject({ how: 'on two supports', xM: 2 });
    expect(read({ ...ON_SUPPORTS, how: 'on two supports' }).arm).toEqual(read(ON_SUPPORTS).arm);
    expect(read({ x: '2 m' }).arm).not.toHaveProperty('how');
  });
});
