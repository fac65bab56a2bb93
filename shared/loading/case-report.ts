/**
 * A named loading case: start, burn and landing, and where it leaves the envelope or passes a maximum (rules C3, C5). Tank by tank and row by row
 * the moment is a quadratic of the mass, so the masses at which the limits are crossed are roots, and every stretch outside is found.
 */

import type { Loading } from './all-loadings.ts';
import { tankPieces } from './best-moments.ts';
import {
  type Bounds,
  boundsOf,
  massToInside,
  NEAR_KG,
  NEAR_M,
  type Outside,
  outsideOf,
  stationOf,
} from './envelope.ts';
import {
  type BurnStep,
  type EmptyState,
  type Load,
  type LoadingCase,
  type LoadingLimits,
  stationKey,
  type Tank,
} from './limits.ts';
import { type Loaded, loadedAt } from './loaded.ts';
import { levelOf, type Quadratic, rootsOf, valueAt } from './quadratic.ts';

/** What is drawn between two ends of a piece: CG against mass is no straight line. */
const DRAWN_POINTS = 8;

/** While one tank is drawn from along one row of its table. Masses are of the aircraft and fall; `moment` is its moment against its mass. */
export type BurnPiece = {
  readonly tank: string;
  readonly fromKg: number;
  readonly toKg: number;
  /** Burnt from all tanks together before this piece, and how dense what is burnt in it is. */
  readonly burntBeforeL: number;
  readonly densityKgPerL: number;
  readonly moment: Quadratic;
};

export type BurnPoint = { readonly massKg: number; readonly xM: number; readonly burntL: number };

/** Outside the envelope from one point of the burn to another, and the worst of it. Both are one where only a point is outside. */
export type Stretch = {
  readonly from: BurnPoint;
  readonly to: BurnPoint;
  readonly worst: Outside & { readonly massKg: number; readonly xM: number };
};

export type Maximum = 'maximum weight' | 'zero-fuel maximum' | 'landing maximum';
export type AboveMaximum = { readonly what: Maximum; readonly massKg: number; readonly aboveKg: number };

/** Beyond the range of butt lines, and where in the case it is farthest. */
export type AcrossOutside = {
  readonly side: 'left' | 'right';
  readonly massKg: number;
  readonly yM: number;
  readonly limitM: number;
  readonly outM: number;
};

export type CaseReport = {
  readonly name: string;
  readonly state: 'inside' | 'outside';
  readonly start: Loaded;
  readonly landing: Loaded;
  readonly withoutFuel: Loaded;
  readonly pieces: readonly BurnPiece[];
  /** To draw, from start to landing. */
  readonly points: readonly BurnPoint[];
  readonly stretches: readonly Stretch[];
  readonly above: readonly AboveMaximum[];
  readonly across: AcrossOutside | undefined;
};

/** For a case without refusals. */
export function caseReport({ limits, chord }: Loading, one: LoadingCase, empty: EmptyState): CaseReport {
  const { stations } = limits;
  const toLoaded = (loads: readonly Load[]) => loadedAt(empty, loads, { stations, chord });
  const start = toLoaded(one.loads);
  const steps = one.burn.map((_, step) => toLoaded(afterBurn({ ...one, burn: one.burn.slice(0, step + 1) })));
  const landing = steps.at(-1) ?? start;
  const withoutFuel = toLoaded(one.loads.filter((load) => !('quantityL' in load)));
  const pieces = burnPieces(start, one, limits);
  const bounds = boundsOf(limits.envelope, chord);
  const stretches = stretchesOf(pieces, start, bounds);
  const above = aboveMaximum(limits, { start, landing, withoutFuel });
  const across = acrossOutside(limits, [start, ...steps]);
  return {
    name: one.name,
    state: stretches.length > 0 || above.length > 0 || across !== undefined ? 'outside' : 'inside',
    start,
    landing,
    withoutFuel,
    pieces,
    points: pointsOf(pieces, start),
    stretches,
    above,
    across,
  };
}

function afterBurn({ loads, burn }: LoadingCase): readonly Load[] {
  return loads.map((load) => {
    if (!('quantityL' in load)) return load;
    const burntL = burn
      .filter(({ tank }) => stationKey(tank) === stationKey(load.station))
      .reduce((sum, { quantityL }) => sum + quantityL, 0);
    return { ...load, quantityL: Math.max(0, load.quantityL - burntL) };
  });
}

