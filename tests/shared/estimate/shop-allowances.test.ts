/** The shop's own allowances in the ledger (rules E1, L2): who takes them, and what keeps what it has. */
import { describe, expect, it } from 'vitest';
import { importParts } from '#shared/table/parts-file.ts';
import { entryFromWords } from '#shared/words/entry-from-words.ts';
import { allowancesOf, Chain, estimateOf, ON, partOf, uuidOf } from '../ledger/make-entries.ts';
import { contextOf, recorded, tableOf, told } from '../table/tables.ts';

const WORDS = { kind: 'estimate', part: 'P-1', estimate: '4 kg' };

function read(sent: object, chain: Chain) {
  const newId = () => uuidOf(chain.entries.length + 1, 7);
  const entry = entryFromWords(sent, { ledger: chain.fold(), day: ON, by: 'Ann', newId });
  if (!entry.ok) throw new Error(JSON.stringify(entry.refusal));
  return entry.value;
}

/** Part 1 by common practice (24 %), then 40 % of the shop's own, stated for 2 May. */
function shop() {
  const chain = new Chain();
  chain.record(partOf(1));
  const before = chain.add(read(WORDS, chain));
  const set = chain.record(allowancesOf(0.4), { on: '2026-05-02' });
  return { chain, before, set };
}

describe('an estimate that states no allowance', () => {
  it('[E1] takes the shop\u2019s own once they are recorded, whatever the day it happened', () => {
    const { chain, before } = shop();
    expect(before.entry).toMatchObject({ growth: 0.24, growthFrom: 'shop default' });
    expect(read(WORDS, chain)).toMatchObject({ growth: 0.4, laterGrowth: 0.4, growthFrom: 'shop default' });
    expect(read({ ...WORDS, evidence: 'calculated' }, chain)).toMatchObject({ growth: 0.06 });
    expect(read({ ...WORDS, allowance: '5 %' }, chain)).toMatchObject({ growth: 0.05, growthFrom: 'stated' });
  });

  it('[E1] takes those of the latest day, and common practice again where they are struck out', () => {
    const { chain, set } = shop();
    const late = chain.record(allowancesOf(0.3, { reason: 'found too many' }), { on: '2026-05-20' });
    chain.record(allowancesOf(0.2, { reason: 'found late' }), { on: '2026-05-10' });
    expect(read(WORDS, chain)).toMatchObject({ growth: 0.3 });
    chain.correct(late, allowancesOf(0.35, { reason: 'misread' }));
    expect(read(WORDS, chain)).toMatchObject({ growth: 0.35 });
    const alone = shop();
    alone.chain.correct(alone.set, undefined);
    expect(read(WORDS, alone.chain)).toMatchObject({ growth: 0.24 });
    expect(set.seq).toBe(3);
  });

  it('[E1] keeps what it took: the ledger stays as it was, and a correction takes what was in force at its entry', () => {
    const { chain, before } = shop();
    expect(chain.fold().rows.at(-1)?.effects).toEqual([]);
    const correction = {
      kind: 'correction',
      entry: String(before.seq),
      reason: 'misread',
      replacement: { part: 'P-1', estimate: '5 kg' },
    };
    expect(read(correction, chain)).toMatchObject({ replacement: { statement: { massKg: 5, growth: 0.24 } } });
  });
});

describe('a list', () => {
  const LIST = [
    'number,group,estimate [kg],process,later [kg],later allowance',
    'P-1,wing,4,wet lay-up,1,',
    'P-2,wing,3,wet lay-up,1,10 %',
  ];

  it('[E1] takes the shop\u2019s own allowances, those of its own moment', () => {
    const chain = new Chain();
    chain.record(allowancesOf(0.4));
    const outcome = importParts(tableOf(...LIST), contextOf(chain.entries));
    expect(told(outcome)).toEqual([]);
    expect(outcome.entries.filter(({ kind }) => kind === 'estimate')).toMatchObject([
      { growth: 0.4, laterGrowth: 0.4, growthFrom: 'shop default' },
      { growth: 0.4, laterGrowth: 0.1 },
    ]);
  });

  it('[I4] adds nothing when it comes again after the shop has set its own', () => {
    const first = recorded(importParts(tableOf(...LIST), contextOf()));
    const own = { ...allowancesOf(0.4), id: uuidOf(900), happenedOn: ON, by: 'Ann' } as (typeof first)[number]['entry'];
    const after = [...first, { seq: first.length + 1, recordedAt: '', entry: own }];
    for (const revise of [false, true]) {
      const outcome = importParts(tableOf(...LIST), contextOf(after, { revise }));
      expect(told(outcome)).toEqual([]);
      expect(outcome.entries).toEqual([]);
    }
    const heavier = [LIST[0] ?? '', 'P-1,wing,4.5,wet lay-up,1,'];
    const revised = importParts(tableOf(...heavier), contextOf(after, { revise: true }));
    expect(revised.entries).toMatchObject([{ massKg: 4.5, growth: 0.4 }]);
    const evidence = [`${LIST[0]},evidence`, 'P-1,wing,4,wet lay-up,1,,calculated'];
    expect(importParts(tableOf(...evidence), contextOf(after)).problems).toMatchObject([
      { refusal: { code: 'number-taken', differs: ['estimate'] } },
    ]);
  });

  it('[I4] that states an allowance is another list than one that leaves it to the shop', () => {
    const chain = new Chain();
    chain.record(partOf(1));
    chain.record(estimateOf(1, { growth: 0.24, laterGrowth: 0.24, growthFrom: 'shop default' }));
    const stated = importParts(
      tableOf('number,group,estimate [kg],allowance [%]', 'P-1,wing,4,24'),
      contextOf(chain.entries),
    );
    expect(told(stated)).toEqual(['2:1 number-taken']);
  });
});
