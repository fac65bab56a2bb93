/**
 * Matches a file's headings with the fields that are asked for, in any order and under any usual name; a heading may carry
 * the unit of its column: `gross [lb]`, `x (mm)`, `estimate kg`.
 */
import type { Refusal } from '#shared/problem/registry.ts';
import {
  LENGTH_UNITS,
  lengthUnitOf,
  MASS_UNITS,
  massUnitOf,
  TEMPERATURE_UNITS,
  temperatureUnitOf,
} from '#shared/quantity/units.ts';
import type { Manner } from '#shared/words/field-reader.ts';
import type { CsvRow, CsvTable } from './csv.ts';
import { unmarkedText } from './formula-text.ts';

export type FieldColumn = {
  readonly field: string;
  readonly holds: 'text' | 'mass' | 'length' | 'share' | 'mass or share' | 'temperature' | 'count';
  readonly required?: boolean;
  /** Other headings that mean this field, in lower case with single spaces and without full stops. */
  readonly names: readonly string[];
  /** And those that mean it where no other column of the list does. */
  readonly also?: readonly string[];
};

export type Cell = { readonly line: number; readonly column: number; readonly heading: string };
export type CellProblem = Cell & { readonly refusal: Refusal };

export type Columns = {
  readonly byField: ReadonlyMap<string, { readonly at: number; readonly heading: string }>;
  readonly manner: Manner;
  /** The columns of masses, to which a column of units speaks where a list has one. */
  readonly masses: ReadonlySet<string>;
  /** Headings that mean nothing here; their cells are not read. */
  readonly unused: readonly string[];
  readonly problems: readonly CellProblem[];
};

/** Matches the headings. `renamed` maps a field to the heading that stands for it in this file. */
export function matchColumns(
  table: CsvTable,
  fields: readonly FieldColumn[],
  renamed: Readonly<Record<string, string>> = {},
): Columns {
  const byField = new Map<string, { at: number; heading: string }>();
  const units: Record<string, NonNullable<Manner['units']>[string]> = {};
  const unused: string[] = [];
  const problems: CellProblem[] = [];
  const headings = table.heading.cells.map(spaced);
  const matches = matchesOf(headings, fields, renamed);
  for (const [at, heading] of headings.entries()) {
    if (heading === '') continue;
    const where = { line: table.heading.line, column: at + 1, heading };
    const match = matches[at];
    if (match === undefined) {
      unused.push(heading);
      continue;
    }
    const { field } = match;
    const other = byField.get(field.field);
    if (other !== undefined)
      problems.push({ ...where, refusal: { code: 'column-twice', column: field.field, other: other.heading } });
    byField.set(field.field, { at, heading });
    if (match.unit === undefined) continue;
    const unit = unitFor(field, match.unit);
    if (unit.known === undefined) units[field.field] = unit.unit;
    else problems.push({ ...where, refusal: { code: 'column-unit-unknown', unit: match.unit, known: unit.known } });
  }
  for (const field of fields)
    if ((field.required === true || renamed[field.field] !== undefined) && !byField.has(field.field))
      problems.push({
        line: table.heading.line,
        column: 0,
        heading: '',
        refusal: {
          code: 'column-missing',
          column: renamed[field.field] ?? field.field,
          found: table.heading.cells.filter((c) => c.trim() !== ''),
        },
      });
  const masses = new Set(fields.filter(({ holds }) => holds === 'mass').map(({ field }) => field));
  return {
    byField,
    manner: { units, decimalComma: writesDecimalComma(table, fields, byField) },
    masses,
    unused,
    problems,
  };
}

/** The fields of all headings of a list, in their order; of two of one field both name it. */
export function fieldsOfHeadings(
  headings: readonly string[],
  fields: readonly FieldColumn[],
): readonly (string | undefined)[] {
  return matchesOf(headings.map(spaced), fields, {}).map((match) => match?.field.field);
}

