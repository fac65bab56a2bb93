/** A lay-up schedule in words (rules E3, E4, L4): what is read, what is kept of the words, and what is refused where. */
import { describe, expect, it } from 'vitest';
import { computeLayUp } from '#shared/layup/compute.ts';
import { massFraction } from '#shared/layup/fractions.ts';
import { layUpFromWords } from '#shared/layup/from-words.ts';
import { layUpInWords } from '#shared/layup/in-words.ts';
import { materialKey } from '#shared/layup/material.ts';
import { materialInWords } from '#shared/layup/material-words.ts';
import { LayUp } from '#shared/layup/schedule.ts';
import { STARTER_MATERIALS } from '#shared/layup/starter-materials.ts';
import { LIST, MATERIALS, ofLines, PANEL, problemsWith, scheduleOf } from './make-schedules.ts';

const PLY = { is: 'ply', material: 'Twill', layers: '1' };

describe('a schedule in words', () => {
  it('[E3] is read in the units it was typed in, and keeps what was typed', () => {
    const layUp = scheduleOf({
      resin: 'epoxy',
      'fibre by volume': '50 %',
      materials: [
        { name: 'Cloth', is: 'fabric', areal: '6 oz/yd2', density: '2.55 g/cc', uncertainty: '4 %' },
        {
          name: 'Board',
          is: 'core',
          density: '4 lb/ft3',
          thickness: '1/4 in'.replace('1/4', '0.25'),
          uptake: '200 gsm',
        },
      ],
      regions: [
        {
          name: 'Floor',
          area: '10 sq ft',
          lines: [
            { is: 'ply', material: 'CLOTH', layers: 2, coverage: '105 %' },
            { is: 'core', material: 'Board' },
          ],
        },
      ],
    });
    expect(layUp.materials.map(({ name }) => name)).toEqual(['Epoxy', 'Cloth', 'Board']);
    expect(layUp.materials[1]).toMatchObject({
      arealKgM2: expect.closeTo(0.203_434_48, 8), // 6 x 33.905747 g.
      densityKgM3: 2550,
      std: 0.04,
      basis: 'stated',
      typed: { areal: '6 oz/yd²', density: '2.55 g/cm³', uncertainty: '4 %' },
    });
    expect(layUp.materials[2]).toMatchObject({
      densityKgM3: expect.closeTo(64.073_85, 5), // 4 x 16.018463 kg/m³.
      thicknessM: 0.00635,
      uptakeKgM2: 0.2,
      uptakeStd: 0.3,
    });
    expect(layUp.regions[0]).toMatchObject({ areaM2: 0.9290304, areaStd: 0.02, typed: { area: '10 ft²' } });
    expect(layUp.regions[0]?.lines[0]).toMatchObject({ layers: 2, coverage: 1.05, on: 'moulded' });
    expect(computeLayUp(layUp).lines[0]?.notes).toEqual(['covers more than its region']);
    expect(LayUp.parse(layUp)).toEqual(layUp);
  });

  it('[E3] takes the usual fibre fractions of the process unless others are stated', () => {
    // Wet lay-up: 30 to 50 % by volume, here of fibre 1,800 and resin 1,200.
    const densities = { fibreKgM3: 1800, resinKgM3: 1200 };
    const usual = scheduleOf(ofLines(PLY)).laminate?.band;
    expect(usual).toEqual({
      lowWf: massFraction(0.3, densities),
      highWf: massFraction(0.5, densities),
      from: 'shop default',
    });
    const stated = scheduleOf({ ...ofLines(PLY), 'band low': '45 %', 'band high': '62 %' });
    expect(stated.laminate?.band).toEqual({ lowWf: 0.45, highWf: 0.62, from: 'stated' });
    const infused = layUpFromWords(ofLines(PLY), { materials: LIST, process: 'resin-infused' });
    expect(infused.ok && infused.value.laminate?.band.lowWf).toBe(massFraction(0.45, densities));
  });

  it('[E3] stays what it was when the list changes', () => {
    const layUp = scheduleOf(PANEL);
    const heavier = new Map(
      MATERIALS.map((one) => [materialKey(one.name), one.is === 'fabric' ? { ...one, arealKgM2: 1 } : one]),
    );
    const again = layUpFromWords(layUpInWords(layUp), { materials: heavier, process: 'wet lay-up' });
    expect(again.ok && computeLayUp(again.value).massKg).toBe(computeLayUp(layUp).massKg);
    // Without the copies it is stated with the new list.
    const { materials: _, ...bare } = layUpInWords(layUp);
    const anew = layUpFromWords(bare, { materials: heavier, process: 'wet lay-up' });
    expect(anew.ok && computeLayUp(anew.value).massKg).toBeGreaterThan(2);
  });

  it('[E3] says itself again in words', () => {
    const layUp = scheduleOf({ ...PANEL, 'band low': '45 %', 'band high': '62 %' });
    const figures = (one: LayUp) =>
      JSON.parse(JSON.stringify(one, (key, value) => (key === 'typed' ? undefined : value)));
    expect(figures(scheduleOf(layUpInWords(layUp)))).toEqual(figures(layUp));
  });

  it('[E3] without plies needs no resin', () => {
    const layUp = scheduleOf({
      regions: [{ name: 'Plate', area: '1 m²', lines: [{ is: 'coat', material: 'Primer' }] }],
    });
    expect(layUp.laminate).toBeUndefined();
    expect(computeLayUp(layUp)).toMatchObject({ massKg: 0.1 });
    expect(computeLayUp(layUp)).not.toHaveProperty('wf');
  });

  it('[E3] the materials to begin with are there and say that they have no source', () => {
    expect(new Set(STARTER_MATERIALS.map(({ is }) => is)).size).toBe(7);
    expect(STARTER_MATERIALS.every(({ basis }) => basis === 'common practice')).toBe(true);
    const lines = STARTER_MATERIALS.flatMap(({ is, name }) =>
      is === 'fabric' ? [{ is: 'ply', material: name, layers: '1' }] : [],
    );
    const sent = { ...ofLines(...lines), resin: 'Epoxy, infusion', materials: STARTER_MATERIALS.map(materialInWords) };
    expect(problemsWith(sent)).toEqual([]);
  });
});

