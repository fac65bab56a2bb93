/** A signed weighing of the whole aircraft is the basis of its ledger (rules R1, A4). */
import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import { forecastByDay } from '#shared/forecast/history.ts';
import { forecastReport } from '#shared/forecast/report.ts';
import type { PartId, RecordedEntry, StatementOf } from '#shared/ledger/entry.ts';
import { applyEntry, foldEntries, type Ledger, openLedger, predictedOf } from '#shared/ledger/fold.ts';
import { historyByDay } from '#shared/ledger/history.ts';
import { type LengthNm, seenFrom, toKgM } from '#shared/quantity/exact.ts';
import { BEYOND_PARTS, breakdownOf } from '#shared/rollup/breakdown.ts';
import { bridgeReport } from '#shared/rollup/bridge.ts';
import { partsReport } from '#shared/rollup/parts-report.ts';
import { headlineReport } from '#shared/rollup/report.ts';
import { settledShifts } from '#shared/rollup/running.ts';
import { whereReport } from '#shared/rollup/where.ts';
import { shiftsIn } from '#shared/uncertainty/ledger-shifts.ts';
import { cgStdM, massStdKg, sumShifts } from '#shared/uncertainty/shift.ts';
import {
  assemblyOf,
  Chain,
  datumOf,
  estimateOf,
  installedOf,
  partIdOf,
  partOf,
  removedOf,
  uuidOf,
  weighingOf,
  wholeOf,
  withdrawnOf,
} from './make-entries.ts';
import { chainFrom, randomSteps } from './random-chain.ts';

const SEED = Number(process.env['SEED'] ?? 20_260_101);
const RUNS = Number(process.env['RUNS'] ?? 100);
const BEFORE = { on: '2026-05-03' };
const WEIGHED = { on: '2026-05-20' };
const AFTER = { on: '2026-05-25' };

/** Two parts, 10 kg at 1 m and 5 kg at 3 m, a tenth of allowance on each: 16.5 kg are predicted. */
function twoParts(): Chain {
  const chain = new Chain();
  chain.record(partOf(1), BEFORE);
  chain.record(estimateOf(1, { massKg: 10, growth: 0.1, xM: 1, yM: 0.5 }), BEFORE);
  chain.record(partOf(2, { quantity: 2 }), BEFORE);
  chain.record(estimateOf(2, { massKg: 2.5, growth: 0.1, xM: 3, yM: 0 }), BEFORE);
  return chain;
}

function standing(chain: Chain) {
  const { predictedKg, allowanceKg, cg, weighedShare } = headlineReport(chain.fold());
  return { predictedKg, allowanceKg, xM: cg.xM, weighedShare };
}

function effectsOf(chain: Chain): Record<string, number> {
  const effects = chain.fold().rows.at(-1)?.effects ?? [];
  return Object.fromEntries(effects.map(({ cause, change }) => [cause, Number(change.massNg) / 1e12]));
}

const near = (value: number) => expect.closeTo(value, 12);

