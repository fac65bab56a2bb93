/** One line of the table of parts. While the table is scrolled a line that stays is not made anew. */

import { memo, type ReactNode } from 'react';
import { Link } from 'wouter';
import type { PartReport } from '#shared/contract/reports.ts';
import type { Line } from '#shared/part/arrange.ts';
import { say } from '#shared/words/say.ts';
import { CellEditor, type Leave } from './cell-editor.tsx';
import { type Around, type Column, unitName } from './columns.tsx';
import { type CellEdit, cellKey } from './use-edits.ts';

/** What a line asks of the table; the same object while the table is up. */
export type Acts = {
  /** The focus has come to a cell, by whatever way. */
  readonly focus: (part: PartReport, column: Column) => void;
  readonly press: (part: PartReport, column: Column) => void;
  readonly toggle: (part: PartReport) => void;
  readonly type: (part: PartReport, column: Column, text: string) => void;
  readonly leave: (part: PartReport, column: Column, how: Leave) => void;
  readonly hrefOf: (part: PartReport) => string;
  readonly offersFor: (column: Column) => readonly string[] | undefined;
};

export type RowProps = {
  readonly line: Line<PartReport>;
  readonly index: number;
  readonly startPx: number;
  readonly columns: readonly Column[];
  readonly around: Around;
  readonly isTree: boolean;
  readonly mayEdit: boolean;
  readonly activeColumn: string | undefined;
  readonly editingColumn: string | undefined;
  readonly wordsAbove: boolean;
  /** Undefined where nothing is typed into this line. */
  readonly edits: ReadonlyMap<string, CellEdit> | undefined;
  readonly acts: Acts;
};

export const GridRow = memo(function GridRow(props: RowProps) {
  const { line, columns, isTree } = props;
  const tree = isTree
    ? {
        'aria-level': line.level,
        'aria-posinset': line.place,
        'aria-setsize': line.among,
        'aria-expanded': line.isOpen,
      }
    : {};
  return (
    // biome-ignore lint/a11y/useFocusableInteractive: the cells of a line are what is focused, one at a time.
    <div
      role="row"
      aria-rowindex={props.index + 2}
      {...tree}
      className={`parts-row ${line.isAsked ? '' : 'aside'} ${props.activeColumn === undefined ? '' : 'active'} ${props.editingColumn === undefined ? '' : 'editing'}`}
      style={{ transform: `translateY(${props.startPx}px)` }}
    >
      {columns.map((column, at) => (
        <Cell key={column.id} {...props} column={column} at={at} />
      ))}
    </div>
  );
});

function Cell(props: RowProps & { readonly column: Column; readonly at: number }) {
  const { line, column, acts, activeColumn } = props;
  const { part } = line;
  const isActive = activeColumn === column.id;
  const isEditing = props.editingColumn === column.id;
  const edit = props.edits?.get(cellKey(part.partId, column.id));
  const canEdit = props.mayEdit && column.edit !== undefined;
  const first = column.id === 'number';
  const said = {
    role: first ? 'rowheader' : 'gridcell',
    'aria-colindex': props.at + 1,
    'aria-readonly': canEdit ? undefined : true,
  };
  return (
    // biome-ignore lint/a11y/useKeyWithClickEvents: the table hears the keys for all of its cells.
    // biome-ignore lint/a11y/noStaticElementInteractions: it has a role, one of the two above.
    <div
      {...said}
      tabIndex={isActive && !isEditing ? 0 : -1}
      data-active={isActive ? true : undefined}
      className={`parts-cell ${column.isText === true ? '' : 'number'} ${first ? 'first' : ''} ${canEdit ? 'can-edit' : ''}`}
      onFocus={() => acts.focus(part, column)}
      onClick={() => acts.press(part, column)}
    >
      {isEditing && column.edit !== undefined ? (
        <CellEditor
          label={labelOf(part, column, props.around)}
          edit={edit}
          start={column.edit.text(part, props.around.shown)}
          choices={column.edit.choices}
          offers={acts.offersFor(column)}
          isNumber={column.isText !== true}
          wordsAbove={props.wordsAbove}
          onType={(text) => acts.type(part, column, text)}
          onLeave={(how) => acts.leave(part, column, how)}
        />
      ) : first ? (
        <First {...props} />
      ) : edit === undefined ? (
        <Cut>{column.cell(part, props.around)}</Cut>
      ) : (
        <Typed edit={edit} />
      )}
    </div>
  );
}

function Cut({ children }: { readonly children: ReactNode }) {
  return (
    <span className="cut" title={typeof children === 'string' && children.length > 14 ? children : undefined}>
      {children}
    </span>
  );
}

/** The number leads to the part; before it stands what opens an assembly. */
function First({ line, isTree, acts }: RowProps) {
  const { part, level, isOpen } = line;
  return (
    <span
      className="parts-first"
      style={isTree ? { paddingInlineStart: `calc(${level - 1} * var(--step))` } : undefined}
    >
      {!isTree ? null : isOpen === undefined ? (
        <span className="opener" />
      ) : (
        <button
          type="button"
          tabIndex={-1}
          className="opener"
          aria-label={`${isOpen ? say`Close` : say`Open`} ${part.number}`}
          onClick={(event) => {
            event.stopPropagation();
            acts.toggle(part);
          }}
        >
          {isOpen ? '▾' : '▸'}
        </button>
      )}
      <Link href={acts.hrefOf(part)} tabIndex={-1} className="cut">
        {part.number}
      </Link>
    </span>
  );
}

const STATES = {
  typed: { mark: '✎', words: say`typed, not recorded` },
  sending: { mark: '…', words: say`on its way` },
  refused: { mark: '✕', words: say`refused` },
  sent: { mark: '✓', words: say`recorded` },
} as const;

function Typed({ edit }: { readonly edit: CellEdit }) {
  const { mark, words } = STATES[edit.state];
  return (
    <span className={`cut typed ${edit.state}`} title={edit.words ?? words}>
      <span aria-hidden="true">{mark} </span>
      {edit.text === '' ? '–' : edit.text}
      <span className="hidden-words"> ({words})</span>
    </span>
  );
}

export function labelOf(part: PartReport, column: Column, { shown }: Around): string {
  const unit = unitName(column.unit, shown);
  return say`${column.heading}${unit === undefined ? '' : ` (${unit})`} of ${part.number}`;
}
