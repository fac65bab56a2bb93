/** One triangle of a mesh: its normal, as long as twice its area. For the few places that look at single triangles. */
import type { Mesh } from './mesh.ts';

export type Triple = readonly [number, number, number];

export type Triangle = { readonly a: Triple; readonly b: Triple; readonly c: Triple; readonly normal: Triple };

export function triangleAt(
  { coordinates, corners }: Pick<Mesh, 'coordinates' | 'corners'>,
  triangle: number,
): Triangle {
  const corner = (which: number): Triple => {
    const at = 3 * (corners[3 * triangle + which] as number);
    return [coordinates[at] as number, coordinates[at + 1] as number, coordinates[at + 2] as number];
  };
  const a = corner(0);
  const b = corner(1);
  const c = corner(2);
  const [ux, uy, uz] = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
  const [vx, vy, vz] = [c[0] - a[0], c[1] - a[1], c[2] - a[2]];
  return { a, b, c, normal: [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx] };
}