describe('once it is signed', () => {
  it('[A4] the aircraft weighs what its scales found, and nothing that was aboard has an allowance', () => {
    const chain = twoParts();
    expect(standing(chain)).toMatchObject({ predictedKg: 16.5, allowanceKg: 1.5 });
    chain.record(wholeOf(16, 1.8), WEIGHED);
    expect(standing(chain)).toEqual({ predictedKg: 16, allowanceKg: 0, xM: 1.8, weighedShare: 1 });
    expect(effectsOf(chain)).toEqual({ 'aircraft weighed': 1, allowance: -1.5 });
    expect(headlineReport(chain.fold())).toMatchObject({ installedKg: 16, inStockKg: 0, assumedStdCount: 0 });
  });

  it('[A4] an axis on which no CG was found keeps the CG of the parts', () => {
    const chain = twoParts();
    const before = headlineReport(chain.fold()).cgBasic;
    chain.record(wholeOf(16, 1.8), WEIGHED);
    expect(headlineReport(chain.fold()).cg.yM).toBeCloseTo(before.yM ?? Number.NaN, 8);
    chain.record(wholeOf(16, 1.8, { yM: -0.01, yStdM: 0.001 }), { on: '2026-05-21' });
    expect(headlineReport(chain.fold()).cg).toMatchObject({ yM: -0.01, yStdM: 0.001 });
  });

  it('[A4] what happened later is a change to it', () => {
    const chain = twoParts();
    chain.record(wholeOf(16, 1.8), WEIGHED);
    chain.record(partOf(3), AFTER);
    chain.record(estimateOf(3, { massKg: 2, growth: 0.2, xM: 4 }), AFTER);
    expect(standing(chain)).toMatchObject({ predictedKg: 18.4, xM: near((16 * 1.8 + 2.4 * 4) / 18.4) });
    chain.record(removedOf(1), AFTER);
    expect(standing(chain)).toMatchObject({ predictedKg: 8.4, xM: near((16 * 1.8 + 2.4 * 4 - 10) / 8.4) });
    chain.record(weighingOf(3, 2.2), AFTER);
    expect(standing(chain).predictedKg).toBeCloseTo(8.2, 12);
    chain.record(weighingOf(2, 5.2, { pieces: [1, 2] }), AFTER);
    expect(effectsOf(chain)).toEqual({ 'weighed against estimate': 0.2 });
    chain.record(estimateOf(2, { massKg: 2.7, growth: 0.1, xM: 3, yM: 0 }), { on: '2026-05-26' });
    expect(effectsOf(chain)).toEqual({});
  });

  it('[A4] an article that was aboard and is withdrawn goes, and the one that is to come counts as estimated', () => {
    const chain = twoParts();
    chain.record(weighingOf(2, 2.6, { pieces: [1] }), BEFORE);
    chain.record(wholeOf(16, 1.8), WEIGHED);
    chain.record(withdrawnOf(2, [1]), AFTER);
    expect(standing(chain).predictedKg).toBeCloseTo(16 - 2.6 + 2.5 * 1.1, 12);
    expect(effectsOf(chain)).toEqual({ 'piece withdrawn': expect.closeTo(-2.6 + 2.75, 12) });
  });

  it('[A4] what was not aboard goes on counting by itself, and so does what is in it', () => {
    const chain = twoParts();
    chain.record(partOf(3, { parentPartId: partIdOf(1) }), BEFORE);
    chain.record(estimateOf(3, { massKg: 1, growth: 0.3, xM: 1 }), BEFORE);
    const missing = [{ partId: partIdOf(1) }, { partId: partIdOf(2), pieces: [2] }];
    chain.record(wholeOf(2.7, 3.1, { missing }), WEIGHED);
    expect(standing(chain).predictedKg).toBeCloseTo(2.7 + 11 + 1.3 + 2.75, 12);
    expect(standing(chain).allowanceKg).toBeCloseTo(1 + 0.3 + 0.25, 12);
    expect(headlineReport(chain.fold()).installedKg).toBeCloseTo(2.7, 12);
    // It comes to the aircraft later, by its own scale.
    chain.record(weighingOf(1, 10.4), AFTER);
    expect(standing(chain).predictedKg).toBeCloseTo(2.7 + 10.4 + 1.3 + 2.75, 12);
  });

  it('[A4] a weighing of an earlier day that is recorded late moves mass from what the scales found to the part', () => {
    const chain = twoParts();
    chain.record(wholeOf(16, 1.8), WEIGHED);
    chain.record(weighingOf(1, 10.6), { on: '2026-05-19' });
    expect(standing(chain)).toMatchObject({ predictedKg: 16, xM: 1.8 });
    expect(effectsOf(chain)).toEqual({ 'weighed against estimate': 0.6, 'aircraft weighed': -0.6 });
    expect(breakdownOf(chain.fold(), 'group').find(({ name }) => name === BEYOND_PARTS)?.basicNg).toBe(
      400_000_000_000n,
    );
  });

  it('[A4] a list that is brought in afterwards and speaks of earlier days reshapes what the scales found', () => {
    const chain = twoParts();
    chain.record(wholeOf(16, 1.8), WEIGHED);
    chain.record(partOf(3), AFTER);
    chain.record(estimateOf(3, { massKg: 2, growth: 0.2, xM: 4 }), AFTER);
    chain.record(weighingOf(3, 2.1), { on: '2026-05-10' });
    expect(standing(chain)).toMatchObject({ predictedKg: 16, allowanceKg: 0, xM: 1.8 });
  });

  it('[A4] the last weighing of the aircraft counts; corrected it says something else, struck out it is gone', () => {
    const chain = twoParts();
    chain.record(wholeOf(16, 1.8), WEIGHED);
    const second = chain.record(wholeOf(15.8, 1.9), AFTER);
    expect(standing(chain)).toMatchObject({ predictedKg: 15.8, xM: 1.9 });
    chain.record(wholeOf(99, 1.9), { on: '2026-05-01' });
    expect(standing(chain)).toMatchObject({ predictedKg: 15.8, xM: 1.9 });
    const corrected = chain.correct(second, wholeOf(15.9, 1.9), AFTER);
    expect(standing(chain)).toMatchObject({ predictedKg: 15.9, xM: 1.9 });
    expect(effectsOf(chain)).toEqual({ 'aircraft weighed': expect.closeTo(0.1, 12) });
    chain.correct(corrected, undefined, AFTER);
    expect(standing(chain)).toMatchObject({ predictedKg: 16, xM: 1.8 });
  });

  it('[L8] the CG that the scales found moves with the datum', () => {
    const chain = twoParts();
    chain.record(wholeOf(16, 1.8), WEIGHED);
    const moved = chain.record(datumOf(0.3), AFTER);
    expect(standing(chain)).toMatchObject({ predictedKg: 16, xM: 1.5 });
    chain.correct(moved, datumOf(0.5), AFTER);
    expect(standing(chain)).toMatchObject({ predictedKg: 16, xM: 1.3 });
    const again = chain.record(datumOf(0.2), AFTER);
    chain.record(wholeOf(16, 1.1), AFTER);
    // It was told from the datum of its moment, wherever that turns out to have been.
    chain.correct(again, datumOf(0.4), AFTER);
    expect(standing(chain)).toMatchObject({ predictedKg: 16, xM: 1.1 });
  });

  it('[A4] what turns out to have been in a part that was missing, or not, is counted anew', () => {
    const chain = twoParts();
    chain.record(partOf(3), BEFORE);
    const inThird = chain.record(partOf(4, { parentPartId: partIdOf(3) }), BEFORE);
    chain.record(partOf(5, { parentPartId: partIdOf(4) }), BEFORE);
    chain.record(estimateOf(5, { massKg: 1, growth: 0.5, xM: 2 }), BEFORE);
    chain.record(wholeOf(16, 1.8, { missing: [{ partId: partIdOf(3) }] }), WEIGHED);
    expect(standing(chain).predictedKg).toBeCloseTo(17.5, 12);
    chain.correct(inThird, partOf(4), { ...AFTER, replacedOn: BEFORE.on });
    expect(standing(chain).predictedKg).toBeCloseTo(16, 12);
  });

  it('[A4] weighed assemblies that were aboard keep their residual, and their parts no allowance twice', () => {
    const chain = twoParts();
    chain.record(partOf(3), BEFORE);
    chain.record(partOf(4, { parentPartId: partIdOf(3) }), BEFORE);
    chain.record(estimateOf(4, { massKg: 4, growth: 0.25, laterKg: 1, laterGrowth: 0.1, xM: 2 }), BEFORE);
    chain.record(assemblyOf(3, 3.3, [4], { condition: 'trimmed' }), BEFORE);
    chain.record(wholeOf(21, 1.8), WEIGHED);
    expect(standing(chain)).toMatchObject({ predictedKg: 21, allowanceKg: 0, xM: 1.8 });
    // Weighed again in a later condition: 4.5 kg finished, where 4.3 were counted on.
    chain.record(assemblyOf(3, 4.5, [4], { condition: 'finished' }), AFTER);
    expect(standing(chain).predictedKg).toBeCloseTo(21.2, 12);
    expect(standing(chain).allowanceKg).toBe(0);
  });

  it('[R1] what was weighed and in stock is built in once it was aboard', () => {
    const chain = twoParts();
    chain.record(weighingOf(1, 10), BEFORE);
    chain.record(installedOf(2, [1]), BEFORE);
    expect(headlineReport(chain.fold())).toMatchObject({ installedKg: 2.5, inStockKg: 10, weighedKg: 10 });
    chain.record(partOf(3), BEFORE);
    chain.record(partOf(4, { parentPartId: partIdOf(3) }), BEFORE);
    chain.record(estimateOf(4, { massKg: 1, xM: 1 }), BEFORE);
    chain.record(assemblyOf(3, 1.5, [4]), BEFORE);
    expect(headlineReport(chain.fold())).toMatchObject({ installedKg: 2.5, inStockKg: 11.5, weighedKg: 11.5 });
    chain.record(wholeOf(15, 1.8), WEIGHED);
    expect(headlineReport(chain.fold())).toMatchObject({ installedKg: 15, inStockKg: 0, weighedKg: 15 });
  });

  it('[F3] nothing that was aboard is open any more: the forecast is what the aircraft weighed', () => {
    const chain = twoParts();
    chain.record(weighingOf(1, 11.5), BEFORE);
    expect(forecastReport(chain.fold()).forecastKg).not.toBe(17);
    chain.record(wholeOf(16, 1.8), WEIGHED);
    const { forecastKg, forecastStdKg, processes } = forecastReport(chain.fold());
    expect([forecastKg, forecastStdKg, processes]).toEqual([16, expect.closeTo(0.1, 9), []]);
    expect(forecastByDay(chain.fold()).at(-1)).toMatchObject({
      forecastKg: 16,
      forecastStdKg: expect.closeTo(0.1, 9),
      cgX: { atM: near(1.8), stdM: expect.closeTo(0.002, 9) },
    });
  });
});

