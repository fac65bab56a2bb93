/** A table for a terminal: words to the left, numbers to the right, one line a row, no frame. */

export type Column<Row> = {
  readonly heading: string;
  readonly align: 'left' | 'right';
  readonly cell: (row: Row) => string;
};

export function tableText<Row>(rows: readonly Row[], columns: readonly Column<Row>[]): string {
  const lines = [
    columns.map((column) => column.heading),
    ...rows.map((row) => columns.map((column) => column.cell(row))),
  ];
  const widths = columns.map((_, at) => Math.max(...lines.map((cells) => [...(cells[at] ?? '')].length)));
  const text = lines.map((cells) =>
    cells
      .map((cell, at) => pad(cell, widths[at] ?? 0, columns[at]?.align ?? 'left'))
      .join('  ')
      .trimEnd(),
  );
  return `${text.join('\n')}\n`;
}

function pad(cell: string, width: number, align: 'left' | 'right'): string {
  const space = ' '.repeat(width - [...cell].length);
  return align === 'right' ? space + cell : cell + space;
}
