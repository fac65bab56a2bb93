/** A mesh as it is held while it is measured: in the numbers of its file, which have no unit of their own (rule E5). */
import type { Coordinates } from './vertex-table.ts';

export type MeshFormat = 'STL binary' | 'STL text' | 'OBJ';

export type Mesh = {
  readonly format: MeshFormat;
  /** Three to a vertex; every place once. */
  readonly coordinates: Coordinates;
  /** Three vertex numbers to a triangle, in the order of the file. */
  readonly corners: Int32Array;
  /**
   * Triangles of a polygon that is not convex which lie outside of it, since it was cut into a fan from its first corner: their area is taken
   * off. Their share of a volume needs nothing, since it has its sign already.
   */
  readonly outside: readonly number[];
};

/** Work that can be interrupted: each step says how much of it is done, from 0 to 1. Whoever lets go simply asks for no further step. */
export type Stepwise<Value> = Generator<number, Value, undefined>;

/** How many triangles, vertices or lines are worked through between two steps: some milliseconds. */
export const PER_STEP = 1 << 16;

/** All of it at once, for whoever has time. */
export function atOnce<Value>(work: Stepwise<Value>): Value {
  for (;;) {
    const step = work.next();
    if (step.done === true) return step.value;
  }
}

/** The steps of a part of the work, as steps of the whole in which it goes `from` … `to`. */
export function* within<Value>(work: Stepwise<Value>, from: number, to: number): Stepwise<Value> {
  for (;;) {
    const step = work.next();
    if (step.done === true) return step.value;
    yield from + (to - from) * step.value;
  }
}
