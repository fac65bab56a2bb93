/**
 * What makes no sense in loading limits as a whole (rules C1, C3): all of it at once, each with its place under the names that a person types
 * it by. A figure by itself is refused where it is read.
 */

import type { Refusal } from '#shared/problem/registry.ts';
import { type DisplayUnits, SI_UNITS, showFixed, showMass } from '#shared/quantity/show.ts';
import { VOLUME_UNIT_M3 } from '#shared/quantity/units.ts';
import type { PathProblem } from '#shared/words/path-problem.ts';
import { say } from '#shared/words/say.ts';
import { envelopeRefusals } from './envelope-refusals.ts';
import { fluidUnits } from './in-words.ts';
import {
  type LoadingCase,
  type LoadingLimits,
  type LoadingStation,
  MOST_SEATS,
  stationKey,
  type Tank,
} from './limits.ts';

/** What the limits are held against. Without an empty weight the maximum weights are not compared with one. */
export type Against = {
  readonly emptyKg?: number | undefined;
  readonly hasChord: boolean;
  /** What figures are told in; fluids go by US gallons beside pounds. */
  readonly units?: DisplayUnits;
};

/** Quantities are typed rounded: a tank filled to a millilitre more than it holds is full. */
const ROUNDING = 1e-6;

/** Every objection to limits; none where they can be worked with. */
export function refusalsOfLimits(limits: LoadingLimits, against: Against): readonly PathProblem[] {
  const byName = new Map(limits.stations.map((station) => [stationKey(station.name), station]));
  const tell = tellIn(against.units ?? SI_UNITS);
  return [
    ...seatsTooMany(limits.stations),
    ...twice(limits.stations, 'stations', (station) => ({ code: 'station-twice', station })),
    ...limits.stations.flatMap((station, at) =>
      within(['stations', String(at)], stationRefusals(station, limits, tell)),
    ),
    ...maximumRefusals(limits, against, tell),
    ...envelopeRefusals(limits.envelope, tell.mass),
    ...(limits.envelope.by === 'per cent MAC' && !against.hasChord
      ? [{ path: ['envelope'], refusal: { code: 'chord-unknown' } } as const]
      : []),
    ...(limits.lateral !== undefined && limits.lateral.leftM >= limits.lateral.rightM
      ? [{ path: ['lateral'], refusal: { code: 'lateral-reversed' } } as const]
      : []),
    ...twice(limits.cases, 'cases', (name) => ({ code: 'case-twice', name })),
    ...limits.cases.flatMap((one, at) => within(['cases', String(at)], caseRefusals(one, byName, tell))),
  ];
}

/** What is wrong with a case by itself. */
function caseRefusals(
  one: LoadingCase,
  byName: ReadonlyMap<string, LoadingStation>,
  tell: Tell,
): readonly PathProblem[] {
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
      const wanted = station.what === 'tank' ? 'a volume' : 'a mass';
      problems.push({ path, refusal: { code: 'load-in-other-unit', station: station.name, wanted } });
    } else {
      const refusal = boundsRefusal(station, amount, tell);
      if (refusal !== undefined) problems.push({ path, refusal });
    }
    if (!loaded.has(key)) loaded.set(key, amount);
  }
  for (const [key, station] of byName) {
    const refusal = loaded.has(key) ? undefined : boundsRefusal(station, 0, tell);
    if (refusal !== undefined) problems.push({ path: ['loads'], refusal });
  }
  return [...problems, ...burnRefusals(one, byName, loaded, tell)];
}

function burnRefusals(
  { burn }: LoadingCase,
  byName: ReadonlyMap<string, LoadingStation>,
  loaded: ReadonlyMap<string, number>,
  tell: Tell,
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
    const refusal = {
      code: 'burn-above-fuel',
      tank: tank.name,
      burnt: tell.volume(burnt),
      spare: tell.volume(spareL),
    } as const;
    return [{ path: ['burn', String(at), 'quantity'], refusal }];
  });
}

/** Names of stations may stand here of which there are none. */
function unknown(path: readonly string[], station: string, stations: readonly LoadingStation[]): PathProblem {
  return { path, refusal: { code: 'station-unknown', station, known: stations.map(({ name }) => name) } };
}

