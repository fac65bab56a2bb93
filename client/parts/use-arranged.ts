/** The lines of the table from the rows and the view. Each step is done anew only where what it depends on has changed. */
import { useDeferredValue, useMemo } from 'react';
import type { PartReport } from '#shared/contract/reports.ts';
import { flatLines, type Line, sortParts, sumsWithin, treeLines, treeOf } from '#shared/part/arrange.ts';
import type { Shown } from '../pieces/units.ts';
import { type Around, COLUMNS } from './columns.tsx';
import type { View } from './remembered.ts';
import { isAskedBy } from './tools.tsx';

export type Arranged = {
  readonly lines: readonly Line<PartReport>[];
  readonly around: Around;
  readonly groups: readonly string[];
  readonly processes: readonly string[];
  /** The numbers of those that have parts in them. */
  readonly assemblies: readonly string[];
};

export function useArranged(
  parts: readonly PartReport[],
  view: View,
  shown: Shown,
  targets: ReadonlyMap<string, number>,
): Arranged {
  // What is typed into the search is on the screen at once; ten thousand lines may follow a moment later.
  const asked = useDeferredValue(view);
  const sums = useMemo(() => sumsWithin(treeOf(parts), ({ predictedKg }) => predictedKg), [parts]);
  const around = useMemo<Around>(() => ({ shown, targets, sums }), [shown, targets, sums]);
  const { column, isDown } = asked.sort;
  const sorted = useMemo(() => {
    const sortBy = COLUMNS.find(({ id }) => id === column)?.sortBy ?? ((part: PartReport) => part.number);
    return sortParts(parts, { by: (part) => sortBy(part, around), isDown });
  }, [parts, column, isDown, around]);
  const tree = useMemo(() => treeOf(sorted), [sorted]);
  const { search, group, process, flag, open, isTree, closed } = asked;
  const lines = useMemo(() => {
    const isAsked = isAskedBy({ search, group, process, flag, open });
    return isTree ? treeLines(tree, isAsked, closed) : flatLines(sorted, isAsked);
  }, [sorted, tree, search, group, process, flag, open, isTree, closed]);
  const groups = useMemo(() => distinct(parts.map((part) => part.group)), [parts]);
  const processes = useMemo(() => distinct(parts.map((part) => part.process)), [parts]);
  const assemblies = useMemo(
    () => parts.filter(({ childCount }) => childCount > 0).map(({ number }) => number),
    [parts],
  );
  return { lines, around, groups, processes, assemblies };
}

function distinct(words: readonly string[]): readonly string[] {
  return [...new Set(words)].sort((a, b) => a.localeCompare(b, 'en', { numeric: true }));
}
