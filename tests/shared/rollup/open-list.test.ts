/** Everything that is open, in one list (rule D6): what comes on it, what it costs, in which order, and what takes it off again. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MOST_OPEN_SENT, OpenListReport, type OpenWhat } from '#shared/contract/open-list.ts';
import { groupForecastReport } from '#shared/forecast/report.ts';
import { estimateOfLayUp } from '#shared/layup/compute.ts';
import { openList, openListReport } from '#shared/rollup/open-list.ts';
import { headlineReport } from '#shared/rollup/report.ts';
import { ofLines, scheduleOf } from '../layup/make-schedules.ts';
import {
  assemblyOf,
  Chain,
  checkOf,
  dispositionOf,
  estimateOf,
  partIdOf,
  partOf,
  processCauseOf,
  scaleOf,
  targetsOf,
  weighingOf,
} from '../ledger/make-entries.ts';
import { chainFrom, randomSteps } from '../ledger/random-chain.ts';

const TODAY = '2026-06-30';

/** Parts of 4 kg at 1 m, 2 m and so on, estimated so roughly that no single one says anything of their process. */
function begun(count: number, massStdKg = 1): Chain {
  const chain = new Chain();
  for (let number = 1; number <= count; number += 1) {
    chain.record(partOf(number), { on: '2026-01-01' });
    chain.record(estimateOf(number, { xM: number, massStdKg }), { on: '2026-01-02' });
  }
  return chain;
}

const openIn = (chain: Chain, today = TODAY) => openList(chain.fold(), { today });
const whats = (chain: Chain, today = TODAY): readonly OpenWhat[] => openIn(chain, today).map(({ what }) => what);
const only = (chain: Chain, what: OpenWhat) => openIn(chain).filter((item) => item.what === what);

