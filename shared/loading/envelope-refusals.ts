/**
 * What makes no envelope of a list of corners (rule C1): too few, no area, sides that meet, or two CG ranges at one mass. Corners are compared
 * as whole nanograms and nanounits, so nothing hangs on rounding. With one CG range at every mass, being inside is two limits at a mass.
 */
import type { Refusal } from '#shared/problem/registry.ts';
import type { PathProblem } from '#shared/words/path-problem.ts';
import type { Envelope } from './limits.ts';

type Corner = { readonly mass: bigint; readonly at: bigint };

const PER_KG = 1e12;
const PER_UNIT = 1e9;

/** `massText` tells a mass with its unit. */
export function envelopeRefusals({ points }: Envelope, massText: (massKg: number) => string): readonly PathProblem[] {
  const corners = points.map(({ massKg, at }) => ({
    mass: BigInt(Math.round(massKg * PER_KG)),
    at: BigInt(Math.round(at * PER_UNIT)),
  }));
  const refusal = refusalOf(corners, massText);
  return refusal === undefined ? [] : [{ path: ['envelope'], refusal }];
}

function refusalOf(corners: readonly Corner[], massText: (massKg: number) => string): Refusal | undefined {
  if (corners.length < 3) return { code: 'envelope-too-few', points: corners.length };
  const [first, ...rest] = corners as [Corner, ...Corner[]];
  const other = rest.find(({ mass, at }) => mass !== first.mass || at !== first.at);
  if (other === undefined || corners.every((corner) => turn(first, other, corner) === 0n))
    return { code: 'envelope-without-area' };
  const sides = corners.map((from, at) => [from, corners[(at + 1) % corners.length] ?? from] as const);
  for (const [at, side] of sides.entries()) {
    for (let next = at + 1; next < sides.length; next += 1) {
      const isMet = meets(side, sides[next] ?? side, {
        isNext: next === at + 1,
        isBefore: at === 0 && next === sides.length - 1,
      });
      if (isMet) return { code: 'envelope-crosses-itself', side: at + 1, other: next + 1 };
    }
  }
  return inTwo(sides, massText);
}

type Side = readonly [Corner, Corner];

/** Above, on (0) or below the line through two corners. */
function turn(a: Corner, b: Corner, c: Corner): bigint {
  return (b.mass - a.mass) * (c.at - a.at) - (b.at - a.at) * (c.mass - a.mass);
}

/** Whether two sides have a point in common, other than the corner that neighbours share. */
function meets([a, b]: Side, [c, d]: Side, { isNext, isBefore }: { isNext: boolean; isBefore: boolean }): boolean {
  if (isNext && isBefore) return false;
  if (isNext || isBefore) {
    const [shared, one, two] = isNext ? [b, a, d] : [a, b, c];
    if (turn(one, shared, two) !== 0n) return isSame(shared, one) || isSame(shared, two);
    return isWithin([shared, one], two) || isWithin([shared, two], one);
  }
  const [abc, abd, cda, cdb] = [turn(a, b, c), turn(a, b, d), turn(c, d, a), turn(c, d, b)].map(sign);
  if (abc !== abd && cda !== cdb) return true;
  return (
    (abc === 0 && isWithin([a, b], c)) ||
    (abd === 0 && isWithin([a, b], d)) ||
    (cda === 0 && isWithin([c, d], a)) ||
    (cdb === 0 && isWithin([c, d], b))
  );
}

function sign(value: bigint): number {
  return value > 0n ? 1 : value < 0n ? -1 : 0;
}

function isSame(a: Corner, b: Corner): boolean {
  return a.mass === b.mass && a.at === b.at;
}

/** For a corner on the line of the side. */
function isWithin([a, b]: Side, c: Corner): boolean {
  const between = (one: bigint, two: bigint, is: bigint) =>
    one < two ? one <= is && is <= two : two <= is && is <= one;
  return between(a.mass, b.mass, c.mass) && between(a.at, b.at, c.at);
}

/** Half-way between the masses of two corners every side that is there crosses: more than two, and there are two ranges. */
function inTwo(sides: readonly Side[], massText: (massKg: number) => string): Refusal | undefined {
  const masses = [...new Set(sides.map(([{ mass }]) => mass))].sort((a, b) => (a < b ? -1 : 1));
  for (const [at, low] of masses.entries()) {
    const high = masses[at + 1];
    if (high === undefined) return undefined;
    const crossing = sides.filter(([a, b]) => (a.mass <= low && b.mass >= high) || (b.mass <= low && a.mass >= high));
    if (crossing.length > 2) return { code: 'envelope-in-two', mass: massText(Number(low + high) / 2 / PER_KG) };
  }
  return undefined;
}
