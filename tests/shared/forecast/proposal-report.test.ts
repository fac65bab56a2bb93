/** Proposals by the ledger as it stands (rules F8, F9), and ballast (rule F7). Chances are held against drawn cases. */
import { describe, expect, it } from 'vitest';
import { type ProposalContent, type ProposalRevision, ProposalsReport } from '#shared/contract/proposal.ts';
import { proposalsReport } from '#shared/forecast/proposal-report.ts';
import { type ProposalWords, proposalFromWords } from '#shared/forecast/proposal-words.ts';
import { rangeBallast } from '#shared/forecast/range-ballast.ts';
import { forecastReport } from '#shared/forecast/report.ts';
import { whatIf } from '#shared/forecast/what-if.ts';
import {
  armOf,
  assemblyOf,
  Chain,
  datumOf,
  estimateOf,
  partOf,
  removedOf,
  targetsOf,
  uuidOf,
  weighingOf,
} from '../ledger/make-entries.ts';

const TODAY = '2026-06-30';
const WORDS = { title: 'Lighter', owner: 'Ann', likelihood: '50 %', due: '2026-07-31' } satisfies ProposalWords;

/** Three parts of 10 kg at 1, 2 and 4 m, one in an assembly; a target of 30 kg with 1 kg in reserve, and a CG range. */
function build(): Chain {
  const chain = new Chain();
  chain.record(targetsOf(30, { reserveKg: 1, cgForwardM: 1, cgAftM: 2 }));
  chain.record(partOf(9));
  for (const [number, xM] of [
    [1, 1],
    [2, 2],
    [3, 4],
  ] as const) {
    chain.record(partOf(number, number === 3 ? { parentPartId: partOf(9).partId } : {}));
    chain.record(estimateOf(number, { massKg: 10, massStdKg: 0.2, xM }));
  }
  return chain;
}

/** Keeps revisions as the store would. */
class Kept {
  readonly chain = build();
  readonly revisions: ProposalRevision[] = [];

  keep(number: number, words: ProposalWords): ProposalContent {
    const proposalId = uuidOf(number, 9);
    const before = this.revisions.findLast((one) => one.proposalId === proposalId);
    const read = proposalFromWords(this.chain.fold(), { ...WORDS, ...words }, before?.content);
    if (!read.ok) throw new Error(JSON.stringify(read.refusal));
    const recordedAt = `2026-06-01T00:00:00.${String(this.revisions.length).padStart(3, '0')}Z`;
    const revision = (before?.revision ?? 0) + 1;
    // As the store gives it back: out of JSON.
    const content = JSON.parse(JSON.stringify(read.value)) as ProposalContent;
    this.revisions.push({ proposalId, revision, by: 'AB', recordedAt, content });
    return content;
  }

  report(): ProposalsReport {
    return ProposalsReport.parse(proposalsReport(this.chain.fold(), this.revisions, TODAY));
  }
}

const off = (part: string, mass: string) => [{ act: 'add mass', part, mass }];

