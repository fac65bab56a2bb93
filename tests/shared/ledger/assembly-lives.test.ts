/** Weighed assemblies that are withdrawn, built anew, nested or taken apart (rules W7, R1, R3, L7), with figures worked out by hand. */
import { describe, expect, it } from 'vitest';
import type { Ledger } from '#shared/ledger/fold.ts';
import { historyByDay } from '#shared/ledger/history.ts';
import { breakdownOf } from '#shared/rollup/breakdown.ts';
import { headlineOf } from '#shared/rollup/headline.ts';
import { partsReport } from '#shared/rollup/parts-report.ts';
import {
  armOf,
  assemblyOf,
  Chain,
  dispositionOf,
  estimateOf,
  installedOf,
  partIdOf,
  partOf,
  removedOf,
  weighingOf,
  withdrawnOf,
} from './make-entries.ts';

const [FIRST, SECOND, THIRD, FOURTH] = ['2026-05-02', '2026-05-03', '2026-05-04', '2026-05-05'].map((on) => ({ on }));

/** Fuselage 1 holds wing 2, which holds rib 3: 0, 4 and 2 kg by estimate. */
function nested(): Chain {
  const chain = new Chain();
  chain.record(partOf(1, { group: 'body' }));
  chain.record(partOf(2, { parentPartId: partIdOf(1) }));
  chain.record(partOf(3, { parentPartId: partIdOf(2), group: 'ribs' }));
  chain.record(estimateOf(2, { massKg: 4, growth: 0.1, xM: 1 }));
  chain.record(estimateOf(3, { massKg: 2, growth: 0.5, xM: 3 }));
  return chain;
}

function basicKg(chain: Chain): number {
  return headlineOf(chain.fold()).basicKg;
}

function allowanceKg(chain: Chain): number {
  return headlineOf(chain.fold()).allowanceKg;
}

describe('an assembly that is withdrawn', () => {
  it('[W7] a wing withdrawn from a weighed fuselage takes away what it was weighed at, not what it was estimated at', () => {
    const chain = nested();
    chain.record(assemblyOf(2, 10, [3]), FIRST);
    chain.record(assemblyOf(1, 30, [2, 3]), SECOND);
    expect(basicKg(chain)).toBe(30);
    chain.record(withdrawnOf(2, [1]), THIRD);
    // The wing without its rib weighed 8 kg; the estimate of the next one is 4 kg.
    expect(basicKg(chain)).toBe(26);
    expect(allowanceKg(chain)).toBeCloseTo(0.4, 12);
  });

  it('[W7] the next wing weighs in the fuselage what it weighs', () => {
    const chain = nested();
    chain.record(assemblyOf(2, 10, [3]), FIRST);
    chain.record(assemblyOf(1, 30, [2, 3]), SECOND);
    chain.record(withdrawnOf(2, [1]), THIRD);
    chain.record(assemblyOf(2, 12, [3]), FOURTH);
    expect(basicKg(chain)).toBe(32);
    expect(allowanceKg(chain)).toBe(0);
  });

  it('[W7] a wing removed from a weighed fuselage takes away what it was weighed at', () => {
    const chain = nested();
    chain.record(assemblyOf(2, 10, [3]), FIRST);
    chain.record(assemblyOf(1, 30, [2, 3]), SECOND);
    chain.record(removedOf(2), THIRD);
    expect(basicKg(chain)).toBe(22);
  });

  it('[W7] a withdrawal that is struck out puts the assembly weighed in its place again', () => {
    const chain = nested();
    chain.record(assemblyOf(2, 10, [3]), FIRST);
    chain.record(assemblyOf(1, 30, [2, 3]), SECOND);
    const before = chain.fold();
    const withdrawal = chain.record(withdrawnOf(2, [1]), THIRD);
    chain.record(assemblyOf(2, 12, [3]), FOURTH);
    chain.correct(withdrawal, undefined);
    // The later weighing of the same wing, of a rib and what is round it, leaves the fuselage as it was.
    expect(chain.fold().books.sums.residual.basic.massNg).toBe(before.books.sums.residual.basic.massNg);
    expect(basicKg(chain)).toBe(30);
  });

  it('[W11] a wing scrapped after its weighing ends the weighing, and its rib stands for itself', () => {
    const chain = nested();
    chain.record(assemblyOf(2, 10, [3]), FIRST);
    chain.record(dispositionOf(2, 'to be reworked'), SECOND);
    expect(basicKg(chain)).toBe(10);
    chain.record(dispositionOf(2, 'scrapped'), THIRD);
    expect(basicKg(chain)).toBe(6);
    expect(allowanceKg(chain)).toBeCloseTo(1.4, 12);
  });
});

