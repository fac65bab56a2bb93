/** Area, volume and centroid of meshes, and what is told about them (rule E5). */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { findingInWords, isWarning } from '#shared/geometry/finding.ts';
import { measureMesh } from '#shared/geometry/measure.ts';
import {
  binaryStl,
  box,
  cone,
  hemisphere,
  measured,
  obj,
  type Point,
  refusalOf,
  type Triangles,
  textStl,
  utf8,
} from './make-mesh.ts';

const FILES = { 'binary STL': binaryStl, 'text STL': textStl, OBJ: obj };
const codes = (bytes: Uint8Array, question: Parameters<typeof measured>[1] = {}) =>
  measured(bytes, question).findings.map(({ code }) => code);

describe('a box of 1 x 2 x 4', () => {
  it.each(Object.entries(FILES))('[E5] has area, volume, centroid and bounds, each in metres: %s', (_, file) => {
    const solid = measured(file(box(1, 2, 4)), { shape: 'solid', unit: 'in' });
    expect(solid.areaM2).toBeCloseTo(28 * 0.0254 ** 2, 10);
    expect(solid.volumeM3).toBeCloseTo(8 * 0.0254 ** 3, 12);
    expect(solid.centroid).toEqual({ partXM: 0.0127, partYM: 0.0254, partZM: 0.0508 });
    expect([solid.low, solid.high]).toEqual([
      { partXM: 0, partYM: 0, partZM: 0 },
      { partXM: 0.0254, partYM: 0.0508, partZM: 0.1016 },
    ]);
    expect([solid.triangles, solid.openEdgeM, solid.bordersM, solid.findings]).toEqual([12, 0, [], []]);
    expect(measured(file(box(1, 2, 4))).volumeM3).toBeUndefined();
  });

  it('[E5] is seen along each axis as its four corners', () => {
    const { outline } = measured(textStl(box(1, 2, 4)));
    expect(outline.xy.toSorted()).toEqual([
      [0, 0],
      [0, 2],
      [1, 0],
      [1, 2],
    ]);
    expect(outline.xz.toSorted()).toEqual([
      [0, 0],
      [0, 4],
      [1, 0],
      [1, 4],
    ]);
    expect(outline.yz).toHaveLength(4);
  });
});

describe('an outline', () => {
  it('[E5] of a round part has 48 points at most and misses little of it', () => {
    const { xy } = measured(textStl(hemisphere(40, 400))).outline;
    expect(xy.length).toBeLessThanOrEqual(48);
    const around = xy.reduce((sum, [x, y], at) => {
      const [nextX, nextY] = xy[(at + 1) % xy.length] ?? [0, 0];
      return sum + (x * nextY - y * nextX) / 2;
    }, 0);
    expect(around / Math.PI).toBeGreaterThan(0.985);
    expect(around / Math.PI).toBeLessThan(1);
  });
});

describe('open edges', () => {
  it('[E5] are told with their length, in all and by border', () => {
    const tube = box(1, 2, 4).filter(([a, b, c]) => !(a[2] === b[2] && b[2] === c[2]));
    const { openEdgeM, bordersM, findings } = measured(textStl(tube), { unit: 'mm' });
    expect(openEdgeM).toBeCloseTo(0.012, 12);
    expect(bordersM).toEqual([0.006, 0.006]);
    expect(findings).toEqual([{ code: 'open-edges', count: 8, borders: 2 }]);
  });

  it('[E5] of many loose triangles are told by the longest borders only, and counted all', () => {
    const loose: Triangles = Array.from({ length: 60 }, (_, at) => {
      const size = 1 + at / 100;
      return [
        [at * 10, 0, 0],
        [at * 10 + size, 0, 0],
        [at * 10, size, 0],
      ];
    });
    const { bordersM, findings } = measured(textStl(loose));
    expect(bordersM).toHaveLength(24);
    expect(bordersM[0]).toBeCloseTo(1.59 * (2 + Math.SQRT2), 6);
    expect(findings).toEqual([{ code: 'open-edges', count: 180, borders: 60 }]);
  });

  it('[E5] leave a solid without a volume: it is refused', () => {
    expect(refusalOf(textStl(box(1, 1, 1).slice(1)), { shape: 'solid' })).toEqual({ code: 'solid-open', edges: 3 });
    expect(refusalOf(textStl(hemisphere(4, 8)), { shape: 'solid' })).toEqual({ code: 'solid-open', edges: 8 });
  });
});

