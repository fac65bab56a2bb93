/** From one moment to another by cause (rules L6, L7). */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { historyByDay } from '#shared/ledger/history.ts';
import { toKg } from '#shared/quantity/exact.ts';
import { bridgeReport } from '#shared/rollup/bridge.ts';
import { Chain, estimateOf, partOf, weighingOf } from '../ledger/make-entries.ts';
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
});
