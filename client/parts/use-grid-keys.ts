/** The keys of the table of parts: arrows move, Enter edits or opens, typing begins an edit, Delete asks to remove. */

import type { KeyboardEvent } from 'react';
import type { PartReport } from '#shared/contract/reports.ts';
import type { Line } from '#shared/part/arrange.ts';
import { say } from '#shared/words/say.ts';
import type { Column } from './columns.tsx';

export type Spot = { readonly partId: string | undefined; readonly column: string };

/** What the keys below do, for the list of keys: keys and words. */
export const GRID_KEYS: readonly (readonly [keys: string, does: string])[] = [
  [say`Arrows`, say`from cell to cell`],
  [say`Home, End`, say`to the first or last column`],
  [say`Ctrl with an arrow, Home or End`, say`as far as the table goes`],
  [say`Page Up, Page Down`, say`a page of parts`],
  [say`Left, Right on a number`, say`close or open an assembly`],
  [say`Enter or F2`, say`change the cell, or open the part where it cannot be changed`],
  [say`Any letter or figure`, say`write the cell anew`],
  [say`Delete`, say`remove the part, after a question`],
  [say`Enter or Space on a heading`, say`sort by it`],
  [say`Enter in a cell that is changed`, say`record it`],
  [say`Tab, Shift and Tab there`, say`record it and change the next or the one before`],
  [say`Escape there`, say`leave it as it was`],
];

type Given = {
  readonly lines: readonly Line<PartReport>[];
  readonly columns: readonly Column[];
  /** -1 is the heading. */
  readonly at: { readonly line: number; readonly column: number };
  readonly linesAPage: number;
  readonly isTree: boolean;
  readonly mayEdit: boolean;
  readonly go: (spot: Spot) => void;
  readonly sortBy: (column: Column) => void;
  readonly toggle: (part: PartReport) => void;
  readonly open: (part: PartReport) => void;
  readonly edit: (part: PartReport, column: Column, begunWith?: string) => void;
  readonly remove: (part: PartReport) => void;
};

export function useGridKeys(given: Given): (event: KeyboardEvent) => void {
  return (event) => {
    if (event.altKey || event.nativeEvent.isComposing) return;
    const isDone = move(event, given) || act(event, given);
    if (isDone) event.preventDefault();
  };
}

function move(event: KeyboardEvent, { lines, columns, at, linesAPage, go, ...given }: Given): boolean {
  const line = lines[at.line];
  const isFirst = at.column === 0 && given.isTree && line?.isOpen !== undefined;
  const to = (toLine: number, toColumn: number) => {
    const found = Math.min(Math.max(toLine, -1), lines.length - 1);
    const column = columns[Math.min(Math.max(toColumn, 0), columns.length - 1)];
    if (column !== undefined) go({ partId: lines[found]?.part.partId, column: column.id });
    return true;
  };
  const isFar = event.ctrlKey || event.metaKey;
  switch (event.key) {
    case 'ArrowDown':
      return to(isFar ? lines.length - 1 : at.line + 1, at.column);
    case 'ArrowUp':
      return to(isFar ? 0 : at.line - 1, at.column);
    case 'ArrowRight':
      if (isFirst && line?.isOpen === false) given.toggle(line.part);
      else to(at.line, isFar ? columns.length - 1 : at.column + 1);
      return true;
    case 'ArrowLeft':
      if (isFirst && line?.isOpen === true) given.toggle(line.part);
      else to(at.line, isFar ? 0 : at.column - 1);
      return true;
    case 'PageDown':
      return to(at.line + linesAPage, at.column);
    case 'PageUp':
      return to(Math.max(0, at.line - linesAPage), at.column);
    case 'Home':
      return to(isFar ? 0 : at.line, 0);
    case 'End':
      return to(isFar ? lines.length - 1 : at.line, columns.length - 1);
    default:
      return false;
  }
}

function act(event: KeyboardEvent, { lines, columns, at, mayEdit, ...given }: Given): boolean {
  const column = columns[at.column];
  if (column === undefined || event.ctrlKey || event.metaKey) return false;
  const part = lines[at.line]?.part;
  if (part === undefined) {
    if (event.key !== 'Enter' && event.key !== ' ') return false;
    given.sortBy(column);
    return true;
  }
  const canEdit = mayEdit && column.edit !== undefined;
  if (event.key === 'Enter' || event.key === 'F2') {
    if (canEdit) given.edit(part, column);
    else given.open(part);
    return true;
  }
  if (event.key === 'Delete' && mayEdit) {
    given.remove(part);
    return true;
  }
  if (!canEdit || event.key.length !== 1 || event.key === ' ' || column.edit?.choices !== undefined) return false;
  given.edit(part, column, event.key);
  return true;
}
