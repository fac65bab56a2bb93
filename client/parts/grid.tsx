/**
 * The table of parts: a grid of which only the lines in sight stand in the page, however many there are. One cell is active; it is in the
 * page even when it is scrolled out of sight, so that the keyboard never loses its place.
 */

import { defaultRangeExtractor, type Range, useVirtualizer } from '@tanstack/react-virtual';
import { useEffect, useLayoutEffect, useMemo, useRef } from 'react';
import type { PartReport } from '#shared/contract/reports.ts';
import type { Line } from '#shared/part/arrange.ts';
import { say } from '#shared/words/say.ts';
import { useMoreAside } from '../pieces/more-aside.ts';
import { useIsPrinting } from '../pieces/printing.ts';
import type { Leave } from './cell-editor.tsx';
import { type Around, type Column, unitName } from './columns.tsx';
import { type Acts, GridRow } from './grid-row.tsx';
import type { CellEdit, Edits } from './use-edits.ts';
import { type Spot, useGridKeys } from './use-grid-keys.ts';

const ROW_REM = 2.25;
/** Lines above and below those in sight, for the moment between a turn of the wheel and the next picture. */
const SPARE_LINES = 24;

export type GridProps = {
  readonly label: string;
  readonly lines: readonly Line<PartReport>[];
  readonly columns: readonly Column[];
  readonly around: Around;
  readonly isTree: boolean;
  readonly mayEdit: boolean;
  readonly sort: { readonly column: string; readonly isDown: boolean };
  readonly active: Spot;
  readonly edits: Edits;
  /** The cell that is open for typing. */
  readonly editing: Spot | undefined;
  readonly onEdit: (spot: Spot | undefined) => void;
  /** Counted up: the active cell takes the focus. */
  readonly focusTurn: number;
  readonly onGo: (spot: Spot) => void;
  readonly onSort: (column: Column) => void;
  readonly onToggle: (part: PartReport) => void;
  readonly onOpen: (part: PartReport) => void;
  readonly onRecord: (part: PartReport, column: Column) => Promise<boolean>;
  readonly onRemove: (part: PartReport) => void;
  readonly hrefOf: (part: PartReport) => string;
  readonly offersFor: (column: Column) => readonly string[] | undefined;
};

