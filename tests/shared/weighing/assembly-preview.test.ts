/** An assembly judged before it is saved (rule W4): what the preview says is what the ledger says once it is recorded. */
import { describe, expect, it } from 'vitest';
import { assemblyDrifts } from '#shared/drift/larger-drift.ts';
import { headlineOf } from '#shared/rollup/headline.ts';
import { previewWeighing } from '#shared/weighing/preview.ts';
import { assemblyOf, Chain, estimateOf, ON, partIdOf, partOf, targetsOf, weighingOf } from '../ledger/make-entries.ts';

/** 10 kg in two parts, and 1 kg of allowance on them. */
function wing(): Chain {
  const chain = new Chain();
  chain.record(targetsOf(12));
  chain.record(partOf(1));
  for (const [part, massKg] of [
    [2, 4],
    [3, 6],
  ] as const) {
    chain.record(partOf(part, { parentPartId: partIdOf(1) }));
    chain.record(estimateOf(part, { massKg, growth: 0.1, xM: part }));
  }
  return chain;
}

describe('an assembly before it is saved', () => {
  it('[W4] it is judged against the sum of its parts, with what it does to the aircraft; nothing is recorded', () => {
    const chain = wing();
    const ledger = chain.fold();
    const weighing = assemblyOf(1, 12, [2, 3], { condition: 'finished' });
    const preview = previewWeighing(ledger, weighing, ON);
    // The allowance of what is in it goes, and 2 kg more than its parts come.
    expect(preview).toMatchObject({
      judgement: { flag: 'drifting heavy', expectedKg: 10, netKg: 12, differenceKg: 2 },
      projectedKg: 12,
      predictedBeforeKg: 11,
      predictedAfterKg: 12,
      marginAfterKg: 0,
    });
    expect(assemblyDrifts(ledger)).toEqual([]);
    chain.record(weighing);
    const [drift] = assemblyDrifts(chain.fold());
    expect(drift).toMatchObject(preview?.judgement ?? {});
    expect(headlineOf(chain.fold()).cg.xM).toBeCloseTo(preview?.cgAfterXM ?? 0, 12);
  });

  it('[W9] one that another weighing would go on overruling has no judgement', () => {
    const chain = wing();
    chain.record(assemblyOf(1, 12, [2, 3], { condition: 'finished' }));
    const preview = previewWeighing(chain.fold(), assemblyOf(1, 11, [2, 3], { condition: 'trimmed' }), ON);
    expect(preview?.judgement).toBeUndefined();
    expect(preview?.predictedAfterKg).toBe(preview?.predictedBeforeKg);
  });

  it('[W4] one that replaces another is judged in the ledger without the other, and is what the ledger then says', () => {
    const chain = wing();
    const made = chain.record(assemblyOf(1, 12, [2, 3], { condition: 'finished' }));
    const ledger = chain.fold();
    const root = ledger.roots.get(made.entry.id);
    const weighing = assemblyOf(1, 11, [2, 3], { condition: 'trimmed' });
    const preview = previewWeighing(ledger, weighing, ON, root);
    expect(preview?.judgement).toMatchObject({ expectedKg: 10, netKg: 11, differenceKg: 1 });
    chain.correct(made, weighing);
    const after = chain.fold();
    expect(assemblyDrifts(after)[0]).toMatchObject(preview?.judgement ?? {});
    expect(headlineOf(after).predictedKg).toBeCloseTo(preview?.predictedAfterKg ?? 0, 12);
    expect(preview?.predictedBeforeKg).toBe(headlineOf(ledger).predictedKg);
  });

  it('[W4] a weighing of a part that is corrected is not the same reading again, and its old tare is no hint', () => {
    const chain = wing();
    const made = chain.record(weighingOf(2, 4.4));
    const [ledger, weighing] = [chain.fold(), weighingOf(2, 4.4)];
    expect(previewWeighing(ledger, weighing, ON)?.doubts).toMatchObject([{ slip: 'entered before' }]);
    const root = ledger.roots.get(made.entry.id);
    expect(previewWeighing(ledger, weighing, ON, root)).toMatchObject({
      doubts: [],
      judgement: { differenceKg: expect.closeTo(0.4, 9) },
    });
    // In pounds for kilograms: the slip is named, and what stood before stays before.
    const slip = previewWeighing(ledger, weighingOf(2, 4 / 0.45359237), ON, root);
    expect(slip?.doubts).toMatchObject([{ slip: 'kg for lb' }]);
    expect(slip?.predictedBeforeKg).toBe(headlineOf(ledger).predictedKg);
    chain.correct(made, weighingOf(2, 4 / 0.45359237));
    expect(headlineOf(chain.fold()).predictedKg).toBeCloseTo(slip?.predictedAfterKg ?? 0, 12);
  });

  it('[W4] a weighing corrected to another part leaves the part it named, which then is not weighed', () => {
    const chain = wing();
    const made = chain.record(weighingOf(2, 6));
    const ledger = chain.fold();
    const preview = previewWeighing(ledger, weighingOf(3, 6), ON, ledger.roots.get(made.entry.id));
    chain.correct(made, weighingOf(3, 6));
    expect(preview?.predictedAfterKg).toBeCloseTo(headlineOf(chain.fold()).predictedKg, 12);
    expect(preview).toMatchObject({ judgement: { flag: 'in line' }, doubts: [] });
  });
});
