/**
 * The cells of a carried table (rule X2): how a value is written so that it comes back as it was, and so that no spreadsheet program takes it
 * for a formula; and the check digits by which a cell that was changed is found again.
 */

/**
 * A text as a cell. Nothing at all is an empty cell; a text that a spreadsheet program would work out, one that begins with an apostrophe, and
 * the empty text have an apostrophe before them.
 */
export function textCell(text: string | undefined): string {
  if (text === undefined) return '';
  return text === '' || WORKED_OUT.test(text) ? `'${text}` : text;
}

/** What begins a formula, also after blanks and in the wide forms of East Asian text; and the apostrophe, which would else be taken off. */
const WORKED_OUT = /^[\s\uFEFF]*[=+\-@'＝＋－＠]|^[\t\r\n]/u;

/** The text of a cell, undefined where the cell is empty. */
export function textOfCell(cell: string): string | undefined {
  if (cell === '') return undefined;
  return cell.startsWith("'") ? cell.slice(1) : cell;
}

/** A number, a truth, a list or an object as a cell: its JSON. Digits of a number are those that come back as the very same number. */
export function jsonCell(value: unknown): string {
  return value === undefined ? '' : JSON.stringify(value);
}

/** What a JSON cell says. `isWhole` is false where it is no JSON, or not in the spelling in which it is written. */
export function valueOfCell(cell: string): { readonly isWhole: boolean; readonly value?: unknown } {
  if (cell === '') return { isWhole: true };
  try {
    const value: unknown = JSON.parse(cell);
    return { isWhole: JSON.stringify(value) === cell, value };
  } catch {
    return { isWhole: false };
  }
}

const DIGITS = 3;

/** Three hexadecimal digits for each cell of a row. They tell which cell was changed; that a file was changed is told by its SHA-256. */
export function checkCell(cells: readonly string[]): string {
  return cells.map((cell) => digitsOf(cell)).join('');
}

/** Which cells do not fit the digits, counted from 0; undefined where the digits are not those of so many cells. */
export function changedCells(cells: readonly string[], check: string): readonly number[] | undefined {
  if (check.length !== cells.length * DIGITS) return undefined;
  return cells.flatMap((cell, at) => (digitsOf(cell) === check.slice(at * DIGITS, (at + 1) * DIGITS) ? [] : [at]));
}

/** FNV-1a of 32 bits, folded to 12. */
function digitsOf(text: string): string {
  let hash = 0x811c9dc5;
  for (let at = 0; at < text.length; at += 1) {
    const unit = text.charCodeAt(at);
    hash = Math.imul(hash ^ (unit & 0xff), 0x01000193);
    hash = Math.imul(hash ^ (unit >>> 8), 0x01000193);
  }
  return (((hash >>> 20) ^ (hash >>> 8) ^ hash) & 0xfff).toString(16).padStart(DIGITS, '0');
}
