/** Chance that can be repeated, for tests that draw: mulberry32 for uniform numbers, Box and Muller's transform for normal ones. */
export type Chance = { readonly uniform: () => number; readonly normal: () => number };

export function chanceOf(seed: number): Chance {
  let state = seed | 0;
  const uniform = () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
  // 1 - u is never 0.
  const normal = () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
  return { uniform, normal };
}
