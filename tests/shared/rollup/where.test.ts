/** Where the mass is, and how it is gathered along the fuselage (rule R5). */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { WhereReport } from '#shared/contract/where.ts';
import { toMassNg } from '#shared/quantity/exact.ts';
import { stretchesOf, whereReport } from '#shared/rollup/where.ts';
import { assemblyOf, Chain, datumOf, estimateOf, partIdOf, partOf, weighingOf } from '../ledger/make-entries.ts';
import { chainFrom, randomSteps } from '../ledger/random-chain.ts';

const mass = (xM: number | undefined, massKg = 1, group = 'wing') => ({ xM, massKg, group });
const METRES = { unitM: 1 };

describe('where the mass is', () => {
  it('[R5] is each part at its arm from the present datum, with its flag; what has no station says so', () => {
    const chain = new Chain();
    for (const number of [1, 2, 3]) chain.record(partOf(number));
    chain.record(estimateOf(1, { xM: 2, zM: 0.5, growth: 0.1 }));
    chain.record(estimateOf(2));
    chain.record(weighingOf(2, 5));
    chain.record(datumOf(0.5));
    const { masses, predictedKg } = whereReport(chain.fold());
    expect(masses.map(({ number, massKg, xM, zM, flag }) => [number, massKg, xM, zM, flag])).toEqual([
      ['P-1', 4.4, 1.5, 0.5, undefined],
      ['P-2', 5, undefined, undefined, 'drifting heavy'],
    ]);
    expect(predictedKg).toBeCloseTo(9.4, 12);
  });

  it('[R5] what a weighed assembly has beyond its parts is a mass of its own, at its own arm', () => {
    const chain = new Chain();
    chain.record(partOf(1));
    chain.record(partOf(2, { parentPartId: partIdOf(1) }));
    chain.record(estimateOf(2, { xM: 1 }));
    // 5 kg at 1.2 m: beyond the 4 kg at 1 m there is 1 kg at 2 m.
    chain.record(assemblyOf(1, 5, [2], { xM: 1.2 }));
    expect(whereReport(chain.fold()).masses).toMatchObject([
      { number: 'P-1', massKg: 1, xM: 2, isBeyondParts: true },
      { number: 'P-2', massKg: 4, xM: 1, isBeyondParts: false },
    ]);
  });

  it('[R5] of any ledger the masses add up to the predicted one to the last nanogram, and so do the stretches', () => {
    let placed = 0;
    const anyLedger = fc.property(randomSteps(), fc.constantFrom(1, 0.001, 0.0254), (steps, unitM) => {
      const report = WhereReport.parse(whereReport(chainFrom(steps).fold()));
      const sumNg = report.masses.reduce((sum, { massKg }) => sum + toMassNg(massKg), 0n);
      expect(sumNg).toBe(toMassNg(report.predictedKg));
      const { stretches, elsewhereKg, groups } = stretchesOf(report.masses, { unitM });
      const inAll = stretches.flatMap(({ byGroup }) => [...byGroup.values()]).reduce((sum, one) => sum + one, 0);
      expect(inAll + elsewhereKg).toBeCloseTo(report.predictedKg, 6);
      expect(stretches.length).toBeLessThanOrEqual(24);
      expect(new Set(groups).size).toBe(groups.length);
      placed += stretches.length;
    });
    fc.assert(anyLedger, { seed: 20_261_130, numRuns: 200 });
    expect(placed).toBeGreaterThan(200);
  });
});

describe('the stretches along the fuselage', () => {
  it('[R5] have a round length in the unit of the stations, and as many as show something', () => {
    const along = (to: number, unitM: number) => stretchesOf([mass(0), mass(to * unitM)], { unitM });
    expect(along(6, 1)).toMatchObject({ lengthM: 0.5 });
    expect(along(6, 1).stretches).toHaveLength(13);
    expect(along(6000, 0.001)).toMatchObject({ lengthM: 0.5 });
    expect(along(240, 0.0254).lengthM).toBeCloseTo(20 * 0.0254, 12);
  });

  it('[R5] count a station at a foot in and at a head out, ahead of the datum too', () => {
    const { stretches, lengthM } = stretchesOf([mass(-1), mass(-0.5, 2), mass(0, 3), mass(9, 4, 'tail')], METRES);
    expect(lengthM).toBe(0.5);
    expect(stretches[0]).toEqual({ fromM: -1, toM: -0.5, byGroup: new Map([['wing', 1]]) });
    expect(stretches[1]?.byGroup.get('wing')).toBe(2);
    expect(stretches[2]).toEqual({ fromM: 0, toM: 0.5, byGroup: new Map([['wing', 3]]) });
    expect(stretches.at(-1)).toEqual({ fromM: 9, toM: 9.5, byGroup: new Map([['tail', 4]]) });
  });

  it('[R5] of one station are one, of none are none; groups come by mass, and what has no station is told', () => {
    expect(stretchesOf([mass(2.5, 3)], METRES)).toMatchObject({
      lengthM: 0.01,
      stretches: [{ fromM: 2.5, toM: 2.51 }],
    });
    expect(stretchesOf([], METRES)).toEqual({ lengthM: 1, stretches: [], groups: [], elsewhereKg: 0 });
    const { groups, elsewhereKg } = stretchesOf([mass(1, 1, 'tail'), mass(1, 2, 'wing'), mass(undefined, 5)], METRES);
    expect(groups).toEqual(['wing', 'tail']);
    expect(elsewhereKg).toBe(5);
  });
});
