/** What a loading makes of the empty aircraft (rules C1, R2): mass, moments and CG, exact sums rounded once. */
import {
  AXES,
  type Axis,
  addTally,
  type Tally,
  tallyOf,
  toKg,
  toKgM,
  toLengthNm,
  toMassNg,
} from '#shared/quantity/exact.ts';
import { centreOfGravityM, percentMac } from '#shared/rollup/centre-of-gravity.ts';
import { type Chord, type EmptyState, type Load, type LoadingStation, stationKey, type Tank } from './limits.ts';

/** Without what is not known: a butt line or waterline of the empty aircraft, the chord. `loads` leaves out what is empty. */
export type Loaded = {
  readonly massKg: number;
  readonly momentXKgM: number;
  readonly momentYKgM: number | undefined;
  readonly momentZKgM: number | undefined;
  readonly xM: number;
  readonly yM: number | undefined;
  readonly zM: number | undefined;
  readonly percentMac: number | undefined;
  readonly loads: readonly ItemLoaded[];
};

/** A load with its mass, and the station at which it acts. */
export type ItemLoaded = {
  readonly station: string;
  readonly massKg: number;
  readonly quantityL: number | undefined;
  readonly xM: number;
};

export type Aboard = { readonly stations: readonly LoadingStation[]; readonly chord?: Chord | undefined };

/**
 * The empty aircraft with its loads. Loads at stations that are not there are left out: `refusals.ts` refuses them. Along y and z a mass without
 * an arm lies at the CG of the rest; where the empty aircraft has none, nothing is said.
 */
export function loadedAt(empty: EmptyState, loads: readonly Load[], { stations, chord }: Aboard): Loaded {
  const items = loads.flatMap((load) => {
    const station = stations.find(({ name }) => stationKey(name) === stationKey(load.station));
    const item = station === undefined ? undefined : itemOf(station, load);
    return station === undefined || item === undefined ? [] : [{ station, item }];
  });
  const emptyTally = tallyAt(empty.massKg, { x: empty.xM, y: empty.yM, z: empty.zM });
  const tally = items.reduce(
    (sum, { station, item }) => addTally(sum, tallyAt(item.massKg, { x: item.xM, y: station.yM, z: station.zM })),
    emptyTally,
  );
  const known = (axis: Axis) => emptyTally[axis].placedNg > 0n;
  const cg = (axis: Axis) => {
    const at = centreOfGravityM(tally, axis);
    return at.ok && known(axis) ? at.value : undefined;
  };
  const moment = (axis: Axis) => (known(axis) ? toKgM(tally[axis].momentNgNm) : undefined);
  const xM = cg('x') ?? empty.xM;
  return {
    massKg: toKg(tally.massNg),
    momentXKgM: toKgM(tally.x.momentNgNm),
    momentYKgM: moment('y'),
    momentZKgM: moment('z'),
    xM,
    yM: cg('y'),
    zM: cg('z'),
    percentMac: chord === undefined ? undefined : percentMac(xM, chord),
    loads: items.map(({ item }) => item),
  };
}

/** The arm of the usable fluid at a quantity: linear from row to row of a table, and level beyond its ends. */
export function tankArmM({ arm }: Tank, quantityL: number): number {
  if (typeof arm === 'number') return arm;
  const after = arm.findIndex((row) => row.quantityL >= quantityL);
  const to = arm[after] ?? arm.at(-1);
  const from = arm[after - 1] ?? to;
  if (to === undefined || from === undefined) throw new Error('a table of arms without rows');
  if (to === from || after === -1) return to.xM;
  return from.xM + ((to.xM - from.xM) * (quantityL - from.quantityL)) / (to.quantityL - from.quantityL);
}

/** What lies at a station; undefined where that is nothing, or where mass and litres are mixed up. */
function itemOf(station: LoadingStation, load: Load): ItemLoaded | undefined {
  const { name } = station;
  if (station.what === 'tank') {
    if (!('quantityL' in load) || load.quantityL === 0) return undefined;
    const { quantityL } = load;
    return { station: name, quantityL, massKg: quantityL * station.densityKgPerL, xM: tankArmM(station, quantityL) };
  }
  if (!('massKg' in load) || load.massKg === 0) return undefined;
  return { station: name, quantityL: undefined, massKg: load.massKg, xM: station.xM };
}

function tallyAt(massKg: number, arms: { readonly [axis in Axis]: number | undefined }): Tally {
  const [x, y, z] = AXES.map((axis) => {
    const arm = arms[axis];
    return arm === undefined ? undefined : toLengthNm(arm);
  });
  return tallyOf(toMassNg(massKg), { x, y, z });
}
