/** Reading meshes from bytes (rule E5): another reader reads the same, and every bad file is refused with what is wrong. */
import fc from 'fast-check';
import { OBJLoader } from 'three/examples/jsm/loaders/OBJLoader.js';
import { STLLoader } from 'three/examples/jsm/loaders/STLLoader.js';
import { describe, expect, it } from 'vitest';
import { atOnce } from '#shared/geometry/mesh.ts';
import { MOST_MESH_BYTES, readMesh, tooLargeToRead } from '#shared/geometry/read-mesh.ts';
import { TextCursor } from '#shared/geometry/text-cursor.ts';
import {
  binaryStl,
  box,
  cone,
  hemisphere,
  measured,
  obj,
  refusalOf,
  type Triangles,
  textStl,
  trianglesOf,
  utf8,
} from './make-mesh.ts';

function read(bytes: Uint8Array, name = 'part.stl'): Triangles {
  const mesh = atOnce(readMesh({ name, bytes }));
  if (!mesh.ok) throw new Error(JSON.stringify(mesh.refusal));
  return trianglesOf(mesh.value);
}

function single(triangles: Triangles): readonly number[] {
  return triangles.flat(2).map((place) => Math.fround(place));
}

const bodies: readonly (readonly [string, Triangles])[] = [
  ['box', box(1.1, 2.2, 3.3)],
  ['cone', cone(0.7, 0.31, 17)],
  ['hemisphere', hemisphere(12, 33)],
];

describe('another reader of the same file', () => {
  it.each(bodies)('[E5] finds the same triangles in a binary STL: %s', (_, triangles) => {
    const bytes = binaryStl(triangles);
    const other = new STLLoader().parse(bytes.slice().buffer).getAttribute('position').array;
    expect(single(read(bytes))).toEqual([...other]);
  });

  it.each(bodies)('[E5] finds the same triangles in a text STL: %s', (_, triangles) => {
    const bytes = textStl(triangles);
    const other = new STLLoader().parse(bytes.slice().buffer).getAttribute('position').array;
    expect(single(read(bytes))).toEqual([...other]);
  });

  it.each(bodies)('[E5] finds the same triangles in an OBJ: %s', (_, triangles) => {
    const bytes = obj(triangles);
    const [body] = new OBJLoader().parse(new TextDecoder().decode(bytes)).children;
    if (body === undefined || !('geometry' in body)) throw new Error('nothing read');
    const { geometry } = body as unknown as { geometry: { getAttribute(name: string): { array: Float32Array } } };
    expect(single(read(bytes, 'part.obj'))).toEqual([...geometry.getAttribute('position').array]);
  });
});

describe('numbers in a text', () => {
  it('[E5] are those that the language reads', () => {
    const written = fc.oneof(
      fc.double({ noNaN: true, noDefaultInfinity: true }).map(String),
      fc.double({ min: -1e4, max: 1e4, noNaN: true }).map((number) => number.toFixed(6)),
      fc.double({ min: -1e4, max: 1e4, noNaN: true }).map((number) => number.toExponential(8)),
      fc.constantFrom('+1', '-.5', '5.', '1E3', '0.1e-2', '00012', '12345678901234567890', '1e-30', '-0'),
    );
    fc.assert(
      fc.property(written, (text) => {
        const cursor = new TextCursor(utf8(`${text} x`));
        expect(cursor.number()).toBe(Number(text));
        expect(cursor.toWord() && cursor.word()).toBe('x');
      }),
      { numRuns: 2000, seed: 5 },
    );
  });

  it.each(['', '.', 'e5', '1e', '1,5', '0x10', '1_000', '--1', '1-'])(
    '[E5] that are none are not taken: “%s”',
    (text) => {
      expect(new TextCursor(utf8(`${text} x`)).number()).toBeUndefined();
    },
  );

  it.each(['nan', '-NaN', 'inf', '+Infinity', '1.#QNAN', '-nan(ind)'])(
    '[E5] that a program had none for are told from words: %s',
    (text) => {
      expect(new TextCursor(utf8(text)).number()).toBeNaN();
    },
  );
});

