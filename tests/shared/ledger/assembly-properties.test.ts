/** What must not matter to a weighed assembly does not, and what does matters by exactly as much as it should (rules W7, L8, L2, R1). */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Condition, RecordedEntry, Statement } from '#shared/ledger/entry.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import { EMPTY_TALLY, type MomentNgNm, subtractTally, type Tally } from '#shared/quantity/exact.ts';
import { headlineOf } from '#shared/rollup/headline.ts';
import {
  assemblyOf,
  Chain,
  datumOf,
  estimateOf,
  installedOf,
  partIdOf,
  partOf,
  weighingOf,
  withdrawnOf,
} from './make-entries.ts';
import { chainFrom, randomSteps } from './random-chain.ts';

const SEED = 20_260_101;
const RUNS = 150;

/** The aircraft's assembly, the one in it, and the number of the first part in the inner one. */
const [OUTER, INNER, FIRST] = [1, 2, 3];

const condition = fc.constantFrom<Condition>('as released', 'trimmed', 'fitted', 'finished');

const child = fc.record({
  quantity: fc.integer({ min: 1, max: 3 }),
  massG: fc.integer({ min: 400, max: 9_000 }),
  laterG: fc.integer({ min: 0, max: 300 }),
  netG: fc.integer({ min: 400, max: 9_000 }),
  stationMm: fc.option(fc.integer({ min: -2_000, max: 9_000 })),
  growth: fc.integer({ min: 0, max: 40 }),
  isWeighed: fc.boolean(),
  isInOuter: fc.boolean(),
  condition,
  day: fc.integer({ min: 1, max: 9 }),
});

const assembly = fc.record({
  children: fc.array(child, { minLength: 1, maxLength: 6 }),
  netG: fc.tuple(fc.integer({ min: 5_000, max: 90_000 }), fc.integer({ min: 5_000, max: 90_000 })),
  condition,
  stationMm: fc.integer({ min: -2_000, max: 9_000 }),
  isInnerWeighed: fc.boolean(),
});
type Assembly = typeof assembly extends fc.Arbitrary<infer T> ? T : never;

type Said = { readonly statement: Statement; readonly on: string };

function day(number: number): { readonly on: string } {
  return { on: `2026-05-${String(number).padStart(2, '0')}` };
}

function partsOf({ children }: Assembly): Statement[] {
  return [
    partOf(OUTER),
    partOf(INNER, { parentPartId: partIdOf(OUTER) }),
    ...children.map(({ quantity, isInOuter }, at) =>
      partOf(FIRST + at, { quantity, parentPartId: partIdOf(isInOuter ? OUTER : INNER) }),
    ),
  ];
}

function estimatesAndWeighings({ children }: Assembly): Said[] {
  return children.flatMap((one, at): Said[] => {
    const estimate = estimateOf(FIRST + at, {
      massKg: one.massG / 1000,
      laterKg: one.laterG / 1000,
      finishKg: one.laterG / 2000,
      flashKg: one.laterG / 4000,
      growth: one.growth / 100,
      laterGrowth: 0.2,
      ...(one.stationMm === null ? {} : { xM: one.stationMm / 1000, yM: one.stationMm / 7000 }),
    });
    const weighing = weighingOf(FIRST + at, one.netG / 1000, { condition: one.condition });
    return [{ statement: estimate, ...day(1) }, ...(one.isWeighed ? [{ statement: weighing, ...day(one.day) }] : [])];
  });
}

/** The CG of the outer one is measured along x alone. */
function assemblyWeighings(one: Assembly, members = memberNumbers(one)): Said[] {
  const inner = one.children.flatMap(({ isInOuter }, at) => (isInOuter ? [] : [FIRST + at]));
  const [outerKg, innerKg] = [one.netG[0] / 1000, one.netG[1] / 1000];
  const outer = assemblyOf(OUTER, outerKg, members, { condition: one.condition, xM: one.stationMm / 1000 });
  const isWeighed = one.isInnerWeighed && inner.length > 0;
  return [
    ...(isWeighed ? [{ statement: assemblyOf(INNER, innerKg, inner), ...day(10) }] : []),
    { statement: outer, ...day(11) },
  ];
}

function memberNumbers({ children }: Assembly): number[] {
  return [INNER, ...children.map((_, at) => FIRST + at)];
}

function recorded(one: Assembly, said: readonly Said[]): Chain {
  const chain = new Chain();
  for (const statement of partsOf(one)) chain.record(statement, day(1));
  for (const { statement, on } of said) chain.record(statement, { on });
  return chain;
}

