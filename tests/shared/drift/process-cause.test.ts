/** Why a process changed (rule D4): who is asked, what is taken, and of which change a stated cause speaks. */
import { describe, expect, it } from 'vitest';
import { processDrifts, withoutProcessCause } from '#shared/drift/process-drift.ts';
import { forecastReport } from '#shared/forecast/report.ts';
import { objectionsTo } from '#shared/ledger/admit.ts';
import type { Entry } from '#shared/ledger/entry.ts';
import { describeEntry } from '#shared/rollup/describe-entry.ts';
import { entryReport } from '#shared/rollup/report.ts';
import { entryFromWords } from '#shared/words/entry-from-words.ts';
import { Chain, estimateOf, partOf, processCauseOf, TODAY, uuidOf, weighingOf } from '../ledger/make-entries.ts';

function dayOf(at: number): string {
  return new Date(Date.UTC(2026, 0, 1 + at)).toISOString().slice(0, 10);
}

const ALLOWANCE = 0.1;

/** Prepreg parts of 10 kg ± 0.3 kg with an allowance, released one a day by so much off the estimate. Answers the number of each weighing. */
function released(grew: readonly number[], allowance = 0): { chain: Chain; seqs: number[] } {
  const chain = new Chain();
  const seqs = grew.map((fraction, at) => {
    chain.record(partOf(at + 1, { process: 'prepreg' }), { on: dayOf(0) });
    chain.record(estimateOf(at + 1, { massKg: 10, massStdKg: 0.3, xM: 1, growth: allowance }), { on: dayOf(0) });
    return chain.record(weighingOf(at + 1, 10 * (1 + fraction), { grossResolutionKg: 0 }), { on: dayOf(at + 1) }).seq;
  });
  return { chain, seqs };
}

const AT_FIRST = [0, 0.01, -0.01, 0];
const CHANGED = [...AT_FIRST, 0.1, 0.1, 0.1];

function drift(chain: Chain) {
  const [report] = processDrifts(chain.fold());
  if (report === undefined) throw new Error('something was released');
  return report;
}

describe('a process that was called', () => {
  it('[D4] asks for a cause, named with the forecast, until one is stated', () => {
    expect(forecastReport(released(AT_FIRST).chain.fold()).processesCalled).toEqual([]);
    const { chain, seqs } = released(CHANGED);
    expect(forecastReport(chain.fold()).processesCalled).toEqual(['prepreg']);
    const { signal } = drift(chain);
    expect(signal?.began.seq).toBe(seqs[4]);
    chain.record(processCauseOf('prepreg', signal?.seq ?? 0, { found: 'the new roll' }), { by: 'Bea', on: dayOf(9) });
    expect(forecastReport(chain.fold()).processesCalled).toEqual([]);
    expect(drift(chain).cause).toMatchObject({ cause: 'resin-rich', found: 'the new roll', by: 'Bea', on: dayOf(9) });
  });

  it('[D4] on the only release there is asks for none yet', () => {
    const alone = released([0.2]).chain.fold();
    expect(processDrifts(alone)[0]?.signal?.reading).toBe('heavy');
    expect(withoutProcessCause(alone)).toEqual([]);
    expect(withoutProcessCause(released([0.2, 0]).chain.fold())).toEqual(['prepreg']);
  });

  it('[D4] of several causes the latest counts, and one that was struck out no longer does', () => {
    const { chain, seqs } = released(CHANGED);
    const first = chain.record(processCauseOf('prepreg', seqs[5] ?? 0), { on: dayOf(9) });
    const second = chain.record(processCauseOf('prepreg', seqs[5] ?? 0, { cause: 'core changed' }), { on: dayOf(10) });
    expect(drift(chain).cause).toMatchObject({ cause: 'core changed', seq: second.seq });
    chain.correct(second, undefined);
    expect(drift(chain).cause).toMatchObject({ cause: 'resin-rich', seq: first.seq });
    chain.correct(first, undefined);
    expect(forecastReport(chain.fold()).processesCalled).toEqual(['prepreg']);
  });

  it('[D4] a cause of a release before the shift, or of another process, does not speak of it', () => {
    const { chain, seqs } = released(CHANGED);
    chain.record(processCauseOf('prepreg', seqs[3] ?? 0));
    chain.record(partOf(50, { process: 'machined' }));
    chain.record(estimateOf(50, { massKg: 1 }));
    const machined = chain.record(weighingOf(50, 1));
    chain.record(processCauseOf('machined', machined.seq));
    expect(withoutProcessCause(chain.fold())).toEqual(['prepreg']);
  });

  it('[D4] a cause stays when its weighing is corrected, and when a late entry moves the call', () => {
    const { chain, seqs } = released(CHANGED);
    const called = drift(chain).signal?.seq ?? 0;
    const weighing = chain.entries[called - 1];
    if (weighing === undefined) throw new Error('the call names an entry');
    chain.record(processCauseOf('prepreg', called));
    chain.correct(weighing, weighingOf(seqs.indexOf(called) + 1, 11.1, { grossResolutionKg: 0 }));
    expect(drift(chain).signal?.seq).not.toBe(called);
    expect(withoutProcessCause(chain.fold())).toEqual([]);
    chain.record(partOf(60, { process: 'prepreg' }), { on: dayOf(0) });
    chain.record(estimateOf(60, { massKg: 10, massStdKg: 0.3 }), { on: dayOf(0) });
    chain.record(weighingOf(60, 13, { grossResolutionKg: 0 }), { on: dayOf(5) });
    expect(drift(chain).signal?.part).toBe('P-60');
    expect(withoutProcessCause(chain.fold())).toEqual([]);
  });
});

