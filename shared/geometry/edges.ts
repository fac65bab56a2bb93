/**
 * How the triangles of a mesh hang together (rule E5): edges that only one has, edges that more than two share, and neighbours of which
 * one is turned over. A surface is closed where every edge is walked as often one way as the other; only then has it an inside.
 */
import { type Mesh, PER_STEP, type Stepwise } from './mesh.ts';

export type Edges = {
  /** Edges of one triangle only. */
  readonly open: number;
  readonly openLength: number;
  /** Open edges that touch are one border: how many, and the lengths of the longest of them. */
  readonly borderCount: number;
  readonly borders: readonly number[];
  /** Edges of more than two triangles. */
  readonly crowded: number;
  /** Edges whose two triangles walk them the same way: one of these is turned over. */
  readonly turned: number;
  /** Edges of more than two triangles that do not walk them as often one way as the other. */
  readonly crowdedUneven: number;
};

/** Of more borders than this, the shorter ones are not told one by one. */
export const MOST_BORDERS = 24;

/** Beyond this many at one vertex, as at the tip of a cone, sorting one by one would take too long. */
const FEW = 24;

/** Half edges by their lower vertex: those of vertex v stand from `starts[v]` to `starts[v + 1]`, each 2 x the other vertex, plus 1 if walked downwards. */
type ByVertex = { readonly starts: Int32Array; readonly ends: Int32Array };

type Tally = { open: number; openLength: number; crowded: number; turned: number; crowdedUneven: number };

export function* edgesOf(mesh: Mesh): Stepwise<Edges> {
  const vertices = mesh.coordinates.length / 3;
  const { starts, ends } = yield* byVertex(mesh, vertices);
  const borders = new Borders(mesh.coordinates);
  const tally: Tally = { open: 0, openLength: 0, crowded: 0, turned: 0, crowdedUneven: 0 };
  for (let from = 0; from < vertices; from += PER_STEP) {
    const to = Math.min(vertices, from + PER_STEP);
    for (let vertex = from; vertex < to; vertex += 1) {
      sortBetween(ends, starts[vertex] as number, starts[vertex + 1] as number);
      tallyVertex(vertex, { starts, ends }, borders, tally);
    }
    yield 0.5 + from / vertices / 2;
  }
  const lengths = borders.lengths();
  return {
    ...tally,
    borderCount: lengths.length,
    borders: [...lengths.subarray(Math.max(0, lengths.length - MOST_BORDERS))].reverse(),
  };
}

function* byVertex({ corners }: Mesh, vertices: number): Stepwise<ByVertex> {
  const starts = new Int32Array(vertices + 2);
  const count = corners.length / 3;
  for (let triangle = 0; triangle < count; triangle += 1) {
    const a = corners[3 * triangle] as number;
    const b = corners[3 * triangle + 1] as number;
    const c = corners[3 * triangle + 2] as number;
    // A triangle of which two corners are one place is a line: it closes nothing and opens nothing.
    if (a === b || b === c || c === a) continue;
    countAt(starts, Math.min(a, b) + 2);
    countAt(starts, Math.min(b, c) + 2);
    countAt(starts, Math.min(c, a) + 2);
    if (triangle % PER_STEP === 0) yield (0.25 * triangle) / count;
  }
  for (let at = 1; at < starts.length; at += 1) starts[at] = (starts[at] as number) + (starts[at - 1] as number);
  const ends = new Int32Array(starts[vertices + 1] as number);
  // While it is filled, starts[v + 1] is where the next of v goes; afterwards it is where v ends.
  const put = (from: number, to: number) => {
    const low = Math.min(from, to);
    const next = starts[low + 1] as number;
    ends[next] = from < to ? 2 * to : 2 * from + 1;
    starts[low + 1] = next + 1;
  };
  for (let triangle = 0; triangle < count; triangle += 1) {
    const a = corners[3 * triangle] as number;
    const b = corners[3 * triangle + 1] as number;
    const c = corners[3 * triangle + 2] as number;
    if (a === b || b === c || c === a) continue;
    put(a, b);
    put(b, c);
    put(c, a);
    if (triangle % PER_STEP === 0) yield 0.25 + (0.25 * triangle) / count;
  }
  return { starts, ends };
}

function countAt(counts: Int32Array, at: number): void {
  counts[at] = (counts[at] as number) + 1;
}

function sortBetween(numbers: Int32Array, from: number, to: number): void {
  if (to - from > FEW) {
    numbers.subarray(from, to).sort();
    return;
  }
  for (let next = from + 1; next < to; next += 1) {
    const number = numbers[next] as number;
    let at = next;
    for (; at > from && (numbers[at - 1] as number) > number; at -= 1) numbers[at] = numbers[at - 1] as number;
    numbers[at] = number;
  }
}

/** The edges from a vertex to higher ones, each a run of equal ends. */
function tallyVertex(vertex: number, { starts, ends }: ByVertex, borders: Borders, tally: Tally): void {
  const to = starts[vertex + 1] as number;
  for (let at = starts[vertex] as number; at < to; ) {
    const other = (ends[at] as number) >> 1;
    let downwards = 0;
    let count = 0;
    for (; at < to && (ends[at] as number) >> 1 === other; at += 1) {
      downwards += (ends[at] as number) & 1;
      count += 1;
    }
    if (count === 1) {
      tally.open += 1;
      tally.openLength += borders.add(vertex, other);
    } else if (count === 2) {
      if (downwards !== 1) tally.turned += 1;
    } else {
      tally.crowded += 1;
      if (2 * downwards !== count) tally.crowdedUneven += 1;
    }
  }
}

/** Which open edges hang together: a forest over the vertices (union by root, paths halved). Takes no room where no edge is open. */
class Borders {
  private readonly coordinates: Mesh['coordinates'];
  private parents = new Int32Array(0);
  private lengthFrom = new Float64Array(0);

  constructor(coordinates: Mesh['coordinates']) {
    this.coordinates = coordinates;
  }

  /** The length of the edge that is added. */
  add(from: number, to: number): number {
    if (this.parents.length === 0) {
      const vertices = this.coordinates.length / 3;
      this.parents = new Int32Array(vertices);
      for (let vertex = 0; vertex < vertices; vertex += 1) this.parents[vertex] = vertex;
      this.lengthFrom = new Float64Array(vertices);
    }
    const length = this.between(from, to);
    this.lengthFrom[from] = (this.lengthFrom[from] as number) + length;
    this.parents[this.root(from)] = this.root(to);
    return length;
  }

  /** From the shortest on. */
  lengths(): Float64Array {
    const { lengthFrom } = this;
    for (let vertex = 0; vertex < lengthFrom.length; vertex += 1) {
      const root = this.root(vertex);
      if (root === vertex) continue;
      lengthFrom[root] = (lengthFrom[root] as number) + (lengthFrom[vertex] as number);
      lengthFrom[vertex] = 0;
    }
    return lengthFrom.filter((length) => length > 0).sort();
  }

  private root(vertex: number): number {
    const { parents } = this;
    let at = vertex;
    while (parents[at] !== at) {
      const above = parents[parents[at] as number] as number;
      parents[at] = above;
      at = above;
    }
    return at;
  }

  private between(from: number, to: number): number {
    const { coordinates } = this;
    const along = (axis: number) => (coordinates[3 * to + axis] as number) - (coordinates[3 * from + axis] as number);
    return Math.hypot(along(0), along(1), along(2));
  }
}