export function PartsGrid(props: GridProps) {
  const { lines, columns, active, edits } = props;
  const frame = useRef<HTMLDivElement>(null);
  useMoreAside(frame);
  const { editing, onEdit: setEditing } = props;
  const wantsFocus = useRef(false);
  const rowPx = useMemo(() => ROW_REM * Number.parseFloat(getComputedStyle(document.documentElement).fontSize), []);
  const lineAt = useMemo(() => new Map(lines.map(({ part }, at) => [part.partId as string, at])), [lines]);
  const at = {
    line: active.partId === undefined ? -1 : (lineAt.get(active.partId) ?? -1),
    column: Math.max(
      0,
      columns.findIndex(({ id }) => id === active.column),
    ),
  };
  const virtualizer = useVirtualizer({
    count: lines.length,
    getScrollElement: () => frame.current,
    estimateSize: () => rowPx,
    overscan: SPARE_LINES,
    getItemKey: (index) => lines[index]?.part.partId ?? index,
    rangeExtractor: (range: Range) => withLine(defaultRangeExtractor(range), at.line),
  });
  const go = (spot: Spot) => {
    wantsFocus.current = true;
    props.onGo(spot);
  };
  const edit = (part: PartReport, column: Column, begunWith?: string) => {
    if (begunWith !== undefined) edits.type(part, column, begunWith);
    props.onGo({ partId: part.partId, column: column.id });
    setEditing({ partId: part.partId, column: column.id });
  };
  const leave = async (part: PartReport, column: Column, how: Leave) => {
    const start = column.edit?.text(part, props.around.shown);
    const typed = edits.byCell.get(`${part.partId} ${column.id}`)?.text;
    if (how === 'drop' || typed === undefined || typed === start) {
      edits.drop(part, column);
      if (how !== 'keep') wantsFocus.current = true;
      setEditing(undefined);
    } else if (how === 'keep') setEditing(undefined);
    else if (await props.onRecord(part, column)) {
      wantsFocus.current = true;
      setEditing(undefined);
    } else return;
    if (how === 'record and go on' || how === 'record and go back') {
      const next = columns[at.column + (how === 'record and go on' ? 1 : -1)];
      if (next !== undefined) go({ partId: part.partId, column: next.id });
    }
  };
  const onKeyDown = useGridKeys({
    ...{ lines, columns, at, go, edit, isTree: props.isTree, mayEdit: props.mayEdit },
    linesAPage: Math.max(1, Math.floor((frame.current?.clientHeight ?? 0) / rowPx) - 2),
    ...{ sortBy: props.onSort, toggle: props.onToggle, open: props.onOpen, remove: props.onRemove },
  });
  // A press brings the focus, which makes a cell active: whether it was so already is asked before that.
  const before = useRef(active);
  const acts = useLatestActs({
    focus: ({ partId }, { id }) => {
      if (active.partId !== partId || active.column !== id) props.onGo({ partId, column: id });
    },
    press: (part, column) => {
      const isActive = before.current.partId === part.partId && before.current.column === column.id;
      if (isActive && props.mayEdit && column.edit !== undefined) {
        if (editing === undefined) edit(part, column);
      } else go({ partId: part.partId, column: column.id });
    },
    toggle: props.onToggle,
    type: edits.type,
    leave: (part, column, how) => void leave(part, column, how),
    hrefOf: props.hrefOf,
    offersFor: props.offersFor,
  });
  const editsOf = useMemo(() => byPart(edits.byCell), [edits.byCell]);
  const turnSeen = useRef(props.focusTurn);
  if (turnSeen.current !== props.focusTurn) wantsFocus.current = true;
  turnSeen.current = props.focusTurn;
  useFocusOnActive(frame, wantsFocus, { active, editing, turn: props.focusTurn });
  // On paper all lines stand, one below the other, and not only those in sight; and all columns share its width.
  const isPrinting = useIsPrinting();
  const widthRem = columns.reduce((sum, column) => sum + column.widthRem, 0);
  const template = columns.map(isPrinting ? shareOf : widthOf);
  const shownAt = isPrinting
    ? lines.map(({ part }, index) => ({ index, start: 0, key: part.partId }))
    : virtualizer.getVirtualItems();
  const scrollPx = virtualizer.scrollOffset ?? 0;
  const frameStyle = { '--parts-columns': template.join(' '), '--parts-row': `${rowPx}px` } as React.CSSProperties;
  return (
    <div
      ref={frame}
      role="treegrid"
      aria-label={props.label}
      aria-rowcount={lines.length + 1}
      aria-colcount={columns.length}
      className="parts-grid"
      style={frameStyle}
      onKeyDown={onKeyDown}
      onPointerDownCapture={() => {
        before.current = active;
      }}
    >
      <div className="parts-inner" style={isPrinting ? undefined : { minWidth: `${widthRem}rem` }}>
        <Heading {...props} isActive={at.line === -1} at={at.column} onGo={go} />
        <div
          role="rowgroup"
          className="parts-body"
          style={isPrinting ? undefined : { height: virtualizer.getTotalSize() }}
        >
          {shownAt.map(({ index, start, key }) => {
            const line = lines[index];
            if (line === undefined) return null;
            const isActive = index === at.line;
            return (
              <GridRow
                key={key}
                {...{ line, index, columns, acts, startPx: start, around: props.around, isTree: props.isTree }}
                mayEdit={props.mayEdit}
                activeColumn={isActive ? columns[at.column]?.id : undefined}
                editingColumn={editing?.partId === line.part.partId ? editing.column : undefined}
                wordsAbove={editing !== undefined && start - scrollPx > (frame.current?.clientHeight ?? 0) / 2}
                edits={editsOf.get(line.part.partId)}
              />
            );
          })}
        </div>
      </div>
    </div>
  );
}

