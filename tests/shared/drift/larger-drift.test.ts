/** Groups, the CG, assemblies, and many small differences (rules D3, D5, W7), and what a finding does (D2). */
import { describe, expect, it } from 'vitest';
import { assemblyDrifts, cgDrift, groupDrifts, manySmall } from '#shared/drift/larger-drift.ts';
import { allPartDrifts } from '#shared/drift/part-drift.ts';
import { driftReport, findingsReport } from '#shared/drift/report.ts';
import {
  armOf,
  assemblyOf,
  Chain,
  checkOf,
  datumOf,
  dispositionOf,
  estimateOf,
  partIdOf,
  partOf,
  scaleOf,
  targetsOf,
  weighingOf,
} from '../ledger/make-entries.ts';

function begun(count: number, changes: Parameters<typeof estimateOf>[1] = {}): Chain {
  const chain = new Chain();
  for (let number = 1; number <= count; number += 1) {
    chain.record(partOf(number));
    chain.record(estimateOf(number, { xM: number, ...changes }));
  }
  return chain;
}

describe('groups', () => {
  it('[D3] a group over its target drifts by the excess, and the worst comes first', () => {
    const chain = new Chain();
    for (const [number, group] of [
      [1, 'wing'],
      [2, 'tail'],
      [3, 'body'],
    ] as const) {
      chain.record(partOf(number, { group }));
      chain.record(estimateOf(number, { growth: 0.25, xM: number }));
    }
    // Each group is predicted at 5 kg.
    const groups = [
      { group: 'wing', massKg: 4.9 },
      { group: 'tail', massKg: 4 },
      { group: 'body', massKg: 5 },
    ];
    chain.record(targetsOf(20, { groups }));
    const found = groupDrifts(chain.fold());
    expect(found.map(({ group }) => group)).toEqual(['tail', 'wing']);
    expect(found[0]?.marginKg).toBeCloseTo(-1, 12);
    expect(found[0]).toMatchObject({ targetKg: 4, predictedKg: 5 });
    // The kilogram too much at 2 m, in 15 kg with the CG at 2 m; the tenth at 1 m.
    expect(found[0]?.cgEffectM).toBeCloseTo(0, 12);
    expect(found[1]?.cgEffectM).toBeCloseTo((0.1 * (1 - 2)) / 14.9, 12);
  });

  it('[D3] a group without a target, or at it, does not drift', () => {
    const chain = begun(2);
    chain.record(targetsOf(20, { groups: [{ group: 'wing', massKg: 8 }] }));
    expect(groupDrifts(chain.fold())).toEqual([]);
    expect(groupDrifts(begun(2).fold())).toEqual([]);
  });
});

describe('the CG', () => {
  /** Two parts of 4 kg at 1 m and 2 m: the CG is at 1.5 m, and known to sqrt(2) 0.5 x 0.12/8 m. */
  const stdM = (Math.SQRT2 * 0.5 * 0.12) / 8;
  const standingWith = (cgForwardM: number, cgAftM: number) => {
    const chain = begun(2);
    chain.record(targetsOf(20, { cgForwardM, cgAftM }));
    return cgDrift(chain.fold());
  };

  it('[D3] outside its range it drifts, on either side', () => {
    expect(standingWith(1.6, 2)).toMatchObject({ level: 'drifting', standing: 'forward of range', xM: 1.5 });
    expect(standingWith(1, 1.4)).toMatchObject({ level: 'drifting', standing: 'aft of range' });
  });

  it('[D3] within one standard uncertainty of an end it is watched, and beyond that it is in line', () => {
    expect(standingWith(1.5 - 0.99 * stdM, 2)).toMatchObject({ level: 'watch', standing: 'in range' });
    expect(standingWith(1, 1.5 + 0.99 * stdM)).toMatchObject({ level: 'watch' });
    expect(standingWith(1.5 - 1.01 * stdM, 1.5 + 1.01 * stdM)).toBeUndefined();
    expect(standingWith(1.5 - 0.99 * stdM, 2)?.xStdM).toBeCloseTo(stdM, 12);
  });

  it('[D3] without a range, or without a CG, there is nothing to drift from', () => {
    const chain = begun(2);
    chain.record(targetsOf(20));
    expect(cgDrift(chain.fold())).toBeUndefined();
    expect(cgDrift(new Chain().fold())).toBeUndefined();
  });
});

