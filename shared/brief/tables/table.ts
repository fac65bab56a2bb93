/**
 * A brief's subjects as tables of typed cells (rule B4), for whoever writes them into a file: figures in the aircraft's own units, each unit in its
 * heading, days as days, and text that is never anything else.
 */

import type { BriefContent } from '#shared/contract/brief.ts';
import { LENGTH_UNIT_M, type LengthUnit, MASS_UNIT_KG, type MassUnit } from '#shared/quantity/units.ts';
import { say } from '#shared/words/say.ts';

export type NumberKind = 'mass' | 'station' | 'CG change' | 'moment' | 'per cent' | 'count';
export type Kind = 'text' | 'day' | NumberKind;

export type Cell =
  | { readonly kind: 'text'; readonly text: string }
  /** ISO 8601. */
  | { readonly kind: 'day'; readonly day: string }
  /** In the unit of the table. */
  | { readonly kind: NumberKind; readonly value: number }
  | undefined;

export type BriefTable = {
  /** Short enough to name a sheet of a workbook: at most 31 characters. */
  readonly name: string;
  readonly headings: readonly string[];
  readonly rows: readonly (readonly Cell[])[];
  /** Where rows are left out. */
  readonly note?: string | undefined;
};

export type Units = Pick<BriefContent['aircraft'], 'massUnit' | 'lengthUnit'>;

/** A column before it has rows: numbers come in SI units, shares from 0 to 1. */
export type Column<Row> = {
  readonly heading: string;
  /** A table of unlike figures says the kind row by row; its units then have a column of their own. */
  readonly kind: Kind | ((row: Row) => Kind);
  readonly cell: (row: Row) => string | number | undefined;
};

export function tableOf<Row>(
  name: string,
  units: Units,
  rows: readonly Row[],
  columns: readonly Column<Row>[],
): BriefTable {
  const headings = columns.map(({ heading, kind }) => {
    const unit = typeof kind === 'function' ? '' : unitOf(kind, units);
    return unit === '' ? heading : `${heading} [${unit}]`;
  });
  const cellOf = (row: Row, { kind, cell }: Column<Row>) =>
    typedCell(typeof kind === 'function' ? kind(row) : kind, cell(row), units);
  return { name, headings, rows: rows.map((row) => columns.map((column) => cellOf(row, column))) };
}

/** A list that was cut to its largest says so. */
export function tableOfList<Row>(
  name: string,
  units: Units,
  list: { readonly count: number; readonly rows: readonly Row[] },
  columns: readonly Column<Row>[],
): BriefTable {
  return { ...tableOf(name, units, list.rows, columns), note: cutNote(list) };
}

export function cutNote({ count, rows }: { readonly count: number; readonly rows: readonly unknown[] }) {
  return count > rows.length ? say`The ${rows.length} largest of ${count}.` : undefined;
}

export function unitOf(kind: Kind, { massUnit, lengthUnit }: Units): string {
  switch (kind) {
    case 'mass':
      return massUnit;
    case 'station':
    case 'CG change':
      return lengthUnit;
    case 'moment':
      return `${massUnit} ${lengthUnit}`;
    case 'per cent':
      return '%';
    default:
      return '';
  }
}

function typedCell(kind: Kind, value: string | number | undefined, units: Units): Cell {
  if (value === undefined || value === '') return undefined;
  if (kind === 'day') return { kind, day: String(value) };
  if (typeof value === 'string' || kind === 'text') return { kind: 'text', text: String(value) };
  return { kind, value: value / factorOf(kind, units.massUnit, units.lengthUnit) };
}

function factorOf(kind: NumberKind, mass: MassUnit, length: LengthUnit): number {
  switch (kind) {
    case 'mass':
      return MASS_UNIT_KG[mass];
    case 'station':
    case 'CG change':
      return LENGTH_UNIT_M[length];
    case 'moment':
      return MASS_UNIT_KG[mass] * LENGTH_UNIT_M[length];
    case 'per cent':
      return 0.01;
    default:
      return 1;
  }
}
