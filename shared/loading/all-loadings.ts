/**
 * Whether every permitted loading is inside the envelope, and which is worst at each side of it (rules C2, C5). The highest and the lowest
 * moment are known for every mass (`best-moments.ts`); along a side, CG less limit is (c + d m + e m²)/m - (a + b m) piece by piece, so the
 * worst is at an end of a piece or where that is level, and nothing is sampled. Ends of steps are looked at a milligram beyond.
 */
import { bestMoments, type Room } from './best-moments.ts';
import { amountsOf, type Curve, type Piece, piecesOf } from './curve.ts';
import {
  type Bounds,
  boundsOf,
  limitsAt,
  massToInside,
  NEAR_KG,
  NEAR_M,
  type Side,
  stationOf,
  type Way,
} from './envelope.ts';
import type { Chord, EmptyState, Load, LoadingLimits, LoadingStation } from './limits.ts';
import { type Loaded, loadedAt } from './loaded.ts';
import { levelOf, type Quadratic, valueAt } from './quadratic.ts';

/** How far into a side its end is looked at, where the limit steps there. */
const INTO_KG = 1e-6;

/**
 * The worst permitted loading at a side, or at the least and greatest mass of the envelope. `outM` is the station beyond the limit at that mass,
 * and `outKg` what would have to come off (or on, below 0) at that station; `outM` below 0 is the room that is left. For masses `outKg` alone.
 */
export type Worst = {
  readonly way: Way;
  /** By its corner, from 1; a mass has none. */
  readonly side: number | undefined;
  readonly isOutside: boolean;
  readonly limitM: number | undefined;
  readonly limitKg: number | undefined;
  readonly outM: number | undefined;
  readonly outKg: number | undefined;
  readonly loaded: Loaded;
};

/** A range of butt lines held against all loadings. `outM` below 0 is room that is left. */
export type Lateral = {
  readonly leftmost: Loaded;
  readonly rightmost: Loaded;
  readonly leftOutM: number;
  readonly rightOutM: number;
  readonly isOutside: boolean;
};

export type AllLoadings =
  | { readonly state: 'nothing permitted'; readonly lightest: Loaded }
  | {
      readonly state: 'inside' | 'outside';
      /** One for each side that any loading comes to, and for both masses; sides that are level in mass are in their neighbours'. */
      readonly worst: readonly Worst[];
      /** The farthest outside; of those inside the one with the least room. */
      readonly worstOfAll: Worst;
      readonly mostForward: Loaded;
      readonly mostAft: Loaded;
      readonly lightest: Loaded;
      readonly heaviest: Loaded;
      /** Undefined where no range is given, or the butt line of the empty aircraft is not known. */
      readonly lateral: Lateral | undefined;
    };

export type Loading = { readonly limits: LoadingLimits; readonly chord?: Chord | undefined };

/** For limits without refusals (`refusals.ts`). */
export function allLoadings({ limits, chord }: Loading, empty: EmptyState): AllLoadings {
  const reach = reachOf(limits, empty);
  const toLoaded = (loads: readonly Load[]) => loadedAt(empty, loads, { stations: limits.stations, chord });
  if (reach === undefined) return { state: 'nothing permitted', lightest: toLoaded(lightestLoads(limits.stations)) };
  const bounds = boundsOf(limits.envelope, chord);
  const worst = worstOf(reach, bounds).map((found): Worst => {
    const { loads, ...said } = found;
    const loaded = toLoaded(loads);
    return { ...said, outKg: said.outKg ?? massToInside(bounds, loaded), loaded };
  });
  const lateral = lateralOf({ limits, chord }, empty);
  const isOutside = worst.some((one) => one.isOutside) || lateral?.isOutside === true;
  const worstOfAll = worstAmong(worst);
  return {
    state: isOutside ? 'outside' : 'inside',
    worst,
    worstOfAll,
    mostForward: toLoaded(extreme(reach, -1).loads),
    mostAft: toLoaded(extreme(reach, 1).loads),
    lightest: toLoaded(endOf(reach, 'lightest').loads),
    heaviest: toLoaded(endOf(reach, 'heaviest').loads),
    lateral,
  };
}

/** All permitted loadings of an empty aircraft; undefined where there is none. Moments of the curves are those of the loads, in their way. */
export type Reach = {
  readonly stations: readonly LoadingStation[];
  readonly empty: EmptyState;
  readonly aft: Curve;
  readonly forward: Curve;
};

export function reachOf(limits: LoadingLimits, empty: EmptyState): Reach | undefined {
  const { stations } = limits;
  const room = roomOf(limits, empty);
  const aft = bestMoments(stations, room, { axis: 'x', way: 1 });
  if (piecesOf(aft).length === 0) return undefined;
  return { stations, empty, aft, forward: bestMoments(stations, room, { axis: 'x', way: -1 }) };
}

