/**
 * Small meshes of invented parts, drawn here and measured as any file would be (rule E5). Only what was measured goes into the ledger; the file is
 * evidence by its name, its length and its fingerprint.
 */
import { type Geometry, geometryOf } from '#shared/geometry/geometry.ts';
import { type MeshQuestion, measureMesh } from '#shared/geometry/measure.ts';
import { atOnce } from '#shared/geometry/mesh.ts';
import type { Placement } from '#shared/geometry/placement.ts';
import { sha256Of } from '#shared/geometry/sha256.ts';

type Point = readonly [x: number, y: number, z: number];

type Shape = {
  readonly fileName: string;
  readonly unit: MeshQuestion['unit'];
  readonly draw: () => Sheet;
  readonly placement: Placement;
};

/** A sheet over a net of points, so many by so many; `at` goes from 0 to 1 both ways. */
type Sheet = { readonly steps: readonly [number, number]; readonly at: (u: number, v: number) => Point };

/** In millimetres from the nose at the root: aft, outboard, up. */
const WING_UPPER: Sheet = {
  steps: [24, 10],
  at: (u, v) => {
    const xMm = 968 * u ** 1.6;
    const share = xMm / 1250;
    const heightMm =
      1250 *
      0.15 *
      5 *
      (0.2969 * Math.sqrt(share) - 0.126 * share - 0.3516 * share ** 2 + 0.2843 * share ** 3 - 0.1015 * share ** 4);
    return [xMm, 4640 * v, heightMm];
  },
};

/** In metres, across and up: a ring with a flange of 30 mm around the outside that stands aft. */
const MAIN_FRAME: Sheet = {
  steps: [6, 48],
  at: (u, v) => {
    // The end is the beginning, to the last digit.
    const turn = 2 * Math.PI * (v % 1);
    const across = Math.sign(Math.cos(turn)) * Math.abs(Math.cos(turn)) ** 0.6;
    const up = Math.sign(Math.sin(turn)) * Math.abs(Math.sin(turn)) ** 0.6;
    const flat = Math.min(1, u * 1.2);
    const out = 0.56 + 0.44 * flat;
    return [0.54 * out * across, 0.74 * out * up, u > 5 / 6 ? 0.03 * (u * 6 - 5) : 0];
  },
};

/** In metres from the stem: aft, to the right, up from the edge. */
const BOW_DECK: Sheet = {
  steps: [16, 12],
  at: (u, v) => {
    const halfM = 0.3 + 0.24 * Math.sin((Math.PI / 2) * u) ** 0.9;
    const across = 2 * v - 1;
    return [1.56 * u, halfM * across, 0.1 + 0.05 * u + 0.16 * halfM * (1 - across ** 2)];
  },
};

const SHAPES = {
  'wing upper skin, right': {
    fileName: 'wing-upper-skin-right.stl',
    unit: 'mm',
    draw: () => WING_UPPER,
    placement: {
      ...{ xPoints: 'aft', yPoints: 'right', zPoints: 'up' },
      isMirrored: false,
      zero: { xM: 3.15, yM: 0.3, zM: 1.52 },
    },
  },
  'wing upper skin, left': {
    fileName: 'wing-upper-skin-right.stl',
    unit: 'mm',
    draw: () => WING_UPPER,
    placement: {
      ...{ xPoints: 'aft', yPoints: 'left', zPoints: 'up' },
      isMirrored: true,
      zero: { xM: 3.15, yM: -0.3, zM: 1.52 },
    },
  },
  'main frame': {
    fileName: 'frame-4-main.stl',
    unit: 'm',
    draw: () => MAIN_FRAME,
    placement: {
      ...{ xPoints: 'right', yPoints: 'up', zPoints: 'aft' },
      isMirrored: false,
      zero: { xM: 3.445, yM: 0, zM: 0.5 },
    },
  },
  'bow deck': {
    fileName: 'deck-bow.stl',
    unit: 'm',
    draw: () => BOW_DECK,
    placement: {
      ...{ xPoints: 'aft', yPoints: 'right', zPoints: 'up' },
      isMirrored: false,
      zero: { xM: 0.5, yM: 0, zM: 0.35 },
    },
  },
} as const satisfies Record<string, Shape>;

export type ShapeName = keyof typeof SHAPES;

/** What is kept of the mesh of that shape, where its part lies. */
export function geometryOfShape(name: ShapeName): Geometry {
  const { fileName, unit, draw, placement }: Shape = SHAPES[name];
  const bytes = asStl(trianglesOf(draw()));
  const measured = atOnce(measureMesh({ name: fileName, bytes }, { unit, shape: 'shell' }));
  if (!measured.ok) throw new Error(`the mesh of ${name} is refused: ${JSON.stringify(measured.refusal)}`);
  const file = { fileName, byteLength: bytes.length, sha256: atOnce(sha256Of(bytes)) };
  const kept = geometryOf(file, measured.value, placement);
  if (!kept.ok) throw new Error(`the mesh of ${name} cannot lie so: ${JSON.stringify(kept.refusal)}`);
  return kept.value;
}

function trianglesOf({ steps: [uSteps, vSteps], at }: Sheet): readonly Point[] {
  return Array.from({ length: uSteps * vSteps }, (_, cell) => {
    const [u, v] = [Math.floor(cell / vSteps), cell % vSteps];
    const corner = (du: number, dv: number) => at((u + du) / uSteps, (v + dv) / vSteps);
    const [a, b, c, d] = [corner(0, 0), corner(1, 0), corner(1, 1), corner(0, 1)];
    return [a, b, c, a, c, d];
  }).flat();
}

/** Binary STL of corners, three to a triangle. Its normals are left at zero: readers work them out. */
function asStl(corners: readonly Point[]): Uint8Array {
  const count = corners.length / 3;
  const bytes = new Uint8Array(84 + 50 * count);
  const view = new DataView(bytes.buffer);
  view.setUint32(80, count, true);
  corners.forEach((corner, at) => {
    const start = 84 + 50 * Math.floor(at / 3) + 12 * (1 + (at % 3));
    corner.forEach((along, axis) => {
      view.setFloat32(start + 4 * axis, along, true);
    });
  });
  return bytes;
}
