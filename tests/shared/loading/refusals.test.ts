/** What loading limits refuse (rule C1), all at once and at their places. The figures are invented. */
import { describe, expect, it } from 'vitest';
import { LoadingLimits, MOST_SEATS } from '#shared/loading/limits.ts';
import { refusalsOfLimits } from '#shared/loading/refusals.ts';
import { explain } from '#shared/problem/registry.ts';
import type { DisplayUnits } from '#shared/quantity/show.ts';
import { baggageOf, envelopeOf, limitsOf, PILOT, STATIONS, saidOf, seatOf, tankOf } from './make-limits.ts';

const SQUARE = [
  [400, 2],
  [400, 2.4],
  [600, 2.4],
  [600, 2],
] as const;

describe('limits', () => {
  it('[C1] stations, maximum weight, envelope and cases that fit each other are taken, and survive the schema', () => {
    expect(saidOf({})).toEqual([]);
    expect(LoadingLimits.parse(limitsOf())).toEqual(limitsOf());
    expect(LoadingLimits.safeParse({ ...limitsOf(), colour: 'red' }).success).toBe(false);
  });

  it('[C1] everything that is wrong is told at once, each at its place', () => {
    const stations = [PILOT, seatOf('pilot ', 2), seatOf('Bench', 3, { leastKg: 90, mostKg: 80 })];
    const said = saidOf({ stations, maximumKg: 300, zeroFuelMaximumKg: 320, envelope: envelopeOf([1, 1]), cases: [] });
    expect(said).toEqual([
      'stations/1/name: station-twice',
      'stations/2/least: least-above-most',
      'maximum weight: maximum-below-empty',
      'zero-fuel maximum: maximum-below-empty',
      'envelope: envelope-too-few',
    ]);
  });

  it('[C1] zero-fuel and landing maximum lie between empty weight and maximum weight', () => {
    expect(saidOf({ zeroFuelMaximumKg: 600, landingMaximumKg: 650 })).toEqual([]);
    expect(saidOf({ zeroFuelMaximumKg: 651, landingMaximumKg: 350 })).toEqual([
      'zero-fuel maximum: maximum-above-maximum',
      'landing maximum: maximum-below-empty',
    ]);
    const unknownEmpty = refusalsOfLimits(limitsOf({ maximumKg: 1, cases: [] }), { hasChord: true });
    expect(unknownEmpty).toEqual([]);
  });

  it('[C1] figures are told in the units of the aircraft, fluids by the US gallon beside pounds', () => {
    const limits = limitsOf({ maximumKg: 300, stations: [PILOT, tankOf('Tank', 3, { usableL: 90 })], cases: [] });
    const inTank = { name: 'Full', loads: [{ station: 'Tank', quantityL: 100 }], burn: [] };
    const told = (units?: DisplayUnits) =>
      refusalsOfLimits(
        { ...limits, cases: [inTank], envelope: envelopeOf([0, 1], [0, 2], [10, 1], [1, 1.5], [10, 2]) },
        { emptyKg: 350, hasChord: true, ...(units === undefined ? {} : { units }) },
      ).map(({ refusal }) => explain(refusal).words);
    const inSi = told().join('\n');
    expect(inSi).toContain('(300.000 kg)');
    expect(inSi).toContain('(350.000 kg)');
    expect(inSi).toContain('100.0 L');
    const inPounds = told({ mass: 'lb', length: 'in' }).join('\n');
    // 300 kg / 0.45359237, 350 kg / 0.45359237, 100 L / 3.785411784, and the pilot's least.
    for (const figure of ['661.39 lb', '771.62 lb', '26.4 US gal', '23.8 US gal']) expect(inPounds).toContain(figure);
    expect(inPounds).not.toMatch(/\d (kg|L)\b/);
  });

  it('[C1] more seats than can be worked through are refused', () => {
    const bench = Array.from({ length: MOST_SEATS }, (_, at) => seatOf(`Seat ${at}`, 3));
    expect(saidOf({ stations: bench, cases: [] })).toEqual([]);
    expect(saidOf({ stations: [PILOT, ...bench], cases: [] })).toEqual(['stations: seats-too-many']);
  });

  it('[C1] a range of butt lines needs its ends in order and a butt line at every station', () => {
    const stations = STATIONS.map((station) => ({ ...station, yM: 0 }));
    expect(saidOf({ stations, lateral: { leftM: -0.1, rightM: 0.1 } })).toEqual([]);
    expect(saidOf({ stations, lateral: { leftM: 0.1, rightM: 0.1 } })).toEqual(['lateral: lateral-reversed']);
    expect(saidOf({ stations: [...stations, baggageOf('Nose', 1, 5)], lateral: { leftM: -0.1, rightM: 0.1 } })).toEqual(
      ['stations/4/y: lateral-without-butt-line'],
    );
  });

  it('[C1] a table of arms grows by quantity and ends at what the tank holds', () => {
    const withArm = (rows: readonly (readonly [number, number])[]) =>
      saidOf({
        stations: [
          PILOT,
          tankOf(
            'T',
            rows.map(([quantityL, xM]) => ({ quantityL, xM })),
          ),
        ],
        cases: [],
      });
    expect(withArm([[0, 2], [50, 2.2], [100, 2.1]])).toEqual([]); // biome-ignore format: rows read better
    expect(withArm([[0, 2], [50, 2.2], [50, 2.1]])).toEqual(['stations/1/arms/2/quantity: table-not-increasing']); // biome-ignore format: as above
    expect(withArm([[0, 2], [101, 2.1]])).toEqual(['stations/1/arms: table-beyond-tank']); // biome-ignore format: as above
  });

  it('[C1] what a tank must keep fits into it', () => {
    expect(saidOf({ stations: [PILOT, tankOf('T', 2, { leastL: 101 })], cases: [] })).toEqual([
      'stations/1/least: least-above-most',
    ]);
  });
});