/** A tank has one butt line, so that between two steps of the burn the CG moves across one way only: the worst is at one of them. */
function acrossOutside({ lateral }: LoadingLimits, at: readonly Loaded[]): AcrossOutside | undefined {
  if (lateral === undefined) return undefined;
  const { leftM, rightM } = lateral;
  const found = at.flatMap(({ massKg, yM }): AcrossOutside[] => {
    if (yM === undefined) return [];
    const isLeft = leftM - yM > yM - rightM;
    const outM = isLeft ? leftM - yM : yM - rightM;
    return outM > NEAR_M
      ? [{ side: isLeft ? 'left' : 'right', massKg, yM, limitM: isLeft ? leftM : rightM, outM }]
      : [];
  });
  return found.toSorted((one, two) => two.outM - one.outM)[0];
}

/** By the order of the burn. */
function burnPieces(start: Loaded, { loads, burn }: LoadingCase, { stations }: LoadingLimits): readonly BurnPiece[] {
  const leftL = new Map(loads.map((load) => [stationKey(load.station), 'quantityL' in load ? load.quantityL : 0]));
  const tanks = new Map(stations.flatMap((one) => (one.what === 'tank' ? [[stationKey(one.name), one] as const] : [])));
  let at = { massKg: start.massKg, momentKgM: start.momentXKgM, burntL: 0 };
  const pieces: BurnPiece[] = [];
  for (const step of burn) {
    const key = stationKey(step.tank);
    const tank = tanks.get(key);
    if (tank === undefined) continue;
    const fromL = leftL.get(key) ?? 0;
    leftL.set(key, fromL - step.quantityL);
    for (const piece of stepPieces(tank, { fromL, step, at })) {
      pieces.push(piece);
      at = {
        massKg: piece.toKg,
        momentKgM: valueAt(piece.moment, piece.toKg),
        burntL: piece.burntBeforeL + (piece.fromKg - piece.toKg) / piece.densityKgPerL,
      };
    }
  }
  return pieces;
}

type Burning = {
  readonly fromL: number;
  readonly step: BurnStep;
  readonly at: { readonly massKg: number; readonly momentKgM: number; readonly burntL: number };
};

/** One step of the burn, row by row of the tank's table from the fuller end. */
function stepPieces(tank: Tank, { fromL, step, at }: Burning): readonly BurnPiece[] {
  const { densityKgPerL } = tank;
  const [fullKg, emptyKg] = [fromL * densityKgPerL, (fromL - step.quantityL) * densityKgPerL];
  const rows = tankPieces({ ...tank, leastL: 0, usableL: Math.max(tank.usableL, fromL) });
  const holding = rows.find(({ fromKg, toKg }) => fullKg >= fromKg - NEAR_KG && fullKg <= toKg + NEAR_KG);
  if (holding === undefined) return [];
  const restKg = at.massKg - fullKg;
  const restKgM = at.momentKgM - valueAt(holding, fullKg);
  return rows
    .toReversed()
    .map((row) => ({ row, highKg: Math.min(row.toKg, fullKg), lowKg: Math.max(row.fromKg, emptyKg) }))
    .filter(({ highKg, lowKg }) => highKg - lowKg > NEAR_KG)
    .map(({ row: { c, d, e }, highKg, lowKg }) => ({
      tank: tank.name,
      fromKg: restKg + highKg,
      toKg: restKg + lowKg,
      burntBeforeL: at.burntL + (fullKg - highKg) / densityKgPerL,
      densityKgPerL,
      moment: { c: restKgM + c - d * restKg + e * restKg ** 2, d: d - 2 * e * restKg, e },
    }));
}

function pointAt(piece: BurnPiece, massKg: number): BurnPoint {
  const burntL = piece.burntBeforeL + (piece.fromKg - massKg) / piece.densityKgPerL;
  return { massKg, xM: valueAt(piece.moment, massKg) / massKg, burntL };
}

function pointsOf(pieces: readonly BurnPiece[], start: Loaded): readonly BurnPoint[] {
  const first: BurnPoint = { massKg: start.massKg, xM: start.xM, burntL: 0 };
  const rest = pieces.flatMap((piece) =>
    Array.from({ length: DRAWN_POINTS }, (_, at) =>
      pointAt(piece, piece.fromKg + ((piece.toKg - piece.fromKg) * (at + 1)) / DRAWN_POINTS),
    ),
  );
  return [first, ...rest];
}

