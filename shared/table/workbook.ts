/**
 * An XLSX workbook into grids of texts (rule I8). A number has no typed text in a spreadsheet: it becomes plain digits, a share that is shown
 * in per cent keeps its sign, a day becomes one that reads only one way. What a value alone does not tell (an error, a formula without a
 * result, a date, a merged cell) is kept as a mark, so that none of it is taken for an empty cell or for words.
 */

import { strFromU8, unzipSync } from 'fflate';
import readXlsxFile from 'read-excel-file/universal';
import type { Refusal } from '#shared/problem/registry.ts';
import { accept, type Result, refuse } from '#shared/result.ts';
import { say } from '#shared/words/say.ts';
import type { CsvRow } from './csv.ts';
import { type Grid, type Mark, markKey } from './grid.ts';

/** A workbook is packed: a small file can hold more than a browser has room for. The lists that are taken are far below both. */
const MOST_UNPACKED_BYTES = 200 * 1_048_576;
/** Of one sheet, from its first cell to its last one, empty ones too: each takes its room. */
const MOST_CELLS = 4_000_000;

export type Sheet = { readonly name: string; readonly grid: Grid };

/** A number as the file has it, apart from text. */
class Digits {
  readonly text: string;
  constructor(text: string) {
    this.text = text;
  }
}

/** The sheets of a workbook that have anything in them. */
export async function readWorkbook(bytes: ArrayBuffer): Promise<Result<readonly Sheet[], Refusal>> {
  const unreadable = (why: string) => refuse<Refusal>({ code: 'workbook-unreadable', why });
  const start = new Uint8Array(bytes.slice(0, 4));
  if (start[0] === 0xd0 && start[1] === 0xcf)
    return unreadable(say`it is of the older kind (XLS), or locked with a password`);
  try {
    const files = unpacked(new Uint8Array(bytes));
    if (files === undefined) return unreadable(say`it would become larger than 200 MB when unpacked`);
    const sizes = sheetsIn(files).map(({ xml }) => cellCount(xml));
    if (sizes.some((count) => count > MOST_CELLS)) return unreadable(say`its cells reach further than any list does`);
    const notes = notesOf(files);
    const read = await readXlsxFile<Digits>(bytes, { parseNumber: (text) => new Digits(text), trim: false });
    const sheets = read.map(({ sheet, data }) => ({ name: sheet, grid: gridOf(data as Cells, notes.get(sheet)) }));
    const full = sheets.filter(({ grid }) => grid.rows.length > 0);
    return full.length === 0 ? refuse({ code: 'file-empty' }) : accept(full);
  } catch (error) {
    return unreadable(error instanceof Error ? error.message.replace(/\.$/, '') : say`it is damaged`);
  }
}

type Cells = readonly (readonly (string | Digits | boolean | Date | null)[])[];

function gridOf(data: Cells, notes: Notes = NO_NOTES): Grid {
  const marks = new Map<string, Mark>();
  const rows: CsvRow[] = [];
  // An error, or a formula without a result, leaves nothing in the cells that are read: the row may be longer than they are.
  const height = Math.max(data.length, notes.height);
  for (let at = 0; at < height; at += 1) {
    const line = at + 1;
    const read = data[at] ?? [];
    const width = Math.max(read.length, notes.widths.get(line) ?? 0);
    const cells = Array.from({ length: width }, (_, column) => {
      const key = markKey(line, column);
      const value = read[column] ?? null;
      if (value instanceof Date) marks.set(key, 'date');
      const note = notes.cells.get(key);
      if (note === undefined) return textOf(value, false);
      if (note.mark !== undefined) marks.set(key, note.mark);
      return note.text ?? textOf(value, note.isPerCent);
    });
    if (cells.some((cell) => cell.trim() !== '')) rows.push({ line, cells });
  }
  return { rows, separator: '\t', marks };
}

function textOf(value: Cells[number][number], isPerCent: boolean): string {
  if (value === null) return '';
  if (value instanceof Digits) return digitsOf(value.text, isPerCent);
  if (value instanceof Date) return dayOf(value);
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  // A cell may hold several lines; a row of a list is one.
  return value.replace(/\s+/g, ' ').trim();
}

/** Spreadsheets store 4.1 as 4.0999999999999996 and show 15 digits. */
function digitsOf(text: string, isPerCent: boolean): string {
  const number = Number(text) * (isPerCent ? 100 : 1);
  if (!Number.isFinite(number)) return text;
  return `${Number(number.toPrecision(15))}${isPerCent ? ' %' : ''}`;
}

function dayOf(value: Date): string {
  if (Number.isNaN(value.getTime())) return '?';
  const [day = '', time = ''] = value.toISOString().split('T');
  return time.startsWith('00:00:00') ? day : `${day}T${time.slice(0, 5)}`;
}

type Note = { readonly mark?: Mark; readonly text?: string; readonly isPerCent: boolean };
type Notes = {
  readonly cells: ReadonlyMap<string, Note>;
  readonly height: number;
  readonly widths: ReadonlyMap<number, number>;
};
const NO_NOTES: Notes = { cells: new Map(), height: 0, widths: new Map() };

type Files = Readonly<Record<string, Uint8Array>>;

/** The files that tell of the cells; undefined where all that is packed would be too large. Nobody gets more room than the list says. */
function unpacked(bytes: Uint8Array): Files | undefined {
  let allBytes = 0;
  const list = ({ originalSize }: { readonly originalSize: number }) => {
    allBytes += originalSize;
    return false;
  };
  unzipSync(bytes, { filter: list });
  if (allBytes > MOST_UNPACKED_BYTES) return undefined;
  return unzipSync(bytes, {
    filter: ({ name }) => /^xl\/(?:[^/]+\.xml|worksheets\/[^/]+\.xml|_rels\/.+)$/.test(name),
  });
}

