/** From one moment to another by cause (rules L6, L7). */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { historyByDay } from '#shared/ledger/history.ts';
import { toKg, toMassNg } from '#shared/quantity/exact.ts';
import { bridgeReport } from '#shared/rollup/bridge.ts';
import { MOST_PARTS } from '#shared/rollup/bridge-rows.ts';
import {
  assemblyOf,
  Chain,
  estimateOf,
  partIdOf,
  partOf,
  removedOf,
  targetsOf,
  weighingOf,
} from '../ledger/make-entries.ts';
import { chainFrom, randomSteps } from '../ledger/random-chain.ts';

/** A part of 4 kg with a quarter of allowance, weighed 10 % heavy; the weighing is recorded last and happened before the estimate of another. */
function begun(): Chain {
  const chain = new Chain();
  chain.record(partOf(1), { on: '2026-01-05' });
  chain.record(estimateOf(1, { growth: 0.25, xM: 2 }), { on: '2026-01-05' });
  chain.record(partOf(2), { on: '2026-03-01' });
  chain.record(estimateOf(2, { xM: 1 }), { on: '2026-03-01' });
  chain.record(weighingOf(1, 4.4), { on: '2026-02-01' });
  return chain;
}

const shares = (report: ReturnType<typeof bridgeReport>) =>
  report.effects.map(({ cause, massKg }) => [cause, Number(massKg.toFixed(9))]);

