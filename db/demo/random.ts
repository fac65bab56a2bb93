/**
 * Chance that can be repeated: a small 32-bit generator, well enough mixed for invented scatter and for nothing else. Each name
 * has a stream of its own, so that one more part does not change what befalls the others.
 */

export type Random = {
  /** From 0 up to, not including, 1. */
  readonly uniform: () => number;
  /** Mean 0, standard deviation 1, never beyond two of them: what lies further out is told as part of the story instead. */
  readonly normal: () => number;
  readonly oneOf: <Item>(items: readonly [Item, ...Item[]]) => Item;
};

export function randomFor(seed: number, name: string): Random {
  let state = mixedFrom(seed, name);
  const uniform = () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
  const normal = () => {
    for (;;) {
      // Twelve uniform numbers have a variance of 12/12 = 1.
      const sum = Array.from({ length: 12 }, uniform).reduce((total, one) => total + one, -6);
      if (Math.abs(sum) <= 2) return sum;
    }
  };
  return { uniform, normal, oneOf: (items) => items[Math.floor(uniform() * items.length)] ?? items[0] };
}

function mixedFrom(seed: number, name: string): number {
  let hash = 0x811c9dc5 ^ seed;
  for (const character of name) hash = Math.imul(hash ^ (character.codePointAt(0) ?? 0), 0x01000193);
  return hash | 0;
}
