/**
 * Empty-weight CG from wheel reactions.
 * Source: FAA-H-8083-1 series, Aircraft Weight and Balance Handbook, chapter 3, the four classic figures. D: datum to main wheels, L: main
 * wheels to nose or tail wheel, F: nose net, R: tail net, W: total net, in pounds and inches. The printed formulas (D - F L/W and
 * the like) follow from the moment formula that the product uses, with the wheels as two masses. Status beside each row.
 */
import { describe, expect, it } from 'vitest';
import { seenFrom, toLengthNm } from '#shared/quantity/exact.ts';
import { LENGTH_UNIT_M } from '#shared/quantity/units.ts';
import { cgIn, massLb, momentLbIn, tallyOfPounds } from './pounds-and-inches.ts';

const CASES = [
  {
    name: 'nosewheel, datum ahead of mains',
    totalLb: 2006,
    thirdLb: 340,
    mainsIn: 128,
    thirdIn: 50,
    printed: 114.8,
    exact: 114.7797,
  }, // read
  {
    name: 'nosewheel, datum aft of mains',
    totalLb: 2006,
    thirdLb: 340,
    mainsIn: -75,
    thirdIn: -153,
    printed: -88.2,
    exact: -88.2203,
  }, // read
  {
    name: 'tailwheel, datum ahead of mains',
    totalLb: 1218,
    thirdLb: 67,
    mainsIn: 7.5,
    thirdIn: 229.5,
    printed: 19.7,
    exact: 19.7118,
  }, // inputs read, answer memory
  {
    name: 'tailwheel, datum aft of mains',
    totalLb: 1218,
    thirdLb: 67,
    mainsIn: -80,
    thirdIn: 142,
    printed: -67.8,
    exact: -67.7882,
  }, // memory
] as const;

describe('wheel reactions', () => {
  it.each(CASES)('[R2] $name', ({ totalLb, thirdLb, mainsIn, thirdIn, printed, exact }) => {
    const cg = cgIn(
      tallyOfPounds([
        [totalLb - thirdLb, mainsIn],
        [thirdLb, thirdIn],
      ]),
    );
    expect(Math.abs(cg - printed)).toBeLessThanOrEqual(0.05);
    expect(Math.abs(cg - exact)).toBeLessThanOrEqual(0.00005); // derived
  });

  it('[R2] the three-row table of the first figure: 1,666 lb at +128 in and 340 lb at +50 in', () => {
    const table = tallyOfPounds([
      [833, 128], // derived: two main wheels alike
      [833, 128],
      [340, 50], // read
    ]);
    expect(massLb(table)).toBeCloseTo(2006, 9); // read
    expect(momentLbIn(table)).toBeCloseTo(1666 * 128 + 340 * 50, 6); // derived
    expect(Math.abs(cgIn(table) - 114.8)).toBeLessThanOrEqual(0.05); // read
  });

  it('[L8] one aircraft seen from two datums has one CG: -88.22 + 75 = 114.78 - 128 = -13.22', () => {
    const fromNose = tallyOfPounds([
      [1666, 128],
      [340, 50],
    ]);
    const fromMains = cgIn(seenFrom(fromNose, toLengthNm(128 * LENGTH_UNIT_M.in)));
    const fromFarAft = cgIn(seenFrom(fromNose, toLengthNm((128 + 75) * LENGTH_UNIT_M.in)));
    expect(Math.abs(fromMains - -13.22)).toBeLessThanOrEqual(0.005); // derived
    expect(Math.abs(fromFarAft - -88.22)).toBeLessThanOrEqual(0.005); // read
  });
});

describe('tare and fuel', () => {
  // Source: FAA-H-8083-30, Aviation Maintenance Technician Handbook - General, chapter 4, figure 4-20. Inputs read, table derived.
  const net = [
    [650 - 5, 70],
    [640 - 5, 70],
    [225 - 2.5, -30],
  ] as const;
  const empty = tallyOfPounds([...net, [-30 * 5.9, 95], [6, 98]]);

  it('[W1] the nets are 645, 635 and 222.5 lb', () => {
    expect(massLb(tallyOfPounds(net))).toBeCloseTo(645 + 635 + 222.5, 9); // derived
  });

  it('[R2] with the fuel off and the unusable fuel on, 1,331.5 lb at +50.1 in', () => {
    expect(massLb(empty)).toBeCloseTo(1331.5, 9); // memory, and derived
    expect(momentLbIn(empty)).toBeCloseTo(66_698, 5); // derived
    expect(Math.abs(cgIn(empty) - 50.0924)).toBeLessThanOrEqual(0.00005); // derived
    expect(Math.abs(cgIn(empty) - 50.1)).toBeLessThanOrEqual(0.05); // memory
  });
});
