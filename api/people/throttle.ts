/**
 * Slows down guessing: some tries are free, then each one has to wait twice as long as the one before, up to a minute. A minute
 * at most, so that nobody can lock somebody else out for long. Counted per key (a name, an address), in this process.
 *
 * A try is counted before it is judged: a hundred at the same moment do not pass as the first one.
 */

type Tally = { count: number; openAt: number; lastAt: number };

export type ThrottleKey = { readonly key: string; readonly free: number };

const LONGEST_WAIT_MS = 60_000;
const FORGET_AFTER_MS = 15 * 60_000;
/** Bounds the memory that made-up names can take. */
const MOST_KEYS = 20_000;

export class Throttle {
  readonly #tallies = new Map<string, Tally>();

  /** Counts a try under each key; answers the seconds to wait where it is refused, and counts nothing then. */
  take(keys: readonly ThrottleKey[], now: Date): number | undefined {
    const at = now.getTime();
    const waitMs = Math.max(0, ...keys.map(({ key }) => (this.#of(key, at)?.openAt ?? 0) - at));
    if (waitMs > 0) return Math.ceil(waitMs / 1000);
    for (const { key, free } of keys) {
      const count = (this.#of(key, at)?.count ?? 0) + 1;
      const delayMs = count < free ? 0 : Math.min(1000 * 2 ** (count - free), LONGEST_WAIT_MS);
      this.#tallies.delete(key);
      this.#tallies.set(key, { count, openAt: at + delayMs, lastAt: at });
    }
    this.#trim();
    return undefined;
  }

  /** The try was good. Its name starts anew; its address gets this one try back. */
  succeed(own: string, shared?: string): void {
    this.#tallies.delete(own);
    if (shared !== undefined) this.giveBack(shared);
  }

  /** The try was good: what it is counted under beside its name gets it back. */
  giveBack(shared: string): void {
    const tally = this.#tallies.get(shared);
    if (tally !== undefined) {
      tally.count -= 1;
      tally.openAt = 0;
    }
  }

  #of(key: string, at: number): Tally | undefined {
    const tally = this.#tallies.get(key);
    // Also where the clock was set back: nobody waits for a time that lies days ahead.
    return tally !== undefined && Math.abs(at - tally.lastAt) < FORGET_AFTER_MS ? tally : undefined;
  }

  #trim(): void {
    for (const key of this.#tallies.keys()) {
      if (this.#tallies.size <= MOST_KEYS) return;
      this.#tallies.delete(key);
    }
  }
}
