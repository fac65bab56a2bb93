/**
 * Weighed assemblies by hand (rule W7). Part 1 is the assembly. In it are part 2, 4 kg at 1 m, and part 3, 6 kg at 2 m, with 10 % growth
 * each: 10 kg at 1.6 m and 1 kg of allowance.
 */
import { describe, expect, it } from 'vitest';
import type { StatementOf } from '#shared/ledger/entry.ts';
import { basicOf } from '#shared/ledger/fold.ts';
import { headlineOf } from '#shared/rollup/headline.ts';
import {
  assemblyOf,
  Chain,
  estimateOf,
  installedOf,
  partIdOf,
  partOf,
  removedOf,
  weighingOf,
  withdrawnOf,
} from './make-entries.ts';

type Later = Partial<Pick<StatementOf<'estimate'>, 'laterKg' | 'finishKg' | 'laterGrowth' | 'flashKg' | 'xM'>>;

function wing(second: Later = {}, third: Later = {}): Chain {
  const chain = new Chain();
  chain.record(partOf(1));
  chain.record(partOf(2, { parentPartId: partIdOf(1) }));
  chain.record(partOf(3, { parentPartId: partIdOf(1) }));
  chain.record(estimateOf(2, { massKg: 4, growth: 0.1, xM: 1, ...second }));
  chain.record(estimateOf(3, { massKg: 6, growth: 0.1, xM: 2, ...third }));
  return chain;
}

/** 0.5 kg goes on part 2 later, with 20 % allowance; 1 kg on part 3, 0.4 kg of it finish, with 50 %. */
function wingToFinish(): Chain {
  return wing({ laterKg: 0.5, laterGrowth: 0.2 }, { laterKg: 1, finishKg: 0.4, laterGrowth: 0.5 });
}

/** Basic and predicted mass in kilograms, and the CG of the basic mass in metres. */
function standing(chain: Chain) {
  const { basicKg, predictedKg, cgBasic } = headlineOf(chain.fold());
  return [basicKg, predictedKg, cgBasic.xM].map((figure) => figure && Number(figure.toFixed(12)));
}

const round = (figure: number) => Number(figure.toFixed(12));

function effects(chain: Chain) {
  const row = chain.fold().rows.at(-1);
  return row?.effects.map(({ cause, change }) => [cause, Number(change.massNg) / 1e12]);
}

describe('the whole', () => {
  it('[W7] a finished assembly weighs what the scale shows, at the CG of its parts, and keeps no allowance', () => {
    const chain = wing();
    expect(standing(chain)).toEqual([10, 11, 1.6]);
    chain.record(assemblyOf(1, 10.5, [2, 3]));
    expect(standing(chain)).toEqual([10.5, 10.5, 1.6]);
    expect(headlineOf(chain.fold())).toMatchObject({ weighedKg: 10.5, weighedShare: 1, inStockKg: 10.5 });
    expect(effects(chain)).toEqual([
      ['assembly residual', 0.5],
      ['allowance', -1],
    ]);
  });

  it('[W7] a measured arm is that of the whole, and each axis has its own', () => {
    const chain = wing();
    chain.record(assemblyOf(1, 10.5, [2, 3], { xM: 1.7, zM: 0.25 }));
    expect(standing(chain)).toEqual([10.5, 10.5, 1.7]);
    const { yM, zM } = headlineOf(chain.fold()).cg;
    expect(yM).toBeUndefined();
    expect(zM).toBeCloseTo(0.25, 12);
  });

  it('[W7] trimmed, what is still to come on its parts is added at their arms and keeps its allowance', () => {
    const chain = wingToFinish();
    chain.record(assemblyOf(1, 9, [2, 3], { condition: 'trimmed' }));
    // 9 + 0.5 + 1; allowance 20 % of 0.5 and 50 % of 1.
    expect(standing(chain)).toEqual([10.5, 11.1, 1.6]);
    chain.record(assemblyOf(1, 9, [2, 3], { condition: 'trimmed', xM: 1.7 }));
    // 9 x 1.7 + 0.5 x 1 + 1 x 2 = 17.8.
    expect(standing(chain)).toEqual([10.5, 11.1, round(17.8 / 10.5)]);
  });

  it('[W7] fitted, nothing but the finish is still to come', () => {
    const chain = wingToFinish();
    chain.record(assemblyOf(1, 10.1, [2, 3], { condition: 'fitted' }));
    // 10.1 + 0.4, and 50 % of 0.4.
    expect(standing(chain).slice(0, 2)).toEqual([10.5, 10.7]);
  });

  it('[W7] as released, its own flash comes off and its own later goes on; flash of its parts is long gone', () => {
    const chain = wingToFinish();
    chain.record(estimateOf(1, { massKg: 1, flashKg: 0.3, laterKg: 0.2, laterGrowth: 0.25, xM: 3 }));
    chain.record(estimateOf(2, { massKg: 4, flashKg: 0.7, laterKg: 0.5, laterGrowth: 0.2, xM: 1 }));
    chain.record(assemblyOf(1, 10, [2, 3], { condition: 'as released' }));
    // 10 - 0.3 + 0.2 + 0.5 + 1; allowance 25 % of 0.2, 20 % of 0.5, 50 % of 1. Parts: (1 x 3 + 4 x 1 + 6 x 2)/11.
    expect(standing(chain)).toEqual([11.4, 12.05, round(19 / 11)]);
    chain.record(assemblyOf(1, 0.2, [2, 3], { condition: 'as released' }));
    // Lighter than its flash is nothing, and not less: 0 + 1.7.
    expect(standing(chain).slice(0, 2)).toEqual([1.7, 2.35]);
  });

  it('[W7] what was not yet in it counts for itself', () => {
    const chain = wing();
    chain.record(assemblyOf(1, 4.4, [2]));
    // 4.4 at 1 m, and 6 kg at 2 m with 0.6 kg of allowance.
    expect(standing(chain)).toEqual([10.4, 11, round(16.4 / 10.4)]);
  });

  it('[W7] of a part of two pieces one may be in it', () => {
    const chain = new Chain();
    chain.record(partOf(1));
    chain.record(partOf(2, { parentPartId: partIdOf(1), quantity: 2 }));
    chain.record(estimateOf(2, { massKg: 3, growth: 0.1, xM: 2 }));
    chain.record(assemblyOf(1, 3.2, [], { members: [{ partId: partIdOf(2), pieces: [2] }] }));
    expect(standing(chain)).toEqual([6.2, 6.5, 2]);
  });

  it('[W7] it is where the assembly is, whatever was said of its parts', () => {
    const chain = wing();
    chain.record(installedOf(2, [1]));
    chain.record(assemblyOf(1, 10.5, [2, 3]));
    expect(headlineOf(chain.fold())).toMatchObject({ installedKg: 0, inStockKg: 10.5 });
    chain.record(installedOf(1, [1]));
    expect(headlineOf(chain.fold())).toMatchObject({ installedKg: 10.5, inStockKg: 0 });
  });
});

