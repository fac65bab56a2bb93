/**
 * How mass and moment of a loading go with every further kilogram put on (or taken off) the empty aircraft (rule C4): kept as it is while the
 * maximum weight lets it, or with one station that makes room for the change and keeps the mass. Each is a permitted loading all along, so the
 * change must grow past all of them. Pieces are quadratic in the change, as the moment of a tank with a table is.
 */
import { type Loading, roomOf } from './all-loadings.ts';
import { tankPieces } from './best-moments.ts';
import { NEAR_KG } from './envelope.ts';
import { type EmptyState, type Load, type LoadingStation, stationKey } from './limits.ts';
import { loadedAt } from './loaded.ts';
import { type Quadratic, valueAt } from './quadratic.ts';

/** `way` 1 puts on and -1 takes off, at most `mostKg` at a station. */
export type Change = {
  readonly way: 1 | -1;
  readonly xM: number;
  readonly yM?: number | undefined;
  readonly mostKg: number;
};

/** Between two amounts of the change: mass and moment of the aircraft against it. */
export type PathPiece = {
  readonly fromKg: number;
  readonly toKg: number;
  readonly mass: { readonly at: number; readonly per: number };
  readonly moment: Quadratic;
};
export type Path = readonly PathPiece[];

type At = { readonly massKg: number; readonly momentKgM: number };

/** The loading as it is, until the change has grown by `mostKg`. */
export function keptPath({ massKg, momentKgM, mostKg }: At & { readonly mostKg: number }, { way, xM }: Change): Path {
  const moment = { c: momentKgM, d: way * xM, e: 0 };
  return [{ fromKg: 0, toKg: mostKg, mass: { at: massKg, per: way }, moment }];
}

/** All the ways of one loading of the aircraft as it is by now. */
export function pathsOf(
  loads: readonly Load[],
  { limits }: Loading,
  empty: EmptyState,
  change: Change,
): readonly Path[] {
  const { stations } = limits;
  const aboard = stations.map((station) => {
    const load = loads.find((one) => stationKey(one.station) === stationKey(station.name));
    if (load === undefined) return 0;
    if (station.what !== 'tank') return 'massKg' in load ? load.massKg : 0;
    return 'quantityL' in load ? load.quantityL * station.densityKgPerL : 0;
  });
  const sumKg = (isWet: boolean) =>
    stations.reduce((sum, { what }, at) => ((what === 'tank') === isWet ? sum + (aboard[at] ?? 0) : sum), 0);
  const [dryKg, wetKg] = [sumKg(false), sumKg(true)];
  const room = roomOf(limits, empty);
  const spareDryKg = change.way === 1 ? Math.max(0, room.dryKg - dryKg) : Number.POSITIVE_INFINITY;
  const spareKg = change.way === 1 ? Math.max(0, room.allKg - dryKg - wetKg) : Number.POSITIVE_INFINITY;
  const { massKg, momentXKgM } = loadedAt(empty, loads, { stations });
  const at = { massKg, momentKgM: momentXKgM };
  const giving = stations.map((station, index) => {
    const mostKg = station.what === 'tank' ? spareDryKg : Number.POSITIVE_INFINITY;
    return givingPath(station, { ...at, aboardKg: aboard[index] ?? 0, mostKg }, change);
  });
  return [
    keptPath({ ...at, mostKg: Math.min(spareKg, spareDryKg) }, change),
    ...giving.filter((path) => path.length > 0),
  ];
}

/** One station has a kilogram less for every kilogram put on, and one more for every kilogram taken off, within its bounds. */
function givingPath(
  station: LoadingStation,
  { massKg, momentKgM, aboardKg, mostKg }: At & { readonly aboardKg: number; readonly mostKg: number },
  { way, xM }: Change,
): Path {
  const rows = rowsOf(station, aboardKg);
  const here = rows.find(({ fromKg, toKg }) => aboardKg >= fromKg - NEAR_KG && aboardKg <= toKg + NEAR_KG);
  if (here === undefined) return [];
  const restKgM = momentKgM - valueAt(here, aboardKg);
  const pieces = rows.map(({ c, d, e, fromKg, toKg }): PathPiece => {
    // With aboard - way t at the station, its moment is c + d (aboard - way t) + e (aboard - way t)².
    const ends = [way * (aboardKg - fromKg), way * (aboardKg - toKg)];
    const moment = {
      c: restKgM + valueAt({ c, d, e }, aboardKg),
      d: way * (xM - d - 2 * e * aboardKg),
      e,
    };
    const range = { fromKg: Math.max(0, Math.min(...ends)), toKg: Math.min(mostKg, Math.max(...ends)) };
    return { ...range, mass: { at: massKg, per: 0 }, moment };
  });
  return pieces.filter(({ fromKg, toKg }) => toKg > fromKg).sort((one, two) => one.fromKg - two.fromKg);
}

/** The moment at a station against what is aboard there, as far as that may change without leaving a seat. */
function rowsOf(station: LoadingStation, aboardKg: number): readonly (Quadratic & { fromKg: number; toKg: number })[] {
  if (station.what === 'tank') return tankPieces(station);
  const level = { c: 0, d: station.xM, e: 0, toKg: station.mostKg };
  if (station.what === 'baggage') return [{ ...level, fromKg: 0 }];
  return aboardKg < station.leastKg - NEAR_KG ? [] : [{ ...level, fromKg: station.leastKg }];
}
