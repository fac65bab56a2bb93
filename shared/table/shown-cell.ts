/** A cell of a table on the screen, as a cell of a CSV file: plain spaces and minus signs, and nothing that a spreadsheet takes for a formula. */
import { harmless } from './formula-text.ts';

export function shownCell(shown: string): string {
  // Spaces between thousands are for eyes, not for a spreadsheet.
  const text = shown
    .replace(/(?<=\d)\u00a0(?=\d{3})/g, '')
    .replaceAll('\u00a0', ' ')
    .replaceAll('\u2212', '-')
    .replaceAll('\u2011', '-')
    .trim();
  if (text === '–') return '';
  const isFigure = /^[+-][\d.,]+(?: ?[\p{L}%°]+)*$/u.test(text);
  const safe = isFigure ? text : harmless(text);
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