function weighed(one: Assembly): Chain {
  return recorded(one, [...estimatesAndWeighings(one), ...assemblyWeighings(one)]);
}

function check<Value>(values: fc.Arbitrary<Value>, holds: (value: Value) => void): void {
  fc.assert(fc.property(values, holds), { seed: SEED, numRuns: RUNS });
}

function totals(ledger: Ledger): { basic: Tally; predicted: Tally } {
  const row = ledger.rows.at(-1);
  return { basic: row?.basic ?? EMPTY_TALLY, predicted: row?.predicted ?? EMPTY_TALLY };
}

/** All that the headline says but for the number of the entry. */
function saidBy(ledger: Ledger) {
  const { seq: _, ...said } = headlineOf(ledger);
  return said;
}

test('[L8] parts and the assemblies weighed after them give the same totals in whatever order they are recorded', () => {
  const orders = assembly.chain((one) => {
    const said = [...estimatesAndWeighings(one), ...assemblyWeighings(one)];
    return fc.tuple(fc.constant(one), fc.constant(said), fc.shuffledSubarray(said, { minLength: said.length }));
  });
  check(orders, ([one, straight, shuffled]) => {
    const [a, b] = [recorded(one, straight).fold(), recorded(one, shuffled).fold()];
    expect(b.books.sums).toEqual(a.books.sums);
    expect(saidBy(b)).toEqual(saidBy(a));
  });
});

test('[L8] a datum moved aft by d makes a measured arm x - d, whether the assembly was weighed before or after', () => {
  check(fc.tuple(assembly, fc.integer({ min: -3_000, max: 3_000 }), fc.boolean()), ([one, shiftMm, isOuterWeighed]) => {
    // Without the outer one, whose arm is measured, the inner one's mass sits where that of its parts does.
    const onScale = assemblyWeighings(one).filter(({ on }) => isOuterWeighed || on === day(10).on);
    const said = [...estimatesAndWeighings(one), ...onScale];
    const [still, later, earlier] = [recorded(one, said), recorded(one, said), recorded(one, [])];
    later.record(datumOf(shiftMm / 1000));
    earlier.record(datumOf(shiftMm / 1000));
    const moved = said.map(({ statement, on }) => ({ statement: movedBy(statement, shiftMm), on }));
    for (const { statement, on } of moved) earlier.record(statement, { on });
    // All stations told from another datum that was the first one.
    const always = recorded(one, moved);
    const { basic, predicted } = totals(still.fold());
    const seen = (tally: Tally): Tally => {
      const momentNgNm = (tally.x.momentNgNm - tally.x.placedNg * BigInt(shiftMm) * 1_000_000n) as MomentNgNm;
      return { ...tally, x: { ...tally.x, momentNgNm } };
    };
    const shouldBe = { basic: seen(basic), predicted: seen(predicted) };
    expect(totals(later.fold())).toEqual(shouldBe);
    expect(totals(earlier.fold())).toEqual(shouldBe);
    expect(totals(always.fold())).toEqual(shouldBe);
  });
});

/** What is said about a station once the datum has moved. */
function movedBy(statement: Statement, shiftMm: number): Statement {
  if (!('xM' in statement) || statement.xM === undefined) return statement;
  return { ...statement, xM: (Math.round(statement.xM * 1000) - shiftMm) / 1000 } as Statement;
}

test('[L8] a part of zero mass that is named as in an assembly changes nothing', () => {
  check(fc.tuple(assembly, fc.integer({ min: -9_000, max: 9_000 })), ([one, stationMm]) => {
    const nothing = FIRST + one.children.length;
    const chain = recorded(one, estimatesAndWeighings(one));
    chain.record(partOf(nothing, { parentPartId: partIdOf(OUTER) }));
    chain.record(estimateOf(nothing, { massKg: 0, xM: stationMm / 1000, growth: 0.24 }));
    for (const { statement, on } of assemblyWeighings(one, [...memberNumbers(one), nothing]))
      chain.record(statement, { on });
    expect(chain.fold().books.sums).toEqual(weighed(one).fold().books.sums);
  });
});

