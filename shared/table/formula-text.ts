/**
 * Text that a spreadsheet would take for a formula when it opens a CSV file, in a cell that is quoted as well (OWASP, CSV injection): an
 * apostrophe before it keeps it text. Blanks before it do not help, since some programs drop them.
 */
const FORMULA = /^\s*[=+\-@\uFF1D\uFF0B\uFF0D\uFF20]/;

export function harmless(text: string): string {
  return FORMULA.test(text) ? `'${text}` : text;
}

/** As `harmless`, where the file is to come back: text that has such an apostrophe of its own gets a second one. */
export function markedText(text: string): string {
  return FORMULA.test(text.replace(/^'+/, '')) ? `'${text}` : text;
}

/** What was marked, here or by a spreadsheet, without the mark. */
export function unmarkedText(cell: string): string {
  return cell.startsWith("'") && FORMULA.test(cell.replace(/^'+/, '')) ? cell.slice(1) : cell;
}
