/** A weighing while it is typed (rule A6): what can be read counts, what cannot is told at its field, and two hands are put together. */
import { describe, expect, it } from 'vitest';
import { type DoubtContext, doubtsOf } from '#shared/aircraft-weighing/doubts.ts';
import {
  begunWith,
  type DraftUnits,
  draftText,
  fieldOf,
  merged,
  nextKey,
  readingField,
  rowsOf,
  runsOf,
  sentOf,
  type WeighingDraft,
  withoutRow,
} from '#shared/aircraft-weighing/draft.ts';
import { weighedFromWords } from '#shared/aircraft-weighing/from-words.ts';
import { draftInWords } from '#shared/aircraft-weighing/in-words.ts';
import { readWeighing } from '#shared/aircraft-weighing/read-draft.ts';
import { signedWeighings } from '#shared/aircraft-weighing/report.ts';
import { Chain, partIdOf, partOf } from '../ledger/make-entries.ts';
import { aircraftWeighingOf, CHECKED, ON_WHEELS, weighedOf } from './make-weighings.ts';

const KG = { mass: 'kg', length: 'm' } as const;
const LB = { mass: 'lb', length: 'in' } as const;
const noScale = () => undefined;

function filled(): WeighingDraft {
  const draft = begunWith('nosewheel and two mains');
  const [nose = '', left = '', right = ''] = rowsOf(draft, 'support');
  const words: Record<string, string> = { ...draft, reference: 'main frame', 'reference station': '2' };
  for (const [key, x, y] of [
    [nose, '-1.5', '0'],
    [left, '0.5', '-1'],
    [right, '0.5', '1'],
  ] as const) {
    words[fieldOf('support', key, 'x')] = x;
    words[fieldOf('support', key, 'y')] = y;
  }
  for (const run of runsOf(draft, 'level'))
    for (const [key, gross] of [
      [nose, '80'],
      [left, '150'],
      [right, '150'],
    ] as const)
      words[readingField(run, key, 'gross')] = gross;
  return words;
}