describe('the open list', () => {
  it('[D6] of a ledger without an entry, and of parts that are in line, is empty', () => {
    expect(openIn(new Chain())).toEqual([]);
    const chain = begun(2);
    chain.record(weighingOf(1, 4));
    expect(openIn(chain)).toEqual([]);
  });

  it('[D6] has a flagged weighing without a cause, and without a decision, until each is stated', () => {
    const chain = begun(2);
    const weighed = chain.record(weighingOf(1, 4.5), { on: '2026-02-01' });
    const items = openIn(chain);
    expect(items.map(({ what }) => what).sort()).toEqual(['cause missing', 'decision missing']);
    for (const item of items) {
      expect(item).toMatchObject({ subject: 'P-1', since: '2026-02-01', flag: 'drifting heavy' });
      expect(item.weighing).toMatchObject({ seq: weighed.seq, pieces: [1], quantity: 1 });
      expect(item.marginKg).toBeCloseTo(-0.5, 12);
      // (x - X) dm/(M + dm), with 8 kg at 1.5 m before.
      expect(item.cgEffectM).toBeCloseTo(((1 - 1.5) * 0.5) / 8.5, 12);
    }
    chain.record(dispositionOf(1, 'accepted'), { on: '2026-02-02' });
    expect(whats(chain)).toEqual(['cause missing']);
    chain.correct(weighed, weighingOf(1, 4.5, { cause: 'resin-rich' }), { replacedOn: '2026-02-01' });
    expect(openIn(chain)).toEqual([]);
  });

  it('[D6] has parts without an estimate, and mass that is left out of the CG, with its amount', () => {
    const chain = new Chain();
    chain.record(partOf(1), { on: '2026-01-05' });
    expect(openIn(chain)).toEqual([
      {
        what: 'estimate missing',
        of: 'part',
        subject: 'P-1',
        name: 'Part 1',
        partId: partIdOf(1),
        since: '2026-01-05',
      },
    ]);
    chain.record(estimateOf(1, { massKg: 3 }), { on: '2026-01-07' });
    expect(openIn(chain)).toMatchObject([{ what: 'arm missing', subject: 'P-1', since: '2026-01-07', aboutKg: 3 }]);
    chain.record(estimateOf(1, { massKg: 3, xM: 1 }), { on: '2026-01-08' });
    expect(openIn(chain)).toEqual([]);
  });

  it('[D6] has a scale whose calibration has run out by today, and what is weighed on it afterwards', () => {
    const chain = begun(1);
    chain.record(scaleOf('Bench', { dueOn: '2026-03-01' }), { on: '2026-01-03' });
    expect(whats(chain, '2026-03-01')).toEqual([]);
    expect(openIn(chain, '2026-03-02')).toMatchObject([
      { what: 'calibration out of date', of: 'scale', subject: 'Bench', since: '2026-03-01' },
    ]);
    chain.record(weighingOf(1, 4, { scale: 'bench' }), { on: '2026-04-01' });
    expect(openIn(chain)).toMatchObject([
      { what: 'calibration out of date', count: 1, aboutKg: 4 },
      { what: 'scale in doubt', subject: 'P-1', since: '2026-04-01', aboutKg: 4 },
    ]);
    chain.record(scaleOf('Bench', { dueOn: '2027-04-01' }), { on: '2026-04-02' });
    // The weighing before it stays in doubt until it is made again.
    expect(whats(chain)).toEqual(['scale in doubt']);
    chain.record(weighingOf(1, 4, { scale: 'Bench' }), { on: '2026-04-03' });
    expect(openIn(chain)).toEqual([]);
  });

  it('[D6] has a scale whose last check weight failed, with the weighings that rest on it, until one passes', () => {
    const chain = begun(1);
    chain.record(weighingOf(1, 4, { scale: 'Bench' }), { on: '2026-02-01' });
    chain.record(checkOf('Bench', 10.5), { on: '2026-02-02' });
    expect(openIn(chain)).toMatchObject([
      { what: 'scale in doubt', subject: 'P-1', since: '2026-02-01' },
      { what: 'check weight failed', subject: 'Bench', since: '2026-02-02', count: 1, aboutKg: 4 },
    ]);
    chain.record(checkOf('Bench', 10), { on: '2026-02-03' });
    chain.record(weighingOf(1, 4, { scale: 'Bench' }), { on: '2026-02-04' });
    expect(openIn(chain)).toEqual([]);
  });

  it('[D6] has a group over its target, and a CG out of its range, until the targets or the parts are others', () => {
    const chain = begun(2);
    chain.record(targetsOf(20, { groups: [{ group: 'wing', massKg: 7 }], cgForwardM: 1.6, cgAftM: 2 }));
    const found = openIn(chain);
    expect(found.map(({ what }) => what)).toEqual(['group over target', 'CG out of range']);
    expect(found[0]).toMatchObject({ of: 'group', subject: 'wing', marginKg: -1 });
    expect(found[1]).toMatchObject({ of: 'aircraft', direction: 'forward' });
    expect(found[1]?.cgEffectM).toBeCloseTo(-0.1, 12);
    chain.record(targetsOf(20, { groups: [{ group: 'wing', massKg: 9 }], reason: 'agreed' }));
    expect(openIn(chain)).toEqual([]);
  });

  it('[D6] has a weighed assembly that is off its parts, until it is decided on', () => {
    const chain = new Chain();
    chain.record(partOf(1));
    chain.record(partOf(2, { parentPartId: partIdOf(1) }));
    chain.record(estimateOf(2, { xM: 1, massStdKg: 1 }));
    chain.record(assemblyOf(1, 5, [2]), { on: '2026-02-01' });
    expect(openIn(chain)).toMatchObject([
      { what: 'assembly off its parts', subject: 'P-1', since: '2026-02-01', flag: 'drifting heavy' },
    ]);
    expect(openIn(chain)[0]?.marginKg).toBeCloseTo(-1, 12);
    chain.record(dispositionOf(1, 'accepted'), { on: '2026-02-02' });
    expect(openIn(chain)).toEqual([]);
  });

  it.each([
    [0.95, 'impossible'],
    [1.33, 'dry'],
  ] as const)('[D6] has a laminate of %d kg, which is %s beyond doubt, until it is decided on', (netKg, verdict) => {
    // One kilogram of fibre, planned as 60 % of the laminate.
    const layUp = scheduleOf(ofLines({ is: 'ply', material: 'Twill', layers: '5' }));
    const chain = new Chain();
    chain.record(partOf(1));
    chain.record(estimateOf(1, { ...estimateOfLayUp(layUp), xM: 1, layUp }));
    chain.record(weighingOf(1, netKg, { condition: 'trimmed', cause: 'dry' }), { on: '2026-02-01' });
    expect(only(chain, 'laminate dry or impossible')).toMatchObject([{ subject: 'P-1', verdict, since: '2026-02-01' }]);
    chain.record(dispositionOf(1, 'to be reworked', { inspection: 'tap test' }), { on: '2026-02-02' });
    expect(only(chain, 'laminate dry or impossible')).toEqual([]);
  });

  it('[D6] has many small ones, and a process that was called with what it adds to what is still open', () => {
    const chain = begun(12, 0.12);
    for (let number = 1; number <= 10; number += 1)
      chain.record(weighingOf(number, 4.15, { grossResolutionKg: 0 }), { on: `2026-03-${10 + number}` });
    expect(
      only(chain, 'many small ones')
        .map(({ of, subject, count }) => `${of} ${subject} ${count}`)
        .sort(),
    ).toEqual(['group wing 10', 'process wet lay-up 10']);
    const [called, ...others] = only(chain, 'process changed');
    expect(others).toEqual([]);
    expect(called).toMatchObject({ of: 'process', subject: 'wet lay-up', direction: 'heavy', count: 2 });
    expect(called?.since).toMatch(/^2026-03-1\d$/);
    // Two parts of 4 kg are still open; they are believed to come out about 3.7 % heavier.
    expect(called?.marginKg).toBeLessThan(-0.2);
    expect(called?.marginKg).toBeGreaterThan(-0.3);
    chain.record(processCauseOf('wet lay-up', 34), { on: '2026-03-21' });
    expect(only(chain, 'process changed')).toEqual([]);
  });

  it('[D6] has the costliest first, then the largest mass, then the oldest', () => {
    const chain = begun(5);
    chain.record(weighingOf(1, 4.4, { cause: 'resin-rich' }));
    chain.record(weighingOf(2, 3, { cause: 'dry' }));
    chain.record(weighingOf(3, 4.6, { cause: 'resin-rich' }));
    for (const [number, massKg] of [
      [11, 1],
      [12, 2],
    ] as const) {
      chain.record(partOf(number));
      chain.record(estimateOf(number, { massKg }));
    }
    chain.record(partOf(22), { on: '2026-02-02' });
    chain.record(partOf(21), { on: '2026-02-03' });
    expect(openIn(chain).map(({ subject }) => subject)).toEqual(['P-2', 'P-3', 'P-1', 'P-12', 'P-11', 'P-22', 'P-21']);
  });

  it('[D6] is counted whole and sent in part, of one kind where that is asked', () => {
    const chain = new Chain();
    for (let number = 1; number <= 3; number += 1) chain.record(partOf(number));
    chain.record(estimateOf(3));
    const counts = [
      { what: 'estimate missing', count: 2 },
      { what: 'arm missing', count: 1 },
    ];
    const asked = (most: number, what?: OpenWhat) => openListReport(chain.fold(), { today: TODAY, what, most });
    expect(asked(0)).toEqual({ seq: 4, counts, items: [] });
    expect(asked(1, 'estimate missing')).toMatchObject({ counts, items: [{ subject: 'P-1' }] });
    expect(asked(9, 'decision missing')).toEqual({ seq: 4, counts, items: [] });
  });

  it('[D6] answers any ledger with figures that are figures, and agrees with the headline', () => {
    const seen = new Set<OpenWhat>();
    const anyLedger = fc.property(randomSteps(), (steps) => {
      const ledger = chainFrom(steps).fold();
      const report = OpenListReport.parse(openListReport(ledger, { today: TODAY, most: MOST_OPEN_SENT }));
      const headline = headlineReport(ledger);
      const countOf = (what: OpenWhat) => report.counts.find((one) => one.what === what)?.count ?? 0;
      const partsOf = (what: OpenWhat) =>
        new Set(report.items.filter((item) => item.what === what).map(({ partId }) => partId)).size;
      for (const { what } of report.counts) seen.add(what);
      expect(countOf('estimate missing')).toBe(headline.withoutEstimate.count);
      expect(countOf('arm missing')).toBe(headline.withoutArm.count);
      expect(countOf('group over target')).toBe(
        groupForecastReport(ledger).filter(({ marginKg = 0 }) => marginKg < 0).length,
      );
      expect(countOf('many small ones')).toBe(headline.manySmallCount);
      expect(partsOf('cause missing')).toBe(headline.withoutCause.count);
      expect(partsOf('decision missing')).toBe(headline.withoutDecision.count);
      for (const { marginKg = 0, cgEffectM = 0, aboutKg = 0 } of report.items)
        expect([marginKg, cgEffectM, aboutKg].every(Number.isFinite)).toBe(true);
    });
    fc.assert(anyLedger, { seed: 20_261_127, numRuns: 200 });
    expect(seen.size).toBeGreaterThan(7);
  });
});