function Heading(
  props: Pick<GridProps, 'columns' | 'around' | 'sort' | 'onSort'> & {
    readonly isActive: boolean;
    readonly at: number;
    readonly onGo: (spot: Spot) => void;
  },
) {
  const { columns, sort, around } = props;
  return (
    <div role="rowgroup" className="parts-heading">
      {/* biome-ignore lint/a11y/useFocusableInteractive: its cells are what is focused. */}
      <div role="row" aria-rowindex={1} className="parts-row">
        {columns.map((column, at) => {
          const isSorted = sort.column === column.id;
          const isActive = props.isActive && props.at === at;
          const unit = unitName(column.unit, around.shown);
          return (
            // biome-ignore lint/a11y/useKeyWithClickEvents: the table hears the keys for all of its cells.
            <div
              key={column.id}
              role="columnheader"
              aria-colindex={at + 1}
              aria-sort={isSorted ? (sort.isDown ? 'descending' : 'ascending') : 'none'}
              tabIndex={isActive ? 0 : -1}
              data-active={isActive ? true : undefined}
              className={`parts-cell ${column.isText === true ? '' : 'number'} ${at === 0 ? 'first' : ''}`}
              onClick={() => {
                props.onGo({ partId: undefined, column: column.id });
                props.onSort(column);
              }}
            >
              <span>
                {column.heading}
                {unit === undefined ? null : <span className="parts-unit"> ({unit})</span>}
                <span aria-hidden="true" className="sort-mark">
                  {isSorted ? (sort.isDown ? ' ▼' : ' ▲') : ''}
                </span>
              </span>
            </div>
          );
        })}
      </div>
    </div>
  );
}

/** Lines compare their acts by identity, and acts want what is now: one object that always calls the latest. */
function useLatestActs(now: Acts): Acts {
  const latest = useRef(now);
  useLayoutEffect(() => {
    latest.current = now;
  });
  return useMemo(
    () => ({
      focus: (...given) => latest.current.focus(...given),
      press: (...given) => latest.current.press(...given),
      toggle: (...given) => latest.current.toggle(...given),
      type: (...given) => latest.current.type(...given),
      leave: (...given) => latest.current.leave(...given),
      hrefOf: (...given) => latest.current.hrefOf(...given),
      offersFor: (...given) => latest.current.offersFor(...given),
    }),
    [],
  );
}

/** The focus follows the active cell where somebody moved it, and stays where it is when the rows are read anew. */
function useFocusOnActive(
  frame: React.RefObject<HTMLDivElement | null>,
  wantsFocus: React.RefObject<boolean>,
  { active, editing, turn }: { readonly active: Spot; readonly editing: Spot | undefined; readonly turn: number },
): void {
  // biome-ignore lint/correctness/useExhaustiveDependencies: the spots are what this follows.
  useEffect(() => {
    if (!wantsFocus.current || editing !== undefined) return;
    wantsFocus.current = false;
    const cell = frame.current?.querySelector<HTMLElement>('[data-active]');
    cell?.focus({ preventScroll: true });
    cell?.scrollIntoView({ block: 'nearest', inline: 'nearest' });
  }, [active, editing, turn]);
}

/** The number stays in sight while the rest is pushed sideways: on a phone it leaves room for that. The name takes what is left over. */
function widthOf({ id, widthRem }: Column): string {
  if (id === 'number') return `clamp(${widthRem * 0.75}rem, 34vw, ${widthRem}rem)`;
  // What is left goes to the words: a group has a name as well.
  if (id === 'group') return `minmax(${widthRem}rem, 0.75fr)`;
  return id === 'name' ? `minmax(${widthRem}rem, 1fr)` : `${widthRem}rem`;
}

function shareOf({ id, widthRem }: Column): string {
  return say`minmax(${id === 'number' ? say`24mm` : 0}, ${widthRem}fr)`;
}

function withLine(inSight: number[], line: number): number[] {
  if (line < 0 || inSight.includes(line)) return inSight;
  return [...inSight, line].sort((a, b) => a - b);
}

function byPart(byCell: ReadonlyMap<string, CellEdit>): ReadonlyMap<string, ReadonlyMap<string, CellEdit>> {
  const found = new Map<string, Map<string, CellEdit>>();
  for (const [key, edit] of byCell) {
    const ofPart = found.get(edit.partId) ?? new Map<string, CellEdit>();
    found.set(edit.partId, ofPart.set(key, edit));
  }
  return found;
}