test('[W7] a part weighed after its assembly leaves the mass, and the moment about which the assembly was measured', () => {
  check(fc.tuple(assembly, fc.nat(5), fc.integer({ min: 400, max: 9_000 }), condition), ([one, which, netG, as]) => {
    const chain = weighed(one);
    const before = totals(chain.fold()).basic;
    const allowanceBefore = totals(chain.fold()).predicted.massNg - before.massNg;
    chain.record(weighingOf(FIRST + (which % one.children.length), netG / 1000, { condition: as }), day(12));
    const after = totals(chain.fold());
    expect(after.basic.massNg).toBe(before.massNg);
    expect(after.basic.x).toEqual(before.x);
    // The later condition may tell that less is still to come, of which the allowance goes.
    expect(after.predicted.massNg - after.basic.massNg).toBeLessThanOrEqual(allowanceBefore);
  });
});

test('[L2] an assembly weighing that is struck out leaves the totals of before to the last bit', () => {
  check(assembly, (one) => {
    const before = recorded(one, estimatesAndWeighings(one));
    const chain = weighed(one);
    for (const root of weighingsOfAssemblies(chain)) chain.correct(root, undefined);
    expect(chain.fold().books.sums).toEqual(before.fold().books.sums);
    expect(saidBy(chain.fold())).toEqual(saidBy(before.fold()));
    expect(chain.fold().books.assemblies.books.size).toBe(0);
  });
});

function weighingsOfAssemblies(chain: Chain): RecordedEntry[] {
  return chain.entries.filter(({ entry }) => entry.kind === 'assembly weighing');
}

test('[L2] an assembly weighing that is struck out of any chain leaves the ledger that had never heard of it', () => {
  check(fc.tuple(randomSteps(25), fc.integer({ min: 1, max: 28 })), ([steps, on]) => {
    const [without, chain] = [chainFrom({ ...steps, isTree: true }), chainFrom({ ...steps, isTree: true })];
    const weighing = chain.record(assemblyOf(901, 70, [902, 903, 904], { xM: 2 }), day(on));
    chain.fold();
    chain.correct(weighing, undefined);
    expect(chain.fold().books.sums).toEqual(without.fold().books.sums);
    expect(saidBy(chain.fold())).toEqual(saidBy(without.fold()));
  });
});

test('[W7] a part that is ticked off the list of what was in a finished assembly adds exactly what it counts for', () => {
  check(fc.tuple(assembly, fc.nat(5)), ([drawn, which]) => {
    const one: Assembly = { ...drawn, condition: 'finished', isInnerWeighed: false };
    const chain = weighed(one);
    const number = FIRST + (which % one.children.length);
    const before = totals(chain.fold());
    const [root] = weighingsOfAssemblies(chain);
    const said = assemblyWeighings(
      one,
      memberNumbers(one).filter((member) => member !== number),
    ).at(-1);
    if (root === undefined || said === undefined) throw new Error('a weighing');
    chain.correct(root, said.statement);
    const ledger = chain.fold();
    const part = ledger.books.byPart.get(partIdOf(number))?.state;
    const change = subtractTally(totals(ledger).basic, before.basic);
    expect([change.massNg, change.x]).toEqual([part?.basic.massNg, part?.basic.x]);
    const allowance = subtractTally(totals(ledger).predicted, totals(ledger).basic);
    const allowanceBefore = subtractTally(before.predicted, before.basic);
    expect(subtractTally(allowance, allowanceBefore)).toEqual(part?.allowance);
  });
});

test('[R1] in an assembly a part is weighed, and built in when the assembly is and not by itself', () => {
  check(assembly, (one) => {
    const chain = weighed(one);
    const all = headlineOf(chain.fold());
    for (const [at, { quantity }] of one.children.entries())
      chain.record(
        installedOf(
          FIRST + at,
          Array.from({ length: quantity }, (_, piece) => piece + 1),
        ),
      );
    expect(saidBy(chain.fold())).toEqual({ ...saidBy(chain.fold()), installedKg: 0, inStockKg: all.basicKg });
    expect(all.weighedShare).toBe(1);
    chain.record(installedOf(OUTER, [1]));
    expect(headlineOf(chain.fold())).toMatchObject({ installedKg: all.basicKg, inStockKg: 0 });
  });
});

test('[W7] an assembly that is withdrawn leaves its parts as if it had never been weighed, and its own next piece', () => {
  check(assembly, (drawn) => {
    const one: Assembly = { ...drawn, isInnerWeighed: false };
    const chain = weighed(one);
    chain.record(withdrawnOf(OUTER, [1]), day(12));
    const without = recorded(one, estimatesAndWeighings(one)).fold();
    expect(chain.fold().books.sums).toEqual(without.books.sums);
    expect(saidBy(chain.fold())).toEqual(saidBy(without));
  });
});
