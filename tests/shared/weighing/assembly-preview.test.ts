/** An assembly judged before it is saved (rule W4): what the preview says is what the ledger says once it is recorded. */
import { describe, expect, it } from 'vitest';
import { assemblyDrifts } from '#shared/drift/larger-drift.ts';
import { headlineOf } from '#shared/rollup/headline.ts';
import { previewWeighing } from '#shared/weighing/preview.ts';
import { assemblyOf, Chain, estimateOf, ON, partIdOf, partOf, targetsOf } from '../ledger/make-entries.ts';

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
});
