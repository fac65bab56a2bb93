/** Where a part lies in the aircraft, and what is kept of its geometry (rule E5). */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Geometry, geometryOf, stationOf } from '#shared/geometry/geometry.ts';
import { DIRECTIONS, inAircraft, outlineInAircraft, type Placement, placed } from '#shared/geometry/placement.ts';
import { binaryStl, box, measured, textStl } from './make-mesh.ts';

const AS_DRAWN: Placement = {
  xPoints: 'aft',
  yPoints: 'right',
  zPoints: 'up',
  isMirrored: false,
  zero: { xM: 2, yM: 0.5, zM: -0.1 },
};
const point = { partXM: 1, partYM: 2, partZM: 4 };

describe('placement', () => {
  it('[E5] adds the place of the part’s zero, each axis along its own', () => {
    expect(inAircraft(point, AS_DRAWN)).toEqual({ xM: 3, yM: 2.5, zM: 3.9 });
    const turned: Placement = { ...AS_DRAWN, xPoints: 'up', yPoints: 'aft', zPoints: 'right' };
    expect(placed(turned).ok).toBe(true);
    expect(inAircraft(point, turned)).toEqual({ xM: 4, yM: 4.5, zM: 0.9 });
    const facing: Placement = { ...AS_DRAWN, xPoints: 'forward', yPoints: 'left' };
    expect(placed(facing).ok).toBe(true);
    expect(inAircraft(point, facing)).toEqual({ xM: 1, yM: -1.5, zM: 3.9 });
  });

  it('[E5] of all ways to point three axes, 24 leave a part as it is and 24 mirror it; all others are along one line', () => {
    const codes = new Map<string, number>();
    for (const xPoints of DIRECTIONS)
      for (const yPoints of DIRECTIONS)
        for (const zPoints of DIRECTIONS) {
          const result = placed({ ...AS_DRAWN, xPoints, yPoints, zPoints });
          const code = result.ok ? 'taken' : result.refusal.code;
          codes.set(code, (codes.get(code) ?? 0) + 1);
        }
    expect(Object.fromEntries(codes)).toEqual({
      taken: 24,
      'axes-mirror-the-part': 24,
      'axes-along-one-line': 6 ** 3 - 48,
    });
  });

  it('[E5] a mirrored part is one that says so, and has its y mirrored', () => {
    const left: Placement = { ...AS_DRAWN, yPoints: 'left', zero: { ...AS_DRAWN.zero, yM: -0.5 } };
    expect(placed(left)).toMatchObject({ ok: false, refusal: { code: 'axes-mirror-the-part' } });
    expect(placed({ ...AS_DRAWN, isMirrored: true })).toMatchObject({ refusal: { code: 'axes-do-not-mirror' } });
    const mirrored = { ...left, isMirrored: true };
    expect(placed(mirrored).ok).toBe(true);
    const along = fc.double({ min: -50, max: 50, noNaN: true });
    fc.assert(
      fc.property(along, along, along, (partXM, partYM, partZM) => {
        const right = inAircraft({ partXM, partYM, partZM }, AS_DRAWN);
        expect(inAircraft({ partXM, partYM, partZM }, mirrored)).toEqual({ ...right, yM: -right.yM + 0 });
      }),
      { seed: 5 },
    );
  });

  it('[E5] both views are there however the part is turned', () => {
    const { outline } = measured(textStl(box(1, 2, 4)));
    for (const xPoints of DIRECTIONS)
      for (const yPoints of DIRECTIONS)
        for (const zPoints of DIRECTIONS) {
          const placement = { ...AS_DRAWN, xPoints, yPoints, zPoints };
          if (!placed(placement).ok) continue;
          const far = inAircraft(point, placement);
          const near = placement.zero;
          const spread = (values: readonly number[]) => [Math.min(...values), Math.max(...values)];
          const side = outlineInAircraft(outline, placement, 'side');
          const plan = outlineInAircraft(outline, placement, 'plan');
          expect(spread(side.map(({ xM }) => xM))).toEqual(spread([near.xM, far.xM]));
          expect(spread(side.map(({ acrossM }) => acrossM))).toEqual(spread([near.zM, far.zM]));
          expect(spread(plan.map(({ acrossM }) => acrossM))).toEqual(spread([near.yM, far.yM]));
        }
  });
});

describe('what is kept', () => {
  const file = { fileName: 'rib.stl', byteLength: 684, sha256: 'a'.repeat(64) };

  it('[E5] names the file and its fingerprint, what was asked and found, and leads to one station', () => {
    const solid = measured(binaryStl(box(1, 2, 4)), { shape: 'solid' });
    const kept = geometryOf(file, solid, AS_DRAWN);
    if (!kept.ok) throw new Error('refused');
    expect(Geometry.parse(JSON.parse(JSON.stringify(kept.value)))).toEqual(kept.value);
    expect(kept.value).toMatchObject({ ...file, unit: 'm', shape: 'solid', areaM2: 28, volumeM3: 8, triangles: 12 });
    expect(stationOf(kept.value)).toEqual({ xM: 2.5, yM: 1.5, zM: 1.9 });
  });

  it('[E5] a shell has no volume, and a place that cannot be is refused', () => {
    const shell = measured(binaryStl(box(1, 2, 4)));
    const kept = geometryOf(file, shell, AS_DRAWN);
    expect(kept.ok && 'volumeM3' in kept.value).toBe(false);
    expect(geometryOf(file, shell, { ...AS_DRAWN, yPoints: 'aft' })).toMatchObject({
      refusal: { code: 'axes-along-one-line', line: 'fore and aft' },
    });
  });
});
