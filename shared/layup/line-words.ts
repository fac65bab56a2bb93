/** One line of a lay-up schedule as a person states it (rules E3, E4), and back again. Which fields it has goes by what it is. */
import { inWords, plain, shareInWords } from '#shared/quantity/in-words.ts';
import { readArea, readLength, readNumber } from '#shared/quantity/typed.ts';
import type { FieldReader } from '#shared/words/field-reader.ts';
import { aboveZero, stated } from './material-words.ts';
import {
  LINE_KINDS,
  type Line,
  type LineKind,
  type LineOf,
  MOST_COVERAGE,
  MOST_FITTINGS,
  MOST_LAYERS,
  On,
  USUALLY_ON,
} from './schedule.ts';

const KERFS = ['kerf length', 'kerf width', 'kerf depth'] as const;
const BOND = ['material', 'length', 'section'] as const;
const LINE_FIELDS: Readonly<Record<LineKind, readonly string[]>> = {
  ply: ['material', 'layers', 'coverage', 'area', 'angle'],
  core: ['material', 'coverage', 'area', 'perimeter', 'bevel', 'outline', ...KERFS, 'faces'],
  coat: ['material', 'coverage', 'area', 'faces'],
  'bond line': BOND,
  fillet: BOND,
  insert: ['material', 'count'],
};

/** The fields of a line, by what it is; all of them where that is not said. */
export function lineFieldsOf(words: Readonly<Record<string, string>>): readonly string[] {
  const is = LINE_KINDS.find((kind) => kind === words['is']?.trim().toLowerCase());
  return ['is', ...(is === undefined ? Object.values(LINE_FIELDS).flat() : LINE_FIELDS[is]), 'on'];
}

/** The line, or undefined where a problem was found. */
export function lineFromWords(reader: FieldReader): Line | undefined {
  const problemsBefore = reader.problems.length;
  for (const field of ['is', 'material']) reader.need(field);
  const is = reader.choice('is', LINE_KINDS);
  const material = reader.text('material', 80);
  const on = reader.choice('on', On.options);
  if (is === undefined) return undefined;
  const common = { material: material ?? '', on: on ?? USUALLY_ON[is] };
  const line = ofKind(is, common, reader);
  return reader.problems.length > problemsBefore ? undefined : { ...line, typed: { ...reader.typed } };
}

type Common = { readonly material: string; readonly on: On };
type Untyped<Kind extends LineKind> = Kind extends LineKind ? Omit<LineOf<Kind>, 'typed'> : never;

function ofKind(is: LineKind, common: Common, reader: FieldReader): Untyped<LineKind> {
  switch (is) {
    case 'ply': {
      reader.need('layers');
      const layers = reader.count('layers', MOST_LAYERS) ?? 1;
      const angle = reader.text('angle', 40);
      return { ...common, is, layers, ...covered(reader), ...(angle === undefined ? {} : { angle }) };
    }
    case 'core':
      return {
        ...common,
        is,
        ...covered(reader),
        ...edges(reader),
        ...kerfsOf(reader),
        faces: facesOf(reader, 0) ?? 2,
      };
    case 'coat':
      return { ...common, is, ...covered(reader), faces: facesOf(reader, 1) ?? 1 };
    case 'bond line':
    case 'fillet': {
      for (const field of ['length', 'section']) reader.need(field);
      const lengthM = aboveZero(reader, 'length', reader.length('length'));
      const section = reader.area('section');
      if (section !== undefined && section.si > 1)
        reader.problem('section', {
          code: 'out-of-range',
          text: section.typed,
          least: 'more than 0 mm²',
          most: '1 m²',
        });
      return { ...common, is, lengthM, sectionM2: aboveZero(reader, 'section', section) };
    }
    case 'insert':
      reader.need('count');
      return { ...common, is, count: reader.count('count', MOST_FITTINGS) ?? 1 };
  }
}