describe('envelope', () => {
  const withCorners = (...corners: readonly (readonly [number, number])[]) =>
    saidOf({ envelope: envelopeOf(...corners) });

  it('[C1] corners may go around either way and start anywhere', () => {
    for (let turn = 0; turn < 4; turn += 1) {
      const turned = [...SQUARE.slice(turn), ...SQUARE.slice(0, turn)];
      expect(withCorners(...turned)).toEqual([]);
      expect(withCorners(...turned.reverse())).toEqual([]);
    }
  });

  it('[C1] a step in a limit, a dent and a corner on a straight side are no fault', () => {
    expect(withCorners([400, 2], [400, 2.4], [600, 2.4], [600, 2.1], [500, 2.1], [500, 2])).toEqual([]);
    expect(withCorners([400, 2], [400, 2.4], [500, 2.3], [600, 2.4], [600, 2], [500, 2.1], [450, 2.05])).toEqual([]);
  });

  it('[C1] fewer than three corners, and corners on one line, are refused', () => {
    expect(withCorners()).toEqual(['envelope: envelope-too-few']);
    expect(withCorners([400, 2], [600, 2.4])).toEqual(['envelope: envelope-too-few']);
    expect(withCorners([400, 2], [500, 2.2], [600, 2.4])).toEqual(['envelope: envelope-without-area']);
    expect(withCorners([400, 2], [400, 2], [400, 2])).toEqual(['envelope: envelope-without-area']);
  });

  it('[C1] sides that cross or touch are refused', () => {
    const [a, b, c, d] = SQUARE;
    expect(withCorners(a, c, b, d)).toEqual(['envelope: envelope-crosses-itself']);
    expect(withCorners(a, b, c, d, a)).toEqual(['envelope: envelope-crosses-itself']);
    expect(withCorners(a, b, b, c, d)).toEqual(['envelope: envelope-crosses-itself']);
    expect(withCorners(a, b, c, [500, 2.4], d)).toEqual(['envelope: envelope-crosses-itself']);
    expect(withCorners(a, b, [500, 2], c, d)).toEqual(['envelope: envelope-crosses-itself']);
    expect(withCorners(a, b, c, [450, 2.4], d)).toEqual(['envelope: envelope-crosses-itself']);
  });

  it('[C1] two CG ranges at one mass are refused', () => {
    expect(withCorners([400, 2], [400, 2.4], [600, 2.4], [450, 2.2], [600, 2])).toEqual(['envelope: envelope-in-two']);
  });

  it('[C1] per cent MAC needs the chord', () => {
    const envelope = { ...limitsOf().envelope, by: 'per cent MAC' as const };
    expect(saidOf({ envelope })).toEqual(['envelope: chord-unknown']);
    expect(refusalsOfLimits(limitsOf({ envelope }), { emptyKg: 350, hasChord: true })).toEqual([]);
  });
});