describe('how sure it is', () => {
  it('[U2] nothing of what was aboard makes it less sure: no arm, no assembly, but for an axis that was not found', () => {
    const chain = twoParts();
    chain.record(estimateOf(1, { massKg: 10, xM: 1, yM: 0.5, armStdM: 0.2 }), BEFORE);
    chain.record(partOf(3), BEFORE);
    chain.record(partOf(4, { parentPartId: partIdOf(3) }), BEFORE);
    chain.record(estimateOf(4, { massKg: 4, massStdKg: 1, xM: 2 }), BEFORE);
    chain.record(assemblyOf(3, 4.4, [4], { condition: 'trimmed', grossResolutionKg: 1 }), BEFORE);
    const yStdM = headlineReport(chain.fold()).cg.yStdM ?? 0;
    expect(yStdM).toBeGreaterThan(0.05);
    chain.record(wholeOf(19.4, 1.8), WEIGHED);
    const { predictedStdKg, cg } = headlineReport(chain.fold());
    expect([predictedStdKg, cg.xStdM]).toEqual([expect.closeTo(0.1, 9), expect.closeTo(0.002, 9)]);
    expect(cg.yStdM).toBeCloseTo(yStdM, 2);
  });

  it('[U2] the aircraft is as sure as its scales, and what happened later adds to that', () => {
    const chain = twoParts();
    chain.record(wholeOf(16, 1.8), WEIGHED);
    const { predictedStdKg, cg } = headlineReport(chain.fold());
    expect([predictedStdKg, cg.xStdM]).toEqual([expect.closeTo(0.1, 9), expect.closeTo(0.002, 9)]);
    chain.record(partOf(3), AFTER);
    chain.record(estimateOf(3, { massKg: 2, massStdKg: 0.24, xM: 1.8 }), AFTER);
    expect(headlineReport(chain.fold()).predictedStdKg).toBeCloseTo(0.26, 9);
    // Taken off again by its estimate, a part takes away as unsure a mass as it was thought to be.
    chain.record(removedOf(1), AFTER);
    expect(headlineReport(chain.fold()).predictedStdKg).toBeCloseTo(Math.hypot(0.26, 0.3), 9);
  });
});