describe('refusals at their places', () => {
  it.each([
    [
      'zero area',
      { ...ofLines(PLY), regions: [{ name: 'A', area: '0 m²', lines: [PLY] }] },
      'regions/0/area: out-of-range',
    ],
    ['no unit', { ...ofLines(PLY), regions: [{ name: 'A', area: '2', lines: [PLY] }] }, 'regions/0/area: unit-missing'],
    ['no fibre', { ...ofLines(PLY), 'fibre by mass': '0 %' }, 'fibre by mass: fraction-impossible'],
    ['no resin left', { ...ofLines(PLY), 'fibre by mass': '100 %' }, 'fibre by mass: fraction-impossible'],
    ['no resin named', { ...ofLines(PLY), resin: '' }, 'resin: missing'],
    [
      'a fraction by mass and by volume',
      { ...ofLines(PLY), 'fibre by volume': '50 %' },
      'fibre by volume: fraction-twice',
    ],
    ['plies without resin', { regions: ofLines(PLY).regions }, 'resin: resin-missing'],
    ['half a band', { ...ofLines(PLY), 'band low': '40 %' }, 'band high: missing'],
    ['a ply without fabric', ofLines({ is: 'ply', layers: '1' }), 'regions/0/lines/0/material: missing'],
    ['a ply of foam', ofLines({ ...PLY, material: 'Foam' }), 'regions/0/lines/0/material: material-unfit'],
    ['a resin of foam', { ...ofLines(PLY), resin: 'Foam' }, 'resin: material-unfit'],
    ['an unknown material', ofLines(PLY, { ...PLY, material: 'Silk' }), 'regions/0/lines/1/material: material-unknown'],
    ['no layers', ofLines({ ...PLY, layers: '-1' }), 'regions/0/lines/0/layers: not-a-count'],
    [
      'half an insert',
      ofLines({ is: 'insert', material: 'Insert', count: '1.5' }),
      'regions/0/lines/0/count: not-a-count',
    ],
    ['a field of another line', ofLines({ ...PLY, bevel: '45' }), 'regions/0/lines/0/bevel: field-unknown'],
    ['three faces', ofLines({ is: 'coat', material: 'Primer', faces: '3' }), 'regions/0/lines/0/faces: out-of-range'],
    ['no coverage', ofLines({ ...PLY, coverage: '0 %' }), 'regions/0/lines/0/coverage: out-of-range'],
    ['a line that is a list', ofLines([] as never), 'regions/0/lines/0: shape-refused'],
    ['no object', 'two plies', ': shape-refused'],
    ['no lines', ofLines(), 'regions: schedule-empty'],
    ['a bevel past upright', ofLines(core({ bevel: '91' })), 'regions/0/lines/0/bevel: out-of-range'],
    ['a bevel without outline', ofLines(core({ outline: '' })), 'regions/0/lines/0/outline: missing'],
    ['bevels that meet', ofLines(core({ bevel: '1' })), 'regions/0/lines/0/bevel: bevel-too-large'],
    [
      'bevels that meet in a disc',
      ofLines(core({ bevel: '1', outline: 'other' })),
      'regions/0/lines/0/bevel: bevel-too-large',
    ],
    ['kerfs deeper than the core', ofLines(core(kerfs('11 mm'))), 'regions/0/lines/0/kerf depth: kerfs-above-core'],
    [
      'more kerf than core',
      ofLines(core({ ...kerfs('10 mm'), 'kerf length': '900 m', 'kerf width': '2 mm' })),
      'regions/0/lines/0/kerf length: kerfs-above-core',
    ],
    [
      'core without thickness',
      described({ name: 'Board', is: 'core', density: '75 kg/m³', uptake: '0 g/m²' }),
      'materials/0/thickness: missing',
    ],
    [
      'core of no thickness',
      described({ name: 'Board', is: 'core', density: '75 kg/m³', uptake: '0 g/m²', thickness: '0 mm' }),
      'materials/0/thickness: out-of-range',
    ],
    [
      'a fabric with a thickness',
      described({ name: 'Silk', is: 'fabric', areal: '9 g/m²', density: '1300 kg/m³', thickness: '1 mm' }),
      'materials/0/thickness: field-unknown',
    ],
    [
      'a section as large as a door',
      ofLines({ is: 'fillet', material: 'Micro', length: '1 m', section: '2 m²' }),
      'regions/0/lines/0/section: out-of-range',
    ],
  ])('[E3] %s', (_, sent, problem) => {
    expect(problemsWith(sent)).toContain(problem);
  });

  it('[E4] a core that covers less of its region needs a perimeter of its own', () => {
    expect(problemsWith(ofLines(core({ coverage: '50 %' })))).toEqual([
      'regions/0/lines/0/perimeter: perimeter-missing',
    ]);
    expect(problemsWith(ofLines(core({ coverage: '50 %', perimeter: '3 m' })))).toEqual([]);
    // 0.5 m² need four times 0.7071 m as a rectangle; as a disc 2.507 m are enough.
    expect(problemsWith(ofLines(core({ coverage: '50 %', perimeter: '2.6 m' })))).toEqual([
      'regions/0/lines/0/perimeter: perimeter-too-short',
    ]);
    expect(problemsWith(ofLines(core({ coverage: '50 %', perimeter: '2.6 m', outline: 'other' })))).toEqual([]);
  });

  it('[E4] bevels may just meet', () => {
    // A strip of 1 m x 20 mm and 10 mm thick: at 45° the two bevels meet in the middle.
    const strip = { area: '0.02 m²', perimeter: '2.04 m' };
    expect(problemsWith(ofLines(core(strip)))).toEqual([]);
    expect(problemsWith(ofLines(core({ ...strip, bevel: '44°' })))).toEqual([
      'regions/0/lines/0/bevel: bevel-too-large',
    ]);
  });

  it('[E3] all problems are told at once', () => {
    const sent = { ...ofLines({ ...PLY, layers: 'two' }, { is: 'coat' }), 'fibre by mass': '0.6' };
    expect(problemsWith(sent)).toEqual([
      'regions/0/lines/0/layers: not-a-number',
      'regions/0/lines/1/material: missing',
      'fibre by mass: ambiguous-share',
    ]);
  });
});

function core(words: Readonly<Record<string, string>>) {
  return { is: 'core', material: 'Foam', bevel: '45', outline: 'rectangle', ...words };
}

function kerfs(depth: string) {
  return { 'kerf length': '1 m', 'kerf width': '1 mm', 'kerf depth': depth };
}

function described(material: Readonly<Record<string, string>>) {
  return { ...ofLines(PLY), materials: [material] };
}