/** What a heading says its column is, and the unit it names if that is one of the field's. */
export function fieldOfHeading(
  heading: string,
  fields: readonly FieldColumn[],
  renamed: Readonly<Record<string, string>> = {},
): { readonly field: string; readonly unit: string | undefined } | undefined {
  const match = matchHeading(spaced(heading), fields, renamed);
  if (match === undefined) return undefined;
  const unit = match.unit === undefined ? undefined : unitFor(match.field, match.unit).unit;
  return { field: match.field.field, unit };
}

/** What lists call the number of a part. */
export const PART_NAMES: readonly string[] = [
  ...['part number', 'part no', 'part num', 'part id', 'part #', 'no', 'p/n', 'pn', 'item', 'item no', 'item number'],
  ...['drawing', 'drawing no', 'drawing number', 'dwg', 'dwg no', 'component'],
];

/** A list may keep the unit of its masses in a column of its own. */
export const UNIT_COLUMN: FieldColumn = {
  field: 'unit',
  holds: 'text',
  names: ['units', 'uom', 'unit of measure', 'mass unit', 'weight unit'],
};

/** The texts of a row by field. A bare number in a column of masses has the unit that the row's own unit column names. */
export function fieldsOfRow(row: CsvRow, columns: Columns): Readonly<Record<string, string | undefined>> {
  const unitAt = columns.byField.get(UNIT_COLUMN.field)?.at;
  const unit = unitAt === undefined ? '' : (row.cells[unitAt]?.trim() ?? '');
  return Object.fromEntries(
    [...columns.byField].map(([field, { at }]) => {
      const cell = row.cells[at];
      const text = cell === undefined ? undefined : unmarkedText(cell);
      const isBare = unit !== '' && columns.masses.has(field) && text !== undefined && /\d\s*$/.test(text);
      return [field, isBare ? `${text.trim()} ${unit}` : text];
    }),
  );
}

/** Where a field of a row stands; a field without a column points at the line only. */
export function cellOf(row: CsvRow, field: string, columns: Columns): Cell {
  const column = columns.byField.get(field);
  return { line: row.line, column: column === undefined ? 0 : column.at + 1, heading: column?.heading ?? field };
}

export function byPlace(a: Cell, b: Cell): number {
  return a.line - b.line || a.column - b.column;
}

function spaced(heading: string): string {
  return heading.trim().replace(/\s+/g, ' ');
}

/** First the usual names; then, for the fields that are still without a column, the names that mean them then. */
function matchesOf(
  headings: readonly string[],
  fields: readonly FieldColumn[],
  renamed: Readonly<Record<string, string>>,
): readonly (Match | undefined)[] {
  const matches = headings.map((heading) => (heading === '' ? undefined : matchHeading(heading, fields, renamed)));
  const taken = new Set(matches.map((match) => match?.field.field));
  const open = fields.flatMap((field) => (taken.has(field.field) ? [] : [{ ...field, names: field.also ?? [] }]));
  return headings.map(
    (heading, at) => matches[at] ?? (heading === '' ? undefined : matchHeading(heading, open, renamed)),
  );
}

type Match = { readonly field: FieldColumn; readonly unit: string | undefined };

function matchHeading(
  heading: string,
  fields: readonly FieldColumn[],
  renamed: Readonly<Record<string, string>>,
): Match | undefined {
  for (const field of fields)
    if (renamed[field.field] !== undefined && plain(renamed[field.field] ?? '') === plain(heading))
      return { field, unit: unitOfRenamed(field, heading) };
  const named = (name: string) =>
    fields.find(
      (field) =>
        renamed[field.field] === undefined && (field.field === plain(name) || field.names.includes(plain(name))),
    );
  const whole = named(heading);
  if (whole !== undefined) return { field: whole, unit: undefined };
  if (namedBySides(heading, named).size > 1) return undefined;
  const parts = unitIn(heading);
  const field = parts === undefined ? undefined : (named(parts.name) ?? [...namedBySides(parts.name, named)][0]);
  if (field !== undefined && parts !== undefined) return { field, unit: parts.unit };
  const [twice] = namedBySides(heading, named);
  return twice === undefined ? undefined : { field: twice, unit: undefined };
}

/** `Planned / mass`: a heading in two languages, or with two words for one thing. Two that mean different things mean neither. */
function namedBySides(heading: string, named: (name: string) => FieldColumn | undefined): ReadonlySet<FieldColumn> {
  const sides = heading.split('/');
  return new Set(sides.length === 2 ? sides.flatMap((side) => named(side) ?? []) : []);
}

