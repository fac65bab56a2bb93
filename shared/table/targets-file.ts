/**
 * A target baseline from a file of two columns, target and value: `empty mass, 372 kg`; `cg forward, 21 % MAC`; `group wing, 84 kg`.
 */
import type { StatementOf } from '#shared/ledger/entry.ts';
import { inForce } from '#shared/ledger/fold.ts';
import { type GroupTarget, groupTarget, TARGET_FIELDS, targetsFromWords } from '#shared/target/from-words.ts';
import { FieldReader } from '#shared/words/field-reader.ts';
import { type CellProblem, type Columns, cellOf, type FieldColumn, fieldsOfRow, matchColumns } from './columns.ts';
import type { CsvRow, CsvTable } from './csv.ts';
import { type ImportContext, ImportDraft, type ImportOutcome, stampOf } from './import.ts';

export const TARGETS_COLUMNS: readonly FieldColumn[] = [
  { field: 'target', holds: 'text', required: true, names: ['what', 'item', 'name'] },
  { field: 'value', holds: 'text', required: true, names: ['is', 'amount'] },
];

/** Reads a targets table into the context's scratch ledger: one entry. */
export function importTargets(
  table: CsvTable,
  context: ImportContext,
  renamed: Readonly<Record<string, string>> = {},
): ImportOutcome {
  const draft = new ImportDraft(context);
  const columns = matchColumns(table, TARGETS_COLUMNS, renamed);
  draft.problems.push(...columns.problems);
  if (columns.problems.length > 0) return draft.outcome(table.rows.length);
  const { words, groups, rowOf } = gather(table, columns, draft);
  const reader = new FieldReader(words);
  const targets = targetsFromWords(reader, inForce(context.ledger, 'aircraft'), groups);
  for (const { field, refusal } of reader.problems)
    draft.problems.push(placeOf(rowOf.get(field), table, columns, refusal));
  if (draft.problems.length === 0 && targets !== undefined) takeTargets(targets, { table, context, draft, columns });
  return draft.outcome(table.rows.length);
}

function gather(table: CsvTable, columns: Columns, draft: ImportDraft) {
  const words: Record<string, string> = {};
  const groups: GroupTarget[] = [];
  const rowOf = new Map<string, CsvRow>();
  for (const row of table.rows) {
    const { target = '', value = '' } = fieldsOfRow(row, columns);
    const name = target.trim().replace(/\s+/g, ' ');
    const field = TARGET_FIELDS.find((known) => known === name.toLowerCase().replace(/[_-]/g, ' '));
    const group = /^group\s+(.+)$/i.exec(name)?.[1];
    const place = (column: 'target' | 'value') => cellOf(row, column, columns);
    if (group !== undefined) {
      const read = groupTarget(new FieldReader({}), 'value', group, value);
      if (read.ok) groups.push(read.value);
      else draft.problems.push({ ...place('value'), refusal: read.refusal });
      rowOf.set('group', row);
    } else if (field === undefined) {
      const choices = [...TARGET_FIELDS, 'group <name>'];
      draft.problems.push({ ...place('target'), refusal: { code: 'not-a-choice', text: target, choices } });
    } else {
      const first = rowOf.get(field);
      if (first !== undefined)
        draft.problems.push({ ...place('target'), refusal: { code: 'row-twice', firstLine: first.line } });
      words[field] = value;
      rowOf.set(field, row);
    }
  }
  return { words, groups, rowOf };
}

function placeOf(
  row: CsvRow | undefined,
  table: CsvTable,
  columns: Columns,
  refusal: CellProblem['refusal'],
): CellProblem {
  return { ...cellOf(row ?? table.heading, 'value', columns), refusal };
}

function takeTargets(
  targets: StatementOf<'targets'>,
  taking: { table: CsvTable; context: ImportContext; draft: ImportDraft; columns: Columns },
): void {
  const { table, context, draft, columns } = taking;
  const inLedger = inForce(context.ledger, 'targets');
  const figures = ({ emptyMassKg, reserveKg, cgForwardM, cgAftM, groups, partLimit }: StatementOf<'targets'>) =>
    JSON.stringify({ emptyMassKg, reserveKg, cgForwardM, cgAftM, groups, partLimit });
  if (inLedger !== undefined && figures(inLedger) === figures(targets)) {
    draft.knownRows = table.rows.length;
    return;
  }
  const revision = context.ledger.whole.targets.size + 1;
  const stamp = stampOf(context, `targets ${revision}`, { day: undefined, by: undefined, remark: undefined });
  draft.admit({ ...targets, ...stamp }, () => cellOf(table.heading, 'value', columns));
}
