/** Every problem of the list by the line on which it is shown: those the server found, and those that only the spreadsheet's cells tell. */
import type { ImportPreview } from '#shared/contract/import.ts';
import { explain } from '#shared/problem/registry.ts';
import { type Grid, markProblems, type SentOf, type Settled } from '#shared/table/grid.ts';
import type { ShownProblem } from './rows-table.tsx';

export type Problems = {
  readonly byLine: ReadonlyMap<number, readonly ShownProblem[]>;
  /** Of the list, or of its headings: they stand above the rows. */
  readonly whole: readonly ShownProblem[];
  readonly codes: ReadonlySet<string>;
  /** Also of those that the server counted and did not tell. */
  readonly count: number;
};

export function problemsIn(
  grid: Grid,
  settled: Settled,
  { columnOf }: SentOf,
  preview: ImportPreview | undefined,
): Problems {
  const byLine = new Map<number, ShownProblem[]>();
  const whole: ShownProblem[] = [];
  const codes = new Set<string>();
  const marked = new Set<string>();
  const headingLine = grid.rows[settled.headingAt]?.line ?? 0;
  const add = (line: number, code: string, problem: ShownProblem) => {
    codes.add(code);
    if (line <= headingLine) whole.push(problem);
    else byLine.set(line, [...(byLine.get(line) ?? []), problem]);
  };
  for (const { line, at, refusal } of markProblems(grid, settled)) {
    marked.add(`${line}:${at}`);
    add(line, refusal.code, { at, ...explain(refusal) });
  }
  let echoes = 0;
  for (const { line, column, code, words, remedy } of preview?.problems ?? []) {
    const at = columnOf(column);
    // What the spreadsheet's own mark says explains what the server made of the cell.
    if (marked.has(`${line}:${at}`)) echoes += 1;
    else add(line, code, { at, words, remedy });
  }
  return { byLine, whole, codes, count: (preview?.problemCount ?? 0) - echoes + marked.size };
}
