/**
 * What a picture of the part needs when the mesh is gone (rule E5): its convex outline seen along each of its own axes, in metres, of at
 * most 48 points. The points are those of the mesh that lie furthest out in 48 directions, so each is a true corner.
 */
import { z } from 'zod';
import { MOST_LENGTH_M } from '#shared/quantity/typed.ts';
import { type Mesh, PER_STEP, type Stepwise } from './mesh.ts';
import type { Box } from './sums.ts';

export const MOST_OUTLINE_POINTS = 48;
const HALF = MOST_OUTLINE_POINTS / 2;

const alongM = z.number().min(-MOST_LENGTH_M).max(MOST_LENGTH_M);
const points = z
  .array(z.tuple([alongM, alongM]))
  .min(1)
  .max(MOST_OUTLINE_POINTS);

/** In the part's own frame: `xz` is what is seen along its y axis, and so on. Which of them is the side view its place decides. */
export const Outline = z.strictObject({ xy: points, xz: points, yz: points });
export type Outline = z.infer<typeof Outline>;

const VIEWS = { xy: [0, 1], xz: [0, 2], yz: [1, 2] } as const satisfies Record<
  keyof Outline,
  readonly [number, number]
>;

type Furthest = {
  readonly axes: readonly [number, number];
  readonly most: Float64Array;
  readonly least: Float64Array;
  readonly mostAt: Int32Array;
  readonly leastAt: Int32Array;
};

const COSINES = Float64Array.from({ length: HALF }, (_, step) => Math.cos((Math.PI * step) / HALF));
const SINES = Float64Array.from({ length: HALF }, (_, step) => Math.sin((Math.PI * step) / HALF));

export function* outlineOf(
  { coordinates }: Pick<Mesh, 'coordinates'>,
  box: Box,
  metresPerUnit: number,
): Stepwise<Outline> {
  const size = box.high.map((high, axis) => high - (box.low[axis] as number));
  // Directions are spread over the part as if it were as tall as it is long.
  const scales = size.map((along) => (along > 0 ? 1 / along : 0));
  const views = Object.values(VIEWS).map(nothingYet);
  const count = coordinates.length / 3;
  const middle = box.high.map((high, axis) => (high + (box.low[axis] as number)) / 2);
  for (let from = 0; from < count; from += PER_STEP) {
    const span = { from, to: Math.min(count, from + PER_STEP) };
    for (const view of views) stretch(view, coordinates, { middle, scales }, span);
    yield from / count;
  }
  const grainsPerM = grainOf(Math.max(...size) * metresPerUnit);
  const drawn = views.map((view) =>
    cornersOf(view, coordinates, (along) => grained(along * metresPerUnit, grainsPerM)),
  );
  return Outline.parse({ xy: drawn[0], xz: drawn[1], yz: drawn[2] });
}

function nothingYet(axes: readonly [number, number]): Furthest {
  return {
    axes,
    most: new Float64Array(HALF).fill(-Infinity),
    least: new Float64Array(HALF).fill(Infinity),
    mostAt: new Int32Array(HALF),
    leastAt: new Int32Array(HALF),
  };
}

function stretch(
  { axes, most, least, mostAt, leastAt }: Furthest,
  coordinates: Mesh['coordinates'],
  { middle, scales }: { readonly middle: readonly number[]; readonly scales: readonly number[] },
  { from, to }: { readonly from: number; readonly to: number },
): void {
  const [across, up] = axes;
  const acrossScale = scales[across] as number;
  const upScale = scales[up] as number;
  const acrossMiddle = middle[across] as number;
  const upMiddle = middle[up] as number;
  // Nothing within this distance of the middle can lie further out than what is there already.
  const within = Math.min(...most, ...least.map((out) => -out));
  const inner = within > 0 ? within ** 2 : 0;
  for (let vertex = from; vertex < to; vertex += 1) {
    const u = ((coordinates[3 * vertex + across] as number) - acrossMiddle) * acrossScale;
    const v = ((coordinates[3 * vertex + up] as number) - upMiddle) * upScale;
    if (u * u + v * v < inner) continue;
    for (let step = 0; step < HALF; step += 1) {
      const out = u * (COSINES[step] as number) + v * (SINES[step] as number);
      if (out > (most[step] as number)) {
        most[step] = out;
        mostAt[step] = vertex;
      }
      if (out < (least[step] as number)) {
        least[step] = out;
        leastAt[step] = vertex;
      }
    }
  }
}

/** Once around, each corner once. */
function cornersOf(
  { axes, mostAt, leastAt }: Furthest,
  coordinates: Mesh['coordinates'],
  inMetres: (along: number) => number,
): readonly (readonly [number, number])[] {
  const around = [...mostAt, ...leastAt].map(
    (vertex) =>
      [
        inMetres(coordinates[3 * vertex + axes[0]] as number),
        inMetres(coordinates[3 * vertex + axes[1]] as number),
      ] as const,
  );
  const corners = around.filter((point, at) => at === 0 || !same(point, around[at - 1]));
  while (corners.length > 1 && same(corners[0], corners.at(-1))) corners.pop();
  return corners;
}

function same(one: readonly [number, number] | undefined, other: readonly [number, number] | undefined): boolean {
  return one?.[0] === other?.[0] && one?.[1] === other?.[1];
}

/** How many grains of an outline make a metre: the grain is a power of ten, a thousandth of the part at the most. */
function grainOf(sizeM: number): number {
  return sizeM > 0 ? 10 ** Math.max(0, Math.ceil(3 - Math.log10(sizeM))) : 1;
}

function grained(alongM: number, grainsPerM: number): number {
  return Math.round(alongM * grainsPerM) / grainsPerM + 0;
}
