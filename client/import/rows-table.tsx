/**
 * The rows as they are understood, each problem under its row, and every cell of such a row open for correction. Only the rows in sight are in
 * the page: ten thousand scroll as ten do.
 */

import { useVirtualizer } from '@tanstack/react-virtual';
import { type CSSProperties, useCallback, useEffect, useRef, useState } from 'react';
import type { CsvRow } from '#shared/table/csv.ts';
import { say } from '#shared/words/say.ts';
import type { RowDoubts } from './doubts.ts';
import { TableRow } from './table-row.tsx';

export type ShownColumn = { readonly at: number; readonly name: string; readonly field: string };
/** `at` is undefined where the problem is one of the row. */
export type ShownProblem = { readonly at: number | undefined; readonly words: string; readonly remedy: string };
export type Aim = { readonly line: number; readonly count: number };

export function RowsTable(props: {
  readonly rows: readonly CsvRow[];
  readonly columns: readonly ShownColumn[];
  readonly problemsOf: ReadonlyMap<number, readonly ShownProblem[]>;
  readonly doubtsOf: ReadonlyMap<number, RowDoubts>;
  /** In which field a doubt is put right. */
  readonly doubtedField: string;
  readonly onConfirm: (line: number) => void;
  /** By field: words to choose from. */
  readonly offers: Readonly<Record<string, readonly string[]>>;
  readonly aim: Aim | undefined;
  readonly onEdit: (line: number, at: number, text: string) => void;
  readonly onLeaveOut: (line: number) => void;
}) {
  const { rows, columns, aim } = props;
  const scroller = useRef<HTMLDivElement>(null);
  const [opened, setOpened] = useState<ReadonlySet<number>>(new Set());
  const isAsked = (line: number) => props.problemsOf.has(line) || props.doubtsOf.get(line)?.isConfirmed === false;
  const virtualizer = useVirtualizer({
    count: rows.length,
    getScrollElement: () => scroller.current,
    estimateSize: (at) => (isAsked(rows[at]?.line ?? 0) ? 118 : 44),
    getItemKey: (at) => rows[at]?.line ?? at,
    overscan: 12,
  });
  // A row that was corrected stays open: whoever is in its next cell must not lose it.
  const open = useCallback((line: number) => setOpened((before) => new Set([...before, line])), []);
  const { onEdit } = props;
  const edit = useCallback(
    (line: number, at: number, text: string) => {
      open(line);
      onEdit(line, at, text);
    },
    [open, onEdit],
  );
  const { onLeaveOut } = props;
  const leaveOut = useCallback(
    (line: number) => {
      onLeaveOut(line);
      // The button that was pressed goes with its row.
      scroller.current?.focus();
    },
    [onLeaveOut],
  );
  const { onConfirm } = props;
  const confirm = useCallback(
    (line: number) => {
      onConfirm(line);
      scroller.current?.focus();
    },
    [onConfirm],
  );
  useAim(aim, rows, (at) => virtualizer.scrollToIndex(at, { align: 'center' }), scroller);
  const items = virtualizer.getVirtualItems();
  const above = items[0]?.start ?? 0;
  const below = virtualizer.getTotalSize() - (items.at(-1)?.end ?? 0);
  return (
    // Scrolled by keyboard as well; a table of many columns is wider than its page.
    <section ref={scroller} className="rows" aria-label={say`Rows of the list`} tabIndex={0}>
      <table aria-rowcount={rows.length + 1} style={{ '--across': `${totalCh(rows, columns)}ch` } as CSSProperties}>
        <colgroup>
          <col className="rows-line-column" />
          {columns.map((column) => (
            <col key={column.at} style={{ width: `${widthCh(rows, column)}ch` }} />
          ))}
        </colgroup>
        <thead>
          <tr aria-rowindex={1}>
            <th scope="col">{say`line`}</th>
            {columns.map((column) => (
              <th key={column.at} scope="col">
                {column.name}
                {column.name.toLowerCase().startsWith(column.field) ? null : (
                  <span className="rows-field"> {column.field}</span>
                )}
              </th>
            ))}
          </tr>
        </thead>
        <Space height={above} width={columns.length + 1} />
        {items.map((item) => {
          const row = rows[item.index];
          return row === undefined ? null : (
            <tbody key={item.key} ref={virtualizer.measureElement} data-index={item.index}>
              <TableRow
                row={row}
                index={item.index + 2}
                columns={columns}
                problems={props.problemsOf.get(row.line) ?? NONE}
                doubts={props.doubtsOf.get(row.line)}
                doubtedField={props.doubtedField}
                onConfirm={confirm}
                isOpen={opened.has(row.line)}
                offers={props.offers}
                onOpen={open}
                onEdit={edit}
                onLeaveOut={leaveOut}
              />
            </tbody>
          );
        })}
        <Space height={below} width={columns.length + 1} />
      </table>
    </section>
  );
}

/** The room of the rows that are not in the page. */
function Space({ height, width }: { readonly height: number; readonly width: number }) {
  return height <= 0 ? null : (
    <tbody aria-hidden="true" className="rows-space">
      <tr>
        <td colSpan={width} style={{ height }} />
      </tr>
    </tbody>
  );
}

const NONE: readonly ShownProblem[] = [];

/** Brings the row that is asked for into sight, and the finger of the keyboard into its first wrong cell. */
function useAim(
  aim: Aim | undefined,
  rows: readonly CsvRow[],
  show: (at: number) => void,
  scroller: React.RefObject<HTMLDivElement | null>,
): void {
  // What is shown changes while the row is waited for; only another aim begins anew.
  const now = useRef({ rows, show });
  now.current = { rows, show };
  useEffect(() => {
    if (aim === undefined) return;
    const goThere = () => now.current.show(now.current.rows.findIndex(({ line }) => line === aim.line));
    // A row far away comes into the page, and is measured, a moment after it has been asked for.
    let tries = 0;
    const look = () => {
      const row = scroller.current?.querySelector(`[data-line="${aim.line}"]`);
      const field =
        row?.querySelector<HTMLElement>('[aria-invalid="true"]') ??
        row?.querySelector<HTMLElement>('[data-doubted]') ??
        row?.querySelector('input');
      tries += 1;
      if (field !== undefined && field !== null) field.focus();
      else if (tries < MOST_LOOKS) {
        goThere();
        timer = setTimeout(look, LOOK_MS);
      }
    };
    goThere();
    let timer = setTimeout(look, LOOK_MS);
    return () => clearTimeout(timer);
  }, [aim, scroller]);
}

const LOOK_MS = 60;
const MOST_LOOKS = 20;

const MOST_CH = 24;
const LOOKED_AT = 200;
const LINE_CH = 9;

function widthCh(rows: readonly CsvRow[], { at, name }: ShownColumn): number {
  const longest = rows.slice(0, LOOKED_AT).reduce((most, { cells }) => Math.max(most, (cells[at] ?? '').length), 0);
  return Math.min(MOST_CH, Math.max(7, longest, name.length)) + 3;
}

function totalCh(rows: readonly CsvRow[], columns: readonly ShownColumn[]): number {
  return columns.reduce((sum, column) => sum + widthCh(rows, column), LINE_CH);
}
