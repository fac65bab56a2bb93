/** The aircraft by the day things happened (rules L6, L7, L8). */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { foldEntries } from '#shared/ledger/fold.ts';
import { historyByDay } from '#shared/ledger/history.ts';
import { addTally, EMPTY_TALLY, type Tally } from '#shared/quantity/exact.ts';
import { centreOfGravityM } from '#shared/rollup/centre-of-gravity.ts';
import { Chain, datumOf, estimateOf, partOf, removedOf, targetsOf, weighingOf } from './make-entries.ts';
import { chainFrom, randomSteps } from './random-chain.ts';

const SEED = 20_260_101;

/** Day and predicted kilograms. */
function curve(chain: Chain) {
  return historyByDay(chain.fold()).map(({ day, predicted }) => [day.slice(-2), Number(predicted.massNg) / 1e12]);
}

describe('by day', () => {
  it('[L7] history that is imported late is a curve by the days things happened', () => {
    const chain = new Chain();
    const imported = { on: '2026-06-20' };
    chain.record(partOf(1), imported);
    chain.record(estimateOf(1, { massKg: 10, growth: 0.2 }), imported);
    chain.record(partOf(2), imported);
    chain.record(estimateOf(2, { massKg: 5 }), imported);
    chain.record(weighingOf(1, 11), { on: '2026-06-03' });
    chain.record(weighingOf(2, 6), { on: '2026-06-10' });
    expect(curve(chain)).toEqual([
      ['03', 11],
      ['10', 17],
    ]);
    chain.record(estimateOf(2, { massKg: 7 }), { on: '2026-06-21' });
    expect(curve(chain).at(-1)).toEqual(['21', 17]);
  });

  it('[L7] corrections are carried back to the day they speak of', () => {
    const chain = new Chain();
    chain.record(partOf(1), { on: '2026-06-01' });
    const weighing = chain.record(weighingOf(1, 11), { on: '2026-06-03' });
    chain.record(estimateOf(1, { massKg: 10 }), { on: '2026-06-09' });
    chain.correct(weighing, weighingOf(1, 12), { on: '2026-06-20' });
    expect(curve(chain)).toEqual([
      ['01', 10],
      ['03', 12],
    ]);
  });

  it('[L7] a removed part counts until the day of its removal, targets from their own day', () => {
    const chain = new Chain();
    chain.record(partOf(1), { on: '2026-06-01' });
    chain.record(estimateOf(1, { massKg: 10 }), { on: '2026-06-01' });
    chain.record(targetsOf(12), { on: '2026-06-02' });
    chain.record(removedOf(1), { on: '2026-06-05' });
    expect(curve(chain).map(([, kg]) => kg)).toEqual([10, 10, 0]);
    expect(historyByDay(chain.fold()).map(({ marginNg }) => marginNg)).toEqual([
      undefined,
      2_000_000_000_000n,
      12_000_000_000_000n,
    ]);
    expect(historyByDay(foldEntries([]))).toEqual([]);
  });

  it('[L8] the days of a ledger whose datum moved are all told from the present one', () => {
    const chain = new Chain();
    chain.record(partOf(1), { on: '2026-06-01' });
    chain.record(estimateOf(1, { massKg: 10, xM: 2 }), { on: '2026-06-01' });
    chain.record(targetsOf(20, { cgForwardM: 1.5, cgAftM: 2.5 }), { on: '2026-06-01' });
    chain.record(datumOf(0.5), { on: '2026-06-08' });
    const [day] = historyByDay(chain.fold());
    expect(day && centreOfGravityM(day.predicted, 'x')).toEqual({ ok: true, value: 1.5 });
    expect(day?.targets).toMatchObject({ cgForwardM: 1, cgAftM: 2 });
  });
});

describe('properties', () => {
  it('[L7] the last day agrees with the running ledger to the last bit', () => {
    const agrees = fc.property(randomSteps(), (steps) => {
      const ledger = chainFrom(steps).fold();
      const last = historyByDay(ledger).at(-1);
      const row = ledger.rows.at(-1);
      if (last === undefined) return;
      expect([last.basic, last.predicted, last.marginNg]).toEqual([row?.basic, row?.predicted, row?.marginNg]);
    });
    fc.assert(agrees, { seed: SEED, numRuns: 150 });
  });

  it('[L6] the effects of the days add up to where the last one stands', () => {
    const adds = fc.property(randomSteps(), (steps) => {
      const days = historyByDay(chainFrom(steps).fold());
      const effects = days.flatMap((day) => day.effects);
      const sum = effects.reduce<Tally>((total, { change }) => addTally(total, change), EMPTY_TALLY);
      expect(sum).toEqual(days.at(-1)?.predicted ?? EMPTY_TALLY);
      expect(days.map(({ day }) => day)).toEqual([...new Set(days.map(({ day }) => day))].sort());
    });
    fc.assert(adds, { seed: SEED, numRuns: 150 });
  });
});
