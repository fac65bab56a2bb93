/**
 * An envelope as limits at a mass (rules C1, C5): every side that is not level in mass is a forward or an aft limit, station = a + b m between
 * two masses. For envelopes that `envelope-refusals.ts` lets pass, so with one CG range at every mass. The edge itself is inside.
 */
import type { Chord, Envelope } from './limits.ts';

/** Nearer than this a CG is on its limit, in metres; and a mass on its own, in kilograms. */
export const NEAR_M = 1e-9;
export const NEAR_KG = 1e-9;

/** `side` counts from 1 and begins at the corner of that number. */
export type Side = {
  readonly side: number;
  readonly way: 'forward' | 'aft';
  readonly fromKg: number;
  readonly toKg: number;
  readonly a: number;
  readonly b: number;
};

/** Sides by growing mass, and between which masses the envelope lies. */
export type Bounds = { readonly sides: readonly Side[]; readonly lightKg: number; readonly heavyKg: number };

export type Way = 'forward' | 'aft' | 'too light' | 'too heavy';

/**
 * How a loading is outside. `outM` is the station beyond the limit at its mass, and `outKg` the least mass by which it is too heavy (above 0) or
 * too light at its station; undefined where no limit is known at that mass, and where no mass would help.
 */
export type Outside = {
  readonly way: Way;
  readonly side?: number | undefined;
  readonly limitM?: number | undefined;
  readonly outM?: number | undefined;
  readonly outKg?: number | undefined;
};

type At = { readonly massKg: number; readonly xM: number };

/** Whether an envelope can be read in stations: per cent MAC need the chord, which a correction may take away from the aircraft. */
export function isReadable({ by }: Pick<Envelope, 'by'>, chord: Chord | undefined): boolean {
  return by === 'station' || chord !== undefined;
}

/** The limits of an envelope in stations. Per cent MAC are read by the chord; without one there are no stations, and it throws. */
export function boundsOf({ by, points }: Envelope, chord: Chord | undefined): Bounds {
  if (!isReadable({ by }, chord)) throw new Error('an envelope in per cent MAC without a chord');
  const corners = points.map(({ massKg, at }) => ({
    massKg,
    xM: by === 'station' || chord === undefined ? at : chord.lemacM + (at / 100) * chord.macM,
  }));
  const masses = corners.map(({ massKg }) => massKg);
  const lines = corners.flatMap((from, at) => {
    const to = corners[(at + 1) % corners.length] ?? from;
    return from.massKg === to.massKg ? [] : [lineOf(from, to, at + 1)];
  });
  const sides = lines.map((line): Side => {
    const middleKg = (line.fromKg + line.toKg) / 2;
    const isAft = lines.some(
      (other) => other !== line && has(other, middleKg) && stationOf(other, middleKg) < stationOf(line, middleKg),
    );
    return { ...line, way: isAft ? 'aft' : 'forward' };
  });
  sides.sort((one, two) => one.fromKg - two.fromKg);
  return { sides, lightKg: Math.min(...masses), heavyKg: Math.max(...masses) };
}

type Line = Omit<Side, 'way'>;

function lineOf(from: At, to: At, side: number): Line {
  const b = (to.xM - from.xM) / (to.massKg - from.massKg);
  return {
    side,
    fromKg: Math.min(from.massKg, to.massKg),
    toKg: Math.max(from.massKg, to.massKg),
    a: from.xM - b * from.massKg,
    b,
  };
}

function has({ fromKg, toKg }: Line, massKg: number): boolean {
  return massKg >= fromKg - NEAR_KG && massKg <= toKg + NEAR_KG;
}

/** The station of a side at a mass. */
export function stationOf({ a, b }: { readonly a: number; readonly b: number }, massKg: number): number {
  return a + b * massKg;
}

/** The sides that limit a CG at a mass: where a limit steps, the wider one. Undefined where the envelope has no such mass. */
export function limitsAt(
  { sides }: Bounds,
  massKg: number,
): { readonly forward: Side; readonly aft: Side } | undefined {
  const at = sides.filter((side) => has(side, massKg)).map((side) => ({ side, xM: stationOf(side, massKg) }));
  at.sort((one, two) => one.xM - two.xM);
  const forward = at.find(({ side }) => side.way === 'forward')?.side;
  const aft = at.findLast(({ side }) => side.way === 'aft')?.side;
  return forward === undefined || aft === undefined ? undefined : { forward, aft };
}

/** How a loading is outside the envelope; undefined inside it. */
export function outsideOf(bounds: Bounds, at: At): Outside | undefined {
  const { massKg, xM } = at;
  const outKg = () => massToInside(bounds, at);
  if (massKg < bounds.lightKg - NEAR_KG) return { way: 'too light', outKg: outKg() };
  if (massKg > bounds.heavyKg + NEAR_KG) return { way: 'too heavy', outKg: outKg() };
  const limits = limitsAt(bounds, massKg);
  if (limits === undefined) return undefined;
  for (const [side, sign] of [
    [limits.forward, -1],
    [limits.aft, 1],
  ] as const) {
    const limitM = stationOf(side, massKg);
    const outM = sign * (xM - limitM);
    if (outM > NEAR_M) return { way: side.way, side: side.side, limitM, outM, outKg: outKg() };
  }
  return undefined;
}

export function isInside(bounds: Bounds, at: At): boolean {
  return outsideOf(bounds, at) === undefined;
}

/** The least mass to take off (above 0) or to put on so that a CG at the same station is inside; undefined where no mass has it inside. */
export function massToInside(bounds: Bounds, { massKg, xM }: At): number | undefined {
  const ends = bounds.sides.flatMap(({ a, b, fromKg, toKg }) => {
    const crossing = (xM - a) / b;
    return crossing > fromKg && crossing < toKg ? [fromKg, crossing, toKg] : [fromKg, toKg];
  });
  const inside = ends.filter((endKg) => {
    const limits = limitsAt(bounds, endKg);
    if (limits === undefined) return false;
    return xM >= stationOf(limits.forward, endKg) - NEAR_M && xM <= stationOf(limits.aft, endKg) + NEAR_M;
  });
  inside.sort((one, two) => Math.abs(massKg - one) - Math.abs(massKg - two));
  const [nearest] = inside;
  return nearest === undefined ? undefined : massKg - nearest;
}
