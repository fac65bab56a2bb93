/**
 * The best moment for every mass (rule C2): curves that are quadratic in the mass piece by piece, with gaps and lone points, and what two of
 * them make together. All is closed form: where a sum is best follows from slopes being equal or from an end of a piece, and where one curve
 * takes over from another from the roots of a quadratic. Each piece knows how it was made, so that the loading behind a point can be told.
 */
import { type Quadratic, rootsOf, valueAt } from './quadratic.ts';

/** Nearer than this two masses are one, in kilograms, and two moments, in kilogram metres. */
export const NEAR = 1e-9;

/** Flatter than this a curve has no best point inside, only ends. */
const FLAT = 1e-12;

/** What `massKg` of a piece is made of: one station, or the mass `p + r x massKg` of `left` and the rest of `right`. */
export type Origin =
  | { readonly of: 'nothing' }
  | { readonly of: 'station'; readonly index: number }
  | { readonly of: 'sum'; readonly left: Piece; readonly right: Piece; readonly p: number; readonly r: number };

/** A moment between two masses; a lone point where they are one. */
export type Piece = Quadratic & { readonly fromKg: number; readonly toKg: number; readonly origin: Origin };

/** By growing mass; segments do not overlap, and no point lies on or below a segment. */
export type Curve = { readonly segments: readonly Piece[]; readonly points: readonly Piece[] };

export const NOTHING: Curve = upperOf([{ c: 0, d: 0, e: 0, fromKg: 0, toKg: 0, origin: { of: 'nothing' } }]);

/** The highest of all pieces at every mass that any of them has. */
export function upperOf(pieces: readonly Piece[]): Curve {
  const segments = upperSegments(pieces.filter(({ fromKg, toKg }) => toKg - fromKg > NEAR));
  const points = pieces.filter(({ fromKg, toKg }) => toKg - fromKg <= NEAR);
  return { segments, points: lonePoints(points, segments) };
}

/** The highest moment at every mass that the two can have together, up to `mostKg`. */
export function sumOf(left: Curve, right: Curve, mostKg: number): Curve {
  const sums: Piece[] = [];
  for (const a of piecesOf(left)) {
    for (const b of piecesOf(right)) if (a.fromKg + b.fromKg <= mostKg + NEAR) sums.push(...pairSums(a, b));
  }
  return upTo({ segments: sums, points: [] }, mostKg);
}

/** The curve without what is heavier. */
export function upTo({ segments, points }: Curve, mostKg: number): Curve {
  const kept = [...segments, ...points].filter(({ fromKg }) => fromKg <= mostKg + NEAR);
  return upperOf(
    kept.map((piece) => (piece.toKg <= mostKg ? piece : { ...piece, toKg: Math.max(piece.fromKg, mostKg) })),
  );
}

export function piecesOf({ segments, points }: Curve): readonly Piece[] {
  return [...segments, ...points];
}

/** What lies at each station, by its index, where `massKg` of the piece are loaded. */
export function amountsOf(piece: Piece, massKg: number, into: Map<number, number> = new Map()): Map<number, number> {
  const { origin } = piece;
  const isKg = clamp(massKg, piece.fromKg, piece.toKg);
  if (origin.of === 'station') into.set(origin.index, isKg);
  if (origin.of !== 'sum') return into;
  const { left, right } = origin;
  const leftKg = clamp(origin.p + origin.r * isKg, left.fromKg, left.toKg);
  amountsOf(left, leftKg, into);
  return amountsOf(right, isKg - leftKg, into);
}

function clamp(value: number, least: number, most: number): number {
  return Math.min(most, Math.max(least, value));
}

/** What can be best of two pieces together: one of them at an end, or both at one slope where that is a maximum. */
function pairSums(a: Piece, b: Piece): readonly Piece[] {
  const isPointA = a.toKg - a.fromKg <= NEAR;
  const isPointB = b.toKg - b.fromKg <= NEAR;
  if (!isPointA && !isPointB && a.e === 0 && b.e === 0) return levelSums(a, b);
  const sums: Piece[] = [];
  for (const aKg of isPointA ? [a.fromKg] : [a.fromKg, a.toKg]) sums.push(withLeftAt(a, b, aKg));
  if (isPointA) return sums;
  for (const bKg of isPointB ? [b.fromKg] : [b.fromKg, b.toKg]) sums.push(withRightAt(a, b, bKg));
  const bend = a.e + b.e;
  if (isPointB || bend > -FLAT) return sums;
  const inner = atOneSlope(a, b, bend);
  return inner === undefined ? sums : [...sums, inner];
}

/** Of two straight pieces the steeper one is filled first. */
function levelSums(a: Piece, b: Piece): readonly Piece[] {
  if (a.d >= b.d) return [withRightAt(a, b, b.fromKg), withLeftAt(a, b, a.toKg)];
  return [withLeftAt(a, b, a.fromKg), withRightAt(a, b, b.toKg)];
}

function withLeftAt(left: Piece, right: Piece, leftKg: number): Piece {
  const moved = shifted(right, leftKg);
  return {
    ...moved,
    c: moved.c + valueAt(left, leftKg),
    fromKg: right.fromKg + leftKg,
    toKg: right.toKg + leftKg,
    origin: { of: 'sum', left, right, p: leftKg, r: 0 },
  };
}

function withRightAt(left: Piece, right: Piece, rightKg: number): Piece {
  const moved = shifted(left, rightKg);
  return {
    ...moved,
    c: moved.c + valueAt(right, rightKg),
    fromKg: left.fromKg + rightKg,
    toKg: left.toKg + rightKg,
    origin: { of: 'sum', left, right, p: -rightKg, r: 1 },
  };
}

