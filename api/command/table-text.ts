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

/** A label and what it tells; nothing is told of what is not there. */
export type Line = readonly [label: string, told: string | undefined];

/** Such lines, told from the same place on; `least`: where that is, if no label is longer. */
export function labelled(all: readonly Line[], least = 0): readonly string[] {
  const lines = all.filter(([, told]) => told !== undefined);
  const width = Math.max(least, ...lines.map(([label]) => [...label].length + 1));
  return lines.map(([label, told]) => `${pad(label, width, 'left')}${told}`);
}

function pad(cell: string, width: number, align: 'left' | 'right'): string {
  const space = ' '.repeat(width - [...cell].length);
  return align === 'right' ? space + cell : cell + space;
}
