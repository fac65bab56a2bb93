/**
 * The same figures of FAA AC 43.13-1B, chapter 10 (10-10, 10-11 and 10-13), found instead of listed: stations, maximum weight 2,100 lb and limits
 * +8.5 and +21.9 in are given to the rules of loading, which search for the most forward and the most rearward loading by themselves. The masses
 * between which the envelope lies are not in the figures; from the empty to the maximum weight is taken.
 */
import { describe, expect, it } from 'vitest';
import { allLoadings } from '#shared/loading/all-loadings.ts';
import { caseReport } from '#shared/loading/case-report.ts';
import type { LoadingLimits, StationOf } from '#shared/loading/limits.ts';
import type { Loaded } from '#shared/loading/loaded.ts';
import { refusalsOfLimits } from '#shared/loading/refusals.ts';
import { LENGTH_UNIT_M, MASS_UNIT_KG, VOLUME_UNIT_M3 } from '#shared/quantity/units.ts';

const LB = MASS_UNIT_KG.lb;
const IN = LENGTH_UNIT_M.in;
const US_GAL_L = VOLUME_UNIT_M3['US gal'] * 1000;
const AVGAS_LB = 6; // read: pounds a gallon
const OIL_LB = 7.5; // read

const EMPTY = { massKg: 1169 * LB, xM: 10.6 * IN }; // read

function tankOf(
  name: string,
  armIn: number,
  { lbPerGal, leastLb, mostLb }: Record<'lbPerGal' | 'leastLb' | 'mostLb', number>,
) {
  const litres = (lb: number) => (lb / lbPerGal) * US_GAL_L;
  const bounds = { usableL: litres(mostLb), leastL: litres(leastLb), unusableL: 0 };
  const densityKgPerL = (lbPerGal * LB) / US_GAL_L;
  return { what: 'tank', name, fluid: name, densityKgPerL, arm: armIn * IN, ...bounds } satisfies StationOf<'tank'>;
}

const person = { leastKg: 170 * LB, mostKg: 170 * LB }; // read
const fuel = tankOf('Fuel', 22, { lbPerGal: AVGAS_LB, leastLb: 83, mostLb: 240 }); // read; 13.75 gal is taken as 83 lb

const LIMITS: LoadingLimits = {
  stations: [
    tankOf('Oil', -49, { lbPerGal: OIL_LB, leastLb: 17, mostLb: 17 }), // read
    { what: 'seat', name: 'Pilot', xM: 16 * IN, isPilot: true, ...person }, // read
    { what: 'seat', name: 'Front seat', xM: 16 * IN, ...person }, // read
    { what: 'seat', name: 'Rear left', xM: 48 * IN, ...person }, // read
    { what: 'seat', name: 'Rear right', xM: 48 * IN, ...person }, // read
    { what: 'baggage', name: 'Baggage', xM: 75.5 * IN, mostKg: 100 * LB }, // read
    fuel,
  ],
  maximumKg: 2100 * LB, // read
  envelope: {
    by: 'station',
    points: [
      [1169, 8.5],
      [1169, 21.9],
      [2100, 21.9],
      [2100, 8.5],
    ].map(([lb = 0, armIn = 0]) => ({ massKg: lb * LB, at: armIn * IN })), // read
  },
  cases: [
    {
      name: 'Full seats',
      loads: [
        { station: 'Oil', quantityL: (17 / OIL_LB) * US_GAL_L },
        ...['Pilot', 'Front seat', 'Rear left', 'Rear right'].map((station) => ({ station, massKg: 170 * LB })),
        { station: 'Fuel', quantityL: (234 / AVGAS_LB) * US_GAL_L },
      ], // read
      burn: [],
    },
  ],
};

/** Loads in whole pounds. */
function inLb({ loads }: Loaded) {
  return Object.fromEntries(loads.map(({ station, massKg }) => [station, Math.round(massKg / LB)]));
}

describe('figures 10-10 and 10-11', () => {
  const all = allLoadings({ limits: LIMITS }, EMPTY);
  if (all.state === 'nothing permitted') throw new Error('nothing is permitted');

  it('[C2] the most forward loading that is found is the one of figure 10-10', () => {
    expect(inLb(all.mostForward)).toEqual({ Oil: 17, Pilot: 170, Fuel: 83 });
    expect(all.mostForward.massKg / LB).toBeCloseTo(1439, 6); // read
    expect(Math.abs(all.mostForward.xM / IN - 11.2)).toBeLessThanOrEqual(0.05); // read
    expect(Math.abs((all.mostForward.xM / IN) * 1439 - 16_104)).toBeLessThanOrEqual(1.5); // read; rounded row by row
  });

  it('[C2] the most rearward loading that is found is the one of figure 10-11', () => {
    expect(inLb(all.mostAft)).toEqual({
      Oil: 17,
      Pilot: 170,
      'Rear left': 170,
      'Rear right': 170,
      Baggage: 100,
      Fuel: 240,
    });
    expect(all.mostAft.massKg / LB).toBeCloseTo(2036, 6); // read
    expect(Math.abs((all.mostAft.xM / IN) * 2036 - 43_428)).toBeLessThanOrEqual(2); // read; rounded row by row
    expect(all.mostAft.xM / IN).toBeCloseTo(21.3301, 3); // derived
  });

  it('[C2] between +8.5 and +21.9 in every loading is inside, with the room that the figures leave', () => {
    expect(refusalsOfLimits(LIMITS, { emptyKg: EMPTY.massKg - 1, hasChord: false })).toEqual([]);
    expect(all.state).toBe('inside');
    const rooms = all.worst.flatMap(({ outM }) => (outM === undefined ? [] : [-outM / IN]));
    expect(rooms.sort((a, b) => a - b)).toEqual([
      expect.closeTo(21.9 - all.mostAft.xM / IN, 9),
      expect.closeTo(all.mostForward.xM / IN - 8.5, 9),
    ]);
  });
});

describe('figure 10-13', () => {
  it('[C3] full seats and 234 lb of fuel come to the maximum weight of 2,100 lb, at 38,466 lb-in', () => {
    const [fullSeats] = LIMITS.cases;
    if (fullSeats === undefined) throw new Error('no case');
    const { start, state } = caseReport({ limits: LIMITS }, fullSeats, EMPTY);
    expect(start.massKg / LB).toBeCloseTo(2100, 6); // read
    expect(Math.abs((start.xM / IN) * 2100 - 38_466)).toBeLessThanOrEqual(2); // read; rounded row by row
    expect(start.xM / IN).toBeCloseTo(18.3171, 3); // derived; a copy prints 18.6, which its own moment does not give
    expect(state).toBe('inside');
  });
});