describe('cases', () => {
  const withCase = (loads: object[], burn: object[] = []) => saidOf({ cases: [{ name: 'A', loads, burn } as never] });
  const pilot = { station: 'Pilot', massKg: 80 };

  it('[C3] a case is refused where it leaves the bounds of a station', () => {
    expect(withCase([pilot])).toEqual([]);
    expect(withCase([])).toEqual(['cases/0/loads: load-out-of-bounds']);
    expect(withCase([{ ...pilot, massKg: 120 }])).toEqual(['cases/0/loads/0: load-out-of-bounds']);
    expect(withCase([pilot, { station: 'Passenger', massKg: 0 }])).toEqual([]);
    expect(withCase([pilot, { station: 'Passenger', massKg: 20 }])).toEqual(['cases/0/loads/1: load-out-of-bounds']);
    expect(withCase([pilot, { station: 'Hold', massKg: 31 }])).toEqual(['cases/0/loads/1: load-out-of-bounds']);
    expect(withCase([pilot, { station: 'Wing tanks', quantityL: 101 }])).toEqual([
      'cases/0/loads/1: fuel-above-capacity',
    ]);
  });

  it('[C3] a case is refused where a name is unknown, a station comes twice, or a mass stands for a quantity', () => {
    expect(withCase([pilot, { station: 'Roof', massKg: 1 }])).toEqual(['cases/0/loads/1/station: station-unknown']);
    expect(withCase([pilot, { ...pilot, station: 'PILOT' }])).toEqual(['cases/0/loads/1/station: station-twice']);
    expect(withCase([pilot, { station: 'Wing tanks', massKg: 9 }])).toEqual(['cases/0/loads/1: load-in-other-unit']);
    expect(withCase([pilot, { station: 'Hold', quantityL: 9 }])).toEqual(['cases/0/loads/1: load-in-other-unit']);
    const two = limitsOf().cases;
    expect(saidOf({ cases: [...two, ...two] })).toEqual(['cases/1/name: case-twice']);
  });

  it('[C3] no more is burnt than is loaded, over all steps, and what must stay in the tank stays', () => {
    const fuel = { station: 'Wing tanks', quantityL: 50 };
    const burn = (quantityL: number) => ({ tank: 'wing tanks', quantityL });
    expect(withCase([pilot, fuel], [burn(30), burn(20)])).toEqual([]);
    expect(withCase([pilot, fuel], [burn(30), burn(21)])).toEqual(['cases/0/burn/1/quantity: burn-above-fuel']);
    expect(withCase([pilot, fuel], [{ tank: 'Hold', quantityL: 1 }])).toEqual(['cases/0/burn/0/tank: station-unknown']);
    const stations = [PILOT, tankOf('Wing tanks', 2, { leastL: 10 })];
    const said = (most: number) =>
      saidOf({ stations, cases: [{ name: 'A', loads: [pilot, fuel], burn: [burn(most)] }] });
    expect(said(40)).toEqual([]);
    expect(said(41)).toEqual(['cases/0/burn/0/quantity: burn-above-fuel']);
    expect(saidOf({ stations, cases: [{ name: 'A', loads: [pilot], burn: [] }] })).toEqual([
      'cases/0/loads: load-out-of-bounds',
    ]);
  });
});
