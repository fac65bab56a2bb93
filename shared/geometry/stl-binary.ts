/**
 * Binary STL: 80 bytes of header that mean nothing, the count of triangles, and 50 bytes for each: a normal that is not trusted, three
 * vertices in single precision, and two bytes that mean nothing. 84 + 50 n bytes in all; no unit. A header may begin with "solid".
 */

import { accept, type Result, refuse } from '#shared/result.ts';
import { say } from '#shared/words/say.ts';
import { type Mesh, PER_STEP, type Stepwise } from './mesh.ts';
import type { MeshFileRefusal } from './refusal.ts';
import { VertexTable } from './vertex-table.ts';

const HEADER = 84;
const PER_TRIANGLE = 50;

/** Where the bytes are as many as the count in them says. No text is taken for one by chance. */
export function isBinaryStl(bytes: Uint8Array): boolean {
  const lengths = binaryStlLength(bytes);
  return lengths !== undefined && lengths.expected === bytes.length;
}

/** How long a binary STL with this count would be, or undefined where there is not even a count. */
export function binaryStlLength(
  bytes: Uint8Array,
): { readonly triangles: number; readonly expected: number } | undefined {
  if (bytes.length < HEADER) return undefined;
  const triangles = viewOf(bytes).getUint32(80, true);
  return { triangles, expected: HEADER + PER_TRIANGLE * triangles };
}

export function* readBinaryStl(bytes: Uint8Array): Stepwise<Result<Mesh, MeshFileRefusal>> {
  const view = viewOf(bytes);
  const count = view.getUint32(80, true);
  if (count === 0) return refuse({ code: 'mesh-without-triangles' });
  const table = new VertexTable({ precision: 'single', most: 3 * count });
  const corners = new Int32Array(3 * count);
  for (let from = 0; from < count; from += PER_STEP) {
    const broken = readSome(view, table, corners, { from, to: Math.min(count, from + PER_STEP) });
    if (broken !== undefined) return refuse({ code: 'mesh-not-finite', where: say`triangle ${broken + 1}` });
    yield from / count;
  }
  return accept({ format: 'STL binary', coordinates: table.take(), corners, outside: [] });
}

/** The first triangle with a vertex that is not finite, or undefined. */
function readSome(
  view: DataView,
  table: VertexTable,
  corners: Int32Array,
  { from, to }: { readonly from: number; readonly to: number },
): number | undefined {
  for (let triangle = from; triangle < to; triangle += 1) {
    const start = HEADER + PER_TRIANGLE * triangle + 12;
    for (let corner = 0; corner < 3; corner += 1) {
      const at = start + 12 * corner;
      const x = view.getFloat32(at, true);
      const y = view.getFloat32(at + 4, true);
      const z = view.getFloat32(at + 8, true);
      if (!(Number.isFinite(x) && Number.isFinite(y) && Number.isFinite(z))) return triangle;
      corners[3 * triangle + corner] = table.numberOf(x, y, z);
    }
  }
  return undefined;
}

function viewOf(bytes: Uint8Array): DataView {
  return new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
}
