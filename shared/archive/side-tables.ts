/** The tables beside the ledger (rule X1): proposals and briefs with everything that was said of them, and the list of photos. */
import { jsonCell, textCell, textOfCell, valueOfCell } from './cells.ts';
import type { Row, Table, TableProblem } from './table.ts';

/** A field of a row by its heading; `words` are told for people and not read back. */
type SideColumn = { readonly heading: string; readonly is: 'text' | 'json' | 'words' };

/** A row of a side table: texts, or numbers where the column is JSON. */
export type SideRow = Readonly<Record<string, string | number | undefined>>;

const text = (heading: string): SideColumn => ({ heading, is: 'text' });
const number = (heading: string): SideColumn => ({ heading, is: 'json' });
const words = (heading: string): SideColumn => ({ heading, is: 'words' });

export const SIDE_TABLES = {
  proposals: {
    file: 'proposals.csv',
    columns: [
      ...[words('title'), words('state'), words('owner'), number('revision'), text('who'), text('recorded')],
      ...[text('proposal'), text('id'), text('sent'), text('content')],
    ],
  },
  briefs: {
    file: 'briefs.csv',
    columns: [
      ...[number('from entry'), number('to entry'), text('who'), text('recorded')],
      ...[text('brief'), text('sent'), text('content')],
    ],
  },
  'brief statements': {
    file: 'brief-statements.csv',
    columns: [
      ...[text('act'), number('number'), number('revision'), text('who'), text('recorded')],
      ...[text('brief'), text('id'), text('sent'), text('remarks'), text('hash')],
    ],
  },
  photos: {
    file: 'photos.csv',
    columns: [
      ...[words('part'), words('entry'), text('who'), text('recorded'), text('remark'), words('file')],
      ...[text('removed by'), text('removed'), text('removed because')],
      ...[number('width'), number('height'), text('partId'), text('entryId'), text('id'), text('sha256')],
    ],
  },
} as const satisfies Record<string, { readonly file: string; readonly columns: readonly SideColumn[] }>;

export type SideTable = keyof typeof SIDE_TABLES;

export function sideHeadings(table: SideTable): readonly string[] {
  return SIDE_TABLES[table].columns.map(({ heading }) => heading);
}

export function sideTable(table: SideTable, rows: readonly SideRow[]): Table {
  const columns: readonly SideColumn[] = SIDE_TABLES[table].columns;
  const cellOf = ({ heading, is }: SideColumn, row: SideRow) => {
    const value = row[heading];
    return is === 'json' ? jsonCell(value) : textCell(value === undefined ? undefined : String(value));
  };
  return { headings: sideHeadings(table), rows: rows.map((row) => columns.map((column) => cellOf(column, row))) };
}

export type ReadSideRow = { readonly line: number; readonly row: Readonly<Record<string, unknown>> };

export function sideRows(
  table: SideTable,
  rows: readonly Row[],
): { readonly rows: readonly ReadSideRow[]; readonly problems: readonly TableProblem[] } {
  const columns: readonly SideColumn[] = SIDE_TABLES[table].columns;
  const problems: TableProblem[] = [];
  const read = rows.map(({ line, cells }) => {
    const row = Object.fromEntries(
      columns.flatMap(({ heading, is }, at) => {
        const cell = cells[at] ?? '';
        if (is === 'words') return [];
        if (is === 'text') return [[heading, textOfCell(cell)]];
        const { isWhole, value } = valueOfCell(cell);
        if (!isWhole)
          problems.push({ line, column: at + 1, heading, refusal: { code: 'archive-changed', what: 'cell' } });
        return [[heading, value]];
      }),
    );
    return { line, row };
  });
  return { rows: read, problems };
}
