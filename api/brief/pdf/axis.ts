/** From a range of values to places on paper, with marks at round values. */

export type Axis = {
  readonly at: (value: number) => number;
  readonly marks: readonly number[];
  readonly decimals: number;
};

/** `from` and `to` are where the lowest and the highest value lie; at most `most` marks, each at 1, 2 or 5 times a power of ten. */
export function axisOf(values: readonly number[], from: number, to: number, most: number): Axis {
  const low = Math.min(...values);
  const high = Math.max(...values);
  // A line that is level still needs a height to lie in.
  const air = high > low ? (high - low) * 0.06 : Math.max(Math.abs(high) * 0.01, 0.001);
  const [bottom, top] = [low - air, high + air];
  const step = roundStep((top - bottom) / most);
  const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  const firstMark = Math.ceil(bottom / step);
  const count = Math.floor(top / step) - firstMark + 1;
  return {
    at: (value) => from + ((value - bottom) / (top - bottom)) * (to - from),
    // Whole numbers of steps, and 0 without a sign.
    marks: Array.from({ length: Math.max(0, count) }, (_, at) => (firstMark + at) * step + 0),
    decimals,
  };
}

function roundStep(atLeast: number): number {
  const power = 10 ** Math.floor(Math.log10(atLeast));
  const times = [1, 2, 5, 10].find((one) => one * power >= atLeast * (1 - 1e-9)) ?? 10;
  return times * power;
}
