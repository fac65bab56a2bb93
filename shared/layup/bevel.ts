/**
 * The core of a sandwich with its edges cut down at an angle (rule E4). Lengths in metres, areas in square metres, angles in degrees from the
 * panel's plane.
 */

export type BevelledCore = {
  /** Of the larger face. */
  readonly areaM2: number;
  readonly perimeterM: number;
  readonly thicknessM: number;
  readonly bevelDeg: number;
  readonly outline: 'rectangle' | 'other';
};

/** How far the bevel runs inwards. */
export function insetM({ thicknessM, bevelDeg }: Pick<BevelledCore, 'thicknessM' | 'bevelDeg'>): number {
  // The tangent of 90 degrees is not quite infinite in binary fractions.
  return bevelDeg >= 90 ? 0 : thicknessM / Math.tan((bevelDeg * Math.PI) / 180);
}

/**
 * Volume in cubic metres: A t - P t^2/(2 tan a) + (4/3) t^3/tan^2 a, which is exact for a rectangle: at depth h each side is shorter by
 * 2 h/tan a, and the last term is what the corners were taken off twice. Other outlines have no such corners, and the term is left out.
 */
export function bevelledVolumeM3(core: BevelledCore): number {
  const { areaM2, perimeterM, thicknessM, outline } = core;
  const inwardsM = insetM(core);
  const cornersM3 = outline === 'rectangle' ? (4 / 3) * thicknessM * inwardsM ** 2 : 0;
  return areaM2 * thicknessM - (perimeterM * thicknessM * inwardsM) / 2 + cornersM3;
}

/** The least perimeter around an area: that of a square, or of a circle where it need not be a rectangle. */
export function leastPerimeterM(areaM2: number, outline: BevelledCore['outline']): number {
  return outline === 'rectangle' ? 4 * Math.sqrt(areaM2) : 2 * Math.sqrt(Math.PI * areaM2);
}

/**
 * How far the bevels can run before they meet: half the shorter side of a rectangle. No outline that bulges everywhere holds a circle larger
 * than 2 A/P in radius, so further than that is too far for any of them.
 */
export function roomM({
  areaM2,
  perimeterM,
  outline,
}: Pick<BevelledCore, 'areaM2' | 'perimeterM' | 'outline'>): number {
  if (outline === 'other') return (2 * areaM2) / perimeterM;
  // The sides are the roots of s^2 - (P/2) s + A.
  return (perimeterM / 2 - Math.sqrt(Math.max(0, (perimeterM / 2) ** 2 - 4 * areaM2))) / 4;
}
