/**
 * Errors that are carried through sums (rule U2). A `Shifts` says, for each source of error, by how much a tally would be off if that source
 * were off by one standard uncertainty. What shares a source is added before anything is squared, so that correlation is a matter of the
 * name of a source. First order (JCGM 100, 5.1 and 5.2, with shared sources written out).
 */
import { type Axis, type Tally, toKg } from '#shared/quantity/exact.ts';
import { centreOfGravityM } from '#shared/rollup/centre-of-gravity.ts';

/** A change of a tally: mass, and along each axis the mass that has an arm, and its moment about the first datum. */
export type Shift = { readonly massKg: number } & {
  readonly [axis in Axis]: { readonly placedKg: number; readonly momentKgM: number };
};

export type Shifts = ReadonlyMap<string, Shift>;

const STILL = { placedKg: 0, momentKgM: 0 };

/** What a mass that is off by `massKg` does at its arms; an axis without an arm is left out. */
export function massShift(massKg: number, armM: { readonly [axis in Axis]: number | undefined }): Shift {
  const along = (axis: Axis) => {
    const atM = armM[axis];
    return atM === undefined ? STILL : { placedKg: massKg, momentKgM: massKg * atM };
  };
  return { massKg, x: along('x'), y: along('y'), z: along('z') };
}

/** What an arm that is off does: a moment along its axis and nothing else. */
export function momentShift(axis: Axis, momentKgM: number): Shift {
  return { massKg: 0, x: STILL, y: STILL, z: STILL, [axis]: { placedKg: 0, momentKgM } };
}

export function addShift(a: Shift, b: Shift, times = 1): Shift {
  const along = (axis: Axis) => ({
    placedKg: a[axis].placedKg + times * b[axis].placedKg,
    momentKgM: a[axis].momentKgM + times * b[axis].momentKgM,
  });
  return { massKg: a.massKg + times * b.massKg, x: along('x'), y: along('y'), z: along('z') };
}

/** Adds the shift of a source to those gathered so far. */
export function gather(into: Map<string, Shift>, source: string, shift: Shift, times = 1): void {
  const before = into.get(source);
  into.set(source, addShift(before ?? NOTHING, shift, times));
}

export function gatherAll(into: Map<string, Shift>, shifts: Shifts, times = 1): void {
  for (const [source, shift] of shifts) gather(into, source, shift, times);
}

/** The shifts of a sum of parts. */
export function sumShifts(each: Iterable<Shifts>): Shifts {
  const sum = new Map<string, Shift>();
  for (const shifts of each) gatherAll(sum, shifts);
  return sum;
}

export const NOTHING: Shift = { massKg: 0, x: STILL, y: STILL, z: STILL };

/** Standard uncertainty of the mass, in kilograms: u(M)^2 = sum (dM/de u_e)^2. */
export function massStdKg(shifts: Shifts): number {
  let varianceKg2 = 0;
  for (const { massKg } of shifts.values()) varianceKg2 += massKg ** 2;
  return Math.sqrt(varianceKg2);
}

/**
 * Standard uncertainty of the CG along an axis, in metres: u(X)^2 = sum (((dS/de) - X dM/de)/M u_e)^2, with the mass M that has an arm
 * and its moment S. Undefined where nothing is placed.
 */
export function cgStdM(shifts: Shifts, tally: Tally, axis: Axis): number | undefined {
  const cg = centreOfGravityM(tally, axis);
  if (!cg.ok) return undefined;
  const placedKg = toKg(tally[axis].placedNg);
  let varianceM2 = 0;
  for (const shift of shifts.values())
    varianceM2 += ((shift[axis].momentKgM - cg.value * shift[axis].placedKg) / placedKg) ** 2;
  return Math.sqrt(varianceM2);
}