/** The same curve begun `byKg` further on: f(m - by). */
function shifted({ c, d, e }: Quadratic, byKg: number): Quadratic {
  return { c: c - d * byKg + e * byKg ** 2, d: d - 2 * e * byKg, e };
}

/** With the left at p + r m both slopes are equal: a.d + 2 a.e x = b.d + 2 b.e (m - x). */
function atOneSlope(a: Piece, b: Piece, bend: number): Piece | undefined {
  const p = (b.d - a.d) / (2 * bend);
  const r = b.e / bend;
  // Both a.from <= p + r m <= a.to and b.from <= (1 - r) m - p <= b.to.
  const [low, high] = [within({ p, r }, a), within({ p: -p, r: 1 - r }, b)].reduce(
    ([lowest, highest], [from, to]) => [Math.max(lowest, from), Math.min(highest, to)] as const,
    [a.fromKg + b.fromKg, a.toKg + b.toKg] as const,
  );
  if (!(high - low > NEAR)) return undefined;
  const left = along(a, p, r);
  const right = along(b, -p, 1 - r);
  return {
    c: left.c + right.c,
    d: left.d + right.d,
    e: left.e + right.e,
    fromKg: low,
    toKg: high,
    origin: { of: 'sum', left: a, right: b, p, r },
  };
}

/** Between which masses p + r m lies in the piece. */
function within({ p, r }: { p: number; r: number }, { fromKg, toKg }: Piece): readonly [number, number] {
  if (Math.abs(r) < FLAT) return p >= fromKg - NEAR && p <= toKg + NEAR ? [-Infinity, Infinity] : [Infinity, -Infinity];
  const ends = [(fromKg - p) / r, (toKg - p) / r] as const;
  return [Math.min(...ends), Math.max(...ends)];
}

/** f(p + r m) as a quadratic of m. */
function along({ c, d, e }: Quadratic, p: number, r: number): Quadratic {
  return { c: c + d * p + e * p ** 2, d: (d + 2 * e * p) * r, e: e * r ** 2 };
}

function upperSegments(segments: readonly Piece[]): readonly Piece[] {
  if (segments.length <= 1) return segments;
  const half = segments.length >> 1;
  return higherOf(upperSegments(segments.slice(0, half)), upperSegments(segments.slice(half)));
}

/** The higher of two curves without overlaps, each by growing mass. */
function higherOf(one: readonly Piece[], two: readonly Piece[]): readonly Piece[] {
  const ends = [...one, ...two].flatMap(({ fromKg, toKg }) => [fromKg, toKg]).sort((a, b) => a - b);
  const upper: Piece[] = [];
  let [atOne, atTwo] = [0, 0];
  for (const [at, fromKg] of ends.entries()) {
    const toKg = ends[at + 1] ?? fromKg;
    if (!(toKg > fromKg)) continue;
    const middle = (fromKg + toKg) / 2;
    while ((one[atOne]?.toKg ?? Infinity) < middle) atOne += 1;
    while ((two[atTwo]?.toKg ?? Infinity) < middle) atTwo += 1;
    const a = coverOf(one[atOne], middle);
    const b = coverOf(two[atTwo], middle);
    if (a !== undefined && b !== undefined) addHigher(upper, a, b, { fromKg, toKg });
    else if (a !== undefined || b !== undefined) add(upper, (a ?? b) as Piece, { fromKg, toKg });
  }
  return upper;
}

type Range = { readonly fromKg: number; readonly toKg: number };

function coverOf(piece: Piece | undefined, massKg: number): Piece | undefined {
  return piece !== undefined && piece.fromKg <= massKg && massKg <= piece.toKg ? piece : undefined;
}

function addHigher(upper: Piece[], a: Piece, b: Piece, { fromKg, toKg }: Range): void {
  const crossings = rootsOf({ c: a.c - b.c, d: a.d - b.d, e: a.e - b.e }).filter((at) => at > fromKg && at < toKg);
  const cuts = [fromKg, ...crossings, toKg];
  for (const [at, from] of cuts.entries()) {
    const to = cuts[at + 1];
    if (to === undefined) return;
    const middle = (from + to) / 2;
    add(upper, valueAt(a, middle) >= valueAt(b, middle) ? a : b, { fromKg: from, toKg: to });
  }
}

/** Goes on with the last piece where it is the same one. */
function add(upper: Piece[], piece: Piece, { fromKg, toKg }: Range): void {
  const last = upper.at(-1);
  if (last !== undefined && last.origin === piece.origin && last.toKg === fromKg) {
    upper[upper.length - 1] = { ...last, toKg };
  } else upper.push({ ...piece, fromKg, toKg });
}

function lonePoints(points: readonly Piece[], segments: readonly Piece[]): readonly Piece[] {
  const heights = points.map((point) => ({ point, at: valueAt(point, point.fromKg) }));
  heights.sort((a, b) => a.point.fromKg - b.point.fromKg || b.at - a.at);
  const lone: { point: Piece; at: number }[] = [];
  let next = 0;
  for (const one of heights) {
    const { fromKg } = one.point;
    const last = lone.at(-1);
    const isSame = last !== undefined && fromKg - last.point.fromKg <= NEAR;
    if (isSame && last.at >= one.at - NEAR) continue;
    while ((segments[next]?.toKg ?? Infinity) < fromKg - NEAR) next += 1;
    if (isCovered(segments.slice(next, next + 3), fromKg, one.at)) continue;
    if (isSame) lone.pop();
    lone.push(one);
  }
  return lone.map(({ point }) => point);
}

function isCovered(segments: readonly Piece[], massKg: number, height: number): boolean {
  return segments.some(
    (segment) =>
      segment.fromKg <= massKg + NEAR && segment.toKg >= massKg - NEAR && valueAt(segment, massKg) >= height - NEAR,
  );
}