describe('proposals', () => {
  it('[F9] without one the forecast is the forecast', () => {
    const { proposals, forecast } = new Kept().report();
    expect(proposals).toEqual([]);
    expect(forecast.all).toEqual(forecast.today);
    expect(forecast.weighted).toEqual(forecast.today);
    expect([forecast.count, forecast.allSavingKg, forecast.weightedSavingKg]).toEqual([0, 0, 0]);
  });

  it('[F8] each says what it saves now, and the latest revision is in force', () => {
    const kept = new Kept();
    kept.keep(1, { changes: off('P-1', '-2 kg') });
    kept.keep(2, { saving: '0.5 kg', owner: 'Bo' });
    kept.keep(1, { title: 'Lighter still', likelihood: '80 %' });
    const { proposals } = kept.report();
    expect(proposals.map(({ title, revision, owner }) => [title, revision, owner])).toEqual([
      ['Lighter still', 2, 'Ann'],
      ['Lighter', 1, 'Bo'],
    ]);
    expect(proposals[0]?.savingKg).toBeCloseTo(2, 9);
    expect(proposals[0]?.revisions.map(({ title, likelihood }) => [title, likelihood])).toEqual([
      ['Lighter', 0.5],
      ['Lighter still', 0.8],
    ]);
    expect(proposals[1]).toMatchObject({ isStated: true, savingKg: 0.5, counts: true });
  });

  it('[F9] all of them is what the changes do one after the other, and weighted is each by its likelihood', () => {
    const kept = new Kept();
    kept.keep(1, { changes: [{ act: 'set mass', part: 'P-1', mass: '7 kg', uncertainty: '100 g' }] });
    kept.keep(2, { likelihood: '25 %', changes: [{ act: 'move', part: 'P-2', x: '-1 m' }] });
    kept.keep(3, { changes: [{ act: 'add part', name: 'Radio', mass: '1 kg', uncertainty: '0.3 kg', x: '3 m' }] });
    kept.keep(4, { saving: '0.4 kg', state: 'dropped', reason: 'too dear' });
    kept.keep(5, { saving: '4 kg', state: 'done' });
    const { forecast, proposals } = kept.report();
    const ledger = kept.chain.fold();
    const sequence = whatIf(ledger, {
      changes: kept.revisions.flatMap(({ content }) => content.changes.map(({ change }) => change)),
    });
    if (!sequence.ok) throw new Error(sequence.refusal.code);
    const { after } = sequence.value;
    expect(forecast.count).toBe(3);
    expect(forecast.all.forecastKg).toBeCloseTo(after.forecastKg, 9);
    expect(forecast.all.forecastStdKg).toBeCloseTo(after.forecastStdKg, 9);
    expect(forecast.all.cg.x?.atM).toBeCloseTo(after.cg.x?.atM ?? 0, 9);
    expect(forecast.all.cg.x?.stdM).toBeCloseTo(after.cg.x?.stdM ?? 0, 9);
    expect(forecast.all.targets?.marginKg).toBeCloseTo(29 - 28, 9);
    expect(forecast.weightedSavingKg).toBeCloseTo(0.5 * 3 - 0.5 * 1, 9);
    expect(forecast.weighted.forecastKg).toBeCloseTo(29, 9);
    // Moment: 70 - 0.5 x 3 x 1 - 0.25 x 10 x 1 + 0.5 x 1 x 3, over 29.
    expect(forecast.weighted.cg.x?.atM).toBeCloseTo((70 - 1.5 - 2.5 + 1.5) / 29, 9);
    expect(forecast.weighted.forecastStdKg ** 2).toBeGreaterThan(0.25 * 3 ** 2 + 0.25 * 1 ** 2);
    expect(proposals[4]).toMatchObject({ counts: false, savingKg: 4, state: 'done' });
  });

  it('[F9] what is certain to come counts alike in both sums', () => {
    const kept = new Kept();
    kept.keep(1, { likelihood: '100 %', changes: off('P-1', '-2 kg') });
    kept.keep(2, { likelihood: '100 %', saving: '1 kg' });
    const { forecast } = kept.report();
    expect(forecast.weighted.forecastKg).toBeCloseTo(forecast.all.forecastKg, 9);
    expect(forecast.weighted.targets?.withinTarget).toBeCloseTo(forecast.all.targets?.withinTarget ?? 0, 9);
    expect(forecast.weighted.targets?.cgInRange).toBeCloseTo(forecast.all.targets?.cgInRange ?? 0, 9);
  });

  it('[F9] the weighted chance is that of drawn cases, which one normal figure would miss', () => {
    const kept = new Kept();
    const savings = [4, 2, 0.5, ...Array.from({ length: 14 }, () => 0.05)];
    for (const [at, kg] of savings.entries()) kept.keep(at + 1, { likelihood: '50 %', saving: `${kg} kg` });
    const { weighted, today } = kept.report().forecast;
    let seed = 7;
    const random = () => {
      seed = (seed * 48271) % 2147483647;
      return seed / 2147483647;
    };
    const normal = () => Math.sqrt(-2 * Math.log(random())) * Math.cos(2 * Math.PI * random());
    let within = 0;
    const draws = 40_000;
    for (let draw = 0; draw < draws; draw += 1) {
      const saved = savings.reduce((sum, kg) => sum + (random() < 0.5 ? kg : 0), 0);
      if (today.forecastKg + normal() * today.forecastStdKg - saved <= 29) within += 1;
    }
    expect(Math.abs((weighted.targets?.withinTargetLessReserve ?? 0) - within / draws)).toBeLessThan(0.01);
    expect(weighted.forecastStdKg).toBeCloseTo(Math.hypot(today.forecastStdKg, ...savings.map((kg) => kg / 2)), 9);
  });

  it.each([
    ['removed', (chain: Chain) => chain.record(removedOf(1)), off('P-1', '-1 kg')],
    ['removed', (chain: Chain) => chain.record(removedOf(1)), [{ act: 'move', part: 'P-1', x: '1 m' }]],
    ['weighed', (chain: Chain) => chain.record(weighingOf(1, 9)), off('P-1', '-1 kg')],
    ['weighed', (chain: Chain) => chain.record(assemblyOf(9, 9, [3])), off('P-3', '-1 kg')],
    [
      'station measured',
      (chain: Chain) => chain.record(armOf(1, { xM: 1.1 })),
      [{ act: 'move', part: 'P-1', x: '1 m' }],
    ],
    [undefined, (chain: Chain) => chain.record(weighingOf(1, 9)), [{ act: 'move', part: 'P-1', x: '1 m' }]],
    [undefined, (chain: Chain) => chain.record(weighingOf(1, 9)), [{ act: 'remove', part: 'P-1' }]],
    [undefined, (chain: Chain) => chain.record(weighingOf(2, 9)), off('P-1', '-1 kg')],
    [undefined, (chain: Chain) => chain.record(armOf(1, { xM: 1.1 })), off('P-1', '-1 kg')],
  ] as const)('[F8] %s since: it says so and does not count (case %#)', (why, happens, changes) => {
    const kept = new Kept();
    kept.keep(1, { changes });
    expect(kept.report().proposals[0]).toMatchObject({ unfit: [], counts: true });
    happens(kept.chain);
    const { proposals, forecast } = kept.report();
    expect(proposals[0]?.unfit.map((one) => one.why)).toEqual(why === undefined ? [] : [why]);
    expect(forecast.count).toBe(why === undefined ? 1 : 0);
    if (why === 'weighed') {
      // Stated anew after the weighing, it fits again.
      kept.keep(1, { changes });
      expect(kept.report().proposals[0]).toMatchObject({ unfit: [], counts: true, revision: 2 });
    }
  });

  it('[F8] what can no longer be taken off is told, though nobody weighed the part', () => {
    const kept = new Kept();
    kept.keep(1, { changes: off('P-1', '-9 kg') });
    kept.chain.record(estimateOf(1, { massKg: 5, xM: 1 }));
    expect(kept.report().proposals[0]).toMatchObject({ unfit: [{ part: 'P-1', why: 'not possible' }], counts: false });
  });

  it('[F8] two that change one part name each other', () => {
    const kept = new Kept();
    kept.keep(1, { title: 'Thinner', changes: off('P-1', '-1 kg') });
    kept.keep(2, { title: 'Without it', changes: [{ act: 'remove', part: 'P-1' }] });
    kept.keep(3, { title: 'Elsewhere', changes: off('P-2', '-1 kg') });
    expect(kept.report().proposals.map(({ overlaps }) => overlaps)).toEqual([['Without it'], ['Thinner'], []]);
  });

  it('[F8] it is overdue from the day after, while it is open or agreed', () => {
    const kept = new Kept();
    const due = [TODAY, '2026-06-29', '2026-06-29', '2026-06-29'];
    const states = ['open', 'agreed', 'done', 'dropped'];
    for (const [at, state] of states.entries())
      kept.keep(at + 1, { state, due: due[at], saving: '1 kg', reason: 'so' });
    expect(kept.report().proposals.map(({ isOverdue }) => isOverdue)).toEqual([false, true, false, false]);
  });

  it('[F8] a station stays where it was meant when the datum moves', () => {
    const kept = new Kept();
    kept.keep(1, { changes: [{ act: 'set arm', part: 'P-1', x: '3 m' }] });
    const before = kept.report();
    kept.chain.record(datumOf(0.5));
    const after = kept.report();
    expect(after.proposals[0]?.changes[0]?.change).toMatchObject({ xM: 2.5 });
    expect(after.forecast.all.cg.x?.atM).toBeCloseTo((before.forecast.all.cg.x?.atM ?? 0) - 0.5, 9);
    expect(after.proposals[0]?.cgChangeXM).toBeCloseTo(before.proposals[0]?.cgChangeXM ?? 0, 9);
  });
});

