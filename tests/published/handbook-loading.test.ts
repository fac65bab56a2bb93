/**
 * Loads put in, moved and taken out, through the rules of loading that the screens use.
 * Sources: FAA-H-8083-1B chapter 2, the Pilot's Handbook of Aeronautical Knowledge chapter 10, and an item of an FAA knowledge test.
 * Status beside each value: read, derived (from inputs that were read), memory. Items that are parts of an aircraft are in
 * `handbook-moving-weight.test.ts`.
 */
import { describe, expect, it } from 'vitest';
import { withChange } from '#shared/loading/least-change.ts';
import type { EmptyState, LoadingStation } from '#shared/loading/limits.ts';
import { loadedAt } from '#shared/loading/loaded.ts';
import { LENGTH_UNIT_M, MASS_UNIT_KG, MOMENT_UNIT_KG_M, VOLUME_UNIT_M3 } from '#shared/quantity/units.ts';
import type { PoundsAt } from './pounds-and-inches.ts';

const LB = MASS_UNIT_KG.lb;
const IN = LENGTH_UNIT_M.in;
const US_GAL_L = VOLUME_UNIT_M3['US gal'] * 1000;

const emptyOf = ([lb, armIn]: PoundsAt): EmptyState => ({ massKg: lb * LB, xM: armIn * IN });

/** Each load at a place of its own, as baggage. */
function withLoads(empty: PoundsAt, ...loads: readonly PoundsAt[]) {
  const stations = loads.map(
    ([lb, armIn], at): LoadingStation => ({ what: 'baggage', name: `Load ${at}`, xM: armIn * IN, mostKg: lb * LB }),
  );
  return loadedAt(
    emptyOf(empty),
    loads.map(([lb], at) => ({ station: `Load ${at}`, massKg: lb * LB })),
    { stations },
  );
}

describe('loads', () => {
  it('[C1] 100, 200 and 200 lb at 0, 80 and 100 in balance at 72 in, and at 50 in with the middle one at 25', () => {
    expect(withLoads([100, 0], [200, 80], [200, 100]).xM / IN).toBeCloseTo(72, 9); // read
    expect(withLoads([100, 0], [200, 25], [200, 100]).xM / IN).toBeCloseTo(50, 9); // derived
  });

  it('[C1] of 7,800 lb at 81.5 in, 65 lb of cargo from 150 to 30 in brings the CG to the aft limit of 80.5 in', () => {
    const rest = withChange(emptyOf([7800, 81.5]), { way: -1, xM: 150 * IN }, 65 * LB); // read
    expect(withLoads([rest.massKg / LB, rest.xM / IN], [65, 30]).xM / IN).toBeCloseTo(80.5, 6); // read
  });

  it('[C1] 140 lb at 150 in put into 6,860 lb at 80.0 in', () => {
    expect(Math.abs(withLoads([6860, 80], [140, 150]).xM / IN - 81.4)).toBeLessThanOrEqual(0.05); // memory
  });

  it('[C4] 100 lb at 150 in taken out of 6,100 lb at 78.0 in', () => {
    const { massKg, xM } = withChange(emptyOf([6100, 78]), { way: -1, xM: 150 * IN }, 100 * LB); // memory
    expect(massKg / LB).toBeCloseTo(6000, 9);
    expect(Math.abs(xM / IN - 76.8)).toBeLessThanOrEqual(0.05); // memory
  });

  it('[C1] 1,495.0 lb at 101.4 in, two people of 380 lb at 64.0 in and 30 gallons of fuel at 96.0 in', () => {
    const stations: readonly LoadingStation[] = [
      { what: 'seat', name: 'Front seats', xM: 64 * IN, leastKg: 0, mostKg: 400 * LB }, // read
      {
        what: 'tank',
        name: 'Fuel',
        fluid: 'avgas',
        densityKgPerL: (6 * LB) / US_GAL_L, // read: 6 lb a gallon
        usableL: 40 * US_GAL_L,
        unusableL: 0,
        arm: 96 * IN, // read
      },
    ];
    const loads = [
      { station: 'Front seats', massKg: 380 * LB }, // read
      { station: 'Fuel', quantityL: 30 * US_GAL_L }, // read
    ];
    const empty = emptyOf([1495, 101.4]); // read
    const loaded = loadedAt(empty, loads, { stations });
    expect(loaded.massKg / LB).toBeCloseTo(2055, 9); // read
    expect(loaded.momentXKgM / MOMENT_UNIT_KG_M['lb in']).toBeCloseTo(193_193, 4); // read
    expect(Math.abs(loaded.xM / IN - 94.01)).toBeLessThanOrEqual(0.005); // read
  });
});

describe('alteration', () => {
  it('[C4] two seats out, three items in: 1,559 lb, 47,240 lb-in, +30.30 in', () => {
    const changes = [
      [-1, 24, 68.5],
      [1, 28, 73],
      [1, 30, 70.5],
      [1, 25, 85],
    ] as const; // read
    const altered = changes.reduce(
      (empty, [way, lb, armIn]) => withChange(empty, { way, xM: armIn * IN }, lb * LB),
      emptyOf([1500, 28.4]), // read
    );
    expect(altered.massKg / LB).toBeCloseTo(1559, 9); // read
    expect(Math.abs((altered.massKg * altered.xM) / MOMENT_UNIT_KG_M['lb in'] - 47_240)).toBeLessThanOrEqual(0.5); // read
    expect(Math.abs(altered.xM / IN - 30.3)).toBeLessThanOrEqual(0.005); // read
  });
});
