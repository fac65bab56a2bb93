/**
 * A tally of very many masses at their arms, exact as `Tally` is, without a bigint for each: masses and arms are cut into pieces whose
 * products plain numbers hold, and what has gathered is carried over into whole numbers now and then.
 */
import { addTally, EMPTY_TALLY, type MassNg, type MomentNgNm, type Placed, type Tally } from './exact.ts';

/** Sizes below which masses and arms are taken: 4,500 kg, 1,099 m. */
export const MOST_FLAT_NG = 2 ** 52;
export const MOST_FLAT_NM = 2 ** 40;

/** A mass is cut at 2^26 and an arm at 2^20: no product of two pieces exceeds 2^46, and 2^7 of them stay within 2^53. */
const MASS_CUT = 2 ** 26;
const ARM_CUT = 2 ** 20;
const MOST_GATHERED = 2 ** 7;

/** What is kept of an axis: the mass placed, low and high, and the products low x low, high x low, low x high, high x high. */
const PER_AXIS = 6;
const PIECES = 2 + 3 * PER_AXIS;

export class FlatTally {
  readonly #pieces = new Float64Array(PIECES);
  #carried = EMPTY_TALLY;
  #gathered = 0;

  /** Adds whole nanograms at whole nanometres, both within the sizes above; an arm that is NaN is not known. */
  add(massNg: number, xNm: number, yNm: number, zNm: number): void {
    const high = Math.floor(massNg / MASS_CUT);
    const low = massNg - high * MASS_CUT;
    const pieces = this.#pieces;
    pieces[0] = (pieces[0] ?? 0) + low;
    pieces[1] = (pieces[1] ?? 0) + high;
    if (!Number.isNaN(xNm)) place(pieces, 2, low, high, xNm);
    if (!Number.isNaN(yNm)) place(pieces, 2 + PER_AXIS, low, high, yNm);
    if (!Number.isNaN(zNm)) place(pieces, 2 + 2 * PER_AXIS, low, high, zNm);
    this.#gathered += 1;
    if (this.#gathered === MOST_GATHERED) this.#carry();
  }

  /** The sum of all that was added. */
  read(): Tally {
    this.#carry();
    return this.#carried;
  }

  #carry(): void {
    const pieces = this.#pieces;
    const piece = (at: number) => BigInt(pieces[at] ?? 0);
    const massAt = (at: number) => (piece(at) + (piece(at + 1) << 26n)) as MassNg;
    const placedAt = (at: number): Placed => ({
      placedNg: massAt(at),
      momentNgNm: (piece(at + 2) +
        (piece(at + 3) << 26n) +
        (piece(at + 4) << 20n) +
        (piece(at + 5) << 46n)) as MomentNgNm,
    });
    this.#carried = addTally(this.#carried, {
      massNg: massAt(0),
      x: placedAt(2),
      y: placedAt(2 + PER_AXIS),
      z: placedAt(2 + 2 * PER_AXIS),
    });
    pieces.fill(0);
    this.#gathered = 0;
  }
}

function place(pieces: Float64Array, at: number, low: number, high: number, armNm: number): void {
  const far = Math.floor(armNm / ARM_CUT);
  const near = armNm - far * ARM_CUT;
  pieces[at] = (pieces[at] ?? 0) + low;
  pieces[at + 1] = (pieces[at + 1] ?? 0) + high;
  pieces[at + 2] = (pieces[at + 2] ?? 0) + low * near;
  pieces[at + 3] = (pieces[at + 3] ?? 0) + high * near;
  pieces[at + 4] = (pieces[at + 4] ?? 0) + low * far;
  pieces[at + 5] = (pieces[at + 5] ?? 0) + high * far;
}
