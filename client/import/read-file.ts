/** A file or copied cells into grids, whatever they are: text with separators, or a workbook with its sheets. */
import type { Refusal } from '#shared/problem/registry.ts';
import { accept, type Result, refuse } from '#shared/result.ts';
import { isWorkbook, readRows } from '#shared/table/csv.ts';
import type { Grid } from '#shared/table/grid.ts';

/** `sheet` is empty where there is only one. */
export type Found = { readonly sheet: string; readonly grid: Grid };
export type Brought = { readonly name: string; readonly found: readonly Found[] };
export type NotRead = { readonly line: number; readonly refusal: Refusal };

const MOST_BYTES = 20 * 1_048_576;
/** A title may stand above the headings, and has no separators. */
const FIRST_LINES = 20;

export async function readFile(file: File): Promise<Result<Brought, NotRead>> {
  if (file.size > MOST_BYTES) return refuse(whole({ code: 'file-too-large', most: '20 MB' }));
  let bytes: ArrayBuffer;
  try {
    bytes = await file.arrayBuffer();
  } catch {
    return refuse(whole({ code: 'file-unreadable', why: 'the browser was not given it' }));
  }
  if (isWorkbook(new Uint8Array(bytes, 0, Math.min(4, bytes.byteLength)))) {
    // Comes when it is needed: most lists are text.
    const { readWorkbook } = await import('#shared/table/workbook.ts');
    const sheets = await readWorkbook(bytes);
    if (!sheets.ok) return refuse(whole(sheets.refusal));
    const found = sheets.value.map(({ name, grid }) => ({ sheet: sheets.value.length === 1 ? '' : name, grid }));
    return accept({ name: file.name, found });
  }
  try {
    return readText(new TextDecoder('utf-8', { fatal: true }).decode(bytes), file.name);
  } catch {
    return refuse(whole({ code: 'file-not-text' }));
  }
}

export function readText(text: string, name: string): Result<Brought, NotRead> {
  const read = readRows(text, FIRST_LINES);
  if (!read.ok) return refuse(read.refusal);
  return accept({ name, found: [{ sheet: '', grid: { ...read.value, marks: new Map() } }] });
}

function whole(refusal: Refusal): NotRead {
  return { line: 0, refusal };
}
