/** What must not matter does not: order, splitting, zero mass (rule L8), and the day tells which of two counts (W9). */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Statement } from '#shared/ledger/entry.ts';
import { AXES, addTally } from '#shared/quantity/exact.ts';
import { headlineOf } from '#shared/rollup/headline.ts';
import { Chain, datumOf, estimateOf, partIdOf, partOf, weighingOf } from './make-entries.ts';
import { chainFrom, randomSteps } from './random-chain.ts';

const SEED = 20_260_101;

const partFigures = fc.record({
  quantity: fc.integer({ min: 1, max: 4 }),
  massG: fc.integer({ min: 100, max: 90_000 }),
  netG: fc.integer({ min: 100, max: 90_000 }),
  stationMm: fc.integer({ min: -2_000, max: 9_000 }),
  growth: fc.integer({ min: 0, max: 50 }),
  isWeighed: fc.boolean(),
  day: fc.integer({ min: 1, max: 28 }),
});

/** A list of parts, and their estimates and weighings with an order in which to record them. */
const parts = fc
  .array(partFigures, { minLength: 1, maxLength: 12 })
  .chain((figures) =>
    fc.tuple(fc.constant(figures), fc.shuffledSubarray([...figures.keys()], { minLength: figures.length })),
  );

type Figures = typeof partFigures extends fc.Arbitrary<infer T> ? T : never;

function recordParts(chain: Chain, figures: readonly Figures[]): void {
  for (const [at, { quantity }] of figures.entries()) chain.record(partOf(at + 1, { quantity }));
}

function speakOf(at: number, one: Figures): { statement: Statement; on: string }[] {
  const on = `2026-05-${String(one.day).padStart(2, '0')}`;
  const pieces = Array.from({ length: one.quantity }, (_, piece) => piece + 1);
  const estimate = estimateOf(at + 1, { massKg: one.massG / 1000, xM: one.stationMm / 1000, growth: one.growth / 100 });
  const weighing = weighingOf(at + 1, one.netG / 1000, { pieces });
  return [{ statement: estimate, on }, ...(one.isWeighed ? [{ statement: weighing, on }] : [])];
}

test('[L8] estimates and weighings of different parts give the same totals in any order', () => {
  const anyOrder = fc.property(parts, fc.boolean(), ([figures, order], reversed) => {
    const straight = new Chain();
    recordParts(straight, figures);
    for (const [at, one] of figures.entries())
      for (const { statement, on } of speakOf(at, one)) straight.record(statement, { on });
    const shuffled = new Chain();
    recordParts(shuffled, figures);
    for (const at of order) {
      const [one] = figures.slice(at, at + 1);
      if (one === undefined) continue;
      const said = speakOf(at, one);
      for (const { statement, on } of reversed ? said.reverse() : said) shuffled.record(statement, { on });
    }
    const [a, b] = [straight.fold(), shuffled.fold()];
    expect(b.books.sums).toEqual(a.books.sums);
    const { seq: _a, ...saidA } = headlineOf(a);
    const { seq: _b, ...saidB } = headlineOf(b);
    expect(saidB).toEqual(saidA);
  });
  fc.assert(anyOrder, { seed: SEED, numRuns: 150 });
});

test('[L8] a part of zero mass changes nothing, wherever it stands', () => {
  const withNothing = fc.property(randomSteps(25), fc.integer({ min: -9_000, max: 9_000 }), (steps, stationMm) => {
    const chain = chainFrom(steps);
    const before = chain.fold();
    chain.record(partOf(9_999));
    chain.record(estimateOf(9_999, { massKg: 0, xM: stationMm / 1000, growth: 0.24 }));
    const after = chain.fold();
    expect(after.books.sums).toEqual(before.books.sums);
    expect(after.rows.slice(-2).flatMap((row) => row.effects)).toEqual([]);
    expect(headlineOf(after).cg).toEqual(headlineOf(before).cg);
  });
  fc.assert(withNothing, { seed: SEED, numRuns: 100 });
});

test('[L8] two moves of the datum are one move by their sum, and a move there and back is none', () => {
  const shift = fc.integer({ min: -3_000_000, max: 3_000_000 });
  const moved = fc.property(randomSteps(20), shift, shift, (steps, firstUm, secondUm) => {
    const [twice, once, back] = [chainFrom(steps), chainFrom(steps), chainFrom(steps)];
    const untouched = back.fold();
    twice.record(datumOf(firstUm / 1e6));
    twice.record(datumOf(secondUm / 1e6));
    once.record(datumOf((firstUm + secondUm) / 1e6));
    back.record(datumOf(firstUm / 1e6));
    back.record(datumOf(-firstUm / 1e6));
    expect(twice.fold().rows.at(-1)?.predicted).toEqual(once.fold().rows.at(-1)?.predicted);
    expect(back.fold().books.sums).toEqual(untouched.books.sums);
    expect(headlineOf(back.fold()).cg).toEqual(headlineOf(untouched).cg);
  });
  fc.assert(moved, { seed: SEED, numRuns: 80 });
});

