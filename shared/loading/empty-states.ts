/**
 * Several empty aircraft held against the same limits (rule C2): today's, the forecast, the corners of its band, and all of the band at once. With
 * a sloped limit a band may be inside at its corners and outside between them.
 */
import {
  type AllLoadings,
  allLoadings,
  type Loading,
  type Reach,
  type Worst,
  worstAmong,
  worstOf,
} from './all-loadings.ts';
import { bestMoments } from './best-moments.ts';
import { piecesOf } from './curve.ts';
import { boundsOf, massToInside } from './envelope.ts';
import type { EmptyState, StationOf } from './limits.ts';
import { loadedAt } from './loaded.ts';

export type Named<Name extends string = string> = EmptyState & { readonly name: Name };

export const CORNERS = ['light and forward', 'light and aft', 'heavy and forward', 'heavy and aft'] as const;
export type Corner = (typeof CORNERS)[number];

/** Between which masses and stations the empty aircraft may come out. */
export type Band = {
  readonly lowKg: number;
  readonly highKg: number;
  readonly forwardM: number;
  readonly aftM: number;
  readonly yM?: number | undefined;
};

/** Both ends of the mass with both ends of the CG. */
export function cornersOf(band: Band): readonly Named<Corner>[] {
  const { lowKg, highKg, forwardM, aftM, yM } = band;
  return [
    { name: 'light and forward', massKg: lowKg, xM: forwardM, yM },
    { name: 'light and aft', massKg: lowKg, xM: aftM, yM },
    { name: 'heavy and forward', massKg: highKg, xM: forwardM, yM },
    { name: 'heavy and aft', massKg: highKg, xM: aftM, yM },
  ];
}

/** The answer for each, in the order given. */
export function allLoadingsOfEach<Name extends string>(
  loading: Loading,
  empties: readonly Named<Name>[],
): readonly { readonly empty: Named<Name>; readonly all: AllLoadings }[] {
  return empties.map((empty) => ({ empty, all: allLoadings(loading, empty) }));
}

/** The worst loading at a side, and the empty aircraft of the band with which it is. */
export type BandWorst = Worst & { readonly empty: EmptyState };

export type BandLoadings = {
  readonly state: 'inside' | 'outside' | 'nothing permitted';
  readonly worst: readonly BandWorst[];
  /** Undefined where nothing is permitted. */
  readonly worstOfAll: BandWorst | undefined;
};

/**
 * Every permitted loading of every empty aircraft in the band. A CG further aft is worse at an aft limit whatever is loaded, so the CG is at an
 * end; the mass is searched like a load that is always aboard. Butt lines are left out.
 */
export function bandLoadings({ limits, chord }: Loading, band: Band): BandLoadings {
  const { lowKg, highKg, forwardM, aftM } = band;
  const { maximumKg, zeroFuelMaximumKg = maximumKg } = limits;
  const room = { allKg: maximumKg, dryKg: zeroFuelMaximumKg };
  const withAirframe = (xM: number) => [...limits.stations, { ...AIRFRAME, xM, leastKg: lowKg, mostKg: highKg }];
  const aft = bestMoments(withAirframe(aftM), room, { axis: 'x', way: 1 });
  if (piecesOf(aft).length === 0) return { state: 'nothing permitted', worst: [], worstOfAll: undefined };
  const forward = bestMoments(withAirframe(forwardM), room, { axis: 'x', way: -1 });
  const reach: Reach = { stations: withAirframe(aftM), empty: { massKg: 0, xM: 0 }, aft, forward };
  const bounds = boundsOf(limits.envelope, chord);
  const worst = worstOf(reach, bounds).map(({ loads, ...found }): BandWorst => {
    const airframe = loads.find(({ station }) => station === AIRFRAME.name);
    const massKg = airframe !== undefined && 'massKg' in airframe ? airframe.massKg : lowKg;
    const drawn = { massKg, xM: found.way === 'forward' ? forwardM : aftM };
    const rest = loads.filter((load) => load !== airframe);
    const loaded = loadedAt(drawn, rest, { stations: limits.stations, chord });
    return { ...found, outKg: found.outKg ?? massToInside(bounds, loaded), loaded, empty: drawn };
  });
  const state = worst.some(({ isOutside }) => isOutside) ? 'outside' : 'inside';
  return { state, worst, worstOfAll: worstAmong(worst) };
}

/** The empty aircraft as a station; its name is one that no station can have. */
const AIRFRAME: StationOf<'seat'> = { what: 'seat', name: '', xM: 0, leastKg: 0, mostKg: 0, isPilot: true };
