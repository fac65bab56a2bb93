/**
 * Where a part lies in the aircraft (rule E5). Two frames, kept apart by type: the part's own, in which it is drawn and measured on the
 * bench, and the aircraft's, x aft, y to the right and z up from the datum. Each axis of the part points along one of the aircraft.
 */
import { z } from 'zod';
import { MOST_LENGTH_M } from '#shared/quantity/typed.ts';
import { accept, type Result, refuse } from '#shared/result.ts';
import type { Outline } from './outline.ts';
import type { PlacementRefusal } from './refusal.ts';

const alongM = z.number().min(-MOST_LENGTH_M).max(MOST_LENGTH_M);

/** A point in the part's own frame. */
export const PartPoint = z.strictObject({ partXM: alongM, partYM: alongM, partZM: alongM });
export type PartPoint = z.infer<typeof PartPoint>;

/** A point in the aircraft: stations from its datum. */
export const AircraftPoint = z.strictObject({ xM: alongM, yM: alongM, zM: alongM });
export type AircraftPoint = z.infer<typeof AircraftPoint>;

export const DIRECTIONS = ['aft', 'forward', 'right', 'left', 'up', 'down'] as const;
export const Direction = z.enum(DIRECTIONS);
export type Direction = z.infer<typeof Direction>;

const ALONG = {
  aft: { axis: 'x', sign: 1 },
  forward: { axis: 'x', sign: -1 },
  right: { axis: 'y', sign: 1 },
  left: { axis: 'y', sign: -1 },
  up: { axis: 'z', sign: 1 },
  down: { axis: 'z', sign: -1 },
} as const satisfies Record<Direction, { readonly axis: 'x' | 'y' | 'z'; readonly sign: 1 | -1 }>;

const LINES = { x: 'fore and aft', y: 'left and right', z: 'up and down' } as const;

/** Where the axes of the part point, and where its zero lies. A part that is the mirror image of its drawing says so. */
export const Placement = z.strictObject({
  xPoints: Direction,
  yPoints: Direction,
  zPoints: Direction,
  isMirrored: z.boolean(),
  zero: AircraftPoint,
});
export type Placement = z.infer<typeof Placement>;

/** Whether a part can lie so: each axis along another line, and mirrored exactly where that is said. */
export function placed(placement: Placement): Result<Placement, PlacementRefusal> {
  const [x, y, z] = axesOf(placement).map((direction) => ALONG[direction]) as [Along, Along, Along];
  for (const [one, other] of [
    [x, y],
    [y, z],
    [z, x],
  ] as const)
    if (one.axis === other.axis) return refuse({ code: 'axes-along-one-line', line: LINES[one.axis] });
  const isMirrored = handOf(x, y, z) < 0;
  if (isMirrored && !placement.isMirrored) return refuse({ code: 'axes-mirror-the-part' });
  if (!isMirrored && placement.isMirrored) return refuse({ code: 'axes-do-not-mirror' });
  return accept(placement);
}

type Along = (typeof ALONG)[Direction];

/** 1 where three axes, all along different lines, are right-handed as the aircraft's are; otherwise -1. */
function handOf(x: Along, y: Along, z: Along): number {
  const isTurn = 'xyzxy'.includes(`${x.axis}${y.axis}${z.axis}`);
  return (isTurn ? 1 : -1) * x.sign * y.sign * z.sign;
}

/** A point of the part in the aircraft, to the micrometre. */
export function inAircraft(point: PartPoint, placement: Placement): AircraftPoint {
  const at = { x: placement.zero.xM, y: placement.zero.yM, z: placement.zero.zM };
  const along = [point.partXM, point.partYM, point.partZM];
  axesOf(placement).forEach((direction, axis) => {
    const { axis: line, sign } = ALONG[direction];
    at[line] += sign * (along[axis] as number);
  });
  return { xM: toMicrometre(at.x), yM: toMicrometre(at.y), zM: toMicrometre(at.z) };
}

export type View = 'side' | 'plan';

/** What a view shows: first the station, then the height or how far it lies to the right. */
export type SeenPoint = { readonly xM: number; readonly acrossM: number };

const PARTS_VIEW = { xy: [0, 1], xz: [0, 2], yz: [1, 2] } as const satisfies Record<keyof Outline, readonly number[]>;

/** The outline of a part that lies in the aircraft, seen from the left side (x, z) or from above (x, y). */
export function outlineInAircraft(outline: Outline, placement: Placement, view: View): readonly SeenPoint[] {
  const wanted = ['x', view === 'side' ? 'z' : 'y'];
  const lines = axesOf(placement).map((direction) => ALONG[direction].axis);
  for (const [name, axes] of Object.entries(PARTS_VIEW) as [keyof Outline, readonly [number, number]][]) {
    if (!axes.every((axis) => wanted.includes(lines[axis] as string))) continue;
    return outline[name].map((along) => {
      const point = { partXM: 0, partYM: 0, partZM: 0 };
      axes.forEach((axis, at) => {
        point[PART_AXES[axis] as keyof PartPoint] = along[at] as number;
      });
      const { xM, yM, zM } = inAircraft(point, placement);
      return { xM, acrossM: view === 'side' ? zM : yM };
    });
  }
  return [];
}

const PART_AXES = ['partXM', 'partYM', 'partZM'] as const satisfies readonly (keyof PartPoint)[];

function axesOf({ xPoints, yPoints, zPoints }: Placement): readonly [Direction, Direction, Direction] {
  return [xPoints, yPoints, zPoints];
}

function toMicrometre(alongM: number): number {
  return Math.round(alongM * 1e6) / 1e6 + 0;
}
