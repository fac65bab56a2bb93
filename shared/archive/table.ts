/**
 * Tables as CSV texts and back (rule X2): RFC 4180 with a comma, lines ending in CR LF, UTF-8 with the mark at its beginning by which a
 * spreadsheet program knows it. The last cell of every row has its check digits. Reading is as strict as writing: a file that another program
 * has saved anew is not the one that was carried out.
 */
import { parse } from 'csv-parse/browser/esm/sync';
import { changedCells, checkCell } from './cells.ts';
import { CHECK } from './columns.ts';
import type { ArchiveRefusal } from './refusal.ts';

export type Table = { readonly headings: readonly string[]; readonly rows: readonly (readonly string[])[] };

/** `line` counts from 1 as an editor shows it, 0 for the file as a whole; `column` from 1, 0 for a whole line. */
export type TableProblem = {
  readonly line: number;
  readonly column: number;
  readonly heading: string;
  readonly refusal: ArchiveRefusal;
};

/** A row with the line on which it begins, without its check digits. */
export type Row = { readonly line: number; readonly cells: readonly string[] };

const MARK = '\uFEFF';

export function tableText({ headings, rows }: Table): string {
  const lines = [[...headings, CHECK], ...rows.map((cells) => [...cells, checkCell(cells)])];
  return MARK + lines.map((cells) => `${cells.map(quoted).join(',')}\r\n`).join('');
}

function quoted(cell: string): string {
  return /[",;\t\r\n]|^\s|\s$/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell;
}

/** The rows of a text under these headings, and everything that shows that it is not as it was written. */
export function readTable(
  text: string,
  headings: readonly string[],
): { readonly rows: readonly Row[]; readonly problems: readonly TableProblem[] } {
  const whole = (refusal: ArchiveRefusal, line = 0): TableProblem => ({ line, column: 0, heading: '', refusal });
  const signs = signsOfSaving(text);
  if (signs.length > 0)
    return { rows: [], problems: signs.map(({ sign, line }) => whole({ code: 'archive-saved-anew', sign }, line)) };
  let records: string[][];
  try {
    records = parse(text.slice(MARK.length), { record_delimiter: '\r\n', relax_column_count: true }) as string[][];
  } catch (error) {
    const line = (error as { lines?: number }).lines ?? 0;
    return { rows: [], problems: [whole({ code: 'archive-changed', what: 'quotation marks' }, line)] };
  }
  const [first = [], ...rest] = records;
  const changed = [...headings, CHECK].flatMap((heading, at) => (first[at] === heading ? [] : [at]));
  const [at] = changed;
  if (at !== undefined || first.length !== headings.length + 1)
    return {
      rows: [],
      problems: [{ ...whole({ code: 'archive-changed', what: 'headings' }, 1), column: at === undefined ? 0 : at + 1 }],
    };
  let line = 1 + lineEndsIn(first);
  const rows: Row[] = [];
  const problems: TableProblem[] = [];
  for (const record of rest) {
    const check = record.at(-1) ?? '';
    const cells = record.slice(0, -1);
    rows.push({ line, cells });
    const cellsChanged = record.length === headings.length + 1 ? changedCells(cells, check) : undefined;
    if (cellsChanged === undefined) problems.push(whole({ code: 'archive-changed', what: 'row' }, line));
    for (const column of cellsChanged ?? [])
      problems.push({
        line,
        column: column + 1,
        heading: headings[column] ?? '',
        refusal: { code: 'archive-changed', what: 'cell' },
      });
    line += lineEndsIn(record);
  }
  return { rows, problems };
}

/** How many lines a row takes. */
function lineEndsIn(cells: readonly string[]): number {
  return 1 + cells.reduce((sum, cell) => sum + cell.split('\n').length - 1, 0);
}

/** What a program leaves that saves a table anew without asking. */
function signsOfSaving(text: string): readonly { readonly sign: string; readonly line: number }[] {
  if (!text.startsWith(MARK))
    return [{ sign: 'the mark at its beginning, by which its letters are known, is gone', line: 1 }];
  if (text.startsWith(MARK, MARK.length)) return [{ sign: 'there are two marks at its beginning', line: 1 }];
  // No heading has a quotation mark or a line end in it.
  const first = text.slice(0, text.indexOf('\n') + 1);
  if (!first.includes(',') && /[;\t]/.test(first))
    return [{ sign: `its cells are parted by ${first.includes(';') ? 'semicolons' : 'tabs'} and no commas`, line: 1 }];
  if (!first.endsWith('\r\n')) return [{ sign: 'its lines end otherwise', line: 1 }];
  if (!text.endsWith('\r\n')) return [{ sign: 'the end of its last line is gone', line: text.split('\n').length }];
  return [];
}
