/**
 * Area and volume of a mesh, with the point at which each acts (rule E5), in the numbers of its file.
 * A shell: the area of every triangle at the mean of its corners. A solid: the signed volume of the tetrahedron that every triangle makes
 * with one point, at the mean of its four corners. That point is the middle of the bounding box, so that a part drawn far from its origin loses
 * no digits. Sums go in the order of the file: the same file gives the same figures to the last digit.
 */
import { type Mesh, PER_STEP, type Stepwise } from './mesh.ts';
import { type Triple, triangleAt } from './triangle.ts';

export type Box = { readonly low: Triple; readonly high: Triple };

export type Sums = {
  readonly box: Box;
  readonly area: number;
  /** Where the area acts. Not a number where there is no area. */
  readonly areaCentroid: Triple;
  /** Below zero where the triangles face inwards. */
  readonly volume: number;
  readonly volumeCentroid: Triple;
  /** Triangles without an area; `firstFlat` counts from 1. */
  readonly flat: number;
  readonly firstFlat: number | undefined;
};

/** The sine of the angle below which a triangle has no area: what is left there is the rounding of the file. */
const FLAT = 1e-12;

type Totals = {
  area: number;
  readonly areaMoment: [number, number, number];
  volume: number;
  readonly volumeMoment: [number, number, number];
  flat: number;
  firstFlat: number | undefined;
};

type Span = { readonly from: number; readonly to: number };

export function* sumsOf(mesh: Mesh): Stepwise<Sums> {
  const box = boxOf(mesh.coordinates);
  const middle = between(box);
  const totals: Totals = {
    area: 0,
    areaMoment: [0, 0, 0],
    volume: 0,
    volumeMoment: [0, 0, 0],
    flat: 0,
    firstFlat: undefined,
  };
  const count = mesh.corners.length / 3;
  for (let from = 0; from < count; from += PER_STEP) {
    addTriangles(mesh, middle, totals, { from, to: Math.min(count, from + PER_STEP) });
    yield from / count;
  }
  takeOffOutside(mesh, middle, totals);
  const at = (moment: Triple, whole: number): Triple => [
    middle[0] + moment[0] / whole,
    middle[1] + moment[1] / whole,
    middle[2] + moment[2] / whole,
  ];
  return {
    box,
    area: totals.area,
    areaCentroid: at(totals.areaMoment, totals.area),
    volume: totals.volume,
    volumeCentroid: at(totals.volumeMoment, totals.volume),
    flat: totals.flat,
    firstFlat: totals.firstFlat,
  };
}

function boxOf(coordinates: Mesh['coordinates']): Box {
  const low: [number, number, number] = [Infinity, Infinity, Infinity];
  const high: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  for (let at = 0; at < coordinates.length; at += 3) {
    for (let axis = 0; axis < 3; axis += 1) {
      const place = coordinates[at + axis] as number;
      if (place < (low[axis] as number)) low[axis] = place;
      if (place > (high[axis] as number)) high[axis] = place;
    }
  }
  return { low, high };
}

function between({ low, high }: Box): Triple {
  return [(low[0] + high[0]) / 2, (low[1] + high[1]) / 2, (low[2] + high[2]) / 2];
}

function addTriangles({ coordinates, corners }: Mesh, middle: Triple, totals: Totals, { from, to }: Span): void {
  const [mx, my, mz] = middle;
  let area = 0;
  let sx = 0;
  let sy = 0;
  let sz = 0;
  let volume = 0;
  let vx = 0;
  let vy = 0;
  let vz = 0;
  for (let triangle = from; triangle < to; triangle += 1) {
    const a = 3 * (corners[3 * triangle] as number);
    const b = 3 * (corners[3 * triangle + 1] as number);
    const c = 3 * (corners[3 * triangle + 2] as number);
    const ax = (coordinates[a] as number) - mx;
    const ay = (coordinates[a + 1] as number) - my;
    const az = (coordinates[a + 2] as number) - mz;
    const bx = (coordinates[b] as number) - mx;
    const by = (coordinates[b + 1] as number) - my;
    const bz = (coordinates[b + 2] as number) - mz;
    const cx = (coordinates[c] as number) - mx;
    const cy = (coordinates[c + 1] as number) - my;
    const cz = (coordinates[c + 2] as number) - mz;
    const ux = bx - ax;
    const uy = by - ay;
    const uz = bz - az;
    const wx = cx - ax;
    const wy = cy - ay;
    const wz = cz - az;
    const nx = uy * wz - uz * wy;
    const ny = uz * wx - ux * wz;
    const nz = ux * wy - uy * wx;
    const twice = Math.sqrt(nx * nx + ny * ny + nz * nz);
    if (twice <= FLAT * Math.max(ux * ux + uy * uy + uz * uz, wx * wx + wy * wy + wz * wz)) {
      totals.flat += 1;
      totals.firstFlat ??= triangle + 1;
    }
    const x = ax + bx + cx;
    const y = ay + by + cy;
    const z = az + bz + cz;
    area += twice;
    sx += twice * x;
    sy += twice * y;
    sz += twice * z;
    const six = ax * nx + ay * ny + az * nz;
    volume += six;
    vx += six * x;
    vy += six * y;
    vz += six * z;
  }
  totals.area += area / 2;
  addMoment(totals.areaMoment, [sx, sy, sz], 6);
  totals.volume += volume / 6;
  addMoment(totals.volumeMoment, [vx, vy, vz], 24);
}

function addMoment(moment: [number, number, number], more: Triple, over: number): void {
  moment[0] += more[0] / over;
  moment[1] += more[1] / over;
  moment[2] += more[2] / over;
}

/** What of a fan lies outside of its polygon was added like the rest, and so comes off twice. */
function takeOffOutside(mesh: Mesh, middle: Triple, totals: Totals): void {
  for (const triangle of mesh.outside) {
    const { a, b, c, normal } = triangleAt(mesh, triangle);
    const twice = Math.hypot(...normal);
    totals.area -= twice;
    for (let axis = 0; axis < 3; axis += 1) {
      const place = ((a[axis] as number) + (b[axis] as number) + (c[axis] as number)) / 3 - (middle[axis] as number);
      totals.areaMoment[axis] = (totals.areaMoment[axis] as number) - twice * place;
    }
  }
}