describe('while it is typed', () => {
  it('[A6] a bare number takes the unit of its field, and the result stands as soon as one run is read', () => {
    const draft = filled();
    expect(readWeighing(draft, KG, noScale).result?.empty).toMatchObject({ massKg: 380 });
    expect(readWeighing(draft, LB, noScale).result?.empty.massKg).toBeCloseTo(380 * 0.45359237, 9);
    expect(readWeighing(begunWith('three jacks'), KG, noScale).result).toBeUndefined();
  });

  it('[A6] a run that is not complete and a row that cannot be read are left out, and told at their field', () => {
    const draft = filled();
    const [, second = ''] = runsOf(draft, 'level');
    const key = nextKey(draft, 'correction', 'ab');
    const half = {
      ...draft,
      [readingField(second, 'k0002', 'gross')]: '',
      [fieldOf('correction', key, 'name')]: 'Box',
      [fieldOf('correction', key, 'mass')]: 'heavy',
      [fieldOf('correction', key, 'x')]: '1',
    };
    const read = readWeighing(half, KG, noScale);
    expect(read.result?.empty.massKg).toBe(380);
    expect(read.weighed?.level).toHaveLength(1);
    expect(read.leftOut).toBe(2);
    expect(read.problems.map(({ field, code }) => [field, code])).toEqual(
      expect.arrayContaining([
        [readingField(second, 'k0002', 'gross'), 'missing'],
        [fieldOf('correction', key, 'mass'), 'not-a-number'],
      ]),
    );
  });

  it('[A6] what is wrong with the whole is told beside a result that stands', () => {
    const draft = { ...filled(), [readingField('k0002', 'k0002', 'gross')]: '170' };
    const read = readWeighing(draft, KG, noScale);
    expect(read.agreement).toMatchObject({ agree: false });
    expect(read.problems.map(({ list, code }) => [list, code])).toEqual([
      ['level', 'runs-disagree'],
      ['checklist', 'checklist-open'],
    ]);
  });

  it('[A6] a draft that was just begun has nothing wrong with it, only what is not filled in', () => {
    for (const set of ['nosewheel and two mains', 'two mains and a tailwheel', 'three jacks'] as const) {
      const { problems } = readWeighing(begunWith(set), KG, noScale);
      expect(new Set(problems.map(({ code }) => code))).toEqual(new Set(['missing', 'reading-missing']));
    }
  });

  it('[A6] supports from which no CG follows are told while the reference is not named yet', () => {
    const { reference: _, ...unnamed } = filled();
    const at = (axis: 'x' | 'y', values: readonly string[]) => ({
      ...unnamed,
      ...Object.fromEntries(values.map((value, row) => [fieldOf('support', `k000${row + 1}`, axis), value])),
    });
    const codesOf = (draft: WeighingDraft) => {
      const read = readWeighing(draft, KG, noScale);
      expect(read.result).toBeUndefined();
      return read.problems.map(({ field, list, code }) => [list ?? field, code]);
    };
    expect(codesOf(at('y', ['0', '0', '0']))).toEqual(
      expect.arrayContaining([
        ['reference', 'missing'],
        ['supports', 'supports-in-line'],
      ]),
    );
    expect(codesOf(at('x', ['1', '1', '1']))).toContainEqual(['supports', 'supports-at-one-place']);
    expect(codesOf(at('y', ['0', '', '']))).toContainEqual([fieldOf('support', 'k0002', 'y'), 'support-y-missing']);
  });

  it('[A2] a run that is set aside does not count, and is not signed with until it is said why', () => {
    const draft = { ...filled(), [readingField('k0002', 'k0002', 'gross')]: '170' };
    const aside = readWeighing({ ...draft, [fieldOf('run', 'k0002', 'set aside')]: '' }, KG, noScale);
    expect(aside.result?.empty.massKg).toBe(380);
    expect(aside.problems).toContainEqual(
      expect.objectContaining({ field: fieldOf('run', 'k0002', 'set aside'), code: 'missing' }),
    );
    const said = readWeighing({ ...draft, [fieldOf('run', 'k0002', 'set aside')]: 'a draught' }, KG, noScale);
    expect(said.result?.empty.massKg).toBe(380);
    expect(said.problems.map(({ code }) => code)).toEqual(['checklist-open']);
  });

  it('[A2] what is refused is told in the units of the aircraft', () => {
    const draft = { ...filled(), [readingField('k0002', 'k0002', 'gross')]: '170' };
    const told = (units: DraftUnits) => readWeighing(draft, units, noScale).problems[0]?.words ?? '';
    expect(told(KG)).toMatch(/ kg, CG \d.*0\.005 m/);
    // 5 mm is 0.20 in; the figures typed are pounds and inches here.
    expect(told(LB)).toMatch(/20\.00 lb, CG .*0\.20 in/);
    expect(told(LB)).not.toMatch(/\d (kg|m)\b/);
  });

  it('[A6] a support that goes takes its readings along, and a run too', () => {
    const draft = filled();
    expect(Object.keys(withoutRow(draft, 'support', 'k0001')).filter((name) => name.includes('k0001 gross'))).toEqual(
      [],
    );
    expect(runsOf(withoutRow(draft, 'run', 'k0002'), 'level')).toEqual(['k0001']);
    expect(rowsOf(withoutRow(draft, 'run', 'k0002'), 'support')).toHaveLength(3);
  });

  it('[A6] what two hands typed is put together field by field; in one field what came first stands and it is told', () => {
    const base = { a: '1', b: '2', c: '3' };
    const both = merged(base, { a: '10', b: '2', c: '30' }, { a: '1', b: '20', c: '31', d: '4' });
    expect(both.draft).toEqual({ a: '10', b: '20', c: '31', d: '4' });
    expect(both.lost).toEqual([{ field: 'c', mine: '30', theirs: '31' }]);
    expect(merged(base, { a: '1', b: '2' }, base).draft).toEqual({ a: '1', b: '2' });
    expect(draftText({ b: '1', a: '2' })).toBe(draftText({ a: '2', b: '1' }));
  });

  it('[L2] a signed weighing becomes the draft that says the same', () => {
    const corrections = [
      { name: 'Fuel', fluid: 'avgas', volume: '-20 L', density: '0.72 kg/L', x: '2.4 m' },
      { way: 'on', name: 'Seat', mass: '7 lb', x: '2 m', y: '0.3 m' },
    ];
    const [level] = ON_WHEELS.level;
    const again = { ...level, 'set aside': 'a draught' };
    const supports = ON_WHEELS.supports.map((one) => ({ ...one, z: '0.2 m' }));
    const words = {
      ...ON_WHEELS,
      supports,
      corrections,
      level: [...ON_WHEELS.level, again],
      tilted: [level],
      angle: '8°',
      checklist: CHECKED,
    };
    const chain = new Chain();
    chain.record(partOf(1, { quantity: 3 }));
    chain.record(aircraftWeighingOf(words, { missing: [{ partId: partIdOf(1), pieces: [2, 3] }] }));
    const [signed] = signedWeighings(chain.fold());
    if (signed === undefined) throw new Error('it was signed');
    const draft = draftInWords(signed);
    const back = weighedFromWords(sentOf(draft, LB).weighed, noScale);
    expect(back).toMatchObject({ ok: true });
    const figures = (weighed: unknown) =>
      JSON.parse(JSON.stringify(weighed, (key, value) => (key === 'typed' ? undefined : value)));
    expect(figures(back.ok ? back.value : undefined)).toEqual(figures(weighedOf(words)));
    expect(draft['not aboard']).toBe('P-1 piece 2, 3');
  });
});