describe('ballast into the range', () => {
  it('[F7] the least mass at the station puts the CG on the end of the range, and the payload pays for it', () => {
    const figures = forecastReport(build().fold());
    // 30 kg at 70/30 m, aft of 2 m.
    const answer = rangeBallast(figures, 0);
    if (!answer.ok) throw new Error(answer.refusal.code);
    const { massKg, toM, overTargetKg, payloadKg } = answer.value;
    expect(toM).toBe(2);
    expect(70 / (30 + massKg)).toBeCloseTo(2, 9);
    expect(overTargetKg).toBeCloseTo(5, 9);
    expect(payloadKg).toBeCloseTo(5, 9);
  });

  it('[F7] in range it takes none; on the wrong side it is refused; without a range or a CG it says so', () => {
    const chain = build();
    const refused = (figures: Parameters<typeof rangeBallast>[0], stationM: number) => {
      const answer = rangeBallast(figures, stationM);
      return answer.ok ? undefined : answer.refusal;
    };
    expect(refused(forecastReport(chain.fold()), 5)).toEqual({
      ...{ code: 'ballast-on-wrong-side', stationM: 5, toM: 2, way: 'forward' },
    });
    chain.record(targetsOf(40, { cgForwardM: 1, cgAftM: 3 }));
    const inRange = rangeBallast(forecastReport(chain.fold()), 5);
    expect(inRange.ok && inRange.value).toMatchObject({ massKg: 0, toM: undefined, payloadKg: 0 });
    chain.record(targetsOf(40));
    expect(refused(forecastReport(chain.fold()), 5)).toEqual({ code: 'cg-range-missing' });
    const empty = new Chain();
    empty.record(targetsOf(40, { cgForwardM: 1, cgAftM: 3 }));
    expect(refused(forecastReport(empty.fold()), 5)).toEqual({ code: 'cg-missing' });
  });
});