/** The entries with weighings of the whole aircraft among them, numbered anew. */
function withWeighings(
  entries: readonly RecordedEntry[],
  weighings: readonly { readonly at: number; readonly on: string; readonly said: StatementOf<'aircraft weighing'> }[],
): RecordedEntry[] {
  const all = entries.map(({ entry }) => entry);
  weighings.forEach(({ at, on, said }, index) => {
    all.splice(Math.min(at, all.length), 0, { ...said, id: uuidOf(index, 7) as never, happenedOn: on, by: 'Ann' });
  });
  return all.map((entry, at) => ({ seq: at + 1, recordedAt: '2026-06-30T12:00:00.000Z', entry }));
}

const drawnWeighing = fc.record({
  at: fc.nat(60),
  day: fc.integer({ min: 1, max: 31 }),
  massKg: fc.integer({ min: 1_000, max: 300_000 }).map((g) => g / 1000),
  xM: fc.integer({ min: -1000, max: 5000 }).map((mm) => mm / 1000),
  missing: fc.array(fc.nat(12), { maxLength: 3 }),
  hasY: fc.boolean(),
});
type Drawn = (typeof drawnWeighing)['generate'] extends (...args: never[]) => { value: infer Value } ? Value : never;

function wholeFrom(drawn: Drawn, entries: readonly RecordedEntry[]) {
  const { at, day, massKg, xM, missing, hasY } = drawn;
  const added = entries.flatMap(({ entry }) => (entry.kind === 'part added' ? [entry.partId] : []));
  const ids = new Set(missing.flatMap((which): PartId[] => added.slice(which % Math.max(1, added.length)).slice(0, 1)));
  const changes = {
    missing: [...ids].map((partId, index) => (index % 2 === 0 ? { partId } : { partId, pieces: [1] })),
    ...(hasY ? { yM: 0.1, yStdM: 0.01 } : {}),
  };
  return { at, on: `2026-05-${String(day).padStart(2, '0')}`, said: wholeOf(massKg, xM, changes) };
}