describe('what is in an assembly', () => {
  it('[W7] an assembly is its first piece: another one counts by the estimate, and its withdrawal ends nothing', () => {
    const chain = new Chain();
    const wing = chain.record(partOf(2));
    chain.record(partOf(3, { parentPartId: partIdOf(2) }));
    chain.record(estimateOf(2, { massKg: 4 }));
    chain.record(assemblyOf(2, 10, [3]), FIRST);
    chain.correct(wing, partOf(2, { quantity: 2 }));
    expect(basicKg(chain)).toBe(14);
    chain.record(withdrawnOf(2, [2]), SECOND);
    expect(basicKg(chain)).toBe(14);
    chain.record(withdrawnOf(2, [1]), SECOND);
    expect(basicKg(chain)).toBe(8);
  });

  it('[W7] a rib that went from one weighed assembly to another counts once, and its allowance is done away with once', () => {
    const chain = nested();
    const [, , rib] = chain.entries;
    chain.record(partOf(4));
    chain.record(estimateOf(4, { massKg: 5 }));
    chain.record(assemblyOf(2, 10, [3]), FIRST);
    if (rib === undefined) throw new Error('a rib');
    chain.correct(rib, partOf(3, { parentPartId: partIdOf(4), group: 'ribs' }));
    chain.record(assemblyOf(4, 9, [3]), SECOND);
    const headline = headlineOf(chain.fold());
    expect([headline.basicKg, headline.allowanceKg, headline.weighedShare]).toEqual([17, 0, 1]);
    expect(headline.inStockKg).toBe(17);
  });

  it('[W7] of two assemblies that were each built into the other the one weighed later holds the other', () => {
    const chain = new Chain();
    const first = chain.record(partOf(1));
    const second = chain.record(partOf(2, { parentPartId: partIdOf(1) }));
    chain.record(estimateOf(1, { massKg: 3 }));
    chain.record(estimateOf(2, { massKg: 4 }));
    chain.record(assemblyOf(1, 10, [2]), FIRST);
    chain.correct(second, partOf(2));
    chain.correct(first, partOf(1, { parentPartId: partIdOf(2) }));
    chain.record(assemblyOf(2, 11, [1]), SECOND);
    expect(basicKg(chain)).toBe(11);
    chain.record(installedOf(1, [1]), THIRD);
    expect(headlineOf(chain.fold())).toMatchObject({ installedKg: 0, inStockKg: 11 });
    chain.record(installedOf(2, [1]), THIRD);
    expect(headlineOf(chain.fold())).toMatchObject({ installedKg: 11, inStockKg: 0 });
  });

  it('[W7] an assembly weighed on a day after its removal was on the scale nevertheless', () => {
    const chain = nested();
    chain.record(assemblyOf(1, 30, [2, 3]), FIRST);
    chain.record(assemblyOf(2, 10, [3]), FOURTH);
    chain.record(removedOf(2), SECOND);
    // Of 30 kg the wing without its rib takes 8 kg away.
    expect(basicKg(chain)).toBe(22);
  });

  it('[W7] what is still to come on a part without an arm lies where the assembly was measured', () => {
    const chain = new Chain();
    chain.record(partOf(1));
    chain.record(partOf(2, { parentPartId: partIdOf(1) }));
    chain.record(estimateOf(2, { massKg: 4, laterKg: 1 }));
    chain.record(assemblyOf(1, 9, [2], { condition: 'trimmed', xM: 2 }), FIRST);
    expect(headlineOf(chain.fold())).toMatchObject({ basicKg: 10, withoutArmKg: 0, cg: { xM: 2 } });
    chain.record(armOf(2, { xM: 7 }), SECOND);
    expect(headlineOf(chain.fold())).toMatchObject({ basicKg: 10, withoutArmKg: 0, cg: { xM: 2.5 } });
  });
});