describe('what is odd about a mesh', () => {
  it('[E5] a neighbour that is turned over is told, and a solid with one is refused', () => {
    const turned = box(1, 1, 1).map(([a, b, c], at) => (at === 5 ? ([a, c, b] as const) : ([a, b, c] as const)));
    expect(measured(textStl(turned)).findings).toEqual([{ code: 'turned-over', count: 3 }]);
    expect(measured(textStl(turned)).areaM2).toBe(6);
    expect(refusalOf(textStl(turned), { shape: 'solid' })).toEqual({ code: 'solid-turned-over', edges: 3 });
  });

  it('[E5] an edge of three triangles is told, and leaves a solid open', () => {
    const fin: Triangles = [
      ...box(1, 1, 1),
      [
        [0, 0, 0],
        [1, 0, 0],
        [0.5, -1, 0],
      ],
    ];
    expect(measured(textStl(fin)).findings).toContainEqual({ code: 'crowded-edges', count: 1 });
    expect(refusalOf(textStl(fin), { shape: 'solid' })).toEqual({ code: 'solid-open', edges: 3 });
  });

  it('[E5] two boxes that touch along an edge are still a solid', () => {
    const beside = box(1, 1, 1).map((corners) => corners.map(([x, y, z]) => [x + 1, y + 1, z] as const) as never);
    const { volumeM3, findings } = measured(textStl([...box(1, 1, 1), ...beside]), { shape: 'solid' });
    expect(volumeM3).toBe(2);
    expect(findings).toEqual([{ code: 'crowded-edges', count: 1 }]);
  });

  it('[E5] triangles without an area are counted, with the number of the first, and change nothing', () => {
    const lines: Triangles = [
      [
        [0, 0, 0],
        [1, 1, 1],
        [1, 1, 1],
      ],
      [
        [0, 0, 0],
        [0.5, 0.5, 0.5],
        [1, 1, 1],
      ],
    ];
    const [first, ...rest] = box(1, 1, 1);
    if (first === undefined) throw new Error('no box');
    const { findings, areaM2 } = measured(textStl([first, ...lines, ...rest]));
    expect(findings).toContainEqual({ code: 'flat-triangles', count: 2, first: 2 });
    expect(areaM2).toBe(6);
    const repeated = [first, ...lines.slice(0, 1), ...rest];
    expect(measured(textStl(repeated), { shape: 'solid' }).volumeM3).toBe(1);
  });

  it('[E5] a thin closed sheet that is offered as a shell counts both faces: it is warned about, with its thickness', () => {
    const sheet = measured(textStl(box(300, 200, 2)), { unit: 'mm' });
    expect(sheet.findings.map(({ code }) => code)).toEqual(['both-faces']);
    const [finding] = sheet.findings;
    if (finding?.code !== 'both-faces') throw new Error('not warned');
    expect(finding.thicknessM).toBeGreaterThan(0.0019);
    expect(finding.thicknessM).toBeLessThan(0.002);
    expect(isWarning(finding)).toBe(true);
    expect(codes(textStl(box(300, 200, 2)), { unit: 'mm', shape: 'solid' })).toEqual([]);
    expect(codes(textStl(box(3, 2, 2)))).toEqual(['closed-shell']);
  });

  it('[E5] a solid that is turned inside out has its volume all the same, and that is told', () => {
    const inside = box(1, 2, 3).map(([a, b, c]) => [a, c, b] as const);
    const { volumeM3, centroid, findings } = measured(textStl(inside), { shape: 'solid' });
    expect([volumeM3, centroid.partZM]).toEqual([6, 1.5]);
    expect(findings).toEqual([{ code: 'inside-out' }]);
  });

  it('[E5] two faces that lie on each other enclose nothing', () => {
    const flat: Triangles = [
      [
        [0, 0, 0],
        [1, 0, 0],
        [0, 1, 0],
      ],
      [
        [0, 0, 0],
        [0, 1, 0],
        [1, 0, 0],
      ],
    ];
    expect(refusalOf(textStl(flat), { shape: 'solid' })).toEqual({ code: 'solid-without-volume' });
  });

  it('[E5] every finding has words in whole sentences', () => {
    const some = [
      { code: 'flat-triangles', count: 1, first: 7 },
      { code: 'open-edges', count: 1200, borders: 1 },
      { code: 'crowded-edges', count: 2 },
      { code: 'turned-over', count: 1 },
      { code: 'both-faces', thicknessM: 0.0021 },
      { code: 'closed-shell' },
      { code: 'inside-out' },
    ] as const;
    const words = some.map((finding) => findingInWords(finding, { length: 'mm' }));
    expect(words[0]).toBe('1 triangle has no area, the first of them number 7. They add nothing.');
    expect(words[1]).toContain('1,200 edges, in 1 border');
    expect(words[4]).toContain('2 mm');
    for (const text of words) expect(text).toMatch(/^[A-Z\d].*\.$/);
  });
});

describe('a polygon of an OBJ', () => {
  it('[E5] that is not convex has its own area and centroid, wherever its corners begin', () => {
    // An L of 3 squares: 2 x 2 without its upper right quarter.
    const corners = [
      [0, 0],
      [2, 0],
      [2, 1],
      [1, 1],
      [1, 2],
      [0, 2],
    ];
    for (let first = 0; first < corners.length; first += 1) {
      const around = [...corners.slice(first), ...corners.slice(0, first)];
      const text = `${around.map(([x, y]) => `v ${x} ${y} 0`).join('\n')}\nf 1 2 3 4 5 6\n`;
      const { areaM2, centroid } = measured(utf8(text), { name: 'l.obj' });
      expect(areaM2).toBeCloseTo(3, 9);
      expect(centroid.partXM).toBeCloseTo(5 / 6, 9);
      expect(centroid.partYM).toBeCloseTo(5 / 6, 9);
    }
  });
});