export function roomOf({ maximumKg, zeroFuelMaximumKg }: LoadingLimits, { massKg }: EmptyState): Room {
  const allKg = maximumKg - massKg;
  return { allKg, dryKg: (zeroFuelMaximumKg ?? maximumKg) - massKg };
}

/** A worst loading before it is told: as its loads. */
export type Found = Omit<Worst, 'loaded'> & { readonly massKg: number; readonly loads: readonly Load[] };

/** The worst loading at every side that loadings come to, and the lightest and the heaviest against the masses of the envelope. */
export function worstOf(reach: Reach, bounds: Bounds): readonly Found[] {
  const found = bounds.sides.flatMap((side) => {
    const worst = worstAt(reach, side, bounds);
    return worst === undefined ? [] : [worst];
  });
  return [...found, massFound(reach, bounds, 'too light'), massFound(reach, bounds, 'too heavy')];
}

function massFound(reach: Reach, { lightKg, heavyKg }: Bounds, way: 'too light' | 'too heavy'): Found {
  const isLight = way === 'too light';
  const { massKg, loads } = endOf(reach, isLight ? 'lightest' : 'heaviest');
  const limitKg = isLight ? lightKg : heavyKg;
  const outKg = massKg - limitKg;
  const isOutside = isLight ? outKg < -NEAR_KG : outKg > NEAR_KG;
  return { way, side: undefined, isOutside, limitM: undefined, limitKg, outM: undefined, outKg, massKg, loads };
}

/** The permitted loading of least or of greatest mass. */
function endOf(
  reach: Reach,
  which: 'lightest' | 'heaviest',
): { readonly massKg: number; readonly loads: readonly Load[] } {
  const isLight = which === 'lightest';
  const ends = piecesOf(reach.aft).map((piece) => ({ piece, atKg: isLight ? piece.fromKg : piece.toKg }));
  const end = ends.reduce((one, other) => (isLight === other.atKg < one.atKg ? other : one));
  return { massKg: reach.empty.massKg + end.atKg, loads: loadsOf(reach.stations, end.piece, end.atKg) };
}

function worstAt(reach: Reach, side: Side, bounds: Bounds): Found | undefined {
  const sign = side.way === 'aft' ? 1 : -1;
  let worst: { readonly loads: () => readonly Load[]; readonly massKg: number; readonly outM: number } | undefined;
  for (const { whole, range, loadsAt } of pieceRanges(reach, side, bounds)) {
    const level = levelOf(whole, sign * side.b);
    const inner = level !== undefined && level > range.fromKg && level < range.toKg ? [level] : [];
    for (const massKg of [range.fromKg, ...inner, range.toKg]) {
      const outM = valueAt(whole, massKg) / massKg - sign * stationOf(side, massKg);
      if (worst === undefined || outM > worst.outM) worst = { loads: () => loadsAt(massKg), massKg, outM };
    }
  }
  if (worst === undefined) return undefined;
  const { massKg, outM, loads } = worst;
  return {
    way: side.way,
    side: side.side,
    isOutside: outM > NEAR_M,
    limitM: stationOf(side, massKg),
    limitKg: undefined,
    outM,
    outKg: undefined,
    massKg,
    loads: loads(),
  };
}

/** A stretch of masses at which a side is the limit, and there the signed moment of the aircraft against its mass. */
type PieceRange = {
  readonly whole: Quadratic;
  readonly range: Range;
  readonly loadsAt: (massKg: number) => readonly Load[];
};

/** All of a side that loadings come to, piece by piece. Moments count aft at an aft limit, and forward at a forward one. */
export function pieceRanges(reach: Reach, side: Side, bounds: Bounds): readonly PieceRange[] {
  const { empty, stations } = reach;
  const sign = side.way === 'aft' ? 1 : -1;
  return piecesOf(sign === 1 ? reach.aft : reach.forward).flatMap((piece) => {
    const range = rangeAt(side, { fromKg: empty.massKg + piece.fromKg, toKg: empty.massKg + piece.toKg }, bounds);
    if (range === undefined) return [];
    const loadsAt = (massKg: number) => loadsOf(stations, piece, massKg - empty.massKg);
    return [{ whole: withEmpty(piece, empty, sign), range, loadsAt }];
  });
}

type Range = { readonly fromKg: number; readonly toKg: number };

/** The masses of a piece at which a side is the limit. */
function rangeAt(side: Side, piece: Range, bounds: Bounds): Range | undefined {
  const fromKg = Math.max(side.fromKg, piece.fromKg);
  const toKg = Math.min(side.toKg, piece.toKg);
  if (fromKg > toKg + NEAR_KG) return undefined;
  const isLimit = (massKg: number) => {
    const limit = limitsAt(bounds, massKg)?.[side.way];
    return limit !== undefined && Math.abs(stationOf(limit, massKg) - stationOf(side, massKg)) <= NEAR_M / 10;
  };
  if (toKg - fromKg < 2 * INTO_KG) {
    const middleKg = (fromKg + toKg) / 2;
    return isLimit(middleKg) ? { fromKg: middleKg, toKg: middleKg } : undefined;
  }
  return { fromKg: isLimit(fromKg) ? fromKg : fromKg + INTO_KG, toKg: isLimit(toKg) ? toKg : toKg - INTO_KG };
}