const textOfFile = (files: Files, name: string) => (files[name] === undefined ? '' : strFromU8(files[name]));

/** Every sheet of the workbook, by its name. */
function sheetsIn(files: Files): readonly { readonly name: string; readonly xml: string }[] {
  const relations = tagsOf(textOfFile(files, 'xl/_rels/workbook.xml.rels'), 'Relationship');
  const targets = new Map(relations.map((tag) => [tag['Id'], tag['Target'] ?? '']));
  return tagsOf(textOfFile(files, 'xl/workbook.xml'), 'sheet').map((tag) => {
    const target = (targets.get(tag['r:id'] ?? '') ?? '').replace(/^\/?(?:xl\/)?/, 'xl/');
    return { name: unescaped(tag['name'] ?? ''), xml: textOfFile(files, target) };
  });
}

/** Of the smallest rectangle that begins at the first cell of the sheet and holds every one that has a place. */
function cellCount(xml: string): number {
  let [lines, columns] = [0, 0];
  for (const [, reference = ''] of xml.matchAll(/<c\b[^>]*?\br\s*=\s*["']([^"']*)["']/g)) {
    const place = placeOf(reference);
    lines = Math.max(lines, place?.line ?? 0);
    columns = Math.max(columns, (place?.at ?? 0) + 1);
  }
  return lines * columns;
}

/** What the values of the cells do not tell, by the name of the sheet. */
function notesOf(files: Files): ReadonlyMap<string, Notes> {
  const perCent = perCentStyles(textOfFile(files, 'xl/styles.xml'));
  return new Map(sheetsIn(files).map(({ name, xml }) => [name, sheetNotes(xml, perCent)]));
}

function sheetNotes(xml: string, perCent: ReadonlySet<string>): Notes {
  const cells = new Map<string, Note>();
  const widths = new Map<number, number>();
  let height = 0;
  const note = (line: number, at: number, what: Note) => {
    cells.set(markKey(line, at), what);
    if (what.text === undefined) return;
    height = Math.max(height, line);
    widths.set(line, Math.max(widths.get(line) ?? 0, at + 1));
  };
  for (const [, attributes = '', inner = ''] of xml.matchAll(/<c\b([^>]*?)(?:\/>|>([\s\S]*?)<\/c>)/g)) {
    const { r = '', s = '', t = 'n' } = attributesOf(attributes);
    const place = placeOf(r);
    if (place === undefined) continue;
    const value = /<v[^>/]*>([\s\S]*?)<\/v>/.exec(inner)?.[1];
    const hasFormula = /<f[\s/>]/.test(inner);
    if (t === 'e') note(place.line, place.at, { mark: 'error', text: unescaped(value ?? '#?'), isPerCent: false });
    else if (hasFormula && value === undefined && !/<v[^>]*\/>/.test(inner))
      note(place.line, place.at, { mark: 'no result', text: '=?', isPerCent: false });
    else if (t === 'n' && perCent.has(s) && value !== undefined) note(place.line, place.at, { isPerCent: true });
  }
  for (const { ref = '' } of tagsOf(xml, 'mergeCell')) {
    const [from, to] = ref.split(':').map(placeOf);
    if (from === undefined || to === undefined) continue;
    for (let line = from.line; line <= to.line && cells.size < MOST_NOTES; line += 1)
      for (let at = from.at; at <= to.at && cells.size < MOST_NOTES; at += 1)
        if (line !== from.line || at !== from.at) note(line, at, { mark: 'merged', isPerCent: false });
  }
  return { cells, height, widths };
}

/** A few letters can merge all cells of a sheet. */
const MOST_NOTES = 500_000;

/** The numbers of the cell styles that show per cent: the built-in formats 9 and 10, and those with the sign in them. */
function perCentStyles(xml: string): ReadonlySet<string> {
  const formats = new Set(['9', '10']);
  for (const { numFmtId = '', formatCode = '' } of tagsOf(xml, 'numFmt'))
    if (
      unescaped(formatCode)
        .replace(/"[^"]*"|\\./g, '')
        .includes('%')
    )
      formats.add(numFmtId);
  const styles = /<cellXfs\b[\s\S]*?<\/cellXfs>/.exec(xml)?.[0] ?? '';
  return new Set(tagsOf(styles, 'xf').flatMap(({ numFmtId = '' }, at) => (formats.has(numFmtId) ? [String(at)] : [])));
}

function tagsOf(xml: string, name: string): readonly Readonly<Record<string, string>>[] {
  return [...xml.matchAll(new RegExp(`<${name}\\b([^>]*)>`, 'g'))].map(([, attributes = '']) =>
    attributesOf(attributes),
  );
}

function attributesOf(text: string): Readonly<Record<string, string>> {
  return Object.fromEntries(
    [...text.matchAll(/([\w:]+)\s*=\s*(?:"([^"]*)"|'([^']*)')/g)].map(([, name = '', a, b]) => [name, a ?? b ?? '']),
  );
}

/** `B3` is line 3, column 1 (from 0). */
function placeOf(reference: string): { readonly line: number; readonly at: number } | undefined {
  const [, letters, digits] = /^\$?([A-Z]{1,3})\$?(\d{1,7})$/.exec(reference) ?? [];
  if (letters === undefined || digits === undefined) return undefined;
  const at = [...letters].reduce((sum, letter) => sum * 26 + letter.charCodeAt(0) - 64, 0) - 1;
  return { line: Number(digits), at };
}

function unescaped(text: string): string {
  const names: Readonly<Record<string, string>> = { lt: '<', gt: '>', quot: '"', apos: "'", amp: '&' };
  return text.replace(/&(lt|gt|quot|apos|amp);/g, (_, name: string) => names[name] ?? '');
}
