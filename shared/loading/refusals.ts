/**
 * What makes no sense in loading limits as a whole (rules C1, C3): all of it at once, each with its place under the names that a person types
 * it by. A figure by itself is refused where it is read.
 */
import type { Refusal } from '#shared/problem/registry.ts';
import { showFixed, showMass } from '#shared/quantity/show.ts';
import type { PathProblem } from '#shared/words/path-problem.ts';
import { envelopeRefusals } from './envelope-refusals.ts';
import {
  type LoadingCase,
  type LoadingLimits,
  type LoadingStation,
  MOST_SEATS,
  stationKey,
  type Tank,
} from './limits.ts';

/** What the limits are held against. Without an empty weight the maximum weights are not compared with one. */
export type Against = { readonly emptyKg?: number | undefined; readonly hasChord: boolean };

/** Quantities are typed rounded: a tank filled to a millilitre more than it holds is full. */
const ROUNDING = 1e-6;

/** Every objection to limits; none where they can be worked with. */
export function refusalsOfLimits(limits: LoadingLimits, against: Against): readonly PathProblem[] {
  const byName = new Map(limits.stations.map((station) => [stationKey(station.name), station]));
  return [
    ...seatsTooMany(limits.stations),
    ...twice(limits.stations, 'stations', (station) => ({ code: 'station-twice', station })),
    ...limits.stations.flatMap((station, at) => within(['stations', String(at)], stationRefusals(station, limits))),
    ...maximumRefusals(limits, against),
    ...envelopeRefusals(limits.envelope),
    ...(limits.envelope.by === 'per cent MAC' && !against.hasChord
      ? [{ path: ['envelope'], refusal: { code: 'chord-unknown' } } as const]
      : []),
    ...(limits.lateral !== undefined && limits.lateral.leftM >= limits.lateral.rightM
      ? [{ path: ['lateral'], refusal: { code: 'lateral-reversed' } } as const]
      : []),
    ...twice(limits.cases, 'cases', (name) => ({ code: 'case-twice', name })),
    ...limits.cases.flatMap((one, at) => within(['cases', String(at)], caseRefusals(one, byName))),
  ];
}

/** What is wrong with a case by itself, so that one can be tried before it is kept. */
export function caseRefusals(one: LoadingCase, byName: ReadonlyMap<string, LoadingStation>): readonly PathProblem[] {
  const loaded = new Map<string, number>();
  const problems: PathProblem[] = [];
  for (const [at, load] of one.loads.entries()) {
    const path = ['loads', String(at)];
    const key = stationKey(load.station);
    const station = byName.get(key);
    const amount = 'massKg' in load ? load.massKg : load.quantityL;
    if (station === undefined) problems.push(unknown([...path, 'station'], load.station, [...byName.values()]));
    else if (loaded.has(key))
      problems.push({ path: [...path, 'station'], refusal: { code: 'station-twice', station: station.name } });
    else if ((station.what === 'tank') !== 'quantityL' in load) {
      const wanted = station.what === 'tank' ? 'a quantity' : 'a mass';
      problems.push({ path, refusal: { code: 'load-in-other-unit', station: station.name, wanted } });
    } else {
      const refusal = boundsRefusal(station, amount);
      if (refusal !== undefined) problems.push({ path, refusal });
    }
    if (!loaded.has(key)) loaded.set(key, amount);
  }
  for (const [key, station] of byName) {
    const refusal = loaded.has(key) ? undefined : boundsRefusal(station, 0);
    if (refusal !== undefined) problems.push({ path: ['loads'], refusal });
  }
  return [...problems, ...burnRefusals(one, byName, loaded)];
}

function burnRefusals(
  { burn }: LoadingCase,
  byName: ReadonlyMap<string, LoadingStation>,
  loaded: ReadonlyMap<string, number>,
): readonly PathProblem[] {
  const tanks = [...byName.values()].filter((one): one is Tank => one.what === 'tank');
  const burntL = new Map<string, number>();
  return burn.flatMap(({ tank: name, quantityL }, at) => {
    const key = stationKey(name);
    const tank = tanks.find((one) => stationKey(one.name) === key);
    if (tank === undefined) return [unknown(['burn', String(at), 'tank'], name, tanks)];
    const burnt = (burntL.get(key) ?? 0) + quantityL;
    burntL.set(key, burnt);
    const spareL = Math.max(0, (loaded.get(key) ?? 0) - (tank.leastL ?? 0));
    if (burnt <= spareL + ROUNDING) return [];
    const refusal = { code: 'burn-above-fuel', tank: tank.name, burnt: inL(burnt), spare: inL(spareL) } as const;
    return [{ path: ['burn', String(at), 'quantity'], refusal }];
  });
}

/** Names of stations may stand here of which there are none. */
function unknown(path: readonly string[], station: string, stations: readonly LoadingStation[]): PathProblem {
  return { path, refusal: { code: 'station-unknown', station, known: stations.map(({ name }) => name) } };
}

