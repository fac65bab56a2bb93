/**
 * A material as a person states it (rule E3), and back again. Fields: name, is, areal, density, thickness, uptake, uptake uncertainty, mass,
 * uncertainty, basis; which of them a material has goes by its kind.
 */
import { inWords, shareInWords } from '#shared/quantity/in-words.ts';
import { readArealWeight, readDensity, readLength, readMass, type Typed } from '#shared/quantity/typed.ts';
import type { FieldReader } from '#shared/words/field-reader.ts';
import { MATERIAL_KINDS, type Material, type MaterialKind } from './material.ts';

/** The figures of each kind of material, which must be there. */
const FIGURES = {
  fabric: ['areal', 'density'],
  resin: ['density'],
  core: ['density', 'thickness', 'uptake'],
  coat: ['areal'],
  filler: ['density'],
  adhesive: ['density'],
  fitting: ['mass'],
} as const satisfies Record<MaterialKind, readonly string[]>;

/** Relative standard uncertainties where none is stated. Common practice, no source: adjust by stating one. */
export const USUAL_STD: Readonly<Record<MaterialKind, number>> = {
  fabric: 0.03,
  resin: 0.02,
  core: 0.07,
  coat: 0.25,
  filler: 0.15,
  adhesive: 0.1,
  fitting: 0.05,
};
export const USUAL_UPTAKE_STD = 0.3;

const FIELDS = [
  ...(['name', 'is', 'areal', 'density', 'thickness', 'uptake', 'uptake uncertainty', 'mass'] as const),
  ...(['uncertainty', 'basis'] as const),
] as const;
export const MATERIAL_FIELDS: readonly string[] = FIELDS;

/** The fields of one kind of material. */
export function materialFields(is: MaterialKind): readonly string[] {
  return ['name', 'is', ...FIGURES[is], ...(is === 'core' ? ['uptake uncertainty'] : []), 'uncertainty', 'basis'];
}

export type MaterialWords = Readonly<Record<string, string>>;

/** The material, or undefined where a problem was found. */
export function materialFromWords(reader: FieldReader): Material | undefined {
  const problemsBefore = reader.problems.length;
  for (const field of ['name', 'is']) reader.need(field);
  const name = reader.text('name', 80);
  const is = reader.choice('is', MATERIAL_KINDS);
  if (is === undefined) return undefined;
  const known = materialFields(is);
  for (const field of MATERIAL_FIELDS)
    if (reader.has(field) && !known.includes(field)) reader.problem(field, { code: 'field-unknown', known });
  for (const field of FIGURES[is]) reader.need(field);
  const figure = (field: string, read: () => Typed | undefined) =>
    known.includes(field) ? aboveZero(reader, field, read()) : 0;
  const arealKgM2 = figure('areal', () => reader.arealWeight('areal'));
  const densityKgM3 = figure('density', () => reader.density('density'));
  const thicknessM = figure('thickness', () => reader.length('thickness'));
  const massKg = figure('mass', () => reader.mass('mass'));
  const uptakeKgM2 = reader.arealWeight('uptake')?.si ?? 0;
  const uptakeStd = shareOf(reader, 'uptake uncertainty') ?? USUAL_UPTAKE_STD;
  const std = shareOf(reader, 'uncertainty') ?? USUAL_STD[is];
  const basis = reader.choice('basis', ['stated', 'common practice']) ?? 'stated';
  if (name === undefined || reader.problems.length > problemsBefore) return undefined;
  const common = { name, std, basis, typed: { ...reader.typed } };
  switch (is) {
    case 'fabric':
      return { ...common, is, arealKgM2, densityKgM3 };
    case 'resin':
    case 'filler':
    case 'adhesive':
      return { ...common, is, densityKgM3 };
    case 'core':
      return { ...common, is, densityKgM3, thicknessM, uptakeKgM2, uptakeStd };
    case 'coat':
      return { ...common, is, arealKgM2 };
    case 'fitting':
      return { ...common, is, massKg };
  }
}

/** The material in the words that state it again. */
export function materialInWords(material: Material): MaterialWords {
  const { name, is, std, basis, typed } = material;
  const words: Record<string, string | undefined> = {
    name,
    is,
    areal: 'arealKgM2' in material ? inWords(typed['areal'], material.arealKgM2, readArealWeight, 'kg/m²') : undefined,
    density:
      'densityKgM3' in material ? inWords(typed['density'], material.densityKgM3, readDensity, 'kg/m³') : undefined,
    ...(material.is === 'core'
      ? {
          thickness: inWords(typed['thickness'], material.thicknessM, readLength, 'm'),
          uptake: inWords(typed['uptake'], material.uptakeKgM2, readArealWeight, 'kg/m²'),
          'uptake uncertainty': shareInWords(typed['uptake uncertainty'], material.uptakeStd),
        }
      : {}),
    mass: material.is === 'fitting' ? inWords(typed['mass'], material.massKg, readMass, 'kg') : undefined,
    uncertainty: shareInWords(typed['uncertainty'], std),
    basis,
  };
  return stated(words);
}

/** Without what is not there. */
export function stated(words: Readonly<Record<string, string | undefined>>): MaterialWords {
  return Object.fromEntries(
    Object.entries(words).flatMap(([field, text]) => (text === undefined ? [] : [[field, text]])),
  );
}

/** A figure that must be above zero; where it is not, the problem is kept and the figure will not be used. */
export function aboveZero(reader: FieldReader, field: string, read: Typed | undefined): number {
  if (read !== undefined && !(read.si > 0))
    reader.problem(field, {
      code: 'out-of-range',
      text: read.typed,
      least: 'more than 0',
      most: 'what the shop can hold',
    });
  return read?.si ?? 0;
}

/** A share of at most the whole. */
export function shareOf(reader: FieldReader, field: string, most = 1): number | undefined {
  const read = reader.share(field);
  if (read !== undefined && read.si > most)
    reader.problem(field, { code: 'out-of-range', text: read.typed, least: '0 %', most: `${most * 100} %` });
  return read?.si;
}
