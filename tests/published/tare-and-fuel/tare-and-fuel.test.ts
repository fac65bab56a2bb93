/**
 * Weighed on three scales with tare, fuel aboard: FAA-H-8083-30, Aviation Maintenance Technician Handbook General, chapter 4, figure 4-20.
 * Scales 650, 640 (main wheels, +70 in), 225 (nose wheel, -30 in) lb; tare 5, 5, 2.5 lb (all read).
 *
 * What goes through the command is the aircraft as it stood on the scales. The fuel that is then taken off (30 US gal at 5.9 lb at +95)
 * and the unusable fuel put back (6 lb at +98; both read) cannot be entries: a mass below zero is no mass, and the last test says so.
 * Those two lines are therefore reckoned here, from the mass and CG that the command gave.
 */
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { problemsOf, reportOf, run } from '#tests/api/command/run.ts';

const LB_KG = 0.45359237;
const IN_M = 0.0254;

const NETS_LB = { LEFT: 645, RIGHT: 635, NOSE: 222.5 } as const; // read
const AS_WEIGHED_LB = 1502.5; // derived: sum of the nets
const AS_WEIGHED_LB_IN = (645 + 635) * 70 - 222.5 * 30; // derived: 82,925
const FUEL = { massLb: 30 * 5.9, armIn: 95 } as const; // read
const UNUSABLE = { massLb: 6, armIn: 98 } as const; // read
const EMPTY_LB = 1331.5; // derived; printed the same (memory)
const EMPTY_LB_IN = 66_698; // derived
const EMPTY_CG_IN = 50.0924; // derived; printed +50.1 (memory)

const own = (name: string) => join(import.meta.dirname, name);
const relative = (value: number, exact: number) => Math.abs(value / exact - 1);

async function figuresOf(suffix: string, more: readonly string[] = []) {
  const files = ['--parts', own(`wheels${suffix}.csv`), '--weighings', own(`as-weighed${suffix}.csv`)];
  const words = ['import', '--memory', '--aircraft', 'Published', ...files, '--show', 'headline,parts', '--json'];
  const { headline, parts } = reportOf(await run([...words, ...more]));
  if (headline?.cg.xM === undefined || parts === undefined) throw new Error('no CG was printed');
  const netsLb = Object.fromEntries(parts.map((part) => [part.number, part.basicKg / LB_KG]));
  return { massLb: headline.predictedKg / LB_KG, cgIn: headline.cg.xM / IN_M, netsLb };
}

const SPELLINGS = [
  { as: 'in pounds and inches', suffix: '', more: [] },
  {
    as: 'in kilograms and metres under other headings',
    suffix: '.metric',
    more: ['--column', 'estimate=planned mass kg', '--column', 'gross=on the pad / kg'],
  },
];

it.each(SPELLINGS)(
  '[W1] the nets, the mass as weighed and its CG follow from gross and tare $as',
  {
    timeout: 60_000,
  },
  async ({ suffix, more }) => {
    const { massLb, cgIn, netsLb } = await figuresOf(suffix, more);
    for (const [wheel, netLb] of Object.entries(NETS_LB))
      expect(relative(netsLb[wheel] ?? Number.NaN, netLb)).toBeLessThan(1e-9);
    expect(relative(massLb, AS_WEIGHED_LB)).toBeLessThan(1e-9);
    expect(relative(cgIn, AS_WEIGHED_LB_IN / AS_WEIGHED_LB)).toBeLessThan(1e-9);

    const emptyLb = massLb - FUEL.massLb + UNUSABLE.massLb;
    const emptyLbIn = massLb * cgIn - FUEL.massLb * FUEL.armIn + UNUSABLE.massLb * UNUSABLE.armIn;
    expect(emptyLb).toBeCloseTo(EMPTY_LB, 6);
    expect(emptyLbIn).toBeCloseTo(EMPTY_LB_IN, 4);
    expect(Math.abs(emptyLbIn / emptyLb - EMPTY_CG_IN)).toBeLessThanOrEqual(0.00005);
  },
);

it('[I5] fuel cannot be taken off as a part of negative mass', { timeout: 60_000 }, async () => {
  const words = [
    'import',
    '--memory',
    '--aircraft',
    'Published',
    '--parts',
    own('fuel-as-negative-mass.csv'),
    '--json',
  ];
  expect(problemsOf(await run(words))).toMatchObject([{ line: 2, column: 3, code: 'out-of-range' }]);
});
