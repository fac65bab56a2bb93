/**
 * Tells a scale that acts as a keyboard from a hand: its signs come within a few hundredths of a second of one another, and Enter as
 * quickly after them. What it types without a unit is asked about (rule W13); what a hand types has the unit that stands in the field.
 */

const MOST_GAP_MS = 40;
const LEAST_SIGNS = 3;

export class Wedge {
  #signs = 0;
  #lastAt = Number.NEGATIVE_INFINITY;

  /** A key went down at this time, in milliseconds. Answers whether it ends a line that was typed faster than a hand can. */
  endsLine(key: string, atMs: number): boolean {
    const isQuick = atMs - this.#lastAt <= MOST_GAP_MS;
    this.#lastAt = atMs;
    if (key === 'Enter') {
      const isLine = isQuick && this.#signs >= LEAST_SIGNS;
      this.#signs = 0;
      return isLine;
    }
    if (key.length === 1) this.#signs = isQuick ? this.#signs + 1 : 1;
    return false;
  }
}
