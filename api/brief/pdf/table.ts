/** A table of a printed brief: no row is cut by the end of a page, and every page that it goes on to has its headings again. */
import type { DriftFlag } from '#shared/contract/drift.ts';
import { INK, type Sheet, type TextStyle } from './sheet.ts';

export type PrintColumn<Row> = {
  readonly heading: string;
  /** Its part of the width, against the other columns. */
  readonly share: number;
  readonly isNumber?: boolean;
  readonly cell: (row: Row) => string;
  /** A shape before the words, which say the same. */
  readonly shape?: (row: Row) => Shape | undefined;
};
export type Shape = { readonly points: 'up' | 'down'; readonly isFilled: boolean };

export const SHAPES: Readonly<Record<DriftFlag, Shape | undefined>> = {
  'in line': undefined,
  'watch heavy': { points: 'up', isFilled: false },
  'watch light': { points: 'down', isFilled: false },
  'drifting heavy': { points: 'up', isFilled: true },
  'drifting light': { points: 'down', isFilled: true },
};

const TEXT: TextStyle = { size: 7.5 };
const HEADING: TextStyle = { size: 7.5, weight: 'bold', colour: INK.soft };
const PAD_X_PT = 4;
const PAD_PT = 2.2;
const SHAPE_PT = 9;

type Placed<Row> = PrintColumn<Row> & { readonly x: number; readonly width: number };

/** Nothing but `none`, a sentence, where there is no row. */
export function printTable<Row>(
  sheet: Sheet,
  columns: readonly PrintColumn<Row>[],
  rows: readonly Row[],
  none = 'None.',
): void {
  if (rows.length === 0) {
    sheet.paragraph('P', none);
    return;
  }
  const placed = place(sheet, columns);
  const headingHeight = heightOf(sheet, placed, ({ heading }) => heading, HEADING);
  const table = sheet.group('Table');
  const first = rows[0];
  sheet.room(headingHeight + (first === undefined ? 0 : rowHeight(sheet, placed, first)));
  const headings = sheet.group('TR', undefined, table);
  for (const column of placed) sheet.add('TH', () => writeHeading(sheet, column), headings);
  headings.end();
  underHeadings(sheet, headingHeight);
  for (const row of rows) {
    const height = rowHeight(sheet, placed, row);
    const before = sheet.doc.page;
    sheet.room(height);
    if (sheet.doc.page !== before) {
      sheet.aside(() => {
        for (const column of placed) writeHeading(sheet, column);
      });
      underHeadings(sheet, headingHeight);
    }
    const line = sheet.group('TR', undefined, table);
    for (const column of placed) sheet.add('TD', () => writeCell(sheet, column, row), line);
    line.end();
    sheet.y += height;
    rule(sheet, 0.3);
  }
  table.end();
  sheet.y += 6;
}

function place<Row>(sheet: Sheet, columns: readonly PrintColumn<Row>[]): readonly Placed<Row>[] {
  const all = columns.reduce((sum, { share }) => sum + share, 0);
  let x = sheet.left;
  return columns.map((column) => {
    const width = (sheet.width * column.share) / all;
    const placed = { ...column, x: x + PAD_X_PT, width: width - 2 * PAD_X_PT };
    x += width;
    return placed;
  });
}

function rowHeight<Row>(sheet: Sheet, placed: readonly Placed<Row>[], row: Row): number {
  return heightOf(sheet, placed, ({ cell }) => cell(row), TEXT, row);
}

function heightOf<Row>(
  sheet: Sheet,
  placed: readonly Placed<Row>[],
  words: (column: Placed<Row>) => string,
  style: TextStyle,
  row?: Row,
): number {
  const heights = placed.map((column) => {
    const indent = row === undefined || column.shape?.(row) === undefined ? 0 : SHAPE_PT;
    return sheet.heightOf(words(column), column.width - indent, style);
  });
  return Math.max(...heights) + 2 * PAD_PT - 1.5;
}

function writeHeading<Row>(sheet: Sheet, { heading, x, width, isNumber }: Placed<Row>): void {
  sheet.write(heading, { x, y: sheet.y + 1, width }, { ...HEADING, align: isNumber === true ? 'right' : 'left' });
}

function underHeadings(sheet: Sheet, headingHeight: number): void {
  sheet.y += headingHeight;
  rule(sheet, 0.8);
}

function writeCell<Row>(sheet: Sheet, { cell, shape, x, width, isNumber }: Placed<Row>, row: Row): void {
  const drawn = shape?.(row);
  const y = sheet.y + PAD_PT - 0.8;
  const indent = drawn === undefined ? 0 : SHAPE_PT;
  if (drawn !== undefined) drawShape(sheet, drawn, x, y + 2.5);
  const align = isNumber === true ? 'right' : 'left';
  sheet.write(cell(row), { x: x + indent, y, width: width - indent }, { ...TEXT, align });
}

function drawShape({ doc }: Sheet, { points, isFilled }: Shape, x: number, y: number): void {
  const [tip, base] = points === 'up' ? [y, y + 6] : [y + 6, y];
  doc.polygon([x, base], [x + 6.5, base], [x + 3.25, tip]).lineWidth(0.8);
  if (isFilled) doc.fillAndStroke(INK.text, INK.text);
  else doc.stroke(INK.text);
}

function rule(sheet: Sheet, widthPt: number): void {
  sheet.aside(() =>
    sheet.doc
      .moveTo(sheet.left, sheet.y)
      .lineTo(sheet.left + sheet.width, sheet.y)
      .lineWidth(widthPt)
      .stroke(INK.line),
  );
}
