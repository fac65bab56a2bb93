/**
 * Volume and centroid of a tetrahedron.
 * Source: F. Tonon, Explicit exact formulas for the 3-D tetrahedron inertia tensor in terms of its vertex coordinates, Journal of
 * Mathematics and Statistics 1 (2004), worked example. Status of each value stands beside it.
 */
import { describe, expect, it } from 'vitest';
import { measured, type Point, textStl, utf8 } from '#tests/shared/geometry/make-mesh.ts';

// read
const A: Point = [8.3322, -11.86875, 0.93355];
const B: Point = [0.75523, 5, 16.37072];
const C: Point = [52.61236, 5, -5.3858];
const D: Point = [2, 5, 3];
const VOLUME_M3 = 1873.2334; // derived
const CENTROID: Point = [15.92492, 0.78281, 3.72962]; // read
// The mean of the vertices as they are printed; its x is 3e-5 from the printed one, which came from vertices with more digits: derived
const CENTROID_OF_PRINTED: Point = [15.9249475, 0.7828125, 3.7296175];

const OUTWARDS = [
  [A, C, B],
  [A, D, C],
  [A, B, D],
  [B, C, D],
] as const;

describe('a tetrahedron', () => {
  const files = {
    'text STL': textStl(OUTWARDS),
    OBJ: utf8(
      `v ${A.join(' ')}\nv ${B.join(' ')}\nv ${C.join(' ')}\nv ${D.join(' ')}\nf 1 3 2\nf 1 4 3\nf 1 2 4\nf 2 3 4\n`,
    ),
  };
  it.each(Object.entries(files))('[E5] has the volume and the centroid that are printed: %s', (_, bytes) => {
    const { volumeM3, centroid, findings } = measured(bytes, { shape: 'solid' });
    expect(Math.abs((volumeM3 ?? 0) - VOLUME_M3)).toBeLessThanOrEqual(0.00005);
    [centroid.partXM, centroid.partYM, centroid.partZM].forEach((along, axis) => {
      expect(Math.abs(along - (CENTROID[axis] ?? 0))).toBeLessThanOrEqual(0.00003);
      expect(Math.abs(along - (CENTROID_OF_PRINTED[axis] ?? 0))).toBeLessThanOrEqual(0.0000001);
    });
    expect(findings).toEqual([]);
  });
});
