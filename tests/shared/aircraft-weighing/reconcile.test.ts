/** What the scales find beyond the parts (rule A3), against differences worked out by hand. */
import { describe, expect, it } from 'vitest';
import { differenceOf, reconcileIn, reconcilePoint } from '#shared/aircraft-weighing/reconcile.ts';
import type { ReconcileReport, SentPoint } from '#shared/contract/aircraft-weighing.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import { basicOf } from '#shared/ledger/fold.ts';
import { toKg } from '#shared/quantity/exact.ts';
import { Chain, datumOf, estimateOf, partIdOf, partOf, weighingOf } from '../ledger/make-entries.ts';
import { aircraftWeighingOf } from './make-weighings.ts';

const still = { massStdKg: 0.1, xStdM: 0.001 };
const compared = (massKg: number, xM: number) =>
  differenceOf({
    weighed: { massKg, xM, ...still },
    ledger: { massKg: 400, xM: 2, ...still, momentVariance: (armM) => ((2 - armM) * 0.1) ** 2 + (400 * 0.001) ** 2 },
  });

/** A wing of 60 kg at 3 m that was weighed, a tail of 10 kg at 7 m and a box of two pieces of 5 kg at 1 m that are estimated. */
function begun(): Chain {
  const chain = new Chain();
  chain.record(partOf(1));
  chain.record(estimateOf(1, { massKg: 61, xM: 3, yM: 0, growth: 0.2 }));
  chain.record(weighingOf(1, 60, { pieces: [1], condition: 'finished' }), { on: '2026-05-02' });
  chain.record(partOf(2));
  chain.record(estimateOf(2, { massKg: 10, massStdKg: 0.5, xM: 7, yM: 0, growth: 0.2 }));
  chain.record(partOf(3, { quantity: 2 }));
  chain.record(estimateOf(3, { massKg: 5, massStdKg: 0.1, xM: 1, yM: 0, growth: 0.2 }));
  return chain;
}

const POINT: SentPoint = { happenedOn: '2026-05-20', notAboard: '', massKg: 80, massStdKg: 0.1, xM: 3, xStdM: 0.01 };

function found(ledger: Ledger, changes: Partial<SentPoint> = {}): ReconcileReport {
  const answer = reconcilePoint(ledger, { ...POINT, ...changes });
  if (!answer.ok) throw new Error(JSON.stringify(answer.refusal));
  return answer.value;
}

describe('the difference', () => {
  it('[A3] a difference in mass beyond two standard uncertainties must sit at one arm, whose uncertainty is told', () => {
    const { differenceKg, differenceStdKg, massIsReal, armM, armStdM, momentKgM } = compared(404, 2.02);
    expect(differenceKg).toBe(4);
    expect(differenceStdKg).toBeCloseTo(0.1 * Math.SQRT2, 12);
    expect(massIsReal).toBe(true);
    // By hand: (404 x 2.02 - 400 x 2)/4 = 4.02.
    expect(armM).toBeCloseTo(4.02, 9);
    // By hand: the four partial derivatives of (M1 X1 - M0 X0)/(M1 - M0).
    const terms = [(2.02 - 4.02) * 0.1, 404 * 0.001, (2 - 4.02) * 0.1, 400 * 0.001];
    expect(armStdM).toBeCloseTo(Math.hypot(...terms) / 4, 9);
    expect(momentKgM).toBeUndefined();
  });

  it('[A3] where only the CG differs a moment is told, and never an arm', () => {
    const { massIsReal, cgIsReal, armM, momentKgM, momentStdKgM } = compared(400.1, 2.01);
    expect([massIsReal, cgIsReal]).toEqual([false, true]);
    expect(armM).toBeUndefined();
    expect(momentKgM).toBeCloseTo(400.1 * 0.01, 9);
    expect(momentStdKgM).toBeCloseTo(400.1 * 0.001 * Math.SQRT2, 9);
  });

  it('[A3] where both agree nothing is to be looked for, and nothing is divided by nothing', () => {
    expect(compared(400, 2)).toMatchObject({ differenceKg: 0, massIsReal: false, cgIsReal: false });
    expect(compared(400, 2).armM).toBeUndefined();
    const bare = { massKg: 0, massStdKg: 0, xM: undefined, xStdM: undefined, momentVariance: () => 0 };
    const none = differenceOf({ weighed: { massKg: 400, xM: 2, ...still }, ledger: bare });
    expect(none).toMatchObject({ differenceKg: 400, massIsReal: true });
    expect(none.armM).toBeUndefined();
  });
});

