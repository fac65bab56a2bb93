/**
 * Empty-weight CG from wheel reactions: FAA-H-8083-1 series, Aircraft Weight and Balance Handbook, chapter 3, the four classic figures.
 * D datum to main wheels, L main wheels to nose or tail wheel, F nose net, R tail net, W total net (lb, in).
 * Each aircraft comes as the files a shop would have, and goes through the command; the exact figure is the formula's, worked out here.
 * The wheels have a planned mass of 0, so that nothing but the weighing can give the answer. That each main wheel carries half of
 * what is left of W is our own split (derived): both stand at one station, so the CG does not depend on it.
 */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { reportOf, run } from '#tests/api/command/run.ts';

const LB_KG = 0.45359237;
const IN_M = 0.0254;

const CASES = [
  {
    name: 'nosewheel-datum-ahead',
    weightLb: 2006, // read
    exactIn: 128 - (340 * 78) / 2006, // D - F L/W; D, F, L read
    printedIn: 114.8, // read
    text: '114.78', // derived
  },
  {
    name: 'nosewheel-datum-aft',
    weightLb: 2006, // read
    exactIn: -(75 + (340 * 78) / 2006), // -(D + F L/W); D, F, L read
    printedIn: -88.2, // read
    text: '-88.22', // derived
  },
  {
    name: 'tailwheel-datum-ahead',
    weightLb: 1218, // read
    exactIn: 7.5 + (67 * 222) / 1218, // D + R L/W; D, R, L read
    printedIn: 19.7, // memory
    text: '19.71', // derived
  },
  {
    name: 'tailwheel-datum-aft',
    weightLb: 1218, // memory
    exactIn: -80 + (67 * 222) / 1218, // -D + R L/W; D, R, L memory
    printedIn: -67.8, // memory
    text: '-67.79', // derived
  },
] as const;

const own = (name: string) => join(import.meta.dirname, name);
const filesOf = (name: string) => ['--parts', own(`${name}.parts.csv`), '--weighings', own(`${name}.weighings.csv`)];
const relative = (value: number, exact: number) => Math.abs(value / exact - 1);

/** One folder for the aircraft of this file: to prepare a store anew costs seconds. */
let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tarebook-published-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const place = () => ['--data', join(folder, 'data')];
const units = ['--mass-unit', 'lb', '--length-unit', 'in'];

async function figuresOf(aircraft: string, words: readonly string[]): Promise<{ massKg: number; xM: number }> {
  const begin = ['import', '--aircraft', aircraft, ...units, '--show', 'headline', '--json'];
  const { headline } = reportOf(await run([...begin, ...words]));
  if (headline?.cg.xM === undefined) throw new Error('no CG was printed');
  expect(headline.weighedShare).toBe(1);
  return { massKg: headline.predictedKg, xM: headline.cg.xM };
}

describe.each(CASES)('$name', ({ name, weightLb, exactIn, printedIn, text }) => {
  it('[R2] the CG from the wheels is the printed one to half its last digit, and the exact one', {
    timeout: 60_000,
  }, async () => {
    const { massKg, xM } = await figuresOf(name, [...place(), ...filesOf(name)]);
    expect(relative(massKg, weightLb * LB_KG)).toBeLessThan(1e-12);
    expect(Math.abs(xM / IN_M - printedIn)).toBeLessThanOrEqual(0.05);
    expect(relative(xM, exactIn * IN_M)).toBeLessThan(1e-9);
  });

  it('[W2] an aircraft kept in pounds and inches is shown in them', { timeout: 60_000 }, async () => {
    const said = await run([
      'import',
      '--aircraft',
      name,
      ...units,
      ...place(),
      ...filesOf(name),
      '--show',
      'headline',
    ]);
    expect(said.exit).toBe(0);
    expect(said.out).toContain(`x ${text} in`);
    expect(said.out).toMatch(
      new RegExp(`Predicted empty weight +${weightLb.toLocaleString('en-GB')}(?:\\.\\d+)? ± [\\d.]+ lb`),
    );
  });

  it('[I1] other headings in another order, one mapped, kilograms, metres, semicolons and decimal commas say the same', {
    timeout: 60_000,
  }, async () => {
    const mapped = ['--column', 'estimate=planned mass kg', '--column', 'gross=on the pad / kg'];
    const { massKg, xM } = await figuresOf(`${name} metric`, [...place(), ...filesOf(`${name}.metric`), ...mapped]);
    expect(relative(massKg, weightLb * LB_KG)).toBeLessThan(1e-9);
    expect(relative(xM, exactIn * IN_M)).toBeLessThan(1e-9);
  });
});

it('[L8] the two nosewheel figures are one aircraft seen from two datums', () => {
  const [ahead, aft] = CASES;
  expect(ahead.exactIn - 128).toBeCloseTo(aft.exactIn + 75, 12);
});

it('[R2] a store in memory gives the same answer', { timeout: 60_000 }, async () => {
  const [{ name, exactIn }] = CASES;
  const { xM } = await figuresOf(name, ['--memory', ...filesOf(name)]);
  expect(relative(xM, exactIn * IN_M)).toBeLessThan(1e-9);
});