function stretchesOf(pieces: readonly BurnPiece[], start: Loaded, bounds: Bounds): readonly Stretch[] {
  const at: BurnPoint = { massKg: start.massKg, xM: start.xM, burntL: 0 };
  const startOut = outsideOf(bounds, at);
  const found: Stretch[] =
    startOut === undefined ? [] : [{ from: at, to: at, worst: { ...startOut, massKg: at.massKg, xM: at.xM } }];
  for (const piece of pieces) for (const stretch of stretchesIn(piece, bounds)) addStretch(found, stretch);
  return found;
}

/** Goes on with the last stretch where this one begins at its end. */
function addStretch(found: Stretch[], stretch: Stretch): void {
  const last = found.at(-1);
  const goesOn = last !== undefined && Math.abs(last.to.massKg - stretch.from.massKg) <= NEAR_KG;
  if (!goesOn) found.push(stretch);
  else {
    const worst = depthOf(stretch.worst) > depthOf(last.worst) ? stretch.worst : last.worst;
    found[found.length - 1] = { from: last.from, to: stretch.to, worst };
  }
}

/** Outside by mass is worse than by any station, and worst where no mass at its station is inside. */
function depthOf({ outM, outKg }: Outside): number {
  return outM ?? (outKg === undefined ? 2e6 : 1e6 + Math.abs(outKg));
}

/** Between two neighbouring masses at which a limit is crossed or begins, all is inside or all outside by one limit. */
function stretchesIn(piece: BurnPiece, bounds: Bounds): readonly Stretch[] {
  const { moment, fromKg, toKg } = piece;
  const crossings = bounds.sides.flatMap(({ a, b, fromKg: low, toKg: high }) => [
    low,
    high,
    ...rootsOf({ c: moment.c, d: moment.d - a, e: moment.e - b }),
  ]);
  const inside = crossings.filter((massKg) => massKg < fromKg && massKg > toKg);
  const cuts = [fromKg, ...inside.sort((one, two) => two - one), toKg];
  return cuts.flatMap((high, at) => {
    const low = cuts[at + 1];
    if (low === undefined) return [];
    const out = outsideOf(bounds, pointAt(piece, (high + low) / 2));
    if (out === undefined) return [];
    return [
      { from: pointAt(piece, high), to: pointAt(piece, low), worst: worstBetween(piece, { high, low, out }, bounds) },
    ];
  });
}

function worstBetween(
  piece: BurnPiece,
  { high, low, out }: { readonly high: number; readonly low: number; readonly out: Outside },
  bounds: Bounds,
): Stretch['worst'] {
  const side = bounds.sides.find((one) => one.side === out.side);
  const level = side === undefined ? undefined : levelOf(piece.moment, side.b);
  const masses = [high, ...(level !== undefined && level < high && level > low ? [level] : []), low];
  const points = masses.map((massKg) => {
    const { xM } = pointAt(piece, massKg);
    const outKg = massToInside(bounds, { massKg, xM });
    if (side === undefined) return { ...out, outKg, massKg, xM };
    const limitM = stationOf(side, massKg);
    return { ...out, limitM, outM: Math.max(0, side.way === 'aft' ? xM - limitM : limitM - xM), outKg, massKg, xM };
  });
  return points.reduce((one, other) => (depthOf(other) > depthOf(one) + NEAR_M / 10 ? other : one));
}

function aboveMaximum(
  { maximumKg, zeroFuelMaximumKg, landingMaximumKg }: LoadingLimits,
  { start, landing, withoutFuel }: { readonly [of in 'start' | 'landing' | 'withoutFuel']: Loaded },
): readonly AboveMaximum[] {
  const held = [
    { what: 'maximum weight', mostKg: maximumKg, massKg: start.massKg },
    { what: 'zero-fuel maximum', mostKg: zeroFuelMaximumKg, massKg: withoutFuel.massKg },
    { what: 'landing maximum', mostKg: landingMaximumKg, massKg: landing.massKg },
  ] as const;
  return held.flatMap(({ what, mostKg, massKg }) => {
    const aboveKg = massKg - (mostKg ?? Number.POSITIVE_INFINITY);
    return aboveKg > NEAR_KG ? [{ what, massKg, aboveKg }] : [];
  });
}
