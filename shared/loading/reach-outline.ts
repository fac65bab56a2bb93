/**
 * The permitted loadings as a region to draw (rule C2): at every mass the CG farthest forward and farthest aft. The corners are exact; between
 * them it is drawn in steps, which no verdict hangs on.
 */
import { type Reach, withEmpty } from './all-loadings.ts';
import { type Curve, piecesOf } from './curve.ts';
import { valueAt } from './quadratic.ts';

/** Between two corners a picture needs no finer steps. */
const STEPS = 48;
/** Masses nearer than this are one, in kilograms. */
const NEAR_KG = 1e-6;

export type ReachAt = { readonly massKg: number; readonly forwardM: number; readonly aftM: number };

/** Stretches of masses without a gap, each by growing mass. */
export function reachOutline(reach: Reach): readonly (readonly ReachAt[])[] {
  const pieces = [...piecesOf(reach.aft), ...piecesOf(reach.forward)];
  const ends = pieces.flatMap(({ fromKg, toKg }) => [fromKg, toKg]).sort((a, b) => a - b);
  const leastKg = ends[0] ?? 0;
  const mostKg = ends.at(-1) ?? 0;
  const steps = Array.from({ length: STEPS + 1 }, (_, at) => leastKg + ((mostKg - leastKg) * at) / STEPS);
  const stretches: ReachAt[][] = [];
  let last: number | undefined;
  for (const loadKg of [...ends, ...steps].sort((a, b) => a - b)) {
    if (last !== undefined && loadKg - last < NEAR_KG) continue;
    const aftM = stationAt(reach, loadKg, 1);
    const forwardM = stationAt(reach, loadKg, -1);
    if (aftM === undefined || forwardM === undefined) continue;
    const isOn = last !== undefined && isCovered(reach.aft, (last + loadKg) / 2);
    const at = { massKg: reach.empty.massKg + loadKg, forwardM, aftM };
    const stretch = stretches.at(-1);
    if (stretch === undefined || !isOn) stretches.push([at]);
    else stretch.push(at);
    last = loadKg;
  }
  return stretches;
}

function stationAt({ aft, forward, empty }: Reach, loadKg: number, sign: 1 | -1): number | undefined {
  const massKg = empty.massKg + loadKg;
  const moments = piecesOf(sign === 1 ? aft : forward)
    .filter((piece) => piece.fromKg <= loadKg + NEAR_KG && piece.toKg >= loadKg - NEAR_KG)
    .map((piece) => valueAt(withEmpty(piece, empty, sign), massKg));
  return moments.length === 0 ? undefined : (sign * Math.max(...moments)) / massKg;
}

function isCovered(curve: Curve, loadKg: number): boolean {
  return piecesOf(curve).some(({ fromKg, toKg }) => fromKg <= loadKg && toKg >= loadKg);
}