describe('files that are odd and good', () => {
  it('[E5] a binary STL whose header begins with “solid” is read as what it is', () => {
    expect(read(binaryStl(box(1, 1, 1), 'solid of a part, facet'))).toHaveLength(12);
  });

  it('[E5] any name, any line end, a mark of UTF-8, several solids and blank lines do not matter', () => {
    for (const lineEnd of ['\n', '\r\n', '\r'])
      expect(read(textStl(box(1, 1, 1), lineEnd), 'part.txt')).toHaveLength(12);
    const two = `\uFEFF\n\n${new TextDecoder().decode(textStl(box(1, 1, 1))).toUpperCase()}\n${new TextDecoder().decode(textStl(cone(1, 1, 3)))}`;
    expect(read(utf8(two))).toHaveLength(15);
  });

  it('[E5] faces of an OBJ name corners with texture and normal, backwards, ahead, and over two lines', () => {
    const text = [
      'mtllib none',
      'f 1/1 2/2/1 3//1 4',
      'v 0 0 0 1.0',
      'v 1 0 0 0.2 0.2 0.2',
      'v 1 1 0',
      'vt 0 0',
      'vn 0 0 1',
      'v 0 1 0',
      'f -4//-1 \\',
      '  -2 -1',
      '# a comment that ends so \\',
      'l 1 2',
    ].join('\n');
    expect(read(utf8(text), 'x.obj')).toEqual([
      [
        [0, 0, 0],
        [1, 0, 0],
        [1, 1, 0],
      ],
      [
        [0, 0, 0],
        [1, 1, 0],
        [0, 1, 0],
      ],
      [
        [0, 0, 0],
        [1, 1, 0],
        [0, 1, 0],
      ],
    ]);
  });

  it('[E5] a vertex that no face names is not part of the part', () => {
    const { high, areaM2 } = measured(utf8('v 900 9 9\nv 0 0 0\nv 1 0 0\nv 5 5 5\nv 0 1 0\nf 2 3 5\n'), {
      name: 'x.obj',
    });
    expect([high.partXM, areaM2]).toEqual([1, 0.5]);
  });

  it('[E5] vertices of exactly one place are one, those a hair apart are two, and -0 is 0', () => {
    const seam: Triangles = [
      [
        [0, 0, 0],
        [1, 0, 0],
        [0, 1, 0],
      ],
      [
        [-0, 1, -0],
        [1, 0, -0],
        [1, 1, 0],
      ],
    ];
    expect(measured(binaryStl(seam)).openEdgeM).toBeCloseTo(4, 9);
    const apart: Triangles = [
      seam[0] as Triangles[0],
      [
        [0, 1, 0],
        [1, 1e-7, 0],
        [1, 1, 0],
      ],
    ];
    expect(measured(binaryStl(apart)).openEdgeM).toBeCloseTo(4 + 2 * Math.SQRT2, 5);
  });
});

