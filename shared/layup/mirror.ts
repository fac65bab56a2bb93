/**
 * One part made from another (rule E3): its mirror image, a copy with the figures that the list has now, and lines that move. Nothing is
 * changed in place.
 */
import type { Side } from '#shared/ledger/entry.ts';
import { isSameMaterial, type Material, materialKey } from './material.ts';
import type { LayUp, Line, Region } from './schedule.ts';

type PartSide = (typeof Side)['options'][number];

/** The other side; the centre has none. */
export function otherSide(side: PartSide): PartSide {
  return side === 'centre' ? side : side === 'left' ? 'right' : 'left';
}

const SIDES: Readonly<Record<string, string>> = { left: 'right', right: 'left', l: 'r', r: 'l', lh: 'rh', rh: 'lh' };

/** A name or part number with its side turned: `left`, `LH`, and `L` where it stands by itself, in the case it was written in. */
export function otherSideInName(name: string): string {
  return name.replace(/(?<![\p{L}\p{N}])(left|right|lh|rh|l|r)(?![\p{L}\p{N}])/giu, (word) => {
    const turned = SIDES[word.toLowerCase()] ?? word;
    if (word === word.toUpperCase()) return turned.toUpperCase();
    return word[0] === word[0]?.toUpperCase() ? `${turned[0]?.toUpperCase() ?? ''}${turned.slice(1)}` : turned;
  });
}

type Arm = { readonly xM?: number | undefined; readonly yM?: number | undefined; readonly zM?: number | undefined };

/** The arm of the mirror image: the same station and waterline, the butt line on the other side. */
export function mirroredArm(arm: Arm): Arm {
  // Zero stays zero: -0 is another text in an entry.
  return arm.yM === undefined || arm.yM === 0 ? arm : { ...arm, yM: -arm.yM };
}

/** The same lay-up on the other side: names of regions turned, and angles that are not the same in a mirror. */
export function mirroredLayUp(layUp: LayUp): LayUp {
  return {
    ...layUp,
    regions: layUp.regions.map((region) => ({
      ...region,
      name: otherSideInName(region.name),
      lines: region.lines.map((line) =>
        line.is === 'ply' && line.angle !== undefined ? { ...line, angle: mirroredAngle(line.angle) } : line,
      ),
    })),
  };
}

/** A single signed angle turns over: 45 becomes -45. `±45`, `0/90` and words stay. */
function mirroredAngle(angle: string): string {
  const single = /^([+\-−]?)(\d+(?:\.\d+)?)(\s*(?:°|deg)?)$/.exec(angle.trim());
  const [, sign = '', size = '', unit = ''] = single ?? [];
  if (single === null || Number(size) % 90 === 0) return angle;
  return `${sign === '-' || sign === '−' ? '+' : '-'}${size}${unit}`;
}

export type MovedMaterial = { readonly was: Material; readonly is: Material | undefined };

/** The materials of a schedule that say something else in the list by now, or are not in it any more. */
export function movedMaterials(layUp: LayUp, list: ReadonlyMap<string, Material>): readonly MovedMaterial[] {
  return layUp.materials.flatMap((was) => {
    const is = list.get(materialKey(was.name));
    return is !== undefined && isSameMaterial(was, is) ? [] : [{ was, is }];
  });
}

/** The schedule with the figures that the list has now; what is not in the list stays as it was copied. */
export function withListedMaterials(layUp: LayUp, list: ReadonlyMap<string, Material>): LayUp {
  return { ...layUp, materials: layUp.materials.map((was) => list.get(materialKey(was.name)) ?? was) };
}

export type LineAt = { readonly region: number; readonly line: number };

/** A line moved so that it stands at `to`. The schedule as it was where there is no such line or region. */
export function withLineMoved(layUp: LayUp, from: LineAt, to: LineAt): LayUp {
  const line = layUp.regions[from.region]?.lines[from.line];
  if (line === undefined || layUp.regions[to.region] === undefined) return layUp;
  const without = layUp.regions.map((region, at) =>
    at === from.region ? linesOf(region, (lines) => lines.toSpliced(from.line, 1)) : region,
  );
  return {
    ...layUp,
    regions: without.map((region, at) =>
      at === to.region ? linesOf(region, (lines) => lines.toSpliced(to.line, 0, line)) : region,
    ),
  };
}

function linesOf(region: Region, change: (lines: readonly Line[]) => Line[]): Region {
  return { ...region, lines: change(region.lines) };
}
