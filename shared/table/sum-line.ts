/** A line of sums at the end of a list, which no part stands in: `TOTAL`, `Sum`, `Subtotal`. */
import type { CsvRow } from './csv.ts';

const SUM = /^(grand |sub-? ?)?totals?( mass| weight)?:?$|^sums?:?$/i;

/** Where such a word stands in the row, from 0; a row that names both a part and its group is that of a part. */
export function sumWordAt({ cells }: CsvRow, needed: readonly number[]): number | undefined {
  const at = cells.findIndex((cell) => SUM.test(cell.trim()));
  const isOfPart = needed.every((place) => place !== at && (cells[place] ?? '').trim() !== '');
  return at < 0 || isOfPart ? undefined : at;
}
