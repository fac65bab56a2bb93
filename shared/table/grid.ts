/**
 * Cells as a person brings them (copied, or of a CSV or XLSX file), before it is settled which row has the headings and what each column is:
 * what is proposed for both, and the list that is sent once it is settled (rules I1, I8).
 */
import type { SentList, SentRow } from '#shared/contract/import.ts';
import type { Refusal } from '#shared/problem/registry.ts';
import { say } from '#shared/words/say.ts';
import { fieldOfHeading, fieldsOfHeadings, unitsOf } from './columns.ts';
import type { CsvRow, Separator } from './csv.ts';
import { COLUMNS_OF, IMPORT_KINDS, type ImportKind } from './lists.ts';

/** What a spreadsheet holds in a cell beside what it shows there. */
export type Mark = 'error' | 'no result' | 'date' | 'merged';

export type Grid = {
  readonly rows: readonly CsvRow[];
  readonly separator: Separator;
  /** By `markKey`. */
  readonly marks: ReadonlyMap<string, Mark>;
};

/** What a column is taken for; `unit` where somebody chose one. Without a field it is not used. */
export type ColumnUse = { readonly field: string | undefined; readonly unit: string | undefined };

export type Settled = {
  readonly kind: ImportKind;
  /** Which of the rows has the headings. */
  readonly headingAt: number;
  readonly uses: readonly ColumnUse[];
  readonly decimalComma: boolean | undefined;
  /** Where somebody said in which order days are written: 5/4/2026 is two days. */
  readonly dayOrder?: DayOrder | undefined;
};
export type DayOrder = 'day first' | 'month first';

/** Titles and empty lines above the headings are no more than this. */
const MOST_ABOVE = 20;

export function markKey(line: number, at: number): string {
  return `${line}:${at}`;
}

/** Which list this is, and which row has its headings: the one in which most columns are known. */
export function proposed(rows: readonly CsvRow[], kinds: readonly ImportKind[] = IMPORT_KINDS): Settled {
  let best: { score: number; kind: ImportKind; headingAt: number } | undefined;
  for (const [headingAt, { cells }] of rows.slice(0, MOST_ABOVE).entries())
    for (const kind of kinds) {
      const found = new Set(usesOf(kind, cells).flatMap(({ field }) => field ?? []));
      const needed = COLUMNS_OF[kind].filter(({ required }) => required === true);
      const score = found.size + 2 * needed.filter(({ field }) => found.has(field)).length;
      if (best === undefined || score > best.score) best = { score, kind, headingAt };
    }
  const { kind, headingAt } = best ?? { kind: 'parts', headingAt: 0 };
  return { kind, headingAt, uses: usesOf(kind, rows[headingAt]?.cells ?? []), decimalComma: undefined };
}

/** What the headings say the columns are. Of two columns of one field the second is not used until somebody says so. */
export function usesOf(kind: ImportKind, headings: readonly string[]): readonly ColumnUse[] {
  const taken = new Set<string>();
  return fieldsOfHeadings(headings, COLUMNS_OF[kind]).map((field) => {
    if (field === undefined || taken.has(field)) return { field: undefined, unit: undefined };
    taken.add(field);
    return { field, unit: undefined };
  });
}

/** The units a column may be given, and whether its heading says one already. */
export function unitChoice(
  kind: ImportKind,
  heading: string,
  use: ColumnUse,
): { readonly units: readonly string[]; readonly stated: string | undefined } {
  const field = COLUMNS_OF[kind].find((one) => one.field === use.field);
  if (field === undefined) return { units: [], stated: undefined };
  const units = unitsOf(field);
  return { units, stated: fieldOfHeading(heading, COLUMNS_OF[kind], { [field.field]: heading })?.unit };
}

/** The fields that must have a column and have none. */
export function missingFields({ kind, uses }: Settled): readonly string[] {
  const used = new Set(uses.map(({ field }) => field));
  return COLUMNS_OF[kind].flatMap(({ field, required }) => (required === true && !used.has(field) ? [field] : []));
}

/** The headings whose columns are not used though they have something in them, and the fields that no column gives. */
export function unusedIn(
  grid: Grid,
  { kind, headingAt, uses }: Settled,
): { readonly headings: readonly string[]; readonly open: ReadonlySet<string> } {
  const body = grid.rows.slice(headingAt + 1);
  const headings = uses.flatMap(({ field }, at) => {
    const isEmpty = body.every(({ cells }) => (cells[at] ?? '').trim() === '');
    if (field !== undefined || isEmpty) return [];
    return [(grid.rows[headingAt]?.cells[at] ?? '').trim() || say`column ${letterOf(at)}`];
  });
  const used = new Set(uses.map(({ field }) => field));
  const open = COLUMNS_OF[kind].flatMap(({ field }) => (used.has(field) ? [] : [field]));
  return { headings, open: new Set(open) };
}

