/**
 * Between which stations the empty CG must lie so that every permitted loading is inside (rule C2 turned round), for an empty mass. At every mass
 * m of a side the moment of the empty aircraft may be at most m (a + b m) less the highest moment of the loads: a quadratic piece by piece, whose
 * least value is at an end of a piece or where it is level.
 */
import { type Loading, pieceRanges, reachOf, worstOf } from './all-loadings.ts';
import { boundsOf } from './envelope.ts';
import type { Load } from './limits.ts';
import { type Loaded, loadedAt } from './loaded.ts';
import { valueAt } from './quadratic.ts';

/** An end of the range, the side that sets it, and the loading that comes to that side there. */
export type RangeEnd = { readonly xM: number; readonly side: number; readonly loaded: Loaded };

export type EmptyRange =
  | { readonly state: 'range'; readonly forward: RangeEnd; readonly aft: RangeEnd }
  /** What the forward limit asks for lies behind what the aft limit allows. */
  | { readonly state: 'none'; readonly why: 'limits too close'; readonly forward: RangeEnd; readonly aft: RangeEnd }
  /** No CG helps: a loading is lighter or heavier than the envelope. */
  | {
      readonly state: 'none';
      readonly why: 'too light' | 'too heavy';
      readonly massKg: number;
      readonly limitKg: number;
    }
  | { readonly state: 'none'; readonly why: 'nothing permitted' };

/** For limits without refusals. Stations from the datum of the limits. */
export function emptyRange({ limits, chord }: Loading, emptyKg: number): EmptyRange {
  const empty = { massKg: emptyKg, xM: 0 };
  const reach = reachOf(limits, empty);
  if (reach === undefined) return { state: 'none', why: 'nothing permitted' };
  const bounds = boundsOf(limits.envelope, chord);
  const byMass = worstOf(reach, bounds).find(({ limitKg, isOutside }) => limitKg !== undefined && isOutside);
  if (byMass?.limitKg !== undefined && (byMass.way === 'too light' || byMass.way === 'too heavy'))
    return { state: 'none', why: byMass.way, massKg: byMass.massKg, limitKg: byMass.limitKg };
  const ends = { forward: [] as FoundEnd[], aft: [] as FoundEnd[] };
  for (const side of bounds.sides) {
    const sign = side.way === 'aft' ? 1 : -1;
    for (const { whole, range, loadsAt } of pieceRanges(reach, side, bounds)) {
      const spare = { c: -whole.c, d: sign * side.a - whole.d, e: sign * side.b - whole.e };
      const level = -spare.d / (2 * spare.e);
      const inner = level > range.fromKg && level < range.toKg ? [level] : [];
      for (const massKg of [range.fromKg, ...inner, range.toKg]) {
        const xM = (sign * valueAt(spare, massKg)) / emptyKg;
        ends[side.way].push({ xM, side: side.side, loads: () => loadsAt(massKg) });
      }
    }
  }
  const forward = ends.forward.reduce((one, other) => (other.xM > one.xM ? other : one));
  const aft = ends.aft.reduce((one, other) => (other.xM < one.xM ? other : one));
  const toEnd = ({ xM, side, loads }: FoundEnd): RangeEnd => ({
    xM,
    side,
    loaded: loadedAt({ massKg: emptyKg, xM }, loads(), { stations: limits.stations, chord }),
  });
  const found = { forward: toEnd(forward), aft: toEnd(aft) };
  return forward.xM <= aft.xM ? { state: 'range', ...found } : { state: 'none', why: 'limits too close', ...found };
}

type FoundEnd = { readonly xM: number; readonly side: number; readonly loads: () => readonly Load[] };