function boundsRefusal(station: LoadingStation, amount: number, tell: Tell): Refusal | undefined {
  const { name } = station;
  if (station.what === 'tank') {
    const { usableL, leastL = 0 } = station;
    if (amount > usableL + ROUNDING)
      return { code: 'fuel-above-capacity', tank: name, has: tell.volume(amount), usable: tell.volume(usableL) };
    if (amount >= leastL - ROUNDING) return undefined;
    return {
      code: 'load-out-of-bounds',
      station: name,
      has: tell.volume(amount),
      may: say`from ${tell.volume(leastL)} to ${tell.volume(usableL)}`,
    };
  }
  const isEmptySeat = station.what === 'seat' && station.isPilot !== true && amount === 0;
  const leastKg = station.what === 'seat' ? station.leastKg : 0;
  if (isEmptySeat || (amount >= leastKg - ROUNDING && amount <= station.mostKg + ROUNDING)) return undefined;
  const range = say`from ${tell.mass(leastKg)} to ${tell.mass(station.mostKg)}`;
  const may = station.what === 'seat' && station.isPilot !== true ? say`nothing, or ${range}` : range;
  return { code: 'load-out-of-bounds', station: name, has: tell.mass(amount), may };
}

function stationRefusals(station: LoadingStation, { lateral }: LoadingLimits, tell: Tell): readonly PathProblem[] {
  const across: readonly PathProblem[] =
    lateral !== undefined && station.yM === undefined
      ? [{ path: ['y'], refusal: { code: 'lateral-without-butt-line', station: station.name } }]
      : [];
  if (station.what === 'baggage') return across;
  const isTank = station.what === 'tank';
  const [least, most] = isTank ? [station.leastL ?? 0, station.usableL] : [station.leastKg, station.mostKg];
  const inUnit = isTank ? tell.volume : tell.mass;
  const bounds: readonly PathProblem[] =
    least > most
      ? [{ path: ['least'], refusal: { code: 'least-above-most', least: inUnit(least), most: inUnit(most) } }]
      : [];
  return [...across, ...bounds, ...(isTank ? tableRefusals(station, tell) : [])];
}

function tableRefusals({ arm, usableL }: Tank, tell: Tell): readonly PathProblem[] {
  if (typeof arm === 'number') return [];
  const falls = arm.flatMap(({ quantityL }, at): readonly PathProblem[] => {
    const before = arm[at - 1]?.quantityL;
    if (before === undefined || quantityL > before) return [];
    const refusal = {
      code: 'table-not-increasing',
      quantity: tell.volume(quantityL),
      before: tell.volume(before),
    } as const;
    return [{ path: ['arms', String(at), 'quantity'], refusal }];
  });
  const most = Math.max(...arm.map(({ quantityL }) => quantityL));
  if (most <= usableL + ROUNDING) return falls;
  return [
    ...falls,
    {
      path: ['arms'],
      refusal: { code: 'table-beyond-tank', quantity: tell.volume(most), usable: tell.volume(usableL) },
    },
  ];
}

function maximumRefusals(limits: LoadingLimits, { emptyKg }: Against, tell: Tell): readonly PathProblem[] {
  const { maximumKg, zeroFuelMaximumKg, landingMaximumKg } = limits;
  const others = [
    { what: say`zero-fuel maximum`, isKg: zeroFuelMaximumKg },
    { what: say`landing maximum`, isKg: landingMaximumKg },
  ];
  return [{ what: say`maximum weight`, isKg: maximumKg as number | undefined }, ...others].flatMap(
    ({ what, isKg }): readonly PathProblem[] => {
      if (isKg === undefined) return [];
      const path = [what];
      const stated = tell.mass(isKg);
      if (emptyKg !== undefined && isKg <= emptyKg)
        return [{ path, refusal: { code: 'maximum-below-empty', what, maximum: stated, empty: tell.mass(emptyKg) } }];
      if (isKg <= maximumKg) return [];
      return [{ path, refusal: { code: 'maximum-above-maximum', what, stated, maximum: tell.mass(maximumKg) } }];
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

/** Figures as text in the aircraft's units. */
type Tell = { readonly mass: (massKg: number) => string; readonly volume: (quantityL: number) => string };

function tellIn(units: DisplayUnits): Tell {
  const { volume } = fluidUnits(units);
  return {
    mass: (massKg) => `${showMass(massKg, units.mass)} ${units.mass}`,
    volume: (quantityL) => `${showFixed((quantityL * 0.001) / VOLUME_UNIT_M3[volume], 1)} ${volume}`,
  };
}
