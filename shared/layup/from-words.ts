/**
 * A lay-up schedule as a person states it, in words with units (rules E3, E4), into what is kept inside an estimate. Everything typed stays
 * beside its figure. A material that is not described in the schedule itself is copied from the list.
 */
import type { Process } from '#shared/ledger/entry.ts';
import { accept, type Result, refuse } from '#shared/result.ts';
import type { FieldReader } from '#shared/words/field-reader.ts';
import { readNested } from '#shared/words/nested.ts';
import type { PathProblem } from '#shared/words/path-problem.ts';
import { type Densities, usualBand } from './fractions.ts';
import { lineFieldsOf, lineFromWords } from './line-words.ts';
import { type Material, materialKey } from './material.ts';
import { aboveZero, MATERIAL_FIELDS, materialFromWords, shareOf } from './material-words.ts';
import { layUpRefusals } from './refusals.ts';
import { type Laminate, type LayUp, type Line, MOST_LINES, MOST_REGIONS, type Region } from './schedule.ts';

export const LAMINATE_FIELDS: readonly string[] = [
  ...['resin', 'fibre by mass', 'fibre by volume', 'fraction uncertainty', 'band low', 'band high'],
];
export const REGION_FIELDS: readonly string[] = ['name', 'area', 'area uncertainty', 'perimeter'];

/** Where nothing is stated: points of the fibre fraction, and a share of the area. Common practice, no source: adjust by stating one. */
export const USUAL_FRACTION_STD = 0.02;
export const USUAL_AREA_STD = 0.02;

/** Where a schedule wets no fibre of its own, or names no resin that there is. Common practice, no source. */
const USUAL_DENSITIES: Densities = { fibreKgM3: 1800, resinKgM3: 1150 };

export type LayUpContext = {
  /** The list of materials, by `materialKey`. */
  readonly materials: ReadonlyMap<string, Material>;
  /** Says between what fractions the laminate may lie, where the schedule does not. */
  readonly process: Process;
};

/** The schedule, or every problem found, each at its place in what was sent. */
export function layUpFromWords(
  sent: unknown,
  { materials: list, process }: LayUpContext,
): Result<LayUp, readonly PathProblem[]> {
  const problems: PathProblem[] = [];
  const all = readNested(sent, { fields: LAMINATE_FIELDS, lists: ['materials', 'regions'] }, { path: [], problems });
  if (all === undefined) return refuse(problems);
  const described = all
    .list('materials', MOST_LINES, { fields: MATERIAL_FIELDS })
    .flatMap((one) => one.take((reader) => materialFromWords(reader)) ?? []);
  const own = new Map(described.map((material) => [materialKey(material.name), material]));
  const known = new Map([...list, ...own]);
  const regions = all.list('regions', MOST_REGIONS, { fields: REGION_FIELDS, lists: ['lines'] }).flatMap((one) => {
    const lines = one
      .list('lines', MOST_LINES, { fields: lineFieldsOf })
      .flatMap((line) => line.take(lineFromWords) ?? []);
    return one.take((reader) => regionFromWords(reader, lines)) ?? [];
  });
  const stated = all.take(laminateFromWords);
  const typed = { ...all.reader.typed };
  if (problems.length > 0) return refuse(problems);

  const used = ofUse(regions, stated?.resin, known);
  const laminate =
    stated === undefined ? undefined : { ...stated, band: stated.band ?? bandOf(process, used, stated.resin) };
  // Described materials that nothing uses stay out.
  const layUp: LayUp = { ...(laminate === undefined ? {} : { laminate }), materials: used, regions, typed };
  const refusals = [...twiceDescribed(described), ...layUpRefusals(layUp, [...known.values()])];
  return refusals.length > 0 ? refuse(refusals) : accept(layUp);
}

function twiceDescribed(described: readonly Material[]): readonly PathProblem[] {
  const keys = described.map(({ name }) => materialKey(name));
  return described.flatMap(({ name }, at) =>
    keys.indexOf(materialKey(name)) === at
      ? []
      : [{ path: ['materials', String(at), 'name'], refusal: { code: 'material-twice', material: name } }],
  );
}

