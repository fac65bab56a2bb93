/** What the fuzz draws with: everything follows from one seed. */
import { type Chance, chanceOf } from '#tests/support/chance.ts';

export class Draw {
  readonly #chance: Chance;

  constructor(seed: number) {
    this.#chance = chanceOf(seed);
  }

  /** True so often in a hundred. */
  in100(percent: number): boolean {
    return this.#chance.uniform() * 100 < percent;
  }

  /** A whole number, both ends included. */
  int(least: number, most: number): number {
    return least + Math.floor(this.#chance.uniform() * (most - least + 1));
  }

  of<T>(list: readonly T[]): T {
    const drawn = list[this.int(0, list.length - 1)];
    if (list.length === 0) throw new Error('nothing to draw from');
    return drawn as T;
  }

  /** A decimal with so many digits behind the point. */
  decimal(least: number, most: number, digits = 2): string {
    return (least + this.#chance.uniform() * (most - least)).toFixed(digits);
  }

  word(letters = this.int(3, 9)): string {
    return Array.from({ length: letters }, () => this.of([...'abcdefghiklmnoprstuvw'])).join('');
  }

  uuid(): string {
    const hex = Array.from({ length: 31 }, () => this.int(0, 15).toString(16)).join('');
    return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-4${hex.slice(12, 15)}-8${hex.slice(15, 18)}-${hex.slice(18, 30)}`;
  }

  day(): string {
    return `2026-0${this.int(1, 9)}-${String(this.int(1, 28)).padStart(2, '0')}`;
  }
}
