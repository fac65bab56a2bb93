/** Text STL: facets of three vertices each, in one or more solids. Normals are not trusted and names say nothing. No unit. */

import { accept, type Result, refuse } from '#shared/result.ts';
import { say } from '#shared/words/say.ts';
import { GrowingNumbers } from './growing.ts';
import { type Mesh, PER_STEP, type Stepwise } from './mesh.ts';
import type { MeshFileRefusal } from './refusal.ts';
import { TextCursor } from './text-cursor.ts';
import { VertexTable } from './vertex-table.ts';

type Reading = {
  readonly cursor: TextCursor;
  readonly table: VertexTable;
  readonly corners: GrowingNumbers;
  /** Vertices of the facet that is open, or undefined between facets. */
  open: number | undefined;
  closed: boolean;
};

/** A vertex takes 14 bytes at the least: its word, three numbers of a digit, four spaces or line ends. */
const LEAST_BYTES = 14;

export function* readTextStl(bytes: Uint8Array): Stepwise<Result<Mesh, MeshFileRefusal>> {
  const reading: Reading = {
    cursor: new TextCursor(bytes),
    table: new VertexTable({ precision: 'double', most: Math.ceil(bytes.length / LEAST_BYTES) }),
    corners: new GrowingNumbers(),
    open: undefined,
    closed: false,
  };
  const { cursor } = reading;
  while (!cursor.ended) {
    for (let lines = 0; lines < PER_STEP && !cursor.ended; lines += 1) {
      const refusal = readLine(reading);
      if (refusal !== undefined) return refuse(refusal);
    }
    yield Math.min(1, cursor.at / bytes.length);
  }
  if (reading.open !== undefined || !reading.closed) return refuse({ code: 'mesh-ends-early' });
  if (reading.corners.count === 0) return refuse({ code: 'mesh-without-triangles' });
  return accept({
    format: 'STL text',
    coordinates: reading.table.take(),
    corners: reading.corners.all(),
    outside: [],
  });
}

function readLine(reading: Reading): MeshFileRefusal | undefined {
  const { cursor } = reading;
  if (cursor.toWord()) {
    const refusal = readWords(reading);
    if (refusal !== undefined) return refusal;
  }
  cursor.nextLine();
  return undefined;
}

function readWords(reading: Reading): MeshFileRefusal | undefined {
  const { cursor } = reading;
  const word = cursor.word();
  switch (word) {
    case 'vertex':
      return readVertex(reading);
    case 'outer':
    case 'endloop':
      return undefined;
    case 'facet':
      if (reading.open !== undefined) return unreadable(cursor);
      reading.open = 0;
      reading.closed = false;
      return undefined;
    case 'endfacet':
      if (reading.open !== 3) return unreadable(cursor);
      reading.open = undefined;
      return undefined;
    case 'solid':
      reading.closed = false;
      return reading.open === undefined ? undefined : unreadable(cursor);
    case 'endsolid':
      reading.closed = true;
      return reading.open === undefined ? undefined : unreadable(cursor);
    default:
      return unreadable(cursor);
  }
}

function readVertex(reading: Reading): MeshFileRefusal | undefined {
  const { cursor } = reading;
  if (reading.open === undefined || reading.open === 3) return unreadable(cursor);
  const x = cursor.toWord() ? cursor.number() : undefined;
  const y = cursor.toWord() ? cursor.number() : undefined;
  const z = cursor.toWord() ? cursor.number() : undefined;
  // The last line of a file that was cut off in the middle of a number cannot be told from a short one.
  if (x === undefined || y === undefined || z === undefined)
    return cursor.ended ? { code: 'mesh-ends-early' } : unreadable(cursor);
  if (!(Number.isFinite(x) && Number.isFinite(y) && Number.isFinite(z)))
    return { code: 'mesh-not-finite', where: say`line ${cursor.line}` };
  reading.corners.push(reading.table.numberOf(x, y, z));
  reading.open += 1;
  return undefined;
}

function unreadable(cursor: TextCursor): MeshFileRefusal {
  return { code: 'mesh-line-unreadable', line: cursor.line, text: cursor.shown() };
}
