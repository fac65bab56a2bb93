/**
 * The three lists that can be brought, one after the other into one scratch ledger: what any of them makes of the ledger, and every problem
 * of all of them (rules I2, I3, I6).
 */
import type { Ledger } from '#shared/ledger/fold.ts';
import { numberKey } from '#shared/part/from-words.ts';
import type { CellProblem, FieldColumn } from './columns.ts';
import type { CsvTable } from './csv.ts';
import type { ImportContext, ImportOutcome } from './import.ts';
import { importParts, PARTS_COLUMNS } from './parts-file.ts';
import { importTargets, TARGETS_COLUMNS } from './targets-file.ts';
import { importWeighings, WEIGHINGS_COLUMNS } from './weighings-file.ts';

/** In the order in which they are read: weighings may be of parts of the same import. */
export const IMPORT_KINDS = ['parts', 'targets', 'weighings'] as const;
export type ImportKind = (typeof IMPORT_KINDS)[number];

export const COLUMNS_OF: Readonly<Record<ImportKind, readonly FieldColumn[]>> = {
  parts: PARTS_COLUMNS,
  targets: TARGETS_COLUMNS,
  weighings: WEIGHINGS_COLUMNS,
};

/** A table, and for a field the heading that stands for it where that is not one of the usual names. */
export type List = { readonly table: CsvTable; readonly renamed: Readonly<Record<string, string>> };
export type Lists = Partial<Record<ImportKind, List>>;
export type ListProblem = CellProblem & { readonly list: ImportKind };
export type Outcomes = Partial<Record<ImportKind, ImportOutcome>>;

/** Reads the lists into the context's ledger, which they change. */
export function draftLists(
  lists: Lists,
  context: ImportContext & { readonly ledger: Ledger },
): { readonly outcomes: Outcomes; readonly problems: readonly ListProblem[] } {
  const read = { parts: importParts, targets: importTargets, weighings: importWeighings };
  const outcomes: Outcomes = {};
  for (const kind of IMPORT_KINDS) {
    const list = lists[kind];
    if (list !== undefined) outcomes[kind] = read[kind](list.table, context, list.renamed);
  }
  return { outcomes, problems: problemsOf(outcomes) };
}

function problemsOf(outcomes: Outcomes): readonly ListProblem[] {
  const named = outcomes.parts?.namedParts ?? new Set<string>();
  // A part whose own row has a problem is not unknown: its weighings would only repeat that problem.
  const isEcho = ({ refusal }: CellProblem) => refusal.code === 'unknown-part' && named.has(numberKey(refusal.part));
  return IMPORT_KINDS.flatMap((list) =>
    (outcomes[list]?.problems ?? [])
      .filter((problem) => !isEcho(problem))
      .map((problem): ListProblem => ({ ...problem, list })),
  );
}