/** The signed moment of aircraft and loads against the mass of both. */
export function withEmpty({ c, d, e }: Quadratic, { massKg, xM }: EmptyState, sign: 1 | -1): Quadratic {
  return { c: c + sign * massKg * xM - d * massKg + e * massKg ** 2, d: d - 2 * e * massKg, e };
}

/** The CG farthest aft (1) or forward (-1) of all permitted loadings: the same search without a limit. */
function extreme(reach: Reach, sign: 1 | -1): { readonly atM: number; readonly loads: readonly Load[] } {
  return extremeOf(sign === 1 ? reach.aft : reach.forward, reach.stations, reach.empty, sign);
}

function extremeOf(
  curve: Curve,
  stations: readonly LoadingStation[],
  empty: { readonly massKg: number; readonly xM: number },
  sign: 1 | -1,
): { readonly atM: number; readonly loads: readonly Load[] } {
  let best: { readonly piece: Piece; readonly loadKg: number; readonly signedM: number } | undefined;
  for (const piece of piecesOf(curve)) {
    const whole = withEmpty(piece, empty, sign);
    const level = levelOf(whole, 0);
    const [fromKg, toKg] = [empty.massKg + piece.fromKg, empty.massKg + piece.toKg];
    const inner = level !== undefined && level > fromKg && level < toKg ? [level] : [];
    for (const massKg of [fromKg, ...inner, toKg]) {
      const signedM = valueAt(whole, massKg) / massKg;
      if (best === undefined || signedM > best.signedM) best = { piece, loadKg: massKg - empty.massKg, signedM };
    }
  }
  if (best === undefined) throw new Error('no loading is permitted');
  return { atM: sign * best.signedM, loads: loadsOf(stations, best.piece, best.loadKg) };
}

function lateralOf({ limits, chord }: Loading, empty: EmptyState): Lateral | undefined {
  const { lateral, stations } = limits;
  const { yM } = empty;
  if (lateral === undefined || yM === undefined) return undefined;
  const across = { massKg: empty.massKg, xM: yM };
  const [left, right] = ([-1, 1] as const).map((way) => {
    const curve = bestMoments(stations, roomOf(limits, empty), { axis: 'y', way });
    return extremeOf(curve, stations, across, way);
  }) as [ReturnType<typeof extremeOf>, ReturnType<typeof extremeOf>];
  const leftOutM = lateral.leftM - left.atM;
  const rightOutM = right.atM - lateral.rightM;
  const toLoaded = (loads: readonly Load[]) => loadedAt(empty, loads, { stations, chord });
  return {
    leftmost: toLoaded(left.loads),
    rightmost: toLoaded(right.loads),
    leftOutM,
    rightOutM,
    isOutside: Math.max(leftOutM, rightOutM) > NEAR_M,
  };
}

/** The loading behind a point of a curve. What is empty is left out. */
function loadsOf(stations: readonly LoadingStation[], piece: Piece, loadKg: number): readonly Load[] {
  const amounts = amountsOf(piece, loadKg);
  return stations.flatMap((station, index): readonly Load[] => {
    const massKg = amounts.get(index) ?? 0;
    if (massKg <= NEAR_KG) return [];
    if (station.what !== 'tank') return [{ station: station.name, massKg }];
    return [{ station: station.name, quantityL: massKg / station.densityKgPerL }];
  });
}

/** What must be aboard. */
export function lightestLoads(stations: readonly LoadingStation[]): readonly Load[] {
  return stations.flatMap((station): readonly Load[] => {
    const { name } = station;
    if (station.what === 'tank') return [{ station: name, quantityL: station.leastL ?? 0 }];
    return station.what === 'seat' && station.isPilot === true ? [{ station: name, massKg: station.leastKg }] : [];
  });
}

/** The farthest outside; of those inside the one with the least room. For a list with something in it. */
export function worstAmong<One extends Worst>(worst: readonly One[]): One {
  return worst.reduce((one, other) => (isWorse(other, one) ? other : one));
}

/** Outside is worse than inside, a mass outside is worse than any station, and else the station decides. */
function isWorse(one: Worst, other: Worst): boolean {
  if (one.isOutside !== other.isOutside) return one.isOutside;
  const height = ({ outM, isOutside }: Worst) => outM ?? (isOutside ? Infinity : -Infinity);
  return height(one) > height(other);
}
