/**
 * The uncertainty of a sum that is carried on (rule U2): what each source of error does to all that was put in, and the sums of the
 * squares over all sources. Putting in and taking out again leaves no trace, so that figures that follow the ledger entry by entry are
 * those of a ledger read anew, to the last bit.
 */
import { AXES, type Axis, type Tally, toKg } from '#shared/quantity/exact.ts';
import { ExactSums } from '#shared/quantity/exact-sum.ts';
import { centreOfGravityM } from '#shared/rollup/centre-of-gravity.ts';
import type { Shift, Shifts } from './shift.ts';

/** Whole nanograms, and as many kilogram metres: a source's own sums are then whole numbers that doubles hold. */
const PER_UNIT = 1e12;
/** Mass, and along each axis the mass that has an arm and its moment. */
const WIDTH = 7;
const AT: { readonly [axis in Axis]: number } = { x: 1, y: 3, z: 5 };
/** Sums of squares: of the mass, and along each axis placed², placed x moment, moment². */
const SQUARES = 10;
const SQUARE_AT: { readonly [axis in Axis]: number } = { x: 1, y: 4, z: 7 };

export class SourceSums {
  readonly #indexOf = new Map<string, number>();
  #sums = new Float64Array(64 * WIDTH);
  readonly #squares = new ExactSums(SQUARES);

  /** Puts shifts in, or takes out (`times` -1) what was put in before. */
  put(shifts: Shifts, times: 1 | -1): void {
    for (const [source, shift] of shifts) {
      const from = this.#rowOf(source);
      this.#square(from, -1);
      this.#add(from, shift, times);
      this.#square(from, 1);
    }
  }

  /**
   * Puts what a source does that speaks of one mass alone, in kilograms, and its moments in kg m, NaN along an axis without an arm: as `put`
   * would, but under no name, so that it cannot be taken out again.
   */
  putOnce(massKg: number, xKgM: number, yKgM: number, zKgM: number): void {
    const mass = Math.round(massKg * PER_UNIT);
    if (mass !== 0) this.#squares.add(0, mass * mass, 1);
    this.#squareOnce(SQUARE_AT.x, mass, xKgM);
    this.#squareOnce(SQUARE_AT.y, mass, yKgM);
    this.#squareOnce(SQUARE_AT.z, mass, zKgM);
  }

  /** The same of a source that other parts share, by its name. */
  putShared(source: string, massKg: number, xKgM: number, yKgM: number, zKgM: number): void {
    const from = this.#rowOf(source);
    this.#square(from, -1);
    const sums = this.#sums;
    const mass = Math.round(massKg * PER_UNIT);
    sums[from] = (sums[from] ?? 0) + mass;
    const place = (at: number, momentKgM: number) => {
      if (Number.isNaN(momentKgM)) return;
      sums[at] = (sums[at] ?? 0) + mass;
      sums[at + 1] = (sums[at + 1] ?? 0) + Math.round(momentKgM * PER_UNIT);
    };
    place(from + AT.x, xKgM);
    place(from + AT.y, yKgM);
    place(from + AT.z, zKgM);
    this.#square(from, 1);
  }

  /** Standard uncertainty of the mass, in kilograms. */
  massStdKg(): number {
    return Math.sqrt(this.#squares.read(0)) / PER_UNIT;
  }

  /**
   * Standard uncertainty of the CG along an axis, in metres: u(X)^2 = sum ((s - X p)/P)^2 over the sources, multiplied out. `tally` is what was
   * put in, about the first datum; `moreMoment2` adds to the sum of s^2, in (kg m)^2. Undefined where nothing is placed.
   */
  cgStdM(tally: Tally, axis: Axis, moreMoment2 = 0): number | undefined {
    const cg = centreOfGravityM(tally, axis);
    if (!cg.ok) return undefined;
    const at = SQUARE_AT[axis];
    const [placed, both, moment] = [this.#squares.read(at), this.#squares.read(at + 1), this.#squares.read(at + 2)];
    const square = moment + moreMoment2 * PER_UNIT ** 2 - 2 * cg.value * both + cg.value ** 2 * placed;
    return Math.sqrt(Math.max(0, square)) / PER_UNIT / toKg(tally[axis].placedNg);
  }

  /** What a source does to the moment along an axis, in kg m. */
  momentKgM(source: string, axis: Axis): number {
    const index = this.#indexOf.get(source);
    return index === undefined ? 0 : (this.#sums[index * WIDTH + AT[axis] + 1] ?? 0) / PER_UNIT;
  }

  #rowOf(source: string): number {
    const known = this.#indexOf.get(source);
    if (known !== undefined) return known * WIDTH;
    const index = this.#indexOf.size;
    this.#indexOf.set(source, index);
    if ((index + 1) * WIDTH > this.#sums.length) {
      const wider = new Float64Array(this.#sums.length * 2);
      wider.set(this.#sums);
      this.#sums = wider;
    }
    return index * WIDTH;
  }

  #add(from: number, shift: Shift, times: 1 | -1): void {
    const sums = this.#sums;
    const put = (at: number, value: number) => {
      if (value !== 0) sums[at] = (sums[at] ?? 0) + times * Math.round(value * PER_UNIT);
    };
    put(from, shift.massKg);
    for (const axis of AXES) {
      put(from + AT[axis], shift[axis].placedKg);
      put(from + AT[axis] + 1, shift[axis].momentKgM);
    }
  }

  #squareOnce(at: number, placed: number, momentKgM: number): void {
    if (Number.isNaN(momentKgM)) return;
    const moment = Math.round(momentKgM * PER_UNIT);
    this.#squares.add(at, placed * placed, 1);
    this.#squares.add(at + 1, placed * moment, 1);
    this.#squares.add(at + 2, moment * moment, 1);
  }

  #square(from: number, times: 1 | -1): void {
    const sums = this.#sums;
    const massNg = sums[from] ?? 0;
    if (massNg !== 0) this.#squares.add(0, massNg * massNg, times);
    for (const axis of AXES) {
      const placed = sums[from + AT[axis]] ?? 0;
      const moment = sums[from + AT[axis] + 1] ?? 0;
      if (placed === 0 && moment === 0) continue;
      const at = SQUARE_AT[axis];
      this.#squares.add(at, placed * placed, times);
      this.#squares.add(at + 1, placed * moment, times);
      this.#squares.add(at + 2, moment * moment, times);
    }
  }
}