describe('against the ledger', () => {
  it('[A3] the ledger counts the parts that were aboard, without allowance', () => {
    const report = found(begun().fold());
    expect(report.ledgerKg).toBeCloseTo(80, 9);
    expect(report.ledgerXM).toBeCloseTo((60 * 3 + 10 * 7 + 10) / 80, 9);
    expect(report.partCount).toBe(3);
    expect(report.ledgerStdKg).toBeGreaterThan(0.5);
  });

  it('[A3] parts and pieces that were not aboard are left out, and what belongs to an assembly goes with it', () => {
    const chain = begun();
    chain.record(partOf(4, { parentPartId: partIdOf(2) }));
    chain.record(estimateOf(4, { massKg: 2, xM: 7 }));
    const ledger = chain.fold();
    expect(found(ledger, { notAboard: 'P-3 piece 2' }).ledgerKg).toBeCloseTo(77, 9);
    expect(found(ledger, { notAboard: 'P-2' }).ledgerKg).toBeCloseTo(70, 9);
    expect(reconcilePoint(ledger, { ...POINT, notAboard: 'P-9' })).toMatchObject({ ok: false });
  });

  it('[A3] what had not been weighed by that day counts as it was estimated then', () => {
    const chain = begun();
    chain.record(weighingOf(2, 12, { pieces: [1], condition: 'finished' }), { on: '2026-05-25' });
    const ledger = chain.fold();
    expect(found(ledger).ledgerKg).toBeCloseTo(80, 9);
    expect(found(ledger, { happenedOn: '2026-05-26' }).ledgerKg).toBeCloseTo(82, 9);
  });

  it('[A3] parts near the arm are named, the least certain first', () => {
    // 4 kg more, all of it at 7 m.
    const report = found(begun().fold(), { massKg: 84, xM: (80 * 3.25 + 4 * 7) / 84, xStdM: 0.001 });
    expect(report.massIsReal).toBe(true);
    expect(report.armM).toBeCloseTo(7, 6);
    expect(report.near[0]).toMatchObject({ number: 'P-2', isWeighed: false, massKg: 10 });
  });

  it('[A3] of a signed weighing it is what the basis of the ledger keeps beyond the parts', () => {
    const chain = begun();
    const weighing = chain.record(aircraftWeighingOf(), { on: '2026-05-28' });
    const ledger = chain.fold();
    const standing = ledger.whole['aircraft weighing'].get(weighing.seq);
    if (standing === undefined) throw new Error('it was recorded');
    const report = reconcileIn(ledger, standing);
    expect(report.ledgerKg).toBeCloseTo(80, 9);
    expect(report.differenceKg).toBeCloseTo(380.1 - 80, 9);
    expect(toKg(basicOf(ledger).massNg)).toBeCloseTo(report.ledgerKg + report.differenceKg, 9);
  });

  it('[A3] a datum that is moved moves the arm and no difference', () => {
    const chain = begun();
    const before = found(chain.fold(), { massKg: 84, xM: 3.4, xStdM: 0.001 });
    chain.record(datumOf(1));
    const after = found(chain.fold(), { massKg: 84, xM: 2.4, xStdM: 0.001 });
    expect(after.armM).toBeCloseTo((before.armM ?? 0) - 1, 6);
    expect(after.armStdM).toBeCloseTo(before.armStdM ?? 0, 6);
    expect(after.differenceKg).toBe(before.differenceKg);
    expect(after.near.map(({ xM }) => xM)).toEqual(before.near.map(({ xM }) => xM - 1));
  });
});
