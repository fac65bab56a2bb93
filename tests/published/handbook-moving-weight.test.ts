/**
 * Moving, adding and removing weight, through the running ledger: each item is a part, moving it a measured arm, taking it out a removal.
 * Sources: FAA-H-8083-1B chapter 2 and the Pilot's Handbook of Aeronautical Knowledge chapter 10. What is loaded, and not a part, is in
 * `handbook-loading.test.ts`. Status beside each value: read, derived (from inputs that were read), memory.
 */
import { describe, expect, it } from 'vitest';
import { predictedOf } from '#shared/ledger/fold.ts';
import { LENGTH_UNIT_M, MASS_UNIT_KG } from '#shared/quantity/units.ts';
import { headlineOf } from '#shared/rollup/headline.ts';
import { armOf, Chain, estimateOf, partOf, removedOf } from '../shared/ledger/make-entries.ts';
import { cgIn, massLb, momentLbIn, type PoundsAt } from './pounds-and-inches.ts';

/** A ledger with one part for each mass, numbered from 1. */
function aircraftWith(...masses: PoundsAt[]): Chain {
  const chain = new Chain();
  for (const [at, [lb, armIn]] of masses.entries()) addPart(chain, at + 1, [lb, armIn]);
  return chain;
}

function addPart(chain: Chain, number: number, [lb, armIn]: PoundsAt): void {
  chain.record(partOf(number));
  chain.record(estimateOf(number, { massKg: lb * MASS_UNIT_KG.lb, xM: armIn * LENGTH_UNIT_M.in }));
}

function cgOf(chain: Chain): number {
  return cgIn(predictedOf(chain.fold()));
}

describe('lever', () => {
  it('[R2] 100, 200 and 200 lb at 0, 80 and 100 in balance at 72 in, and at 50 in with the middle one at 25', () => {
    const chain = aircraftWith([100, 0], [200, 80], [200, 100]); // read in part
    expect(cgOf(chain)).toBeCloseTo(72, 9); // read
    chain.record(armOf(2, { xM: 25 * LENGTH_UNIT_M.in }));
    expect(cgOf(chain)).toBeCloseTo(50, 9); // derived
    expect(
      chain
        .fold()
        .rows.at(-1)
        ?.effects.map(({ cause }) => cause),
    ).toEqual(['arm measured']);
  });
});

describe('loads', () => {
  it('[R2] 140 lb at 150 in added to 6,860 lb at 80.0 in', () => {
    const chain = aircraftWith([6860, 80]); // memory
    addPart(chain, 2, [140, 150]); // memory
    expect(Math.abs(cgOf(chain) - 81.4)).toBeLessThanOrEqual(0.05); // memory
  });

  it('[R2] 100 lb at 150 in taken out of 6,100 lb at 78.0 in', () => {
    const chain = aircraftWith([100, 150], [6000, (6100 * 78 - 100 * 150) / 6000]); // memory
    expect(cgOf(chain)).toBeCloseTo(78, 6); // memory
    chain.record(removedOf(1));
    expect(Math.abs(cgOf(chain) - 76.8)).toBeLessThanOrEqual(0.05); // memory
  });
});

describe('alteration', () => {
  it('[R2] two seats out, three items in: 1,559 lb, 47,240 lb-in, +30.30 in', () => {
    const rest: PoundsAt = [1500 - 24, (1500 * 28.4 - 24 * 68.5) / (1500 - 24)]; // derived
    const chain = aircraftWith(rest, [12, 68.5], [12, 68.5]); // read: 1,500 lb at +28.4 with two 12-lb seats at +68.5
    expect(cgOf(chain)).toBeCloseTo(28.4, 6); // read
    for (const number of [2, 3]) chain.record(removedOf(number));
    for (const [at, item] of (
      [
        [28, 73],
        [30, 70.5],
        [25, 85],
      ] as const
    ).entries())
      addPart(chain, 4 + at, item); // read
    const altered = predictedOf(chain.fold());
    expect(massLb(altered)).toBeCloseTo(1559, 6); // read
    expect(Math.abs(momentLbIn(altered) - 47_240)).toBeLessThanOrEqual(0.5); // read
    expect(Math.abs(cgIn(altered) - 30.3)).toBeLessThanOrEqual(0.005); // read
    expect(headlineOf(chain.fold()).partCount).toBe(4);
  });
});
