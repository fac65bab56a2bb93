/**
 * A brief as one CSV text (rule B4; RFC 4180, UTF-8): its tables below one another, a blank line between, each row led by the name of its table,
 * so that one column filters them. Decimal points, plain minus signs, days as ISO 8601, no separators of thousands.
 */
import type { Brief } from '#shared/contract/brief.ts';
import { harmless } from '#shared/table/formula-text.ts';
import { briefTables } from './tables/all.ts';
import type { BriefTable, Cell } from './tables/table.ts';

/** Tells spreadsheets that the text is UTF-8. */
const BYTE_ORDER_MARK = '\uFEFF';
const LINE_END = '\r\n';

export function briefCsv(brief: Brief): string {
  return `${BYTE_ORDER_MARK}${briefTables(brief).map(tableText).join(LINE_END)}`;
}

function tableText({ name, headings, rows, note }: BriefTable): string {
  return [
    line(['table', ...headings]),
    ...rows.map((cells) => line([name, ...cells.map(plain)])),
    ...(rows.length === 0 ? [line([name, 'none'])] : []),
    ...(note === undefined ? [] : [line([name, note])]),
  ].join('');
}

function line(cells: readonly string[]): string {
  return `${cells.map(quoted).join(',')}${LINE_END}`;
}

/** Micrograms, micrometres and millionths say more than any scale and keep exponents out of the file. */
const DECIMALS = 6;

function plain(cell: Cell): string {
  if (cell === undefined) return '';
  if (cell.kind === 'text') return harmless(cell.text);
  if (cell.kind === 'day') return cell.day;
  // Adding 0 makes a plain nought of the one with a minus.
  return String(Number(cell.value.toFixed(DECIMALS)) + 0);
}

function quoted(cell: string): string {
  return /[",;\t\r\n]|^\s|\s$/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell;
}
