/** The words of the labels: on the screen that prints them, and of what a scanned code turns out to be. */
import type { PaperProblem, Roll, Sheet } from '#shared/label/sheet.ts';

export const SHEET_FIELDS: readonly { readonly name: keyof Sheet; readonly label: string; readonly unit?: 'mm' }[] = [
  { name: 'columns', label: 'Labels across' },
  { name: 'rows', label: 'Labels down' },
  { name: 'widthMm', label: 'Width of a label', unit: 'mm' },
  { name: 'heightMm', label: 'Height of a label', unit: 'mm' },
  { name: 'leftMm', label: 'Left margin', unit: 'mm' },
  { name: 'topMm', label: 'Upper margin', unit: 'mm' },
  { name: 'acrossMm', label: 'Gap across', unit: 'mm' },
  { name: 'downMm', label: 'Gap down', unit: 'mm' },
];

export function sheetWords({ columns, rows, widthMm, heightMm }: Sheet): string {
  return `${columns} × ${rows} labels of ${widthMm} × ${heightMm} mm`;
}

export function rollWords({ widthMm, heightMm }: Roll): string {
  return `${widthMm} × ${heightMm} mm`;
}

export function paperProblemWords(problem: PaperProblem): string {
  switch (problem.is) {
    case 'no length':
      return problem.field === 'columns' || problem.field === 'rows'
        ? 'Give a whole number, 1 to 50.'
        : 'Give millimetres, 0 to 300.';
    case 'too small':
      return 'A label needs at least 35 × 20 mm, or its code is too small to be read.';
    case 'off the paper':
      return `The labels reach ${problem.beyondMm.toFixed(1)} mm beyond the ${problem.side} edge of an A4 sheet: check sizes, margins and gaps.`;
  }
}
