/** What a loading makes of the empty aircraft (rules C1, R2). The figures are invented. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { allLoadings } from '#shared/loading/all-loadings.ts';
import { loadedAt, tankArmM } from '#shared/loading/loaded.ts';
import { limitsTold } from '#shared/loading/told.ts';
import { baggageOf, limitsOf, PILOT, STATIONS, tankOf } from './make-limits.ts';
import { drawn } from './random-limits.ts';

const EMPTY = { massKg: 350, xM: 2.15 };
const TABLE = [
  { quantityL: 10, xM: 2 },
  { quantityL: 30, xM: 2.4 },
  { quantityL: 90, xM: 2.2 },
];

describe('a loading', () => {
  it('[C1] mass, moment and CG are those of the empty aircraft and its loads, names in any case', () => {
    const loads = [
      { station: ' pilot', massKg: 80 },
      { station: 'Hold', massKg: 0 },
      { station: 'WING TANKS', quantityL: 50 },
    ];
    const loaded = loadedAt(EMPTY, loads, { stations: STATIONS, chord: { macM: 1.25, lemacM: 1.8 } });
    expect(loaded.massKg).toBe(350 + 80 + 36);
    expect(loaded.momentXKgM).toBeCloseTo(350 * 2.15 + 80 * 2 + 36 * 2.3, 9);
    expect(loaded.xM).toBeCloseTo((350 * 2.15 + 80 * 2 + 36 * 2.3) / 466, 9);
    expect(loaded.percentMac).toBeCloseTo(((loaded.xM - 1.8) / 1.25) * 100, 9);
    expect(loaded.loads).toEqual([
      { station: 'Pilot', massKg: 80, quantityL: undefined, xM: 2 },
      { station: 'Wing tanks', massKg: 36, quantityL: 50, xM: 2.3 },
    ]);
  });

  it('[R2] along y and z a load without an arm lies at the CG of the rest, and nothing is said without that of the empty aircraft', () => {
    const stations = [{ ...PILOT, yM: -0.4 }, baggageOf('Hold', 3, 30)];
    const loads = [
      { station: 'Pilot', massKg: 50 },
      { station: 'Hold', massKg: 30 },
    ];
    const loaded = loadedAt({ ...EMPTY, yM: 0 }, loads, { stations });
    expect(loaded.yM).toBeCloseTo(-20 / 400, 12);
    expect(loaded.zM).toBeUndefined();
    expect(loadedAt(EMPTY, loads, { stations }).yM).toBeUndefined();
  });

  it.each([
    [0, 2],
    [10, 2],
    [20, 2.2],
    [30, 2.4],
    [60, 2.3],
    [90, 2.2],
    [100, 2.2],
  ])('[C1] with %d L the arm of a tank is %d m: linear from row to row, level beyond', (quantityL, xM) => {
    expect(tankArmM(tankOf('Tank', TABLE), quantityL)).toBeCloseTo(xM, 12);
    expect(tankArmM(tankOf('Tank', 2.5), quantityL)).toBe(2.5);
  });

  it('[L8] a datum moved aft takes its way off every CG and leaves masses, loads and rooms as they are', () => {
    fc.assert(
      fc.property(drawn, fc.integer({ min: -300, max: 300 }), ({ limits, empty }, cm) => {
        const shiftM = cm / 100;
        const here = allLoadings({ limits }, empty);
        const there = allLoadings(
          { limits: limitsTold(limits, (xM) => xM - shiftM) },
          { ...empty, xM: empty.xM - shiftM },
        );
        expect(there.state).toBe(here.state);
        if (here.state === 'nothing permitted' || there.state === 'nothing permitted') return;
        expect(there.mostAft.xM).toBeCloseTo(here.mostAft.xM - shiftM, 7);
        expect(there.worst.map(({ outM }) => outM)).toEqual(
          here.worst.map(({ outM }) => (outM === undefined ? undefined : expect.closeTo(outM, 6))),
        );
      }),
      { numRuns: 200, seed: 8 },
    );
  });

  it('[C2] a mass of nothing changes nothing', () => {
    const more = limitsOf({ stations: [...STATIONS, baggageOf('Shelf', 9, 0)] });
    expect(allLoadings({ limits: more }, EMPTY)).toEqual(allLoadings({ limits: limitsOf() }, EMPTY));
  });
});