describe('files that are not taken', () => {
  const triangle = (word: string) =>
    `solid\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 1 0 0\n${word}\nendloop\nendfacet\nendsolid\n`;

  it('[E5] one with a corner that is not a number is refused where it is', () => {
    for (const bad of [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]) {
      const bytes = binaryStl(box(1, 1, 1));
      new DataView(bytes.buffer).setFloat32(84 + 50 * 3 + 12, bad, true);
      expect(refusalOf(bytes)).toEqual({ code: 'mesh-not-finite', where: 'triangle 4' });
    }
    expect(refusalOf(utf8(triangle('vertex 0 nan 0')))).toEqual({ code: 'mesh-not-finite', where: 'line 6' });
    expect(refusalOf(utf8(triangle('vertex 0 1e999 0')))).toEqual({ code: 'mesh-not-finite', where: 'line 6' });
    expect(refusalOf(utf8('v 0 0 -inf\n'))).toEqual({ code: 'mesh-not-finite', where: 'line 1' });
  });

  it('[E5] a binary STL that was cut off, or has more than it says, is refused with both lengths', () => {
    const whole = binaryStl(box(1, 1, 1));
    expect(refusalOf(whole.slice(0, 300))).toEqual({
      code: 'mesh-cut-short',
      triangles: 12,
      expected: 684,
      found: 300,
    });
    const longer = new Uint8Array(700);
    longer.set(whole);
    expect(refusalOf(longer)).toEqual({ code: 'mesh-cut-short', triangles: 12, expected: 684, found: 700 });
    expect(refusalOf(whole.slice(0, 60))).toEqual({ code: 'mesh-not-known' });
  });

  it('[E5] a text STL that was cut off anywhere is refused', () => {
    const text = new TextDecoder().decode(textStl(cone(1, 1, 3)));
    for (let length = 30; length < text.length - 'endsolid made for a test\n'.length; length += 1) {
      const code = refusalOf(utf8(text.slice(0, length)))?.code;
      expect(['mesh-ends-early', 'mesh-line-unreadable']).toContain(code);
    }
  });

  it('[E5] a text of something else under the name of an STL, a drawing of another format, and a packed one are not known', () => {
    expect(refusalOf(utf8('Part number;mass\nW-1;4 kg\n'))).toEqual({ code: 'mesh-not-known' });
    expect(refusalOf(utf8('ISO-10303-21;\nHEADER;\n'), { name: 'wing.step' })).toEqual({ code: 'mesh-not-known' });
    expect(
      refusalOf(
        Uint8Array.from({ length: 500 }, (_, at) => at % 7),
        { name: 'wing.3mf' },
      ),
    ).toEqual({
      code: 'mesh-not-known',
    });
  });

  it('[E5] an empty one, one of blanks, and one without a triangle have nothing to measure', () => {
    expect(refusalOf(new Uint8Array(0))).toEqual({ code: 'mesh-empty' });
    expect(refusalOf(utf8('\n  \r\n'))).toEqual({ code: 'mesh-empty' });
    expect(refusalOf(binaryStl([]))).toEqual({ code: 'mesh-without-triangles' });
    expect(refusalOf(utf8('solid nothing\nendsolid nothing\n'))).toEqual({ code: 'mesh-without-triangles' });
    expect(refusalOf(utf8('v 0 0 0\nv 1 1 1\nl 1 2\n'))).toEqual({ code: 'mesh-without-triangles' });
  });

  it('[E5] a line that cannot be read is named and shown', () => {
    expect(refusalOf(utf8(triangle('vertex 0 1,5 0')))).toEqual({
      code: 'mesh-line-unreadable',
      line: 6,
      text: 'vertex 0 1,5 0',
    });
    expect(refusalOf(utf8(triangle('outer')))?.code).toBe('mesh-line-unreadable');
    expect(refusalOf(utf8(triangle('vertex 0 1 0\nvertex 1 1 0')))?.code).toBe('mesh-line-unreadable');
    expect(refusalOf(utf8(triangle('colour 1')))?.code).toBe('mesh-line-unreadable');
    expect(refusalOf(utf8('v 0 0\n'))?.code).toBe('mesh-line-unreadable');
    expect(refusalOf(utf8('v 0 0 0\nf 1 1\n'))?.code).toBe('mesh-line-unreadable');
    expect(refusalOf(utf8('v 0 0 0\nf 1 1 a\n'))?.code).toBe('mesh-line-unreadable');
  });

  it('[E5] a face that names a vertex which is not there is refused with its line', () => {
    const bad = (index: string) => refusalOf(utf8(`v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 ${index}\n`));
    expect(bad('3')).toBeUndefined();
    for (const index of [4, 0, -4, 999999])
      expect(bad(`${index}`)).toEqual({ code: 'mesh-no-such-vertex', line: 4, vertex: index, vertices: 3 });
  });

  it('[E5] one of more than 200 MB is refused by its length, before it is read', () => {
    expect(tooLargeToRead(MOST_MESH_BYTES)).toBeUndefined();
    expect(tooLargeToRead(MOST_MESH_BYTES + 50e6)).toEqual({
      code: 'mesh-too-large',
      megabytes: '250 MB',
      most: '200 MB',
    });
  });

  it('[E5] a part that would reach beyond a kilometre in the unit that was said is refused, and so is one without any area', () => {
    expect(refusalOf(textStl(box(1500, 1, 1)), { unit: 'mm' })).toBeUndefined();
    expect(refusalOf(textStl(box(1500, 1, 1)), { unit: 'm' })).toEqual({
      code: 'mesh-too-far',
      metres: '1,500 m',
      most: '1,000 m',
    });
    expect(
      refusalOf(
        textStl([
          [
            [0, 0, 0],
            [1, 1, 1],
            [2, 2, 2],
          ],
        ]),
      )?.code,
    ).toBe('mesh-without-area');
  });

  it('[E5] any bytes at all are read or refused, and never break', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 400 }), fc.constantFrom('', 'solid ', 'v 0 0 0\nf '), (noise, head) => {
        const result = refusalOf(Uint8Array.from([...utf8(head), ...noise]));
        expect(result === undefined || typeof result.code === 'string').toBe(true);
      }),
      { numRuns: 500, seed: 5 },
    );
  });
});
