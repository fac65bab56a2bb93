/**
 * Exact sums. A ledger's rows must add up to its total, in any order, to the last digit (rules L6, L8, R3), and floating
 * point does not promise that. So every mass that enters a sum is taken to the nearest nanogram and every arm to the
 * nearest nanometre, as whole numbers; moments are then exact products. One pound and one inch are whole numbers of
 * these units, and a nanogram is far below what any scale can tell.
 */

declare const nanogram: unique symbol;
declare const nanometre: unique symbol;
declare const nanogramNanometre: unique symbol;

export type MassNg = bigint & { readonly [nanogram]: true };
export type LengthNm = bigint & { readonly [nanometre]: true };
export type MomentNgNm = bigint & { readonly [nanogramNanometre]: true };

const NG_PER_KG = 1e12;
const NM_PER_M = 1e9;

/** Kilograms (finite) to whole nanograms, to nearest. */
export function toMassNg(massKg: number): MassNg {
  return BigInt(wholeNg(massKg)) as MassNg;
}

/** Metres (finite) to whole nanometres, to nearest. */
export function toLengthNm(lengthM: number): LengthNm {
  return BigInt(wholeNm(lengthM)) as LengthNm;
}

/** Kilograms to whole nanograms as a plain number: sums and differences of such are exact below 2^53, about 9,000 kg. */
export function wholeNg(massKg: number): number {
  return Math.round(massKg * NG_PER_KG);
}

/** Metres to whole nanometres as a plain number. */
export function wholeNm(lengthM: number): number {
  return Math.round(lengthM * NM_PER_M);
}

export function toKg(massNg: MassNg): number {
  return Number(massNg) / NG_PER_KG;
}

export function toM(lengthNm: LengthNm): number {
  return Number(lengthNm) / NM_PER_M;
}

export function toKgM(momentNgNm: MomentNgNm): number {
  return Number(momentNgNm) / NG_PER_KG / NM_PER_M;
}

export const AXES = ['x', 'y', 'z'] as const;
export type Axis = (typeof AXES)[number];

/** What has an arm along one axis: its mass, and its moment about the first datum. */
export type Placed = { readonly placedNg: MassNg; readonly momentNgNm: MomentNgNm };

/** A sum of masses with their moments. Mass whose arm along an axis is not known counts in `massNg` only. */
export type Tally = { readonly massNg: MassNg } & { readonly [axis in Axis]: Placed };

const NOTHING_PLACED: Placed = { placedNg: 0n as MassNg, momentNgNm: 0n as MomentNgNm };

export const EMPTY_TALLY: Tally = { massNg: 0n as MassNg, x: NOTHING_PLACED, y: NOTHING_PLACED, z: NOTHING_PLACED };

export type Arms = { readonly [axis in Axis]: LengthNm | undefined };

/** The tally of one mass at its arms. */
export function tallyOf(massNg: MassNg, arms: Arms): Tally {
  const placed = (armNm: LengthNm | undefined): Placed =>
    armNm === undefined ? NOTHING_PLACED : { placedNg: massNg, momentNgNm: (massNg * armNm) as MomentNgNm };
  return { massNg, x: placed(arms.x), y: placed(arms.y), z: placed(arms.z) };
}

export function addTally(a: Tally, b: Tally): Tally {
  return {
    massNg: (a.massNg + b.massNg) as MassNg,
    x: addPlaced(a.x, b.x),
    y: addPlaced(a.y, b.y),
    z: addPlaced(a.z, b.z),
  };
}

export function negateTally(a: Tally): Tally {
  const negated = (p: Placed): Placed => ({
    placedNg: -p.placedNg as MassNg,
    momentNgNm: -p.momentNgNm as MomentNgNm,
  });
  return { massNg: -a.massNg as MassNg, x: negated(a.x), y: negated(a.y), z: negated(a.z) };
}

export function subtractTally(a: Tally, b: Tally): Tally {
  return addTally(a, negateTally(b));
}

/** The same masses seen from a datum that lies `shiftNm` aft of the one the tally was made about: x - d (rule L8). */
export function seenFrom(tally: Tally, shiftNm: LengthNm): Tally {
  if (shiftNm === 0n) return tally;
  const momentNgNm = (tally.x.momentNgNm - tally.x.placedNg * shiftNm) as MomentNgNm;
  return { ...tally, x: { placedNg: tally.x.placedNg, momentNgNm } };
}

export function isEmptyTally(a: Tally): boolean {
  return a.massNg === 0n && AXES.every((axis) => a[axis].placedNg === 0n && a[axis].momentNgNm === 0n);
}

function addPlaced(a: Placed, b: Placed): Placed {
  return {
    placedNg: (a.placedNg + b.placedNg) as MassNg,
    momentNgNm: (a.momentNgNm + b.momentNgNm) as MomentNgNm,
  };
}