describe('many small ones', () => {
  /** Four parts of 4 kg, each 0.1 kg heavy: 2.5 %, in line. Each has the uncertainty 0.04 kg, the sum 0.08. */
  const heavy = (count: number, changes: Parameters<typeof weighingOf>[2] = {}) => {
    const chain = begun(count, { massStdKg: 0.04 });
    for (let number = 1; number <= count; number += 1)
      chain.record(weighingOf(number, 4.1, { grossResolutionKg: 0, ...changes }));
    return chain;
  };

  it('[D5] parts that are each in line and add up are a finding of group, process and lot', () => {
    const found = manySmall(heavy(4, { lot: 'roll 7' }).fold());
    expect(found.map(({ by, name }) => `${by} ${name}`).sort()).toEqual([
      'group wing',
      'lot roll 7',
      'process wet lay-up',
    ]);
    for (const { partCount, sumKg, sdKg, marginEffectKg, cgEffectM } of found) {
      expect(partCount).toBe(4);
      expect(marginEffectKg).toBeCloseTo(-0.4, 12);
      // All four grow alike: the CG stays.
      expect(cgEffectM).toBeCloseTo(0, 12);
      expect(sumKg).toBeCloseTo(0.4, 12);
      expect(sdKg).toBeCloseTo(0.08, 12);
    }
  });

  it('[D5] each difference acts at the arm of its part', () => {
    const chain = begun(2, { massStdKg: 0.01 });
    chain.record(weighingOf(1, 4.05, { grossResolutionKg: 0 }));
    chain.record(weighingOf(2, 4.15, { grossResolutionKg: 0 }));
    chain.record(datumOf(0.25));
    // With both (4.05 + 8.3)/8.2, without them 12/8; the datum does not matter.
    expect(manySmall(chain.fold())[0]?.cgEffectM).toBeCloseTo(12.35 / 8.2 - 12 / 8, 12);
  });

  it('[D5] the weighing has its share of the standard deviation', () => {
    // Resolved to 0.2 kg: 0.0577 kg a reading. sd = 2 hypot(0.04, 0.0577) = 0.1404, and 0.4 is beyond twice that.
    expect(manySmall(heavy(4, { grossResolutionKg: 0.2 }).fold())[0]?.sdKg).toBeCloseTo(0.140475, 6);
    expect(manySmall(heavy(4, { grossResolutionKg: 0.35 }).fold())).toEqual([]);
  });

  it('[D5] one part alone, a sum within twice its deviation, and a part that is not in line are none', () => {
    expect(manySmall(heavy(1).fold())).toEqual([]);
    const mixed = begun(4, { massStdKg: 0.04 });
    for (const [number, netKg] of [
      [1, 4.1],
      [2, 4.1],
      [3, 3.9],
      [4, 3.95],
    ] as const)
      mixed.record(weighingOf(number, netKg, { grossResolutionKg: 0 }));
    expect(manySmall(mixed.fold())).toEqual([]);
    const drifting = begun(2, { massStdKg: 0.04 });
    drifting.record(weighingOf(1, 4.1));
    drifting.record(weighingOf(2, 5));
    expect(manySmall(drifting.fold())).toEqual([]);
  });

  it('[D5] an estimate that states no uncertainty has three per cent, common to the pieces under it', () => {
    const chain = new Chain();
    for (const number of [1, 2, 3, 4]) {
      chain.record(partOf(number, { quantity: 2 }));
      chain.record(estimateOf(number));
      chain.record(weighingOf(number, 8.3, { pieces: [1, 2], grossResolutionKg: 0 }));
    }
    // Four parts of two pieces at 4 kg: 2 x 0.12 kg each, sqrt(4) x 0.24 together. Their sum, 1.2 kg, is beyond twice that.
    const [found] = manySmall(chain.fold());
    expect(found?.sumKg).toBeCloseTo(1.2, 12);
    expect(found?.sdKg).toBeCloseTo(2 * 0.24, 12);
  });
});

describe('assemblies', () => {
  const weighed = (netKg: number) => {
    const chain = new Chain();
    chain.record(partOf(9));
    for (const number of [1, 2]) {
      chain.record(partOf(number, { parentPartId: partIdOf(9) }));
      chain.record(estimateOf(number, { xM: number }));
    }
    chain.record(partOf(3));
    chain.record(estimateOf(3, { xM: 5 }));
    chain.record(assemblyOf(9, netKg, [1, 2], { xM: 1.6 }));
    return chain;
  };

  it('[W7] a weighed assembly stands beside the sum of its parts, with its residual as a pair', () => {
    const [row] = assemblyDrifts(weighed(9).fold());
    expect(row).toMatchObject({ number: 'P-9', partCount: 2, partsKg: 8, projectedKg: 9, residualKg: 1 });
    expect(row).toMatchObject({ expectedKg: 8, netKg: 9, flag: 'drifting heavy', marginEffectKg: -1 });
    // 9 x 1.6 - (4 x 1 + 4 x 2)
    expect(row?.residualMomentXKgM).toBeCloseTo(2.4, 9);
    // With the residual (14.4 + 20)/13, without it (12 + 20)/12.
    expect(row?.cgEffectM).toBeCloseTo(34.4 / 13 - 32 / 12, 12);
  });

  it('[W7] in line with its parts it is no finding, and a moved datum changes its moment and nothing else', () => {
    expect(assemblyDrifts(weighed(8).fold())[0]).toMatchObject({ flag: 'in line', residualKg: 0 });
    const chain = weighed(9);
    const [before] = assemblyDrifts(chain.fold());
    chain.record(datumOf(0.5));
    const [after] = assemblyDrifts(chain.fold());
    expect(after?.residualMomentXKgM).toBeCloseTo(2.4 - 0.5, 9);
    expect(after?.cgEffectM).toBeCloseTo(before?.cgEffectM ?? 0, 12);
  });
});