describe('heavy and light', () => {
  it('[D4] what only leaves its allowance unused is said to, and asks for no cause', () => {
    const { chain } = released([0.01, 0, 0.01, 0, 0.01, 0, 0.01, 0], ALLOWANCE);
    expect(drift(chain).signal).toMatchObject({ direction: 'light', reading: 'allowance to spare' });
    expect(forecastReport(chain.fold()).processesCalled).toEqual([]);
  });

  it('[D4] what is light against its estimates asks for one', () => {
    const { chain } = released([-0.1, -0.1, -0.1, -0.1, -0.1], ALLOWANCE);
    expect(drift(chain).signal).toMatchObject({ direction: 'light', reading: 'light' });
    expect(forecastReport(chain.fold()).processesCalled).toEqual(['prepreg']);
  });

  it('[D4] heavy ones come first, then light ones, then those with allowance to spare', () => {
    const chain = new Chain();
    const groups = { machined: 0, printed: -0.2, finish: 0.3, bonding: ALLOWANCE } as const;
    let number = 0;
    for (const [process, fraction] of Object.entries(groups))
      for (let at = 0; at < 8; at += 1) {
        number += 1;
        chain.record(partOf(number, { process: process as 'machined' }), { on: dayOf(0) });
        chain.record(estimateOf(number, { massKg: 10, massStdKg: 0.3, growth: ALLOWANCE }), { on: dayOf(0) });
        chain.record(weighingOf(number, 10 * (1 + fraction)), { on: dayOf(at + 1) });
      }
    expect(processDrifts(chain.fold()).map(({ process }) => process)).toEqual([
      'finish',
      'printed',
      'machined',
      'bonding',
    ]);
  });
});

describe('a cause that is stated', () => {
  function context(chain: Chain) {
    let made = 0;
    return { ledger: chain.fold(), day: TODAY, by: 'Ann', newId: () => uuidOf(900 + made++, 7) };
  }

  function said(chain: Chain, words: object): Entry {
    const read = entryFromWords({ kind: 'process cause', ...words }, context(chain));
    if (!read.ok) throw new Error(JSON.stringify(read.refusal));
    return read.value;
  }

  it('[D4] speaks of the release at which the process was called, unless it names another', () => {
    const { chain, seqs } = released(CHANGED);
    const words = { process: 'prepreg', cause: 'resin-rich' };
    expect(said(chain, words)).toMatchObject({ releaseSeq: drift(chain).signal?.seq });
    expect(said(chain, { ...words, release: String(seqs[6]) })).toMatchObject({ releaseSeq: seqs[6] });
    expect(objectionsTo(said(chain, words), chain.fold(), TODAY)).toEqual([]);
  });

  it('[D4] is refused of what is no release of the process, and “other” without words', () => {
    const { chain, seqs } = released(CHANGED);
    const codes = (words: object) =>
      objectionsTo(said(chain, words), chain.fold(), TODAY).map(({ path, refusal }) => [path[0], refusal.code]);
    const words = { process: 'prepreg', cause: 'dry' };
    expect(codes({ ...words, release: '1' })).toEqual([['releaseSeq', 'no-such-release']]);
    expect(codes({ ...words, release: '999' })).toEqual([['releaseSeq', 'no-such-release']]);
    expect(codes({ ...words, process: 'printed', release: String(seqs[5]) })).toEqual([
      ['releaseSeq', 'no-such-release'],
    ]);
    expect(codes({ ...words, cause: 'other' })).toEqual([['found', 'missing']]);
    expect(codes({ ...words, cause: 'other', found: 'the autoclave was moved' })).toEqual([]);
    const quiet = entryFromWords({ kind: 'process cause', ...words }, context(released(AT_FIRST).chain));
    expect(quiet).toMatchObject({ refusal: [{ path: ['process'], refusal: { code: 'not-called' } }] });
  });

  it('[L6] changes no figure, and is told in one line', () => {
    const { chain, seqs } = released(CHANGED);
    chain.record(processCauseOf('prepreg', seqs[5] ?? 0, { found: 'a wetter\nroll' }));
    const ledger = chain.fold();
    const row = entryReport(ledger, ledger.entries.length - 1);
    expect(row.effects).toEqual([]);
    expect(describeEntry(row, { mass: 'kg', length: 'm' })).toBe(
      `cause stated of the process prepreg: resin-rich; a wetter roll (release in entry ${seqs[5]})`,
    );
  });
});
