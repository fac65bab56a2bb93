/** Why parts that are each in line add up (rule D5): what is taken, what it closes, and until when. */
import { describe, expect, it } from 'vitest';
import { bulkHeadline } from '#shared/bulk/bulk-headline.ts';
import { manySmall } from '#shared/drift/larger-drift.ts';
import { withoutProcessCause } from '#shared/drift/process-drift.ts';
import { objectionsTo } from '#shared/ledger/admit.ts';
import { Entry, type StatementOf } from '#shared/ledger/entry.ts';
import { describeEntry } from '#shared/rollup/describe-entry.ts';
import { openList } from '#shared/rollup/open-list.ts';
import { entryReport, headlineReport } from '#shared/rollup/report.ts';
import { entryFromWords } from '#shared/words/entry-from-words.ts';
import { Chain, estimateOf, partOf, sumCauseOf, TODAY, uuidOf, weighingOf } from '../ledger/make-entries.ts';

/** Another part of 4 kg ± 0.04 kg that comes out so much heavier. */
function weigh(chain: Chain, number: number, grewKg: number, process: 'prepreg' | 'printed' = 'prepreg'): void {
  chain.record(partOf(number, { process, group: 'wing' }));
  chain.record(estimateOf(number, { massKg: 4, massStdKg: 0.04, xM: 1 }));
  chain.record(weighingOf(number, 4 + grewKg, { grossResolutionKg: 0 }));
}

/** Four parts of the wing, two of them prepreg, each 0.1 kg heavy: 0.40 ± 0.08 kg together. */
function heavy(): Chain {
  const chain = new Chain();
  for (const number of [1, 2, 3, 4]) weigh(chain, number, 0.1, number > 2 ? 'printed' : 'prepreg');
  return chain;
}

const WING = { by: 'group', name: 'wing', sumKg: 0.4, sdKg: 0.08 } as const;

/** The sums that are open, which the headline counts alike, carried on or worked out at once. */
function open(chain: Chain): readonly string[] {
  const ledger = chain.fold();
  const items = openList(ledger, { today: TODAY }).filter(({ what }) => what === 'many small ones');
  expect(headlineReport(ledger).manySmallCount).toBe(items.length);
  expect(bulkHeadline(chain.entries)?.headline.manySmallCount).toBe(items.length);
  return items.map(({ of, subject }) => `${of} ${subject}`).sort();
}

describe('small differences that add up', () => {
  it('[D5] are open until somebody says why, each sum by itself, and stay a finding with its cause', () => {
    const chain = heavy();
    const others = ['process prepreg', 'process printed'];
    expect(open(chain)).toEqual(['group wing', ...others]);
    const stated = chain.record(sumCauseOf(WING, { found: 'the new roll' }), { by: 'Bea', on: '2026-05-02' });
    expect(open(chain)).toEqual(others);
    expect(manySmall(chain.fold()).find(({ by }) => by === 'group')).toMatchObject({
      cause: { cause: 'resin-rich', found: 'the new roll', by: 'Bea', on: '2026-05-02', seq: stated.seq },
    });
    chain.correct(stated, undefined);
    expect(open(chain)).toEqual(['group wing', ...others]);
  });

  it('[D5] stay closed while the sum grows by no more than another two standard deviations, then are open again', () => {
    const chain = heavy();
    chain.record(sumCauseOf(WING));
    // 0.40 + 2 x 0.08 = 0.56 kg.
    weigh(chain, 5, 0.15);
    expect(open(chain)).not.toContain('group wing');
    weigh(chain, 6, 0.02);
    expect(open(chain)).toContain('group wing');
    // Explained as it is now, it is closed once more.
    const now = manySmall(chain.fold()).find(({ by }) => by === 'group');
    chain.record(sumCauseOf({ by: 'group', name: 'wing', sumKg: now?.sumKg ?? 0, sdKg: now?.sdKg ?? 0 }));
    expect(open(chain)).not.toContain('group wing');
  });

  it('[D5] a cause does not speak of a sum that points the other way, nor of another of the same name', () => {
    const chain = heavy();
    chain.record(sumCauseOf({ ...WING, sumKg: -0.4 }));
    chain.record(sumCauseOf({ ...WING, by: 'lot' }));
    expect(open(chain)).toContain('group wing');
    expect(manySmall(chain.fold()).every(({ cause }) => cause === undefined)).toBe(true);
  });

  it('[D5] a cause of a sum says nothing of the charts of a process', () => {
    const chain = new Chain();
    for (let number = 1; number <= 12; number += 1) weigh(chain, number, 0.15);
    expect(withoutProcessCause(chain.fold())).toEqual(['prepreg']);
    chain.record(sumCauseOf({ by: 'process', name: 'prepreg', sumKg: 1.8, sdKg: 0.14 }));
    expect(withoutProcessCause(chain.fold())).toEqual(['prepreg']);
    expect(open(chain)).toEqual(['group wing']);
  });
});

