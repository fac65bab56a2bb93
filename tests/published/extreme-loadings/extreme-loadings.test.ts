/**
 * Extreme loadings of one aircraft: FAA AC 43.13-1B, chapter 10, figures 10-10, 10-11 and 10-13. Empty 1,169 lb at +10.6 in, oil 17 lb
 * at -49, pilot and front seat +16, rear seats +48, fuel +22, baggage +75.5 (all read). The figures round each moment to whole lb-in.
 * Each load is a parts list with an allowance of 0, taken through the command.
 */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { reportOf, run } from '#tests/api/command/run.ts';

const LB_KG = 0.45359237;
const IN_M = 0.0254;
const LB_IN_KG_M = LB_KG * IN_M;

const CASES = [
  {
    name: 'most-forward', // figure 10-10
    weightLb: 1439, // read
    momentLbIn: 16_104, // read
    exactLbIn: 1169 * 10.6 - 17 * 49 + 170 * 16 + 83 * 22, // derived: the same without rounding
    printedCgIn: 11.2, // read
  },
  {
    name: 'most-rearward', // figure 10-11
    weightLb: 2036, // read
    momentLbIn: 43_428, // read
    exactLbIn: 1169 * 10.6 - 17 * 49 + 170 * 16 + 340 * 48 + 240 * 22 + 100 * 75.5, // derived
    printedCgIn: 21.3, // derived: 43,428 / 2,036 = 21.3301
  },
  {
    name: 'full-seats', // figure 10-13
    weightLb: 2100, // read
    momentLbIn: 38_466, // read
    exactLbIn: 1169 * 10.6 - 17 * 49 + 340 * 16 + 340 * 48 + 234 * 22, // derived
    printedCgIn: 18.3, // derived: 38,466 / 2,100 = 18.3171; a copy prints 18.6, see below
  },
] as const;

const own = (name: string) => join(import.meta.dirname, `${name}.csv`);
const relative = (value: number, exact: number) => Math.abs(value / exact - 1);

/** One folder for the aircraft of this file: to prepare a store anew costs seconds. */
let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tarebook-published-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const place = () => ['--data', join(folder, 'data')];
const units = ['--mass-unit', 'lb', '--length-unit', 'in'];

async function figuresOf(name: string, more: readonly string[] = []) {
  const words = ['import', ...place(), '--aircraft', name, ...units, '--parts', own(name), '--show', 'headline,parts'];
  const { headline, parts } = reportOf(await run([...words, '--json', ...more]));
  if (headline?.cg.xM === undefined || parts === undefined) throw new Error('no CG was printed');
  const { basicKg, predictedKg, cg } = headline;
  expect(predictedKg).toBe(basicKg);
  const xM = cg.xM ?? Number.NaN;
  const roundedLbIn = parts.map((part) => Math.round(((part.xM ?? Number.NaN) * part.basicKg) / LB_IN_KG_M));
  return { massKg: predictedKg, xM, momentLbIn: (predictedKg * xM) / LB_IN_KG_M, roundedLbIn };
}

describe.each(CASES)('$name', ({ name, weightLb, momentLbIn, exactLbIn, printedCgIn }) => {
  it('[R2] weight, moments rounded row by row, and CG are the printed ones', { timeout: 60_000 }, async () => {
    const figures = await figuresOf(name);
    expect(relative(figures.massKg, weightLb * LB_KG)).toBeLessThan(1e-12);
    expect(figures.roundedLbIn.reduce((sum, row) => sum + row, 0)).toBe(momentLbIn);
    expect(Math.abs(figures.xM / IN_M - printedCgIn)).toBeLessThanOrEqual(0.05);
    expect(relative(figures.momentLbIn, exactLbIn)).toBeLessThan(1e-9);
    expect(relative(figures.xM, (exactLbIn / weightLb) * IN_M)).toBeLessThan(1e-9);
  });

  it('[W2] an aircraft kept in pounds and inches is shown in them', { timeout: 60_000 }, async () => {
    const said = await run([
      'import',
      '--aircraft',
      name,
      ...units,
      ...place(),
      '--parts',
      own(name),
      '--show',
      'headline',
    ]);
    expect(said.exit).toBe(0);
    expect(said.out).toContain(`x ${(exactLbIn / weightLb).toFixed(2)} in`);
    expect(said.out).toMatch(
      new RegExp(`Predicted empty weight +${weightLb.toLocaleString('en-GB')}(?:\\.\\d+)? ± [\\d.]+ lb`),
    );
  });

  it('[I1] other headings in another order, one mapped, kilograms, metres, semicolons and decimal commas say the same', {
    timeout: 60_000,
  }, async () => {
    const figures = await figuresOf(`${name}.metric`, ['--column', 'x=Where it sits (m)']);
    expect(relative(figures.massKg, weightLb * LB_KG)).toBeLessThan(1e-9);
    expect(relative(figures.momentLbIn, exactLbIn)).toBeLessThan(1e-9);
    expect(relative(figures.xM, (exactLbIn / weightLb) * IN_M)).toBeLessThan(1e-9);
  });
});

it('[R2] a copy of figure 10-13 prints 18.6 in, which its own moment over its own weight does not give', () => {
  const [, , fullSeats] = CASES;
  const printedInACopyIn = 18.6; // read
  const fromItsOwnMomentIn = fullSeats.momentLbIn / fullSeats.weightLb;
  expect(fromItsOwnMomentIn).toBeCloseTo(18.3171, 4);
  expect(Math.abs(fromItsOwnMomentIn - printedInACopyIn)).toBeGreaterThan(0.05);
});
