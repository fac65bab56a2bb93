/**
 * A CSV text into cells that know their line. The separator (comma, semicolon or tab) is found from the heading line.
 * Quoting is strict: a misplaced quotation mark is a message, not a guess.
 */
import { type CsvError, parse } from 'csv-parse/browser/esm/sync';
import type { Refusal } from '#shared/problem/registry.ts';
import { accept, type Result, refuse } from '#shared/result.ts';

export type CsvRow = { readonly line: number; readonly cells: readonly string[] };
export type Separator = ',' | ';' | '\t';
export type CsvTable = {
  readonly separator: Separator;
  /** Where somebody said so: a comma in a number is its decimal sign. Else the table's own numbers tell. */
  readonly decimalComma?: boolean;
  readonly heading: CsvRow;
  readonly rows: readonly CsvRow[];
};
export type CsvProblem = { readonly line: number; readonly refusal: Refusal };

/** What `csv-parse` answers with `info`. */
type Parsed = { readonly record: readonly string[]; readonly info: { readonly lines: number } };

/** The rows of a text as they stand, before anything is said of headings. */
export type CsvRows = { readonly separator: Separator; readonly rows: readonly CsvRow[] };

/**
 * The table of a CSV text (already decoded). Lines count from 1 as an editor shows them, also behind quoted line
 * breaks. Rows without any text are passed over.
 */
export function readCsv(text: string): Result<CsvTable, CsvProblem> {
  const read = readRows(text);
  if (!read.ok) return read;
  const { separator, rows } = read.value;
  const [heading, ...rest] = rows;
  if (heading === undefined) return refuse({ line: 1, refusal: { code: 'file-empty' } });
  if (rest.length === 0) return refuse({ line: heading.line, refusal: { code: 'no-rows' } });
  return accept({ separator, heading, rows: rest });
}

/**
 * The rows of a text. `firstLines`: among how many lines the separator is looked for; the headings may stand below a title, where there is
 * somebody to ask which row they are.
 */
export function readRows(text: string, firstLines = 1): Result<CsvRows, CsvProblem> {
  const plain = text.replace(/^\uFEFF/, '').replace(/\r\n?/g, '\n');
  if (plain.trim() === '') return refuse({ line: 1, refusal: { code: 'file-empty' } });
  const separator = separatorOf(plain, firstLines);
  let parsed: readonly Parsed[];
  try {
    parsed = parse(plain, {
      delimiter: separator,
      info: true,
      relax_column_count: true,
    }) as unknown as readonly Parsed[];
  } catch (error) {
    return refuse(quoteProblem(error as CsvError & { lines?: number }, plain));
  }
  let line = 1;
  const rows: CsvRow[] = [];
  for (const { record, info } of parsed) {
    if (record.some((cell) => cell.trim() !== '')) rows.push({ line, cells: record });
    line = info.lines + 1;
  }
  return accept({ separator, rows });
}

/** The first bytes of a ZIP archive, which every XLSX or ODS workbook is, and of the older XLS. */
export function isWorkbook(bytes: Uint8Array): boolean {
  const startsWith = (...start: readonly number[]) => start.every((byte, at) => bytes[at] === byte);
  return startsWith(0x50, 0x4b, 0x03, 0x04) || startsWith(0xd0, 0xcf, 0x11, 0xe0);
}

function separatorOf(text: string, firstLines: number): Separator {
  const lines = text.trimStart().split('\n', firstLines);
  const bare = lines.map((line) => line.replace(/"[^"]*"/g, ''));
  const count = (separator: string) => Math.max(...bare.map((line) => line.split(separator).length));
  const candidates = [',', ';', '\t'] as const;
  return candidates.reduce((best, candidate) => (count(candidate) > count(best) ? candidate : best));
}

function quoteProblem(error: CsvError & { lines?: number }, text: string): CsvProblem {
  if (error.code === 'CSV_QUOTE_NOT_CLOSED')
    return { line: lineOfOpenQuote(text), refusal: { code: 'quote-not-closed' } };
  return { line: error.lines ?? 1, refusal: { code: 'quote-misplaced' } };
}

/** The parser names the last line of the file; the person wants the line where the mark was opened. */
function lineOfOpenQuote(text: string): number {
  let open = false;
  let line = 1;
  let openedAt = 1;
  for (const character of text) {
    if (character === '\n') line += 1;
    if (character !== '"') continue;
    open = !open;
    if (open) openedAt = line;
  }
  return openedAt;
}
