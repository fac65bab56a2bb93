/** The words of the labels: on the screen that prints them, and of what a scanned code turns out to be. */

import type { PaperProblem, Roll, Sheet } from '#shared/label/sheet.ts';
import { say } from '#shared/words/say.ts';

export const SHEET_FIELDS: readonly { readonly name: keyof Sheet; readonly label: string; readonly unit?: 'mm' }[] = [
  { name: 'columns', label: say`Labels across` },
  { name: 'rows', label: say`Labels down` },
  { name: 'widthMm', label: say`Width of a label`, unit: 'mm' },
  { name: 'heightMm', label: say`Height of a label`, unit: 'mm' },
  { name: 'leftMm', label: say`Left margin`, unit: 'mm' },
  { name: 'topMm', label: say`Upper margin`, unit: 'mm' },
  { name: 'acrossMm', label: say`Gap across`, unit: 'mm' },
  { name: 'downMm', label: say`Gap down`, unit: 'mm' },
];

export function sheetWords({ columns, rows, widthMm, heightMm }: Sheet): string {
  return say`${columns} × ${rows} labels of ${widthMm} × ${heightMm} mm`;
}

export function rollWords({ widthMm, heightMm }: Roll): string {
  return say`${widthMm} × ${heightMm} mm`;
}

export function paperProblemWords(problem: PaperProblem): string {
  switch (problem.is) {
    case 'no length':
      return problem.field === 'columns' || problem.field === 'rows'
        ? say`Give a whole number, 1 to 50.`
        : say`Give millimetres, 0 to 300.`;
    case 'too small':
      return say`A label needs at least 35 × 20 mm, or its code is too small to be read.`;
    case 'off the paper':
      return say`The labels reach ${problem.beyondMm.toFixed(1)} mm beyond the ${problem.side} edge of an A4 sheet: check sizes, margins and gaps.`;
  }
}