function boundsRefusal(station: LoadingStation, amount: number): Refusal | undefined {
  const { name } = station;
  if (station.what === 'tank') {
    const { usableL, leastL = 0 } = station;
    if (amount > usableL + ROUNDING)
      return { code: 'fuel-above-capacity', tank: name, has: inL(amount), usable: inL(usableL) };
    if (amount >= leastL - ROUNDING) return undefined;
    return {
      code: 'load-out-of-bounds',
      station: name,
      has: inL(amount),
      may: `from ${inL(leastL)} to ${inL(usableL)}`,
    };
  }
  const isEmptySeat = station.what === 'seat' && station.isPilot !== true && amount === 0;
  const leastKg = station.what === 'seat' ? station.leastKg : 0;
  if (isEmptySeat || (amount >= leastKg - ROUNDING && amount <= station.mostKg + ROUNDING)) return undefined;
  const range = `from ${inKg(leastKg)} to ${inKg(station.mostKg)}`;
  const may = station.what === 'seat' && station.isPilot !== true ? `nothing, or ${range}` : range;
  return { code: 'load-out-of-bounds', station: name, has: inKg(amount), may };
}

function stationRefusals(station: LoadingStation, { lateral }: LoadingLimits): readonly PathProblem[] {
  const across: readonly PathProblem[] =
    lateral !== undefined && station.yM === undefined
      ? [{ path: ['y'], refusal: { code: 'lateral-without-butt-line', station: station.name } }]
      : [];
  if (station.what === 'baggage') return across;
  const isTank = station.what === 'tank';
  const [least, most] = isTank ? [station.leastL ?? 0, station.usableL] : [station.leastKg, station.mostKg];
  const inUnit = isTank ? inL : inKg;
  const bounds: readonly PathProblem[] =
    least > most
      ? [{ path: ['least'], refusal: { code: 'least-above-most', least: inUnit(least), most: inUnit(most) } }]
      : [];
  return [...across, ...bounds, ...(isTank ? tableRefusals(station) : [])];
}

function tableRefusals({ arm, usableL }: Tank): readonly PathProblem[] {
  if (typeof arm === 'number') return [];
  const falls = arm.flatMap(({ quantityL }, at): readonly PathProblem[] => {
    const before = arm[at - 1]?.quantityL;
    if (before === undefined || quantityL > before) return [];
    const refusal = { code: 'table-not-increasing', quantity: inL(quantityL), before: inL(before) } as const;
    return [{ path: ['arms', String(at), 'quantity'], refusal }];
  });
  const most = Math.max(...arm.map(({ quantityL }) => quantityL));
  if (most <= usableL + ROUNDING) return falls;
  return [
    ...falls,
    { path: ['arms'], refusal: { code: 'table-beyond-tank', quantity: inL(most), usable: inL(usableL) } },
  ];
}

function maximumRefusals(limits: LoadingLimits, { emptyKg }: Against): readonly PathProblem[] {
  const { maximumKg, zeroFuelMaximumKg, landingMaximumKg } = limits;
  const others = [
    { what: 'zero-fuel maximum', isKg: zeroFuelMaximumKg },
    { what: 'landing maximum', isKg: landingMaximumKg },
  ];
  return [{ what: 'maximum weight', isKg: maximumKg as number | undefined }, ...others].flatMap(
    ({ what, isKg }): readonly PathProblem[] => {
      if (isKg === undefined) return [];
      const path = [what];
      const stated = inKg(isKg);
      if (emptyKg !== undefined && isKg <= emptyKg)
        return [{ path, refusal: { code: 'maximum-below-empty', what, maximum: stated, empty: inKg(emptyKg) } }];
      if (isKg <= maximumKg) return [];
      return [{ path, refusal: { code: 'maximum-above-maximum', what, stated, maximum: inKg(maximumKg) } }];
    },
  );
}

function seatsTooMany(stations: readonly LoadingStation[]): readonly PathProblem[] {
  const seats = stations.filter(({ what }) => what === 'seat').length;
  if (seats <= MOST_SEATS) return [];
  return [{ path: ['stations'], refusal: { code: 'seats-too-many', seats, most: MOST_SEATS } }];
}

function twice(
  items: readonly { readonly name: string }[],
  field: string,
  refusalOf: (name: string) => Refusal,
): readonly PathProblem[] {
  const keys = items.map(({ name }) => stationKey(name));
  return items.flatMap(({ name }, at) =>
    keys.indexOf(keys[at] ?? '') === at ? [] : [{ path: [field, String(at), 'name'], refusal: refusalOf(name) }],
  );
}

function within(path: readonly string[], problems: readonly PathProblem[]): readonly PathProblem[] {
  return problems.map((problem) => ({ ...problem, path: [...path, ...problem.path] }));
}

function inKg(massKg: number): string {
  return `${showMass(massKg, 'kg')} kg`;
}

function inL(quantityL: number): string {
  return `${showFixed(quantityL, 1)} L`;
}
