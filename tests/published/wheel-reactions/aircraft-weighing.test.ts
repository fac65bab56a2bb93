/**
 * The same figures as the wheel reactions and the tare-and-fuel table, through the function that the screen of the aircraft's weighing uses.
 * Sources: FAA-H-8083-1 series, Aircraft Weight and Balance Handbook, chapter 3; FAA-H-8083-30, Aviation Maintenance Technician Handbook - General,
 * chapter 4, figure 4-20; FAA-H-8083-1B chapter 7 for per cent MAC. Pounds and inches. Status beside each value.
 */
import { describe, expect, it } from 'vitest';
import { computeWeighing } from '#shared/aircraft-weighing/compute.ts';
import { LENGTH_UNIT_M, MASS_UNIT_KG } from '#shared/quantity/units.ts';
import { percentMac } from '#shared/rollup/centre-of-gravity.ts';
import { CHECKED, runOf, weighedOf } from '#tests/shared/aircraft-weighing/make-weighings.ts';

const IN = LENGTH_UNIT_M.in;
const LB = MASS_UNIT_KG.lb;
const NAMES = ['Left main', 'Right main', 'Third wheel'];

type Stood = { readonly mainIn: number; readonly thirdIn: number; readonly thirdLb: number; readonly totalLb: number };

function on({ mainIn, thirdIn, thirdLb, totalLb }: Stood, changes: object = {}) {
  const mainLb = (totalLb - thirdLb) / 2;
  return computeWeighing(
    weighedOf({
      reference: 'the datum',
      supports: NAMES.map((name, at) => ({
        name,
        x: `${at === 2 ? thirdIn : mainIn} in`,
        'x uncertainty': '0 in',
        resolution: '1 lb',
      })),
      level: [runOf([`${mainLb} lb`, `${mainLb} lb`, `${thirdLb} lb`], NAMES)],
      checklist: CHECKED,
      ...changes,
    }),
  );
}

describe('wheel reactions, by the aircraft weighing', () => {
  it.each([
    ['nosewheel, datum ahead of mains', { totalLb: 2006, thirdLb: 340, mainIn: 128, thirdIn: 50 }, 114.8, 114.7797], // read
    ['nosewheel, datum aft of mains', { totalLb: 2006, thirdLb: 340, mainIn: -75, thirdIn: -153 }, -88.2, -88.2203], // read
    ['tailwheel, datum ahead of mains', { totalLb: 1218, thirdLb: 67, mainIn: 7.5, thirdIn: 229.5 }, 19.7, 19.7118], // inputs read, answer memory
    ['tailwheel, datum aft of mains', { totalLb: 1218, thirdLb: 67, mainIn: -80, thirdIn: 142 }, -67.8, -67.7882], // memory
  ] as const)('[A1] %s', (_, stood, printed, exact) => {
    const { empty } = on(stood);
    expect(empty.massKg / LB).toBeCloseTo(stood.totalLb, 9);
    expect(Math.abs(empty.xM / IN - printed)).toBeLessThanOrEqual(0.05);
    expect(Math.abs(empty.xM / IN - exact)).toBeLessThanOrEqual(0.00005); // derived
  });

  it('[U2] every scale to 1 lb: u(W) = 0.5000 lb, u(CG) = 0.009703 in; with u(L) = u(D) = 0.05 in 0.051633 in', () => {
    // Derived: the mains are the reference, D in from the datum, and the third wheel is L in from them.
    const stood = { totalLb: 2006, thirdLb: 340, mainIn: 0, thirdIn: -78 };
    const datum = { reference: 'main wheels', 'reference station': '128 in' };
    const { empty } = on(stood, datum);
    expect(empty.xM / IN).toBeCloseTo(114.7797, 4);
    expect(empty.massStdKg / LB).toBeCloseTo(0.5, 4);
    expect(empty.xStdM / IN).toBeCloseTo(0.009703, 6);
    const supports = NAMES.map((name, at) => ({
      ...{ name, resolution: '1 lb', x: at === 2 ? '-78 in' : '0 in', 'x uncertainty': at === 2 ? '0.05 in' : '0 in' },
    }));
    const taped = on(stood, { ...datum, supports, 'reference uncertainty': '0.05 in' });
    expect(taped.empty.xStdM / IN).toBeCloseTo(0.051633, 6);
  });
});

describe('tare and fuel, by the aircraft weighing', () => {
  const words = {
    reference: 'the datum',
    supports: [
      { name: 'Left main', x: '70 in' },
      { name: 'Right main', x: '70 in' },
      { name: 'Third wheel', x: '-30 in' },
    ],
    level: [runOf(['650 lb', '640 lb', '225 lb'], NAMES, ['5 lb', '5 lb', '2.5 lb'])], // read
    checklist: CHECKED,
  };
  const unusable = { way: 'on', name: 'Unusable fuel', mass: '6 lb', x: '98 in' }; // read

  it.each([
    ['as what is taken off', { way: 'off', name: 'Fuel', volume: '30 US gal', density: '5.9 lb/US gal', x: '95 in' }],
    [
      'as a negative row, the way of the figure',
      { name: 'Fuel', volume: '-30 US gal', density: '5.9 lb/US gal', x: '95 in' },
    ],
    ['as a negative mass', { name: 'Fuel', mass: '-177 lb', x: '95 in' }],
  ])('[A1] the fuel %s: 1,331.5 lb at +50.1 in', (_, fuel) => {
    const { empty, netsKg } = computeWeighing(weighedOf({ ...words, corrections: [fuel, unusable] }));
    expect(netsKg.map((netKg) => Number((netKg / LB).toFixed(9)))).toEqual([645, 635, 222.5]); // derived
    expect(empty.massKg / LB).toBeCloseTo(1331.5, 9); // memory, and derived
    expect((empty.massKg * empty.xM) / LB / IN).toBeCloseTo(66_698, 5); // derived
    expect(Math.abs(empty.xM / IN - 50.0924)).toBeLessThanOrEqual(0.00005); // derived
    expect(Math.abs(empty.xM / IN - 50.1)).toBeLessThanOrEqual(0.05); // memory
  });

  it('[R2] per cent MAC of a weighed CG: +36.4 in with LEMAC 25.98 in and MAC 58.0 in is 17.9655 %', () => {
    const stood = on({ totalLb: 1000, thirdLb: 0.5, mainIn: 36.4, thirdIn: 36.4 + 1e-9 });
    const chord = { macM: 58 * IN, lemacM: 25.98 * IN }; // read
    expect(percentMac(stood.empty.xM, chord)).toBeCloseTo(17.9655, 3); // derived
  });
});
