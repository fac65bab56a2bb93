/** Proposals from words (rule F8): what must be said, what cannot be, and what a change of one leaves as it was. */
import { describe, expect, it } from 'vitest';
import type { ProposalContent } from '#shared/contract/proposal.ts';
import { type ProposalWords, proposalFromWords } from '#shared/forecast/proposal-words.ts';
import { Chain, datumOf, estimateOf, partIdOf, partOf, weighingOf } from '../ledger/make-entries.ts';

function build(): Chain {
  const chain = new Chain();
  for (const number of [1, 2]) {
    chain.record(partOf(number));
    chain.record(estimateOf(number, { massKg: 10, xM: 2 }));
  }
  return chain;
}

const WORDS = { title: 'Thinner web', owner: 'Ann', likelihood: '70', due: '2026-07-01' } satisfies ProposalWords;
const LIGHTER = [{ act: 'add mass', part: 'P-1', mass: '-2 kg' }];

function kept(words: ProposalWords, before?: ProposalContent, chain = build()): ProposalContent {
  const answer = proposalFromWords(chain.fold(), words, before);
  if (!answer.ok) throw new Error(JSON.stringify(answer.refusal));
  return answer.value;
}

function problems(words: ProposalWords): readonly string[] {
  const answer = proposalFromWords(build().fold(), words);
  return answer.ok ? [] : answer.refusal.map(({ path, refusal }) => `${path.join('/')} ${refusal.code}`);
}

describe('a proposal in words', () => {
  it('[F8] its saving follows from its changes, or is stated', () => {
    const computed = kept({ ...WORDS, changes: LIGHTER });
    expect(computed).toMatchObject({ ...WORDS, likelihood: 0.7, state: 'open', seq: 4, datumM: 0 });
    expect(computed.savingKg).toBeCloseTo(2, 9);
    expect(computed.statedSavingKg).toBeUndefined();
    expect(kept({ ...WORDS, saving: '500 g' })).toMatchObject({ savingKg: 0.5, statedSavingKg: 0.5, changes: [] });
  });

  it('[F8] all that is missing or impossible is told at once', () => {
    expect(problems({})).toEqual([
      'title missing',
      'owner missing',
      'likelihood missing',
      'due missing',
      'saving proposal-says-nothing',
    ]);
    expect(
      problems({
        ...{ title: 'x'.repeat(121), owner: '\u0000', due: '2026-02-30', likelihood: '140 %', state: 'maybe' },
        changes: [{ act: 'remove', part: 'P-9' }],
      }),
    ).toEqual([
      'title text-refused',
      'owner text-refused',
      'due not-a-day',
      'state not-a-choice',
      'likelihood out-of-range',
      'changes/0/part unknown-part',
    ]);
    expect(problems({ ...WORDS, likelihood: '-100 %', saving: '-1 kg' })).toEqual(
      ['saving out-of-range', 'likelihood out-of-range'].reverse(),
    );
    expect(problems({ ...WORDS, saving: '1 kg', changes: LIGHTER })).toEqual(['saving saving-stated-twice']);
  });

  it.each(['0 %', '100 %', '33.5'])('[F8] %s is a likelihood', (likelihood) => {
    expect(kept({ ...WORDS, likelihood, saving: '1 kg' }).likelihood).toBeCloseTo(
      Number.parseFloat(likelihood) / 100,
      9,
    );
  });

  it('[F8] one that is dropped says why; a day that has passed is taken', () => {
    expect(problems({ ...WORDS, saving: '1 kg', state: 'dropped' })).toEqual(['reason missing']);
    expect(kept({ ...WORDS, saving: '1 kg', state: 'dropped', reason: 'too late' }).reason).toBe('too late');
    expect(kept({ ...WORDS, saving: '1 kg', due: '1999-01-01' }).due).toBe('1999-01-01');
  });

  it('[F8] a change without changes leaves those that were there, with the datum and the entry they were stated at', () => {
    const before = kept({ ...WORDS, changes: LIGHTER });
    const chain = build();
    chain.record(datumOf(0.5));
    const after = kept({ ...WORDS, title: 'Thinnest web' }, before, chain);
    expect(after).toMatchObject({ title: 'Thinnest web', changes: before.changes, seq: 4, datumM: 0, state: 'open' });
    const again = kept({ ...WORDS, changes: [{ act: 'set arm', part: 'P-2', x: '1 m' }] }, after, chain);
    expect(again).toMatchObject({ seq: 5, datumM: 0.5, changes: [{ part: 'P-2', change: { partId: partIdOf(2) } }] });
  });

  it('[F8] one that is done keeps the saving it had', () => {
    const before = kept({ ...WORDS, changes: [{ act: 'set mass', part: 'P-1', mass: '8 kg' }] });
    const chain = build();
    chain.record(weighingOf(1, 8));
    expect(kept({ ...WORDS, state: 'done' }, before, chain).savingKg).toBeCloseTo(2, 9);
    expect(kept({ ...WORDS, state: 'agreed' }, before, chain).savingKg).toBeCloseTo(0, 9);
  });
});
