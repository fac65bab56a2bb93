/**
 * OBJ: vertices (`v`) and faces (`f`) whose corners name them from 1, or from the last one backwards with a minus sign. Texture and
 * normal of a corner, and every other statement, say nothing about area or volume and are passed over. A face of more than three
 * corners is cut into a fan from its first; where it is not convex, what of the fan lies outside is marked. No unit.
 */

import { accept, type Result, refuse } from '#shared/result.ts';
import { say } from '#shared/words/say.ts';
import { GrowingNumbers } from './growing.ts';
import { type Mesh, PER_STEP, type Stepwise } from './mesh.ts';
import type { MeshFileRefusal } from './refusal.ts';
import { TextCursor } from './text-cursor.ts';
import { triangleAt } from './triangle.ts';
import { type Coordinates, VertexTable } from './vertex-table.ts';

type Reading = {
  readonly cursor: TextCursor;
  readonly table: VertexTable;
  /** The place of each `v`, in the order of the file. */
  readonly places: GrowingNumbers;
  /** Corners by the number of their `v`, from 0; it may come later in the file. */
  readonly corners: GrowingNumbers;
  /** First triangle and count of every face of more than three corners. */
  readonly fans: GrowingNumbers;
  highest: { readonly vertex: number; readonly line: number };
};

/** A vertex takes 8 bytes at the least: `v 0 0 0` and a line end. */
const LEAST_BYTES = 8;

export function* readObj(bytes: Uint8Array): Stepwise<Result<Mesh, MeshFileRefusal>> {
  const reading: Reading = {
    cursor: new TextCursor(bytes),
    table: new VertexTable({ precision: 'double', most: Math.ceil(bytes.length / LEAST_BYTES) }),
    places: new GrowingNumbers(),
    corners: new GrowingNumbers(),
    fans: new GrowingNumbers(),
    highest: { vertex: -1, line: 0 },
  };
  const { cursor, places } = reading;
  while (!cursor.ended) {
    for (let lines = 0; lines < PER_STEP && !cursor.ended; lines += 1) {
      const refusal = readLine(reading);
      if (refusal !== undefined) return refuse(refusal);
    }
    yield Math.min(1, cursor.at / bytes.length);
  }
  const { vertex, line } = reading.highest;
  if (vertex >= places.count)
    return refuse({ code: 'mesh-no-such-vertex', line, vertex: vertex + 1, vertices: places.count });
  if (reading.corners.count === 0) return refuse({ code: 'mesh-without-triangles' });
  const corners = reading.corners.all();
  for (let at = 0; at < corners.length; at += 1) corners[at] = places.get(corners[at] as number);
  const coordinates = onlyUsed(reading.table.take(), corners);
  return accept({ format: 'OBJ', coordinates, corners, outside: outsideOf(reading.fans, coordinates, corners) });
}

/** Vertices that no face names are no part of the part; corners are numbered anew without them. */
function onlyUsed(coordinates: Coordinates, corners: Int32Array): Coordinates {
  const numbers = new Int32Array(coordinates.length / 3);
  for (const vertex of corners) numbers[vertex] = 1;
  let used = 0;
  for (let vertex = 0; vertex < numbers.length; vertex += 1) {
    if (numbers[vertex] === 0) continue;
    coordinates.copyWithin(3 * used, 3 * vertex, 3 * vertex + 3);
    numbers[vertex] = used;
    used += 1;
  }
  for (let at = 0; at < corners.length; at += 1) corners[at] = numbers[corners[at] as number] as number;
  return coordinates.subarray(0, 3 * used);
}

function readLine(reading: Reading): MeshFileRefusal | undefined {
  const { cursor } = reading;
  if (cursor.toWord()) {
    const word = cursor.word();
    const refusal = word === 'v' ? readVertex(reading) : word === 'f' ? readFace(reading) : undefined;
    if (refusal !== undefined) return refusal;
    // A comment may end in a backslash; only a statement is carried on by it.
    if (word === 'v' || word === 'f') cursor.toWord();
  }
  cursor.nextLine();
  return undefined;
}

/** What follows the third number (a weight, a colour) is passed over. */
function readVertex({ cursor, table, places }: Reading): MeshFileRefusal | undefined {
  const x = cursor.toWord() ? cursor.number() : undefined;
  const y = cursor.toWord() ? cursor.number() : undefined;
  const z = cursor.toWord() ? cursor.number() : undefined;
  if (x === undefined || y === undefined || z === undefined) return unreadable(cursor);
  if (!(Number.isFinite(x) && Number.isFinite(y) && Number.isFinite(z)))
    return { code: 'mesh-not-finite', where: say`line ${cursor.line}` };
  places.push(table.numberOf(x, y, z));
  return undefined;
}

function readFace(reading: Reading): MeshFileRefusal | undefined {
  const { cursor, corners } = reading;
  const firstTriangle = corners.count / 3;
  let first = 0;
  let before = 0;
  let count = 0;
  for (; cursor.toWord(); count += 1) {
    const index = cursor.index();
    if (index === undefined) return unreadable(cursor);
    const vertex = index < 0 ? reading.places.count + index : index - 1;
    if (vertex < 0)
      return { code: 'mesh-no-such-vertex', line: cursor.line, vertex: index, vertices: reading.places.count };
    if (vertex > reading.highest.vertex) reading.highest = { vertex, line: cursor.line };
    if (count === 0) first = vertex;
    if (count > 1) {
      corners.push(first);
      corners.push(before);
      corners.push(vertex);
    }
    before = vertex;
  }
  if (count < 3) return unreadable(cursor);
  if (count > 3) {
    reading.fans.push(firstTriangle);
    reading.fans.push(count - 2);
  }
  return undefined;
}

/** The triangles of fans that point against their face: they lie outside of it. */
function outsideOf(fans: GrowingNumbers, coordinates: Coordinates, corners: Int32Array): readonly number[] {
  const outside: number[] = [];
  const mesh = { coordinates, corners };
  for (let fan = 0; fan < fans.count; fan += 2) {
    const from = fans.get(fan);
    const to = from + fans.get(fan + 1);
    let nx = 0;
    let ny = 0;
    let nz = 0;
    for (let triangle = from; triangle < to; triangle += 1) {
      const { normal } = triangleAt(mesh, triangle);
      nx += normal[0];
      ny += normal[1];
      nz += normal[2];
    }
    for (let triangle = from; triangle < to; triangle += 1) {
      const { normal } = triangleAt(mesh, triangle);
      if (normal[0] * nx + normal[1] * ny + normal[2] * nz < 0) outside.push(triangle);
    }
  }
  return outside;
}

function unreadable(cursor: TextCursor): MeshFileRefusal {
  return { code: 'mesh-line-unreadable', line: cursor.line, text: cursor.shown() };
}
