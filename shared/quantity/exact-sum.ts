/**
 * Sums of many numbers that can be carried on: what is put in and taken out again leaves no trace, and the order of it none either. Each
 * number is taken to the nearest whole one and cut into limbs that add up without rounding, so choose the unit of what is put in
 * accordingly. Numbers up to 2^160 in size; about 8,000 times that in all.
 */

const LIMB = 2 ** 40;
const WHOLE_LIMB = BigInt(LIMB);
const LIMBS = 4;
/** A limb is brought back below `LIMB` before whole numbers end at 2^53. */
const FULL = 2 ** 52;

export class ExactSums {
  readonly #limbs: Float64Array;

  constructor(count: number) {
    this.#limbs = new Float64Array(count * LIMBS);
  }

  /** Adds a finite number to the sum at `index`; `times` is 1, or -1 to take out what was put in. */
  add(index: number, value: number, times: 1 | -1): void {
    const limbs = this.#limbs;
    let rest = Math.round(Math.abs(value));
    const sign = value < 0 ? -times : times;
    for (let at = index * LIMBS; rest > 0; at += 1) {
      const above = Math.floor(rest / LIMB);
      const limb = (limbs[at] ?? 0) + sign * (rest - above * LIMB);
      limbs[at] = limb;
      if (Math.abs(limb) >= FULL) this.#carry(at);
      rest = above;
    }
  }

  /** The sum at `index`, rounded once. */
  read(index: number): number {
    const end = (index + 1) * LIMBS;
    for (let at = end - LIMBS; at < end - 1; at += 1) this.#carry(at);
    let sum = 0;
    for (let at = end - 1; at >= end - LIMBS; at -= 1) sum = sum * LIMB + (this.#limbs[at] ?? 0);
    return sum;
  }

  /** The sum at `index`, whole. */
  readWhole(index: number): bigint {
    let sum = 0n;
    for (let at = (index + 1) * LIMBS - 1; at >= index * LIMBS; at -= 1)
      sum = sum * WHOLE_LIMB + BigInt(this.#limbs[at] ?? 0);
    return sum;
  }

  #carry(at: number): void {
    const limb = this.#limbs[at] ?? 0;
    const above = Math.floor(limb / LIMB);
    this.#limbs[at] = limb - above * LIMB;
    this.#limbs[at + 1] = (this.#limbs[at + 1] ?? 0) + above;
  }
}