const angle = fc.double({ min: -Math.PI, max: Math.PI, noNaN: true });
const length = fc.double({ min: 0.1, max: 10, noNaN: true });
const shape = fc.oneof(
  fc.tuple(length, length, length).map((sides) => box(...sides)),
  fc.tuple(length, length, fc.integer({ min: 3, max: 12 })).map((cones) => cone(...cones)),
);
const moved = (triangles: Triangles, move: (point: Point) => Point): Triangles =>
  triangles.map(([a, b, c]) => [move(a), move(b), move(c)]);

describe('properties', () => {
  it('[E5] the area stays when a part is turned, and the centroid turns with it', () => {
    fc.assert(
      fc.property(shape, angle, angle, (triangles, yaw, pitch) => {
        const turn = ([x, y, z]: Point): Point => {
          const along = x * Math.cos(yaw) - y * Math.sin(yaw);
          return [
            along * Math.cos(pitch) - z * Math.sin(pitch),
            x * Math.sin(yaw) + y * Math.cos(yaw),
            along * Math.sin(pitch) + z * Math.cos(pitch),
          ];
        };
        const before = measured(obj(triangles));
        const after = measured(obj(moved(triangles, turn)));
        expect(after.areaM2).toBeCloseTo(before.areaM2, 5);
        const { partXM, partYM, partZM } = before.centroid;
        const [x, y, z] = turn([partXM, partYM, partZM]);
        expect(
          [after.centroid.partXM - x, after.centroid.partYM - y, after.centroid.partZM - z]
            .map(Math.abs)
            .every((off) => off < 1e-6),
        ).toBe(true);
      }),
      { numRuns: 60, seed: 5 },
    );
  });

  it('[E5] the centroid moves with the part, and a volume stays as it is', () => {
    fc.assert(
      fc.property(fc.tuple(length, length, length), fc.tuple(length, length, length), (sides, by) => {
        const there = moved(box(...sides), ([x, y, z]) => [x + by[0], y + by[1], z + by[2]]);
        const before = measured(textStl(box(...sides)), { shape: 'solid' });
        const after = measured(textStl(there), { shape: 'solid' });
        expect(after.centroid.partYM - before.centroid.partYM).toBeCloseTo(by[1], 6);
        expect((after.volumeM3 ?? 0) / (before.volumeM3 ?? 1)).toBeCloseTo(1, 8);
      }),
      { numRuns: 60, seed: 5 },
    );
  });

  it('[E5] a triangle cut in three changes no figure', () => {
    fc.assert(
      fc.property(shape, fc.nat(), fc.tuple(length, length, length), (triangles, which, share) => {
        const cut = which % triangles.length;
        const whole = share[0] + share[1] + share[2];
        const finer = triangles.flatMap((corners, at) => {
          if (at !== cut) return [corners];
          const [a, b, c] = corners;
          const middle = [0, 1, 2].map(
            (axis) => ((a[axis] ?? 0) * share[0] + (b[axis] ?? 0) * share[1] + (c[axis] ?? 0) * share[2]) / whole,
          ) as unknown as Point;
          return [
            [a, b, middle],
            [b, c, middle],
            [c, a, middle],
          ] as const;
        });
        const before = measured(textStl(triangles));
        const after = measured(textStl(finer));
        expect(after.areaM2 / before.areaM2).toBeCloseTo(1, 7);
        expect(after.centroid.partZM).toBeCloseTo(before.centroid.partZM, 6);
        expect(after.openEdgeM).toBeCloseTo(before.openEdgeM, 6);
      }),
      { numRuns: 60, seed: 5 },
    );
  });

  it('[E5] figures keep their digits far from the zero of the drawing', () => {
    const far = moved(box(1, 1, 1), ([x, y, z]) => [x + 65536, y, z - 32768]);
    const { areaM2, centroid, volumeM3 } = measured(binaryStl(far), { unit: 'mm', shape: 'solid' });
    expect(areaM2).toBeCloseTo(6e-6, 15);
    expect(volumeM3).toBeCloseTo(1e-9, 18);
    expect(centroid.partXM).toBeCloseTo(65.5365, 6);
  });
});

describe('work in steps', () => {
  it('[E5] tells how far it is, never backwards, and can be left at any step', () => {
    const bytes = binaryStl(hemisphere(150, 600));
    const told: number[] = [];
    const work = measureMesh({ name: 'a.stl', bytes }, { unit: 'm', shape: 'shell' });
    for (let step = work.next(); step.done !== true; step = work.next()) told.push(step.value);
    expect(told.length).toBeGreaterThan(6);
    expect(told).toEqual(told.toSorted((a, b) => a - b));
    expect(told.every((share) => share >= 0 && share <= 1)).toBe(true);
    const left = measureMesh({ name: 'a.stl', bytes }, { unit: 'm', shape: 'shell' });
    left.next();
    expect(left.next().done).toBe(false);
  });
});