describe('a bridge', () => {
  it('[L6] between two entries holds the causes of the entries after the first, up to and with the second', () => {
    const report = bridgeReport(begun().fold(), { axis: 'entry', from: 2, to: 5 });
    expect(report.from).toMatchObject({ at: '2', predictedKg: 5 });
    expect(report.to).toMatchObject({ at: '5', predictedKg: 8.4 });
    expect(shares(report)).toEqual([
      ['scope', 4],
      ['weighed against estimate', 0.4],
      ['allowance', -1],
    ]);
  });

  it('[L7] between two days holds what happened then, whenever it was recorded', () => {
    const report = bridgeReport(begun().fold(), { axis: 'day', from: '2026-01-31', to: '2026-02-28' });
    expect(report.from).toMatchObject({ at: '2026-01-31', predictedKg: 5 });
    expect(report.to).toMatchObject({ at: '2026-02-28', predictedKg: 4.4 });
    expect(shares(report)).toEqual([
      ['weighed against estimate', 0.4],
      ['allowance', -1],
    ]);
  });

  it('[L6] without bounds it goes from nothing to now, and an empty period changes nothing', () => {
    const ledger = begun().fold();
    for (const axis of ['entry', 'day'] as const) {
      const whole = bridgeReport(ledger, { axis });
      expect(whole.from.predictedKg).toBe(0);
      expect(whole.from.cgXM).toBeUndefined();
      expect(whole.to.predictedKg).toBeCloseTo(8.4, 12);
    }
    expect(bridgeReport(ledger, { axis: 'entry', from: 3, to: 3 }).effects).toEqual([]);
    const still = bridgeReport(ledger, { axis: 'day', from: '2026-02-02', to: '2026-02-20' });
    expect(still.effects).toEqual([]);
    expect(still.to.predictedKg).toBe(still.from.predictedKg);
    expect(bridgeReport(new Chain().fold(), { axis: 'day' }).effects).toEqual([]);
  });

  it('[L6] of any period the causes add up to its change, on both axes', () => {
    const anyBridge = fc.property(randomSteps(), fc.nat(40), fc.nat(40), (steps, a, b) => {
      const ledger = chainFrom(steps).fold();
      const [from, to] = [Math.min(a, b), Math.max(a, b, 1)];
      const days = historyByDay(ledger).map(({ day }) => day);
      const reports = [
        bridgeReport(ledger, { axis: 'entry', from, to }),
        ...(days.length === 0
          ? []
          : [bridgeReport(ledger, { axis: 'day', from: days[from % days.length], to: days[to % days.length] })]),
      ];
      for (const { axis, from: start, to: end, effects } of reports) {
        if (axis === 'entry' ? Number(end.at) < Number(start.at) : end.at < start.at) continue;
        const sumKg = effects.reduce((sum, { massKg }) => sum + massKg, 0);
        expect(Math.abs(sumKg - (end.predictedKg - start.predictedKg))).toBeLessThan(1e-9);
      }
      const last = ledger.rows.at(-1)?.predicted.massNg;
      if (last !== undefined) expect(bridgeReport(ledger, { axis: 'day' }).to.predictedKg).toBe(toKg(last));
    });
    fc.assert(anyBridge, { seed: 20_261_125, numRuns: 150 });
  });

  it('[L6] by group and by part: each with its own change, largest first, and the targets in a row of their own', () => {
    const chain = begun();
    chain.record(targetsOf(20, { reserveKg: 1 }), { on: '2026-03-02' });
    chain.record(targetsOf(21, { reserveKg: 1 }), { on: '2026-03-03' });
    const ledger = chain.fold();
    const period = { axis: 'entry', from: 2, to: 7 } as const;
    const rowsBy = (by: 'group' | 'part') =>
      bridgeReport(ledger, period, by).rows.map(({ of, name, massKg, marginKg }) => [of, name, massKg, marginKg]);
    expect(rowsBy('part')).toEqual([
      ['part', partOf(2).number, 4, -4],
      ['part', partOf(1).number, -0.6, 0.6],
      ['targets', '', 0, 1],
    ]);
    expect(rowsBy('group')).toEqual([
      ['group', partOf(1).group, 3.4, -3.4],
      ['targets', '', 0, 1],
    ]);
    expect(bridgeReport(ledger, period).rows).toEqual([]);
  });

  it('[L6] a part that goes to another group leaves one and comes to the other; one that is removed takes its mass along', () => {
    const chain = new Chain();
    const added = chain.record(partOf(1, { group: 'wing' }));
    chain.record(estimateOf(1, { massKg: 3, growth: 0 }));
    chain.correct(added, partOf(1, { group: 'tail' }));
    chain.record(removedOf(1));
    const rows = (from: number, to: number) =>
      bridgeReport(chain.fold(), { axis: 'entry', from, to }, 'group').rows.map(({ name, massKg }) => [name, massKg]);
    expect(rows(2, 3)).toEqual([
      ['tail', 3],
      ['wing', -3],
    ]);
    expect(rows(3, 4)).toEqual([['tail', -3]]);
  });

  it('[L6] what a weighed assembly has beyond its parts is in the row of the assembly', () => {
    const chain = new Chain();
    chain.record(partOf(1));
    chain.record(partOf(2, { parentPartId: partIdOf(1) }));
    chain.record(estimateOf(2, { massKg: 2, growth: 0 }));
    chain.record(assemblyOf(1, 2.5, [2], { condition: 'finished' }));
    const { rows, from, to } = bridgeReport(chain.fold(), { axis: 'entry', from: 3 }, 'part');
    expect(to.predictedKg - from.predictedKg).toBeCloseTo(0.5, 12);
    expect(rows.map(({ name, massKg }) => [name, massKg])).toEqual([[partOf(1).number, 0.5]]);
  });

  it('[L6] by part the largest stand alone and all others in one row', () => {
    const chain = new Chain();
    for (let number = 1; number <= MOST_PARTS + 5; number += 1) {
      chain.record(partOf(number));
      chain.record(estimateOf(number, { massKg: number, growth: 0 }));
    }
    const { rows } = bridgeReport(chain.fold(), { axis: 'day' }, 'part');
    expect(rows).toHaveLength(MOST_PARTS + 1);
    expect(rows[0]?.massKg).toBe(MOST_PARTS + 5);
    expect(rows.at(-1)).toMatchObject({ of: 'all other parts', partCount: 5, massKg: 1 + 2 + 3 + 4 + 5 });
  });

  it('[L6] of any period the groups and the parts add up to its change to the last nanogram, and to its margin', () => {
    let movedCount = 0;
    const anyBridge = fc.property(randomSteps(), fc.nat(40), fc.nat(40), (steps, a, b) => {
      const ledger = chainFrom(steps).fold();
      const [from, to] = [Math.min(a, b), Math.max(a, b, 1)];
      const days = historyByDay(ledger).map(({ day }) => day);
      const [firstDay, lastDay] = [days[from % Math.max(1, days.length)], days[to % Math.max(1, days.length)]].sort();
      for (const by of ['group', 'part'] as const)
        for (const period of [
          { axis: 'entry', from, to } as const,
          { axis: 'day', from: firstDay, to: lastDay } as const,
          { axis: 'day' } as const,
        ]) {
          const { from: start, to: end, rows, effects } = bridgeReport(ledger, period, by);
          if (rows.length > 1) movedCount += 1;
          const sumNg = (kg: readonly number[]) => kg.reduce((sum, one) => sum + toMassNg(one), 0n);
          expect(sumNg(rows.map(({ massKg }) => massKg))).toBe(toMassNg(end.predictedKg) - toMassNg(start.predictedKg));
          expect(sumNg(rows.map(({ marginKg }) => marginKg))).toBe(sumNg(effects.map(({ marginKg }) => marginKg)));
          const momentKgM = (list: readonly { readonly momentXKgM: number }[]) =>
            list.reduce((sum, one) => sum + one.momentXKgM, 0);
          expect(momentKgM(rows)).toBeCloseTo(momentKgM(effects), 6);
        }
    });
    fc.assert(anyBridge, { seed: 20_261_126, numRuns: 150 });
    expect(movedCount).toBeGreaterThan(300);
  });
});