describe('arms', () => {
  it('[W7] parts without an arm are placed by the arm of the whole, and by nothing else', () => {
    const chain = wing({ xM: undefined }, { xM: undefined });
    chain.record(assemblyOf(1, 10.5, [2, 3]));
    expect(standing(chain)).toEqual([10.5, 10.5, undefined]);
    expect(headlineOf(chain.fold()).withoutArmKg).toBe(10.5);
    chain.record(assemblyOf(1, 10.5, [2, 3], { xM: 1.7 }));
    expect(standing(chain)).toEqual([10.5, 10.5, 1.7]);
    expect(headlineOf(chain.fold()).withoutArmKg).toBe(0);
  });

  it('[W7] without a measured arm the residual sits at the CG of the parts that have one', () => {
    const chain = wing({}, { xM: undefined });
    chain.record(assemblyOf(1, 10.5, [2, 3]));
    expect(standing(chain)).toEqual([10.5, 10.5, 1]);
    expect(headlineOf(chain.fold()).withoutArmKg).toBe(6);
  });

  it('[W7] a residual of nothing, of a nanogram or below zero divides nothing', () => {
    for (const [netKg, xM] of [
      [10, 1.6],
      [10.000000000001, 1.6],
      [9.999999999999, 1.6],
      [9.5, 1.6],
    ] as const) {
      const chain = wing();
      chain.record(assemblyOf(1, netKg, [2, 3]));
      expect(basicOf(chain.fold()).massNg).toBe(BigInt(Math.round(netKg * 1e12)));
      expect(headlineOf(chain.fold()).cgBasic.xM).toBeCloseTo(xM, 11);
      chain.record(assemblyOf(1, netKg, [2, 3], { xM: 1.7 }));
      expect(headlineOf(chain.fold()).cgBasic.xM).toBeCloseTo(1.7, 11);
    }
  });
});