type StatedLaminate = Omit<Laminate, 'band'> & { readonly band?: Laminate['band'] | undefined };

function laminateFromWords(reader: FieldReader): StatedLaminate | undefined {
  if (!LAMINATE_FIELDS.some((field) => reader.has(field))) return undefined;
  reader.need('resin');
  const resin = reader.text('resin', 80);
  const byMass = fractionOf(reader, 'fibre by mass');
  const byVolume = fractionOf(reader, 'fibre by volume');
  if (reader.has('fibre by mass') && reader.has('fibre by volume'))
    reader.problem('fibre by volume', { code: 'fraction-twice' });
  else if (!reader.has('fibre by volume')) reader.need('fibre by mass');
  const fibreFractionStd = shareOf(reader, 'fraction uncertainty', 0.5) ?? USUAL_FRACTION_STD;
  const lowWf = fractionOf(reader, 'band low');
  const highWf = fractionOf(reader, 'band high');
  if (reader.has('band low') !== reader.has('band high'))
    for (const field of ['band low', 'band high']) reader.need(field);
  const fibreFraction = byMass ?? byVolume;
  if (resin === undefined || fibreFraction === undefined) return undefined;
  const band = lowWf === undefined || highWf === undefined ? undefined : ({ lowWf, highWf, from: 'stated' } as const);
  return { resin, fibreBy: byMass === undefined ? 'volume' : 'mass', fibreFraction, fibreFractionStd, band };
}

/** A share that leaves something of both. */
function fractionOf(reader: FieldReader, field: string): number | undefined {
  const read = reader.share(field);
  if (read === undefined) return undefined;
  if (read.si > 0 && read.si < 1) return read.si;
  reader.problem(field, { code: 'fraction-impossible', text: read.typed });
  return undefined;
}

function regionFromWords(reader: FieldReader, lines: readonly Line[]): Region | undefined {
  const problemsBefore = reader.problems.length;
  for (const field of ['name', 'area']) reader.need(field);
  const name = reader.text('name', 80);
  const areaM2 = aboveZero(reader, 'area', reader.area('area'));
  const areaStd = shareOf(reader, 'area uncertainty') ?? USUAL_AREA_STD;
  const perimeter = reader.length('perimeter');
  const perimeterM = perimeter === undefined ? undefined : aboveZero(reader, 'perimeter', perimeter);
  if (name === undefined || reader.problems.length > problemsBefore) return undefined;
  return {
    ...{ name, areaM2, areaStd },
    ...(perimeterM === undefined ? {} : { perimeterM }),
    lines: [...lines],
    typed: { ...reader.typed },
  };
}

/** Copies of the materials that are used, in the order of their first use. */
function ofUse(
  regions: readonly Region[],
  resin: string | undefined,
  known: ReadonlyMap<string, Material>,
): Material[] {
  const names = [
    ...(resin === undefined ? [] : [resin]),
    ...regions.flatMap(({ lines }) => lines.map(({ material }) => material)),
  ];
  const keys = new Set(names.map(materialKey));
  return [...keys].flatMap((key) => known.get(key) ?? []);
}

/** The usual band of the process, with the fibres that are used taken together; of a laminate without fibre there is nothing to ask. */
function bandOf(process: Process, used: readonly Material[], resin: string): Laminate['band'] {
  const fibres = used.flatMap((one) => (one.is === 'fabric' ? [one.densityKgM3] : []));
  const resins = used.filter(({ name }) => materialKey(name) === materialKey(resin));
  const resinKgM3 =
    resins.flatMap((one) => (one.is === 'resin' ? [one.densityKgM3] : []))[0] ?? USUAL_DENSITIES.resinKgM3;
  const fibreKgM3 =
    fibres.length === 0 ? USUAL_DENSITIES.fibreKgM3 : fibres.reduce((sum, density) => sum + density, 0) / fibres.length;
  return { ...usualBand(process, { fibreKgM3, resinKgM3 }), from: 'shop default' };
}