/** A heading of the file's own wording may end in any word; it is a unit only where it is one of the field's. */
function unitOfRenamed(field: FieldColumn, heading: string): string | undefined {
  const unit = unitIn(heading)?.unit;
  return unit !== undefined && unitFor(field, unit).known === undefined ? unit : undefined;
}

/** `gross [lb]`, `gross (lb) read`, `[lb] gross`, `gross, lb`, `gross / lb`, `gross_lb`, `gross lb`. */
function unitIn(heading: string): { readonly name: string; readonly unit: string } | undefined {
  const [, before = '', bracketed, after = ''] = /^([^[(]*)[[(]\s*([^\])]+?)\s*[\])](.*)$/.exec(heading) ?? [];
  if (bracketed !== undefined) return { name: `${before.trim()} ${after.trim()}`.trim(), unit: bracketed };
  const [, name, unit] = /^(.+?)\s*[\s,/_]\s*([A-Za-z%"°]+)$/.exec(heading) ?? [];
  return name === undefined || unit === undefined ? undefined : { name, unit };
}

type ColumnUnit = ReturnType<typeof massUnitOf | typeof lengthUnitOf | typeof temperatureUnitOf> | '%';

/** The units in which a column may be written; none where it holds none. */
export function unitsOf(field: FieldColumn): readonly string[] {
  return field.holds === 'text' || field.holds === 'count' ? [] : (unitFor(field, '').known ?? []);
}

function unitFor(
  field: FieldColumn,
  word: string,
):
  | { readonly unit: ColumnUnit; readonly known: undefined }
  | { readonly unit: undefined; readonly known: readonly string[] } {
  const isShare = word === '%' || /^per ?cent$/i.test(word);
  switch (field.holds) {
    case 'mass':
      return known(massUnitOf(word), MASS_UNITS);
    case 'length':
      return known(lengthUnitOf(word), LENGTH_UNITS);
    case 'share':
      return known(isShare ? '%' : undefined, ['%']);
    case 'mass or share':
      return known(isShare ? '%' : massUnitOf(word), [...MASS_UNITS, '%']);
    case 'temperature':
      return known(temperatureUnitOf(word), TEMPERATURE_UNITS);
    case 'text':
    case 'count':
      return { unit: undefined, known: ['no unit at all'] };
  }
}

function known(
  unit: ColumnUnit,
  units: readonly string[],
):
  | { readonly unit: ColumnUnit; readonly known: undefined }
  | { readonly unit: undefined; readonly known: readonly string[] } {
  return unit === undefined ? { unit: undefined, known: units } : { unit, known: undefined };
}

/**
 * A file whose separator is no comma, and whose numbers have commas and no points, writes decimals with a comma. A tab says nothing of how
 * numbers are written, since cells that were copied have it everywhere: there one number must show it that cannot be read two ways.
 */
function writesDecimalComma(
  table: CsvTable,
  fields: readonly FieldColumn[],
  byField: ReadonlyMap<string, { readonly at: number }>,
): boolean {
  if (table.decimalComma !== undefined) return table.decimalComma;
  if (table.separator === ',') return false;
  const numeric = fields.flatMap((field) =>
    field.holds === 'text' || field.holds === 'count' ? [] : (byField.get(field.field)?.at ?? []),
  );
  const cells = table.rows.flatMap((row) => numeric.map((at) => row.cells[at] ?? ''));
  const shown = table.separator === ';' ? /\d,\d/ : /(?:\d,\d{1,2}|\d,\d{4,}|\b0,\d+|\d{4},\d+)(?![\d,])/;
  return cells.some((cell) => shown.test(cell)) && !cells.some((cell) => /\d\.\d/.test(cell));
}

function plain(name: string): string {
  return (
    name
      .trim()
      .toLowerCase()
      // A shortened word is the same with its full stop and without.
      .replace(/\.(?=\s|$)/g, '')
      .replace(/[\s_-]+/g, ' ')
      .trim()
  );
}