export type SentOf = {
  readonly list: SentList;
  /** The column of the grid (from 0) behind a column of what is sent (from 1); undefined where it speaks of the row. */
  readonly columnOf: (sent: number) => number | undefined;
};

/** The list as it is sent: the columns in use, each under a heading of its own with the unit that was chosen. */
export function sentOf(grid: Grid, settled: Settled): SentOf {
  const headings = grid.rows[settled.headingAt]?.cells ?? [];
  const used = settled.uses.flatMap(({ field }, at) => (field === undefined ? [] : [at]));
  // Cells beyond the headings belong to no column: they go along, so that they are told and not lost.
  const width = Math.max(0, ...grid.rows.map(({ cells }) => cells.length));
  const loose = Array.from({ length: Math.max(0, width - headings.length) }, (_, at) => headings.length + at);
  const order = [...used, ...loose];
  const columns: Record<string, string> = {};
  const head = used.map((at) => {
    const use = settled.uses[at];
    const own = (headings[at] ?? '').trim().replace(/\s+/g, ' ') || `column ${letterOf(at)}`;
    const heading = use?.unit === undefined ? own : `${own} [${use.unit}]`;
    if (use?.field !== undefined) columns[use.field] = heading;
    return heading;
  });
  const body = grid.rows.slice(settled.headingAt + 1).map(({ line, cells }): SentRow => {
    const row = order.map((at) => {
      const cell = cells[at] ?? '';
      return settled.uses[at]?.field === 'date' ? inOrder(cell, settled.dayOrder) : cell;
    });
    while (row.length > head.length && row.at(-1) === '') row.pop();
    return [line, row];
  });
  const rows: readonly SentRow[] = [[grid.rows[settled.headingAt]?.line ?? 1, head], ...body];
  const comma = settled.decimalComma ?? (grid.separator === '\t' ? undefined : commaOf(grid, settled));
  return {
    list: { rows, columns, ...(comma === undefined ? {} : { decimalComma: comma }) },
    columnOf: (sent) => order[sent - 1],
  };
}

/** `5.4.2026` in the order that was stated; anything else as it stands. */
function inOrder(text: string, order: DayOrder | undefined): string {
  const [, first, second, year] = /^\s*(\d{1,2})[./-](\d{1,2})[./-](\d{4})\s*$/.exec(text) ?? [];
  if (order === undefined || first === undefined || second === undefined) return text;
  const [day, month] = order === 'day first' ? [first, second] : [second, first];
  return `${year}-${month.padStart(2, '0')}-${day.padStart(2, '0')}`;
}

/** Cells that are sent one by one have no separator; what it said of commas goes along. */
function commaOf({ separator, rows }: Grid, settled: Settled): boolean {
  if (separator === ',') return false;
  const numeric = settled.uses.flatMap(({ field }, at) => {
    const column = COLUMNS_OF[settled.kind].find((one) => one.field === field);
    return column === undefined || column.holds === 'text' || column.holds === 'count' ? [] : [at];
  });
  const cells = rows.slice(settled.headingAt + 1).flatMap((row) => numeric.map((at) => row.cells[at] ?? ''));
  return cells.some((cell) => /\d,\d/.test(cell)) && !cells.some((cell) => /\d\.\d/.test(cell));
}

export type GridProblem = { readonly line: number; readonly at: number; readonly refusal: Refusal };

/** Cells in use in which a spreadsheet holds something else than what it shows: nobody should have to find that out later. */
export function markProblems(grid: Grid, { headingAt, uses }: Settled): readonly GridProblem[] {
  if (grid.marks.size === 0) return [];
  return grid.rows.slice(headingAt + 1).flatMap(({ line, cells }) =>
    uses.flatMap(({ field }, at): readonly GridProblem[] => {
      const mark = field === undefined ? undefined : grid.marks.get(markKey(line, at));
      if (mark === undefined || field === undefined) return [];
      const text = cells[at] ?? '';
      if (mark === 'error') return [{ line, at, refusal: { code: 'cell-error', text } }];
      if (mark === 'no result') return [{ line, at, refusal: { code: 'cell-without-result' } }];
      if (mark === 'merged') return [{ line, at, refusal: { code: 'cell-merged' } }];
      return DAYS_WELCOME.has(field) ? [] : [{ line, at, refusal: { code: 'cell-is-date', text } }];
    }),
  );
}

const DAYS_WELCOME: ReadonlySet<string> = new Set(['date', 'note']);

/** A column's letters in a spreadsheet: A, B, … Z, AA. */
export function letterOf(at: number): string {
  const last = String.fromCharCode(65 + (at % 26));
  return at < 26 ? last : `${letterOf(Math.floor(at / 26) - 1)}${last}`;
}