test('[L8] a wrong datum move that is corrected leaves the ledger as if it had been right', () => {
  const shift = fc.integer({ min: -3_000, max: 3_000 });
  const figure = fc.property(parts, shift, shift, ([figures], wrongMm, rightMm) => {
    fc.pre(wrongMm !== rightMm);
    const said = figures.flatMap((one, at) => speakOf(at, one));
    const [wrong, right] = [new Chain(), new Chain()];
    for (const chain of [wrong, right]) recordParts(chain, figures);
    const move = wrong.record(datumOf(wrongMm / 1000));
    right.record(datumOf(rightMm / 1000));
    for (const chain of [wrong, right]) for (const { statement, on } of said) chain.record(statement, { on });
    wrong.correct(move, datumOf(rightMm / 1000));
    expect(wrong.fold().books.sums).toEqual(right.fold().books.sums);
    expect(wrong.fold().rows.at(-1)?.predicted).toEqual(right.fold().rows.at(-1)?.predicted);
  });
  fc.assert(figure, { seed: SEED, numRuns: 80 });
});

test('[W1] a lot weighed together has the mass of its pieces weighed one by one', () => {
  const lots = fc.property(
    fc.array(fc.integer({ min: 100, max: 9_000 }), { minLength: 1, maxLength: 6 }),
    (gramsEach) => {
      const quantity = gramsEach.length;
      const [together, alone] = [new Chain(), new Chain()];
      for (const chain of [together, alone]) {
        chain.record(partOf(1, { quantity }));
        chain.record(estimateOf(1, { massKg: 3, xM: 2 }));
      }
      const pieces = gramsEach.map((_, at) => at + 1);
      const totalG = gramsEach.reduce((sum, grams) => sum + grams, 0);
      together.record(weighingOf(1, totalG / 1000, { pieces }));
      for (const [at, grams] of gramsEach.entries()) alone.record(weighingOf(1, grams / 1000, { pieces: [at + 1] }));
      const [a, b] = [headlineOf(together.fold()), headlineOf(alone.fold())];
      // Each piece of a lot is taken to the nearest nanogram.
      expect(Math.abs(a.predictedKg - b.predictedKg)).toBeLessThanOrEqual(quantity * 1e-12);
      expect([a.weighedShare, b.weighedShare]).toEqual([1, 1]);
    },
  );
  fc.assert(lots, { seed: SEED, numRuns: 80 });
});

test('[L2] striking out the last entry takes the totals back to what they were before it', () => {
  const struck = fc.property(randomSteps(25), (steps) => {
    const chain = chainFrom(steps);
    const last = chain.entries.at(-1);
    if (last === undefined || last.entry.kind === 'correction') return;
    const before = chain.fold(last.seq - 1);
    chain.correct(last, undefined);
    const after = chain.fold();
    expect(after.books.sums).toEqual(before.books.sums);
    expect(after.datumNm).toBe(before.datumNm);
    const row = after.rows.at(-1);
    expect(row?.marginNg).toBe(before.rows.at(-1)?.marginNg);
    expect(row?.effects.every((effect) => effect.isCorrection)).toBe(true);
  });
  fc.assert(struck, { seed: SEED, numRuns: 120 });
});

test('[R1] cutting a part in two halves at one station changes no total', () => {
  const cut = fc.property(partFigures, (one) => {
    const [whole, halves] = [new Chain(), new Chain()];
    const say = (chain: Chain, number: number, massG: number) => {
      chain.record(partOf(number));
      chain.record(estimateOf(number, { massKg: massG / 1000, xM: one.stationMm / 1000, growth: 0.25 }));
    };
    say(whole, 1, 2 * one.massG);
    say(halves, 1, one.massG);
    say(halves, 2, one.massG);
    expect(halves.fold().books.sums).toEqual(whole.fold().books.sums);
    const parted = [1, 2].map((number) => halves.fold().books.byPart.get(partIdOf(number))?.state.basic);
    const [first, second] = parted;
    if (first === undefined || second === undefined) throw new Error('two parts');
    for (const axis of AXES) expect(addTally(first, second)[axis]).toEqual(whole.fold().books.sums.basic[axis]);
  });
  fc.assert(cut, { seed: SEED, numRuns: 60 });
});