describe('what looks like a slip', () => {
  const context: DoubtContext = { happenedOn: '2026-05-01', dueOf: () => undefined, expectedKg: 380 };
  const told = (draft: WeighingDraft, around: Partial<DoubtContext> = {}) => {
    const { weighed, result } = readWeighing(draft, KG, () => ({ gainStd: 0.001 }));
    if (weighed === undefined || result === undefined) throw new Error('it can be read');
    return doubtsOf(weighed, result, { ...context, ...around }).map(({ doubt }) => doubt);
  };
  const scaled = (draft: WeighingDraft) => ({
    ...draft,
    ...Object.fromEntries(rowsOf(draft, 'support').map((key) => [fieldOf('support', key, 'scale'), 'pads'])),
  });

  it('[A2] a good weighing raises nothing', () => expect(told(scaled(filled()))).toEqual([]));

  it('[A2] a tare that others have, pounds for kilograms, sides apart, one run and a scale out of date are asked about', () => {
    const draft = scaled(filled());
    expect(told({ ...draft, [readingField('k0001', 'k0001', 'tare')]: '0.5' })).toContain('tare forgotten');
    expect(told(draft, { expectedKg: 380 * 0.4536 })).toEqual(['unit']);
    expect(told(draft, { expectedKg: 380 * 2.2046 })).toEqual(['unit']);
    expect(told(withoutRow(draft, 'run', 'k0002'))).toEqual(['one run']);
    expect(told(draft, { dueOf: () => '2026-04-30' })).toEqual(['calibration out of date']);
    expect(told(draft, { cgAftM: 2 })).toEqual(['CG out of range']);
    expect(told(filled())).toEqual(['scale not described']);
    expect(told(draft, { aboardKg: 350 })).toEqual([]);
    expect(told(draft, { aboardKg: 120 })).toEqual(['far from the parts']);
    expect(told(draft, { aboardKg: 0 })).toEqual(['no part aboard']);
    expect(told(draft, { aboardKg: 0, expectedKg: undefined })).toEqual([]);
    const tilted = { ...draft };
    for (const run of ['k0001', 'k0002']) tilted[readingField(run, 'k0002', 'gross')] = '200';
    expect(told(tilted)).toEqual(['sides apart']);
  });

  it('[A1] a height that is lost to a correction without z is told, with its name', () => {
    const words: Record<string, string> = {
      ...scaled(filled()),
      angle: '8',
      [fieldOf('run', 'k0003', 'attitude')]: 'tilted',
    };
    for (const [key, gross] of [
      ['k0001', '60'],
      ['k0002', '160'],
      ['k0003', '160'],
    ] as const) {
      words[fieldOf('support', key, 'z')] = '0.3';
      words[readingField('k0003', key, 'gross')] = gross;
    }
    const box = { ...words, 'correction k0001 name': 'Box', 'correction k0001 mass': '3', 'correction k0001 x': '1' };
    expect(told(words)).toEqual([]);
    expect(told(box)).toEqual(['height left out']);
    expect(told({ ...box, 'correction k0001 z': '0.5' })).toEqual([]);
  });
});