describe('assemblies weighed without what is in their parts', () => {
  it('[W7] a part weighed afterwards is followed through every assembly above it', () => {
    const chain = new Chain();
    for (const number of [1, 2, 3, 4])
      chain.record(partOf(number, number === 1 ? {} : { parentPartId: partIdOf(number - 1) }));
    chain.record(estimateOf(4, { massKg: 2 }));
    // Each was weighed with the next below it, of which the part below that had been taken out.
    chain.record(assemblyOf(3, 5, [4]), FIRST);
    chain.record(assemblyOf(2, 10, [3]), SECOND);
    chain.record(assemblyOf(1, 30, [2]), THIRD);
    // 30 with 2 but not with 3, whose own 3 kg and whose part of 2 kg stand for themselves.
    expect(basicKg(chain)).toBe(35);
    chain.record(weighingOf(4, 3), FOURTH);
    expect(basicKg(chain)).toBe(35);
    expect(chain.fold().books.sums).toEqual(recordedAnew(chain).books.sums);
  });
});

/** The same entries with the last one first: the books are then opened in another order. */
function recordedAnew(chain: Chain): Ledger {
  const anew = new Chain();
  const [last, ...others] = [...chain.entries].reverse();
  const parts = others.reverse();
  for (const one of [...parts.slice(0, 4), ...(last === undefined ? [] : [last]), ...parts.slice(4)])
    anew.add(one.entry);
  return anew.fold();
}

describe('where it is told', () => {
  it('[R1] what was weighed in an assembly is weighed, and installed when the outermost one is', () => {
    const chain = nested();
    chain.record(assemblyOf(2, 10, [3]), FIRST);
    chain.record(assemblyOf(1, 30, [2, 3]), SECOND);
    chain.record(installedOf(2, [1]), SECOND);
    chain.record(installedOf(3, [1]), SECOND);
    expect(headlineOf(chain.fold())).toMatchObject({ weighedShare: 1, installedKg: 0, inStockKg: 30 });
    chain.record(installedOf(1, [1]), SECOND);
    expect(headlineOf(chain.fold())).toMatchObject({ installedKg: 30, inStockKg: 0 });
  });

  it('[R3] a part in a weighed assembly is weighed in its own row, and its allowance is gone from it', () => {
    const chain = nested();
    chain.record(assemblyOf(2, 10, [3]), FIRST);
    const rows = breakdownOf(chain.fold(), 'group').map(({ name, basicNg, predictedNg, weighedShare }) => [
      name,
      Number(basicNg) / 1e12,
      Number(predictedNg) / 1e12,
      weighedShare,
    ]);
    expect(rows).toEqual([
      ['body', 0, 0, undefined],
      ['wing', 8, 8, 1],
      ['ribs', 2, 2, 1],
    ]);
    expect(partsReport(chain.fold()).map(({ predictedKg }) => predictedKg)).toEqual([0, 8, 2]);
  });

  it('[L7] a part counts from the day on which an assembly with it stood on the scale', () => {
    const chain = new Chain();
    chain.record(partOf(1), FIRST);
    chain.record(partOf(2, { parentPartId: partIdOf(1) }), FOURTH);
    chain.record(estimateOf(2, { massKg: 4 }), FOURTH);
    chain.record(assemblyOf(1, 9, [2]), SECOND);
    chain.record(weighingOf(2, 5), FOURTH);
    const days = historyByDay(chain.fold()).map(({ day, basic }) => [day, Number(basic.massNg) / 1e12]);
    expect(days).toEqual([
      [FIRST?.on, 0],
      [SECOND?.on, 9],
      [FOURTH?.on, 9],
    ]);
  });
});