describe('afterwards', () => {
  it('[W7] a part that is weighed afterwards changes the residual and not the total', () => {
    const chain = wing();
    chain.record(assemblyOf(1, 10.5, [2, 3], { xM: 1.7 }));
    chain.record(weighingOf(2, 4.3));
    expect(effects(chain)).toEqual([
      ['weighed against estimate', 0.3],
      ['assembly residual', -0.3],
    ]);
    expect(standing(chain)).toEqual([10.5, 10.5, 1.7]);
  });

  it('[W7] without a measured arm, a part weighed afterwards moves the CG of the parts', () => {
    const chain = wing();
    chain.record(assemblyOf(1, 10.5, [2, 3]));
    chain.record(weighingOf(2, 4.3));
    expect(standing(chain)).toEqual([10.5, 10.5, round(16.3 / 10.3)]);
  });

  it('[W7] what was still to come then is judged by what was known then, its allowance by what is known now', () => {
    const after = wingToFinish();
    after.record(assemblyOf(1, 9, [2, 3], { condition: 'trimmed' }), { on: '2026-05-04' });
    after.record(weighingOf(2, 4.2), { on: '2026-05-05' });
    // 9 + 0.5 + 1 as before; of the allowance only 50 % of the 1 kg is left.
    expect(standing(after).slice(0, 2)).toEqual([10.5, 11]);
    const before = wingToFinish();
    before.record(weighingOf(2, 4.2), { on: '2026-05-03' });
    before.record(assemblyOf(1, 9, [2, 3], { condition: 'trimmed' }), { on: '2026-05-04' });
    // Part 2 was finished when it stood in it: 9 + 0 + 1.
    expect(standing(before).slice(0, 2)).toEqual([10, 10.5]);
  });

  it('[W7] an assembly in it that is weighed itself brings its residual, whichever was weighed first', () => {
    const flapFirst = [
      [4, 3.3, [5, 6]],
      [1, 7.5, [2, 4, 5, 6]],
    ] as const;
    for (const weighings of [flapFirst, [...flapFirst].reverse()]) {
      const chain = new Chain();
      chain.record(partOf(1));
      for (const [number, parent, massKg, xM] of [
        [2, 1, 4, 1],
        [4, 1, 0, 0],
        [5, 4, 2, 3],
        [6, 4, 1, 4],
      ] as const) {
        chain.record(partOf(number, { parentPartId: partIdOf(parent) }));
        if (massKg > 0) chain.record(estimateOf(number, { massKg, xM }));
      }
      for (const [number, netKg, members] of weighings) chain.record(assemblyOf(number, netKg, members));
      // The flap is 3.3 kg at (2 x 3 + 1 x 4)/3; with the spar (4 x 1 + 3.3 x 10/3)/7.3 = 15/7.3.
      expect(standing(chain)).toEqual([7.5, 7.5, round(15 / 7.3)]);
      const outer = chain.entries.find(({ entry }) => entry.kind === 'assembly weighing' && entry.netKg === 7.5);
      if (outer === undefined) throw new Error('the wing');
      chain.correct(outer, undefined);
      expect(standing(chain)).toEqual([7.3, 7.3, round(15 / 7.3)]);
    }
  });

  it('[W7] a piece withdrawn takes what it counted for along, and the new one counts for itself', () => {
    const chain = wing();
    chain.record(weighingOf(2, 4.3), { on: '2026-05-02' });
    chain.record(assemblyOf(1, 10.5, [2, 3]), { on: '2026-05-04' });
    chain.record(withdrawnOf(2, [1]), { on: '2026-05-06' });
    // 10.5 - 4.3 + 4, and 10 % of the 4.
    expect(standing(chain).slice(0, 2)).toEqual([10.2, 10.6]);
    chain.record(weighingOf(2, 4.1), { on: '2026-05-07' });
    expect(standing(chain).slice(0, 2)).toEqual([10.3, 10.3]);
  });

  it('[W7] a piece withdrawn before then is not in it, the one after it is', () => {
    const chain = wing();
    chain.record(weighingOf(2, 4.3), { on: '2026-05-02' });
    chain.record(withdrawnOf(2, [1]), { on: '2026-05-03' });
    chain.record(assemblyOf(1, 10.5, [2, 3]), { on: '2026-05-04' });
    chain.record(weighingOf(2, 4.1), { on: '2026-05-05' });
    expect(standing(chain).slice(0, 2)).toEqual([10.5, 10.5]);
  });

  it('[W7] a part removed afterwards takes its mass along; one removed before then was not in it', () => {
    const after = wing();
    after.record(assemblyOf(1, 10.5, [2, 3]), { on: '2026-05-04' });
    after.record(removedOf(3), { on: '2026-05-06' });
    expect(standing(after).slice(0, 2)).toEqual([4.5, 4.5]);
    const before = wing();
    before.record(assemblyOf(1, 4.5, [2, 3]), { on: '2026-05-04' });
    before.record(removedOf(3), { on: '2026-05-02' });
    expect(standing(before).slice(0, 2)).toEqual([4.5, 4.5]);
  });

  it('[W7] an assembly withdrawn leaves its parts to stand for themselves', () => {
    const chain = wing();
    chain.record(assemblyOf(1, 10.5, [2, 3]));
    chain.record(withdrawnOf(1, [1]));
    expect(standing(chain)).toEqual([10, 11, 1.6]);
    expect(effects(chain)).toEqual([['piece withdrawn', 0.5]]);
  });

  it('[W9] of two weighings of an assembly the later condition counts, then the later day', () => {
    const chain = wing();
    chain.record(assemblyOf(1, 10.5, [2, 3]), { on: '2026-05-04' });
    chain.record(assemblyOf(1, 9.9, [2, 3], { condition: 'trimmed' }), { on: '2026-05-09' });
    expect(standing(chain).slice(0, 2)).toEqual([10.5, 10.5]);
    chain.record(assemblyOf(1, 10.3, [2, 3]), { on: '2026-05-03' });
    expect(standing(chain).slice(0, 2)).toEqual([10.5, 10.5]);
    chain.record(assemblyOf(1, 10.4, [2, 3]), { on: '2026-05-05' });
    expect(standing(chain).slice(0, 2)).toEqual([10.4, 10.4]);
  });
});