describe('what a finding carries', () => {
  it('[D2] an arm that was measured adds m dx/M to the effect on the CG', () => {
    const chain = begun(2);
    chain.record(weighingOf(1, 5));
    chain.record(armOf(1, { xM: 1.2 }));
    const [drift] = allPartDrifts(chain.fold());
    // 5 kg moved by 0.2 m in 9 kg.
    expect(drift?.armEffectM).toBeCloseTo((5 * 0.2) / 9, 12);
    // The kilogram more at 1.2 m: with it (6 + 8)/9, without it (4.8 + 8)/8.
    expect(drift?.cgEffectM).toBeCloseTo(14 / 9 - 12.8 / 8 + 1 / 9, 12);
  });

  it('[D2] an arm as it was estimated adds nothing, whatever the datum', () => {
    const chain = begun(2);
    chain.record(weighingOf(1, 5));
    chain.record(datumOf(0.3));
    expect(allPartDrifts(chain.fold())[0]?.armEffectM).toBe(0);
    chain.record(estimateOf(1, { xM: 0.7 }));
    expect(allPartDrifts(chain.fold())[0]?.armEffectM).toBe(0);
  });

  it('[W11] the last decision after the weighing stands on it, with who made it; a later weighing opens the question again', () => {
    const chain = begun(1);
    chain.record(dispositionOf(1, 'accepted'), { on: '2026-04-01' });
    chain.record(weighingOf(1, 5));
    expect(driftReport(chain.fold())[0]?.disposition).toBeUndefined();
    chain.record(dispositionOf(1, 'to be reworked'), { by: 'Bea' });
    expect(driftReport(chain.fold())[0]).toMatchObject({ disposition: 'to be reworked', decidedBy: 'Bea' });
    chain.record(weighingOf(1, 4.9));
    expect(driftReport(chain.fold())[0]?.disposition).toBeUndefined();
  });

  it('[W12] a scale in doubt is named on the finding', () => {
    const chain = begun(1);
    chain.record(scaleOf('bench', { dueOn: '2026-04-01' }));
    const check = chain.record(checkOf('Bench', 10));
    chain.record(weighingOf(1, 5, { scale: 'bench' }));
    expect(driftReport(chain.fold())[0]?.marks).toEqual([{ mark: 'calibration out of date', dueOn: '2026-04-01' }]);
    const failed = chain.record(checkOf('bench', 10.5));
    expect(driftReport(chain.fold())[0]?.marks).toContainEqual({
      mark: 'check weight failed',
      checkSeq: failed.seq,
      checkedOn: failed.entry.happenedOn,
    });
    expect(failed.seq).toBeGreaterThan(check.seq);
  });

  it('[D1] the calibration of its scale is part of what a weighing can tell', () => {
    const chain = begun(1);
    chain.record(weighingOf(1, 4.3, { scale: 'bench' }));
    expect(driftReport(chain.fold())[0]?.flag).toBe('drifting heavy');
    chain.record(scaleOf('bench', { gainStd: 0.04 }));
    // 0.3 kg is within twice 0.04 x 4.3 kg.
    expect(driftReport(chain.fold())[0]?.flag).toBe('watch heavy');
  });

  it('[D3] all findings come together', () => {
    const chain = begun(2);
    chain.record(targetsOf(7, { cgForwardM: 2, cgAftM: 3, groups: [{ group: 'wing', massKg: 1 }] }));
    chain.record(weighingOf(1, 5));
    const { parts, groups, cg, assemblies, manySmall: small } = findingsReport(chain.fold());
    expect([parts.length, groups.length, cg?.level, assemblies.length, small.length]).toEqual([1, 1, 'drifting', 0, 0]);
  });
});