describe('why they add up, in words', () => {
  function read(chain: Chain, words: object) {
    let made = 0;
    const context = { ledger: chain.fold(), day: TODAY, by: 'Ann', newId: () => uuidOf(900 + made++, 7) };
    return entryFromWords({ kind: 'process cause', cause: 'resin-rich', ...words }, context);
  }

  function said(chain: Chain, words: object) {
    const entry = read(chain, words);
    if (!entry.ok) throw new Error(JSON.stringify(entry.refusal));
    return entry.value;
  }

  it('[D5] speaks of the sum as it is then, which nobody types', () => {
    const chain = heavy();
    const wing = { 'sum of': 'group', name: 'wing' };
    const entry = said(chain, wing) as StatementOf<'process cause'>;
    expect(entry.sum?.sumKg).toBeCloseTo(0.4, 12);
    expect(entry.sum?.sdKg).toBeCloseTo(0.08, 12);
    expect(read(chain, { ...wing, sum: '9 kg' })).toMatchObject({ refusal: [{ refusal: { code: 'field-unknown' } }] });
    expect(objectionsTo(said(chain, wing), chain.fold(), TODAY)).toEqual([]);
  });

  it('[D5] is refused of what does not add up, of half a sum, beside a process, and “other” without words', () => {
    const chain = heavy();
    const wing = { 'sum of': 'group', name: 'wing' };
    const refused = (words: object) => {
      const entry = read(chain, words);
      const problems = entry.ok ? objectionsTo(entry.value, chain.fold(), TODAY) : entry.refusal;
      return problems.map(({ path, refusal }) => `${path.join('/')} ${refusal.code}`);
    };
    expect(refused({ ...wing, name: 'tail' })).toEqual(['name adds-up-to-nothing']);
    expect(refused({ name: 'wing' })).toEqual(['sum of missing']);
    expect(refused({ 'sum of': 'group' })).toEqual(['name missing']);
    expect(refused({ ...wing, process: 'prepreg' })).toEqual(['process process-and-sum']);
    expect(refused({ ...wing, cause: 'other' })).toEqual(['found missing']);
    const stamp = { id: uuidOf(900, 7), happenedOn: TODAY, by: 'Ann' };
    const both = Entry.parse({ ...sumCauseOf(WING, { process: 'prepreg', releaseSeq: 3 }), ...stamp });
    expect(objectionsTo(both, chain.fold(), TODAY)).toMatchObject([{ refusal: { code: 'process-and-sum' } }]);
    const nowhere = Entry.parse({ ...sumCauseOf({ ...WING, name: 'tail' }), ...stamp });
    expect(objectionsTo(nowhere, chain.fold(), TODAY)).toMatchObject([{ refusal: { code: 'adds-up-to-nothing' } }]);
    const neither = Entry.parse({ kind: 'process cause', cause: 'dry', ...stamp });
    expect(objectionsTo(neither, chain.fold(), TODAY)).toMatchObject([
      { path: ['process'], refusal: { code: 'missing' } },
    ]);
  });

  it('[L6] changes no mass, and is told in one line', () => {
    const chain = heavy();
    chain.record(sumCauseOf(WING, { found: 'a wetter\nroll' }));
    const ledger = chain.fold();
    const row = entryReport(ledger, ledger.entries.length - 1);
    expect(row.effects).toEqual([]);
    expect(describeEntry(row, { mass: 'kg', length: 'm' })).toBe(
      'cause stated of many small ones in the group wing: resin-rich; a wetter roll (+0.400 ± 0.080 kg together)',
    );
  });
});