function figuresOf(ledger: Ledger) {
  return {
    headline: headlineReport(ledger),
    groups: breakdownOf(ledger, 'group'),
    parts: partsReport(ledger),
    forecast: forecastReport(ledger),
  };
}

test('[A4] over random chains the total is the weighing and what the parts have changed by since', () => {
  fc.assert(
    fc.property(randomSteps(40), drawnWeighing, ({ steps, isTree }, drawn) => {
      const { entries } = chainFrom({ steps, isTree });
      const { on, said } = wholeFrom({ ...drawn, missing: [] }, entries);
      const without = foldEntries(entries);
      const ledger = foldEntries(withWeighings(entries, [{ at: entries.length, on, said }]));
      const then = historyByDay(without).findLast(({ day }) => day <= on)?.basic;
      const { sums } = without.books;
      const nowNg = sums.basic.massNg + sums.residual.basic.massNg;
      const { sums: after } = ledger.books;
      const basicNg = after.basic.massNg + after.residual.basic.massNg + after.whole.basic.massNg;
      expect(basicNg).toBe(BigInt(Math.round(said.massKg * 1e12)) + nowNg - (then?.massNg ?? 0n));
      const momentNow = seenFrom(sums.basic, without.datumNm).x.momentNgNm + residualMoment(without);
      const momentAfter =
        seenFrom(after.basic, without.datumNm).x.momentNgNm + residualMoment(ledger) + wholeMoment(ledger);
      const found = BigInt(Math.round(said.massKg * 1e12)) * BigInt(Math.round(said.xM * 1e9));
      expect(momentAfter).toBe(found + momentNow - (then?.x.momentNgNm ?? 0n));
    }),
    { seed: SEED, numRuns: RUNS },
  );
});

function residualMoment({ books, datumNm }: Ledger): bigint {
  return seenFrom(books.sums.residual.basic, datumNm).x.momentNgNm;
}
function wholeMoment({ books, datumNm }: Ledger): bigint {
  return seenFrom(books.sums.whole.basic, datumNm).x.momentNgNm;
}

test('[A4] it does not matter when a weighing of a day of its own is recorded', () => {
  fc.assert(
    fc.property(randomSteps(40), drawnWeighing, ({ steps, isTree }, drawn) => {
      const { entries } = chainFrom({
        steps: steps.map((one) => ({ ...one, day: one.day === 14 ? 15 : one.day })),
        isTree,
      });
      const whole = { ...wholeFrom({ ...drawn, day: 14 }, entries), at: entries.length };
      const late = foldEntries(withWeighings(entries, [whole]));
      const { at } = drawn;
      // Its station is told from the datum of the moment at which it is recorded.
      const movedM = Number(late.datumNm - foldEntries(entries.slice(0, at)).datumNm) / 1e9;
      const said = { ...whole.said, xM: Math.round((whole.said.xM + movedM) * 1e9) / 1e9 };
      const isMoved = entries
        .slice(at)
        .some(({ entry }) => entry.kind === 'datum moved' || entry.kind === 'correction');
      if (isMoved && entries.some(({ entry }) => entry.kind === 'datum moved')) return;
      const early = foldEntries(withWeighings(entries, [{ ...whole, at, said }]));
      expect(predictedOf(early)).toEqual(predictedOf(late));
    }),
    { seed: SEED, numRuns: RUNS },
  );
});

