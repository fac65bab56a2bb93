/** What a brief keeps (rule B1): all from one entry and what was known then, its parts adding up to one another. */
import { readFile } from 'node:fs/promises';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MOST_BRIEF_DAYS, thinned } from '#shared/brief/brief-days.ts';
import { decisionWords } from '#shared/brief/tables/drift.ts';
import { BriefContent, MOST_BRIEF_ROWS } from '#shared/contract/brief.ts';
import type { ProposalRevision } from '#shared/contract/proposal.ts';
import { proposalFromWords } from '#shared/forecast/proposal-words.ts';
import {
  aircraftOf,
  Chain,
  datumOf,
  dispositionOf,
  estimateOf,
  partOf,
  targetsOf,
  uuidOf,
  weighingOf,
} from '../ledger/make-entries.ts';
import { chainFrom, randomSteps } from '../ledger/random-chain.ts';
import { briefOf } from './make-brief.ts';

/** Three parts; the first comes out heavy, and somebody says why. */
function build(): Chain {
  const chain = new Chain();
  chain.record(aircraftOf({ datum: 'spinner', oilIsEmptyWeight: false }));
  chain.record(targetsOf(30, { reserveKg: 1, cgForwardM: 1, cgAftM: 3, groups: [{ group: 'wing', massKg: 11 }] }));
  for (const number of [1, 2, 3]) {
    chain.record(partOf(number, { group: number === 1 ? 'wing' : 'tail' }), { on: '2026-04-01' });
    chain.record(estimateOf(number, { massKg: 8, xM: number }), { on: '2026-04-01' });
  }
  chain.record(weighingOf(1, 9, { cause: 'resin-rich' }), { on: '2026-05-10', by: 'Bo' });
  return chain;
}

function proposal(chain: Chain, number: number, words: object, recordedAt: string): ProposalRevision {
  const stated = { title: 'Lighter', owner: 'Cy', likelihood: '50 %', due: '2026-06-01', saving: '1 kg', ...words };
  const read = proposalFromWords(chain.fold(), stated);
  if (!read.ok) throw new Error(JSON.stringify(read.refusal));
  return { proposalId: uuidOf(number, 9), revision: 1, by: 'AB', recordedAt, content: read.value };
}