function covered(reader: FieldReader): { coverage: number; areaM2?: number } {
  const coverage = reader.share('coverage');
  if (coverage !== undefined && !(coverage.si > 0 && coverage.si <= MOST_COVERAGE))
    reader.problem('coverage', {
      code: 'out-of-range',
      text: coverage.typed,
      least: 'more than 0 %',
      most: `${MOST_COVERAGE * 100} %`,
    });
  const area = reader.area('area');
  return {
    coverage: coverage?.si ?? 1,
    ...(area === undefined ? {} : { areaM2: aboveZero(reader, 'area', area) }),
  };
}

type Edges = Pick<LineOf<'core'>, 'outline'> & { perimeterM?: number; bevelDeg?: number };

/** Whether the corner term of a bevel is right goes by the outline, which is asked for and not guessed. */
function edges(reader: FieldReader): Edges {
  const perimeter = reader.length('perimeter');
  const bevelDeg = degrees(reader, 'bevel');
  if (reader.has('bevel')) reader.need('outline');
  return {
    outline: reader.choice('outline', ['rectangle', 'other']) ?? 'other',
    ...(perimeter === undefined ? {} : { perimeterM: aboveZero(reader, 'perimeter', perimeter) }),
    ...(bevelDeg === undefined ? {} : { bevelDeg }),
  };
}

/** An angle from the panel's plane: above 0 and at most 90 degrees. */
function degrees(reader: FieldReader, field: string): number | undefined {
  const text = reader.raw(field);
  if (text === undefined) return undefined;
  const read = readNumber(text.replace(/\s*(?:°|deg(?:rees?)?\.?)$/i, ''), false);
  if (!read.ok) reader.problem(field, { ...read.refusal, text });
  else if (!(read.value.number > 0 && read.value.number <= 90))
    reader.problem(field, { code: 'out-of-range', text, least: 'more than 0°', most: '90°, straight down' });
  else {
    reader.typed[field] = text;
    return read.value.number;
  }
  return undefined;
}

function kerfsOf(reader: FieldReader): Pick<LineOf<'core'>, 'kerfs'> {
  if (!KERFS.some((field) => reader.has(field))) return {};
  for (const field of KERFS) reader.need(field);
  const [lengthM = 0, widthM = 0, depthM = 0] = KERFS.map((field) => aboveZero(reader, field, reader.length(field)));
  return { kerfs: { lengthM, widthM, depthM } };
}

function facesOf(reader: FieldReader, least: number): number | undefined {
  const text = reader.raw('faces');
  if (text === undefined) return undefined;
  if (/^[012]$/.test(text) && Number(text) >= least) return Number(text);
  reader.problem('faces', { code: 'out-of-range', text, least: String(least), most: '2 faces' });
  return undefined;
}

/** The line in the words that state it again. */
export function lineInWords(line: Line): Readonly<Record<string, string>> {
  const { is, material, on, typed } = line;
  const length = (field: string, lengthM: number | undefined) => inWords(typed[field], lengthM, readLength, 'm');
  const common = { is, material, on };
  switch (line.is) {
    case 'ply':
      return stated({ ...common, layers: String(line.layers), ...coverInWords(line), angle: line.angle });
    case 'core': {
      const { bevelDeg, outline, kerfs, faces } = line;
      return stated({
        ...common,
        ...coverInWords(line),
        perimeter: length('perimeter', line.perimeterM),
        bevel: bevelDeg === undefined ? undefined : (typed['bevel'] ?? plain(bevelDeg)),
        outline,
        'kerf length': length('kerf length', kerfs?.lengthM),
        'kerf width': length('kerf width', kerfs?.widthM),
        'kerf depth': length('kerf depth', kerfs?.depthM),
        faces: String(faces),
      });
    }
    case 'coat':
      return stated({ ...common, ...coverInWords(line), faces: String(line.faces) });
    case 'bond line':
    case 'fillet':
      return stated({
        ...common,
        length: length('length', line.lengthM),
        section: inWords(typed['section'], line.sectionM2, readArea, 'm²'),
      });
    case 'insert':
      return stated({ ...common, count: String(line.count) });
  }
}

function coverInWords({ coverage, areaM2, typed }: LineOf<'ply' | 'core' | 'coat'>) {
  return {
    coverage: coverage === 1 && typed['coverage'] === undefined ? undefined : shareInWords(typed['coverage'], coverage),
    area: inWords(typed['area'], areaM2, readArea, 'm²'),
  };
}