test('[L6] figures carried on over random chains with weighed aircraft are those of a ledger read anew, to the last bit', () => {
  const weighings = fc.array(drawnWeighing, { minLength: 1, maxLength: 3 });
  fc.assert(
    fc.property(randomSteps(30), weighings, fc.nat(2), (drawn, several, corrected) => {
      const chain = chainFrom(drawn);
      const wholes = several.map((one) => wholeFrom(one, chain.entries));
      const entries = withWeighings(chain.entries, wholes);
      const last = entries.findLast(({ entry }) => entry.kind === 'aircraft weighing');
      const more = new Chain();
      more.entries.push(...entries);
      if (last !== undefined && corrected > 0)
        more.correct(last, corrected === 1 ? undefined : wholeOf(50, 1), {
          replacedOn: '2026-05-12',
          id: uuidOf(9, 8),
        });
      const ledger = openLedger();
      for (const [at, recorded] of more.entries.entries()) {
        applyEntry(ledger, recorded);
        if (at % 4 === 0 || at === more.entries.length - 1)
          expect(figuresOf(ledger)).toEqual(figuresOf(foldEntries(more.entries.slice(0, at + 1))));
      }
    }),
    { seed: SEED, numRuns: RUNS },
  );
});

test('[F4] the forecast of the last day is that of the ledger, where the aircraft was weighed', () => {
  fc.assert(
    fc.property(randomSteps(40), drawnWeighing, (drawnSteps, drawn) => {
      const { entries } = chainFrom(drawnSteps);
      const ledger = foldEntries(withWeighings(entries, [wholeFrom(drawn, entries)]));
      const last = forecastByDay(ledger).at(-1);
      const { forecastKg, forecastStdKg, cg } = forecastReport(ledger);
      expect(last?.forecastKg).toBeCloseTo(forecastKg, 9);
      expect(last?.forecastStdKg).toBeCloseTo(forecastStdKg, 6);
      if (forecastKg > 1 && cg.x !== undefined) expect(last?.cgX?.stdM).toBeCloseTo(cg.x.stdM, 6);
    }),
    { seed: SEED, numRuns: RUNS },
  );
});

test('[R3] rows, bridges, places and days add up to the aircraft where it was weighed', () => {
  fc.assert(
    fc.property(randomSteps(40), drawnWeighing, (drawnSteps, drawn) => {
      const { entries } = chainFrom(drawnSteps);
      const ledger = foldEntries(withWeighings(entries, [wholeFrom(drawn, entries)]));
      const predicted = predictedOf(ledger);
      for (const key of ['group', 'process', 'assembly'] as const)
        expect(breakdownOf(ledger, key).reduce((sum, { predictedNg }) => sum + predictedNg, 0n)).toBe(predicted.massNg);
      const last = historyByDay(ledger).at(-1);
      expect(last?.predicted ?? predicted).toEqual(predicted);
      for (const by of ['part', 'group'] as const)
        for (const axis of ['entry', 'day'] as const) {
          const { rows, from, to } = bridgeReport(ledger, { axis }, by);
          const sumKg = rows.reduce((sum, { massKg }) => sum + massKg, 0);
          expect(sumKg).toBeCloseTo(to.predictedKg - from.predictedKg, 6);
          const sumKgM = rows.reduce((sum, { momentXKgM }) => sum + momentXKgM, 0);
          if (ledger.datumNm === 0n) expect(sumKgM).toBeCloseTo(toKgM(predicted.x.momentNgNm), 6);
        }
      const { masses } = whereReport(ledger);
      expect(masses.reduce((sum, { massKg }) => sum + massKg, 0)).toBeCloseTo(Number(predicted.massNg) / 1e12, 6);
    }),
    { seed: SEED, numRuns: RUNS },
  );
});

test('[U2] the running uncertainty of a weighed aircraft is that of the plain sum', () => {
  fc.assert(
    fc.property(randomSteps(40), drawnWeighing, (drawnSteps, drawn) => {
      const { entries } = chainFrom(drawnSteps);
      const ledger = foldEntries(withWeighings(entries, [wholeFrom(drawn, entries)]));
      const present = [...ledger.books.byPart.values()].map(({ state }) => state);
      const counting = present.filter(({ definition, removed }) => definition !== undefined && removed === undefined);
      const shifts = sumShifts([...counting.map(shiftsIn(ledger)), settledShifts(ledger)]);
      const { predictedStdKg, cg } = headlineReport(ledger);
      expect(predictedStdKg).toBeCloseTo(massStdKg(shifts), 9);
      const predicted = seenFrom(predictedOf(ledger), -ledger.datumNm as LengthNm);
      if (Number(predicted.x.placedNg) < 1e12) return;
      const shouldBe = cgStdM(shifts, predicted, 'x');
      if (shouldBe !== undefined) expect(Math.abs((cg.xStdM ?? 0) - shouldBe)).toBeLessThan(1e-7 * (1 + shouldBe));
    }),
    { seed: SEED, numRuns: RUNS },
  );
});
