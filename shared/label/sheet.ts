/**
 * Where labels lie on paper (rule H1): on sheets of rows and columns, from any label of the first sheet on, or one after another on a roll. All
 * lengths are millimetres, from the upper left corner of the paper.
 */

export type Sheet = {
  readonly columns: number;
  readonly rows: number;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly leftMm: number;
  readonly topMm: number;
  /** Between labels, across and down. */
  readonly acrossMm: number;
  readonly downMm: number;
};
export type Roll = { readonly widthMm: number; readonly heightMm: number };

/** ISO 216. */
export const A4_MM = { width: 210, height: 297 } as const;

/** Below this a code is too small to be read, and the figures beside it. */
export const LEAST_LABEL_MM = { width: 35, height: 20 } as const;

/** Sizes in common use, by rows and columns; no source. */
export const SHEETS: readonly Sheet[] = [
  sheet(2, 4, 99.1, 67.7, { across: 2.5 }),
  sheet(2, 7, 99.1, 38.1, { across: 2.5 }),
  sheet(3, 7, 63.5, 38.1, { across: 2.5 }),
  sheet(3, 8, 70, 37, {}),
  sheet(4, 10, 48.5, 25.4, {}),
];
export const ROLLS: readonly Roll[] = [
  { widthMm: 50, heightMm: 25 },
  { widthMm: 57, heightMm: 32 },
  { widthMm: 62, heightMm: 40 },
  { widthMm: 100, heightMm: 50 },
];

/** Its labels in the middle of the paper. */
function sheet(
  columns: number,
  rows: number,
  widthMm: number,
  heightMm: number,
  gaps: { readonly across?: number; readonly down?: number },
): Sheet {
  const { across = 0, down = 0 } = gaps;
  const left = (paper: number, count: number, size: number, gap: number) =>
    Math.round(((paper - count * size - (count - 1) * gap) / 2) * 100) / 100;
  return {
    ...{ columns, rows, widthMm, heightMm, acrossMm: across, downMm: down },
    leftMm: left(A4_MM.width, columns, widthMm, across),
    topMm: left(A4_MM.height, rows, heightMm, down),
  };
}

export type PaperProblem =
  | { readonly is: 'no length'; readonly field: keyof Sheet }
  | { readonly is: 'too small' }
  | { readonly is: 'off the paper'; readonly side: 'right' | 'lower'; readonly beyondMm: number };

/** A size measured with a ruler is not told to be beyond the paper for its rounding. */
const SLACK_MM = 0.5;
const MOST_MM = 300;
const MOST_IN_LINE = 50;

/** Everything that is wrong with a sheet that somebody typed. */
export function problemsOfSheet(of: Sheet): readonly PaperProblem[] {
  const noLength = noLengths(of);
  if (noLength.length > 0) return noLength;
  const rightMm = of.leftMm + of.columns * of.widthMm + (of.columns - 1) * of.acrossMm;
  const lowerMm = of.topMm + of.rows * of.heightMm + (of.rows - 1) * of.downMm;
  return [...tooSmall(of), ...offPaper('right', rightMm - A4_MM.width), ...offPaper('lower', lowerMm - A4_MM.height)];
}

export function problemsOfRoll(of: Roll): readonly PaperProblem[] {
  const noLength = noLengths(of);
  return noLength.length > 0 ? noLength : tooSmall(of);
}

function noLengths(of: Partial<Sheet>): readonly PaperProblem[] {
  return (Object.entries(of) as [keyof Sheet, number][]).flatMap(([field, value]) =>
    isLength(field, value) ? [] : [{ is: 'no length' as const, field }],
  );
}

function isLength(field: keyof Sheet, value: number): boolean {
  if (field === 'columns' || field === 'rows') return Number.isInteger(value) && value >= 1 && value <= MOST_IN_LINE;
  return Number.isFinite(value) && value >= 0 && value <= MOST_MM;
}

function tooSmall({ widthMm, heightMm }: Roll): readonly PaperProblem[] {
  return widthMm < LEAST_LABEL_MM.width || heightMm < LEAST_LABEL_MM.height ? [{ is: 'too small' }] : [];
}

function offPaper(side: 'right' | 'lower', beyondMm: number): readonly PaperProblem[] {
  return beyondMm > SLACK_MM ? [{ is: 'off the paper', side, beyondMm }] : [];
}

export type Place = { readonly leftMm: number; readonly topMm: number };
export type Placed<Label> = { readonly label: Label; readonly at: Place };

/** Row by row, from label `first` of the first sheet on, counted from 1; what is beyond the sheet begins at its last label. */
export function onSheets<Label>(
  labels: readonly Label[],
  of: Sheet,
  first: number,
): readonly (readonly Placed<Label>[])[] {
  const aSheet = of.columns * of.rows;
  const skipped = Math.min(Math.max(1, Math.trunc(first)), aSheet) - 1;
  const sheets: Placed<Label>[][] = [];
  for (const [at, label] of labels.entries()) {
    const place = at + skipped;
    const onSheet = place % aSheet;
    const of1 = { column: onSheet % of.columns, row: Math.trunc(onSheet / of.columns) };
    const sheetOf = Math.trunc(place / aSheet);
    sheets[sheetOf] ??= [];
    sheets[sheetOf].push({
      label,
      at: {
        leftMm: of.leftMm + of1.column * (of.widthMm + of.acrossMm),
        topMm: of.topMm + of1.row * (of.heightMm + of.downMm),
      },
    });
  }
  return sheets;
}

/** What is left on the last sheet begins at this label; 1 where nothing is left. */
export function firstLeft(count: number, of: Sheet, first: number): number {
  const aSheet = of.columns * of.rows;
  return ((Math.min(Math.max(1, Math.trunc(first)), aSheet) - 1 + count) % aSheet) + 1;
}
