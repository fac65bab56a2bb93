/** Meshes for tests: triangles of bodies that are known, and files of each format with them. */

import { type Geometry, geometryOf } from '#shared/geometry/geometry.ts';
import { type Measured, type MeshQuestion, measureMesh } from '#shared/geometry/measure.ts';
import { atOnce, type Mesh } from '#shared/geometry/mesh.ts';
import type { MeshRefusal } from '#shared/geometry/refusal.ts';
import type { Result } from '#shared/result.ts';

export type Point = readonly [number, number, number];
export type Triangles = readonly (readonly [Point, Point, Point])[];

/** A box with one corner at the origin, faces outwards. */
export function box(x: number, y: number, z: number): Triangles {
  const at = (corner: number): Point => [corner & 1 ? x : 0, corner & 2 ? y : 0, corner & 4 ? z : 0];
  const faces = [
    [0, 2, 3, 1],
    [4, 5, 7, 6],
    [0, 1, 5, 4],
    [2, 6, 7, 3],
    [0, 4, 6, 2],
    [1, 3, 7, 5],
  ] as const;
  return faces.flatMap(([a, b, c, d]) => [[at(a), at(b), at(c)] as const, [at(a), at(c), at(d)] as const]);
}

/** Half a sphere of radius 1 above z = 0, open below; `closed` with a floor. Corners lie on the sphere. */
export function hemisphere(rings: number, around: number, options: { readonly closed?: boolean } = {}): Triangles {
  const at = (ring: number, step: number): Point => {
    const up = (Math.PI / 2) * (ring / rings);
    const turn = (2 * Math.PI * (step % around)) / around;
    if (ring === rings) return [0, 0, 1];
    return [Math.cos(up) * Math.cos(turn), Math.cos(up) * Math.sin(turn), ring === 0 ? 0 : Math.sin(up)];
  };
  const triangles: [Point, Point, Point][] = [];
  for (let ring = 0; ring < rings; ring += 1) {
    for (let step = 0; step < around; step += 1) {
      triangles.push([at(ring, step), at(ring, step + 1), at(ring + 1, step)]);
      if (ring < rings - 1) triangles.push([at(ring, step + 1), at(ring + 1, step + 1), at(ring + 1, step)]);
    }
  }
  if (options.closed === true)
    for (let step = 0; step < around; step += 1) triangles.push([[0, 0, 0], at(0, step + 1), at(0, step)]);
  return triangles;
}

/** The skin of a cone of height `height` on a regular base of radius `radius`, open below. */
export function cone(height: number, radius: number, around: number): Triangles {
  const at = (step: number): Point => {
    const turn = (2 * Math.PI * (step % around)) / around;
    return [radius * Math.cos(turn), radius * Math.sin(turn), 0];
  };
  return Array.from({ length: around }, (_, step) => [at(step), at(step + 1), [0, 0, height]] as const);
}

/** Binary STL. Coordinates are rounded to single precision by the format. */
export function binaryStl(triangles: Triangles, header = 'made for a test'): Uint8Array {
  const bytes = new Uint8Array(84 + 50 * triangles.length);
  bytes.set(new TextEncoder().encode(header).subarray(0, 80));
  const view = new DataView(bytes.buffer);
  view.setUint32(80, triangles.length, true);
  triangles.forEach((corners, triangle) => {
    corners.flat().forEach((place, at) => {
      view.setFloat32(84 + 50 * triangle + 12 + 4 * at, place, true);
    });
  });
  return bytes;
}

export function textStl(triangles: Triangles, lineEnd = '\n'): Uint8Array {
  const facets = triangles.flatMap((corners) => [
    '  facet normal 0 0 0',
    '    outer loop',
    ...corners.map((corner) => `      vertex ${corner.join(' ')}`),
    '    endloop',
    '  endfacet',
  ]);
  return utf8(['solid made for a test', ...facets, 'endsolid made for a test', ''].join(lineEnd));
}

/** OBJ with each corner of each triangle a vertex of its own, as some programs write it. */
export function obj(triangles: Triangles): Uint8Array {
  const lines = triangles.flatMap((corners) => [...corners.map((corner) => `v ${corner.join(' ')}`), 'f -3 -2 -1']);
  return utf8(`# made for a test\n${lines.join('\n')}\n`);
}

export function utf8(text: string): Uint8Array {
  return new TextEncoder().encode(text);
}

export function measure(
  bytes: Uint8Array,
  question: Partial<MeshQuestion> & { readonly name?: string } = {},
): Result<Measured, MeshRefusal> {
  const { name = 'part.stl', unit = 'm', shape = 'shell' } = question;
  return atOnce(measureMesh({ name, bytes }, { unit, shape }));
}

/** The figures, where the file is expected to be taken. */
export function measured(bytes: Uint8Array, question: Parameters<typeof measure>[1] = {}): Measured {
  const result = measure(bytes, question);
  if (!result.ok) throw new Error(`refused: ${JSON.stringify(result.refusal)}`);
  return result.value;
}

export function refusalOf(bytes: Uint8Array, question: Parameters<typeof measure>[1] = {}): MeshRefusal | undefined {
  const result = measure(bytes, question);
  return result.ok ? undefined : result.refusal;
}

/** What is kept of a box of 1 x 2 x 4 m that lies in the aircraft as it is drawn: its centroid is at (2.5, 1, 2). */
export function keptGeometry(zeroXM = 2): Geometry {
  const file = { fileName: 'box.stl', byteLength: 684, sha256: 'a'.repeat(64) };
  const placement = {
    ...({ xPoints: 'aft', yPoints: 'right', zPoints: 'up' } as const),
    isMirrored: false,
    zero: { xM: zeroXM, yM: 0, zM: 0 },
  };
  const kept = geometryOf(file, measured(binaryStl(box(1, 2, 4)), { shape: 'solid' }), placement);
  if (!kept.ok) throw new Error(kept.refusal.code);
  return kept.value;
}

export function trianglesOf({ coordinates, corners }: Pick<Mesh, 'coordinates' | 'corners'>): Triangles {
  const at = (corner: number): Point => {
    const from = 3 * (corners[corner] ?? 0);
    return [coordinates[from] ?? 0, coordinates[from + 1] ?? 0, coordinates[from + 2] ?? 0];
  };
  return Array.from({ length: corners.length / 3 }, (_, triangle) => [
    at(3 * triangle),
    at(3 * triangle + 1),
    at(3 * triangle + 2),
  ]);
}
