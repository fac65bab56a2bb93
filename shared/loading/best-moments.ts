/**
 * The set of all permitted loadings, as the highest and the lowest moment for every mass that can be loaded (rule C2). Seats are empty or
 * between their least and most, and both are carried on together, so no combination is listed: of those with one mass only the best counts.
 * The arm of a tank is linear in its quantity row by row, so its moment is quadratic in its mass there, and stays so in every sum.
 */
import { type Curve, NOTHING, type Piece, sumOf, upperOf, upTo } from './curve.ts';
import type { LoadingStation, Tank } from './limits.ts';

/** How heavy the loads may be: all together, and without usable fuel. */
export type Room = { readonly allKg: number; readonly dryKg: number };

/** Which moment: about the datum or about the middle, and the highest (1) or the lowest (-1). */
export type Sense = { readonly axis: 'x' | 'y'; readonly way: 1 | -1 };

/** `way` times the moment of the best loading, against its mass. Masses and moments are of the loads alone. Empty where nothing is permitted. */
export function bestMoments(stations: readonly LoadingStation[], room: Room, sense: Sense): Curve {
  const curves = stations.map((station, index) => ({ station, curve: curveOf(station, index, sense) }));
  const dry = curves.filter(({ station }) => station.what !== 'tank');
  // Loads without gaps first: most lone points then lie below what is there already.
  dry.sort((a, b) => Number(isWithGap(a.station)) - Number(isWithGap(b.station)));
  const wet = curves.filter(({ station }) => station.what === 'tank');
  const dryKg = Math.min(room.dryKg, room.allKg);
  const loaded = dry.reduce((sum, { curve }) => sumOf(sum, curve, dryKg), upTo(NOTHING, dryKg));
  return wet.reduce((sum, { curve }) => sumOf(sum, curve, room.allKg), loaded);
}

function isWithGap(station: LoadingStation): boolean {
  return station.what === 'seat' && station.isPilot !== true;
}

function curveOf(station: LoadingStation, index: number, { axis, way }: Sense): Curve {
  const origin = { of: 'station', index } as const;
  const level = (armM: number, fromKg: number, toKg: number): Piece => ({
    c: 0,
    d: way * armM,
    e: 0,
    fromKg,
    toKg,
    origin,
  });
  if (station.what === 'tank') {
    if (axis === 'x')
      return upperOf(tankPieces(station).map((piece) => ({ ...inWay(piece, way), origin: { ...origin } })));
    return upperOf([level(station.yM ?? 0, massOf(station, station.leastL ?? 0), massOf(station, station.usableL))]);
  }
  const armM = axis === 'x' ? station.xM : (station.yM ?? 0);
  if (station.what === 'baggage') return upperOf([level(armM, 0, station.mostKg)]);
  const seated = level(armM, station.leastKg, station.mostKg);
  return upperOf(station.isPilot === true ? [seated] : [level(armM, 0, 0), seated]);
}

function inWay<One extends { c: number; d: number; e: number }>(piece: One, way: 1 | -1): One {
  return { ...piece, c: way * piece.c, d: way * piece.d, e: way * piece.e };
}

function massOf(tank: Tank, quantityL: number): number {
  return quantityL * tank.densityKgPerL;
}

/** The moment of what is in a tank against its mass m, row by row of its table: arm a + b q, so a m + (b/density) m². */
export function tankPieces(tank: Tank): readonly Omit<Piece, 'origin'>[] {
  const leastL = tank.leastL ?? 0;
  const { usableL, densityKgPerL, arm } = tank;
  const rows = armRows(arm, usableL);
  const pieces = rows.flatMap(({ fromL, toL, atM, perL }) => {
    const [from, to] = [Math.max(fromL, leastL), Math.min(toL, usableL)];
    if (to < from || (to === from && from !== leastL)) return [];
    const range = { fromKg: massOf(tank, from), toKg: massOf(tank, to) };
    return [{ ...range, c: 0, d: atM - perL * fromL, e: perL / densityKgPerL }];
  });
  return pieces;
}

type ArmPiece = { readonly fromL: number; readonly toL: number; readonly atM: number; readonly perL: number };

function armRows(arm: Tank['arm'], usableL: number): readonly ArmPiece[] {
  if (typeof arm === 'number') return [{ fromL: 0, toL: usableL, atM: arm, perL: 0 }];
  const pieces = arm.flatMap(({ quantityL, xM }, at): readonly ArmPiece[] => {
    const next = arm[at + 1];
    if (next === undefined) return [{ fromL: quantityL, toL: Math.max(quantityL, usableL), atM: xM, perL: 0 }];
    return [{ fromL: quantityL, toL: next.quantityL, atM: xM, perL: (next.xM - xM) / (next.quantityL - quantityL) }];
  });
  const [first] = arm;
  if (first === undefined || first.quantityL <= 0) return pieces;
  return [{ fromL: 0, toL: first.quantityL, atM: first.xM, perL: 0 }, ...pieces];
}
