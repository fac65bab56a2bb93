/** Helpers for tests of imports: a context over a chain's ledger, and outcomes in short. */
import type { RecordedEntry } from '#shared/ledger/entry.ts';
import { foldEntries } from '#shared/ledger/fold.ts';
import type { CellProblem } from '#shared/table/columns.ts';
import { type CsvTable, readCsv } from '#shared/table/csv.ts';
import type { ImportContext, ImportOutcome } from '#shared/table/import.ts';
import { TODAY, uuidOf } from '../ledger/make-entries.ts';

export function tableOf(...lines: string[]): CsvTable {
  const table = readCsv(lines.join('\n'));
  if (!table.ok) throw new Error(table.refusal.refusal.code);
  return table.value;
}

/** Ids are made from names: the same name, the same id. */
export function idOf(name: string): string {
  let hash = 0;
  for (const character of name) hash = (Math.imul(hash, 31) + (character.codePointAt(0) ?? 0)) >>> 0;
  return uuidOf(hash, 5);
}

export function contextOf(
  entries: readonly RecordedEntry[] = [],
  changes: Partial<Pick<ImportContext, 'revise' | 'day' | 'today'>> = {},
): ImportContext {
  return { ledger: foldEntries(entries), today: TODAY, day: '2026-06-01', by: 'Ann', idOf, revise: false, ...changes };
}

/** Where and what: `line:column code`. */
export function told(outcome: { problems: readonly CellProblem[] }): string[] {
  return outcome.problems.map(({ line, column, refusal }) => `${line}:${column} ${refusal.code}`);
}

/** The entries of an outcome as a chain, after those that were there before. */
export function recorded(outcome: ImportOutcome, before: readonly RecordedEntry[] = []): RecordedEntry[] {
  const added = outcome.entries.map((entry, at) => ({ seq: before.length + at + 1, recordedAt: '', entry }));
  return [...before, ...added];
}