describe('the content of a brief', () => {
  it('[B1] names its entries with their hashes, its maker, its units and its datum', () => {
    const chain = build();
    const { aircraft, made, from, to, cautions } = briefOf(chain, { from: 2 });
    expect(aircraft).toMatchObject({
      ...{ name: 'Test bird', datum: 'spinner', massUnit: 'kg', lengthUnit: 'm' },
      ...{ isInvented: true, oilIsEmptyWeight: false },
    });
    expect(made).toEqual({ by: 'AB', on: '2026-06-30' });
    expect(from).toMatchObject({ seq: 2, lastDay: '2026-05-01', predictedKg: 0 });
    expect(from.hash).toHaveLength(64);
    expect(to).toMatchObject({ seq: 9, lastDay: '2026-05-10', predictedKg: 25, marginKg: 4 });
    expect(cautions.join(' ')).toMatch(/no flight on them.*calibrated scales.*lifting.*can be a weak part/s);
    expect(briefOf(chain).from).toEqual({ seq: 0, predictedKg: 0, forecastKg: 0 });
  });

  it('[B1] stays as it was whatever is recorded, corrected, moved or proposed afterwards', () => {
    const chain = build();
    const heavy = chain.entries.at(-1);
    const early = proposal(chain, 1, {}, '2026-06-01T00:00:00.000Z');
    const before = briefOf(chain, { from: 2, to: 9, revisions: [early] });
    if (heavy === undefined) throw new Error('the chain has entries');
    chain.correct(heavy, weighingOf(1, 8));
    chain.record(datumOf(0.5));
    chain.record(targetsOf(20));
    chain.record(partOf(4), { on: '2026-01-01' });
    chain.record(estimateOf(4, { massKg: 5, xM: 1 }), { on: '2026-01-01' });
    const late = proposal(chain, 2, { owner: 'Di' }, '2026-06-02T00:00:00.000Z');
    const restated = { ...late, proposalId: early.proposalId, revision: 2 };
    expect(briefOf(chain, { from: 2, to: 9, revisions: [early, late, restated] })).toEqual(before);
    expect(briefOf(chain, { revisions: [early, late] }).headline).not.toEqual(before.headline);
  });

  it('[B1] its bridge adds up to the change between its ends by cause, by group and by part', () => {
    fc.assert(
      fc.property(randomSteps(30), fc.nat(), fc.nat(), (drawn, a, b) => {
        const chain = chainFrom(drawn);
        if (chain.entries.length === 0) return;
        const to = 1 + (a % chain.entries.length);
        const from = b % (to + 1);
        const brief = briefOf(chain, { from, to });
        const changeKg = brief.to.predictedKg - brief.from.predictedKg;
        for (const rows of [brief.bridge.causes, brief.bridge.groups, brief.bridge.parts])
          expect(rows.reduce((sum, { massKg }) => sum + massKg, 0)).toBeCloseTo(changeKg, 6);
        expect(brief.days.at(-1)?.forecastKg ?? 0).toBeCloseTo(brief.forecast.forecastKg, 6);
      }),
      { numRuns: 40 },
    );
  });

  it('[B1] its days carry target, band and CG range as they were on each day', () => {
    const chain = build();
    chain.record(targetsOf(28, { cgForwardM: 1.5, cgAftM: 2.5 }), { on: '2026-05-20' });
    const { days } = briefOf(chain);
    expect(days.map(({ day, targetKg, cgForwardM, cgAftM }) => [day, targetKg, cgForwardM, cgAftM])).toEqual([
      ['2026-04-01', undefined, undefined, undefined],
      ['2026-05-01', 30, 1, 3],
      ['2026-05-10', 30, 1, 3],
      ['2026-05-20', 28, 1.5, 2.5],
    ]);
    for (const { lowKg, forecastKg, highKg, cgLowM = 0, cgForecastM = 0, cgHighM = 0 } of days) {
      expect(lowKg).toBeLessThan(forecastKg);
      expect(forecastKg).toBeLessThan(highKg);
      expect(cgLowM).toBeLessThan(cgForecastM);
      expect(cgForecastM).toBeLessThan(cgHighM);
    }
  });

  it('[B1] of a long build the days are thinned evenly, the first and the last one kept', () => {
    const days = Array.from({ length: 3000 }, (_, at) => ({
      day: new Date(Date.UTC(2026, 0, 1 + at)).toISOString().slice(0, 10),
    }));
    const kept = thinned(days);
    expect(kept.length).toBeLessThanOrEqual(MOST_BRIEF_DAYS);
    expect(kept.length).toBeGreaterThan(MOST_BRIEF_DAYS / 2);
    expect([kept[0], kept.at(-1)]).toEqual([days[0], days.at(-1)]);
    const gaps = kept.slice(1).map(({ day }, at) => Date.parse(day) - Date.parse(kept[at]?.day ?? ''));
    expect(Math.max(...gaps) / 86_400_000).toBeLessThanOrEqual(16);
    expect(thinned(days.slice(0, MOST_BRIEF_DAYS))).toHaveLength(MOST_BRIEF_DAYS);
  });

  it('[B1] what drifts is told with its cause and its owner: of a proposal, who decided, or who said why', () => {
    const chain = build();
    const drifting = (revisions: readonly ProposalRevision[] = [], from = 0) =>
      briefOf(chain, { revisions, from }).drift.parts.rows[0];
    expect(drifting()).toMatchObject({ number: 'P-1', cause: 'resin-rich', causeBy: 'Bo', isNew: true });
    expect(drifting()?.owner).toEqual({ name: 'Bo', as: 'cause' });
    chain.record(dispositionOf(1, 'accepted'), { by: 'Ann', on: '2026-05-11' });
    expect(drifting([], 9)).toMatchObject({ isNew: false, owner: { name: 'Ann', as: 'decision' } });
    const changes = [{ act: 'add mass', part: 'P-1', mass: '-0.5 kg' }] as const;
    const own = proposal(chain, 1, { saving: undefined, changes }, '2026-06-01T00:00:00.000Z');
    expect(drifting([own])?.owner).toEqual({ name: 'Cy', as: 'proposal' });
    const dropped = { ...own, content: { ...own.content, state: 'dropped' as const } };
    expect(drifting([dropped])?.owner).toEqual({ name: 'Ann', as: 'decision' });
    chain.record(weighingOf(2, 9, { pieces: [1] }), { on: '2026-05-12', remark: 'line left open' });
    chain.record(dispositionOf(2, 'accepted', { inspection: 'tap test sound' }), { by: 'Ann', on: '2026-05-13' });
    const noted = briefOf(chain).drift.parts.rows.find(({ number }) => number === 'P-2');
    expect(noted).toMatchObject({ note: 'line left open', disposition: 'accepted', inspection: 'tap test sound' });
    expect(decisionWords(noted ?? {})).toBe('accepted by Ann: tap test sound');
    const unexplained = new Chain();
    unexplained.record(partOf(1));
    unexplained.record(estimateOf(1));
    unexplained.record(weighingOf(1, 5));
    expect(briefOf(unexplained).drift.parts.rows[0]).not.toHaveProperty('owner');
  });

  it('[B1] proposals that are open, and those closed since, are told; overdue ones are counted', () => {
    const chain = build();
    const at = (day: number) => `2026-06-0${day}T00:00:00.000Z`;
    const open = proposal(chain, 1, { saving: '0.2 kg' }, at(1));
    const done = proposal(chain, 2, { state: 'done', title: 'Done' }, at(1));
    const doneSince = proposal(chain, 3, { state: 'done', title: 'Done since', due: '2026-12-01' }, at(3));
    const larger = proposal(chain, 4, { saving: '2 kg', title: 'Larger', due: '2026-12-01' }, at(3));
    const brief = briefOf(chain, { revisions: [open, done, doneSince, larger], newAfter: at(2) });
    expect(brief.proposals.rows.map(({ title, isNew }) => [title, isNew])).toEqual([
      ['Larger', true],
      ['Lighter', false],
      ['Done since', true],
    ]);
    expect(brief.proposals.forecast).toMatchObject({ count: 2, allSavingKg: 2.2 });
    expect(brief.open.overdueProposals).toBe(1);
  });

  it('[B1] what was kept once is read for ever: a new field of a brief is optional, and none is taken out', async () => {
    const kept = JSON.parse(await readFile(new URL('kept-in-format-1.json', import.meta.url), 'utf8'));
    expect(kept).toMatchObject({ drift: { parts: { count: 6 }, processes: [{}] }, proposals: { count: 1 } });
    expect(JSON.parse(JSON.stringify(BriefContent.parse(kept)))).toEqual(kept);
  });

  it('[B1] long lists are cut to the largest, and say how many there are', () => {
    const chain = new Chain();
    for (let number = 1; number <= MOST_BRIEF_ROWS + 5; number += 1) {
      chain.record(partOf(number));
      chain.record(estimateOf(number));
      chain.record(weighingOf(number, 5 + number / 100));
    }
    const { parts } = briefOf(chain).drift;
    expect([parts.count, parts.rows.length]).toEqual([MOST_BRIEF_ROWS + 5, MOST_BRIEF_ROWS]);
    expect(parts.rows[0]?.number).toBe(`P-${MOST_BRIEF_ROWS + 5}`);
  });

  it('[B1] the beginning, an empty aircraft and a ledger without a target make a brief as well', () => {
    const chain = new Chain();
    chain.record(partOf(1));
    const brief = briefOf(chain);
    expect(brief).toMatchObject({ figures: { predictedKg: 0 }, groups: [{ group: 'wing' }] });
    expect(brief.forecast.targets).toBeUndefined();
    expect(brief.open.counts).toEqual([{ what: 'estimate missing', count: 1 }]);
  });
});
