/** Reads lists against a ledger, the same way as the command does, and answers with the entries they would make. Works in one go. */

import { createHash } from 'node:crypto';
import { stableId } from '#db/record/stable-id.ts';
import { type ListPreview, MOST_CELL, MOST_ROWS, type SentList } from '#shared/contract/import.ts';
import { entryText } from '#shared/ledger/canonical.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import type { Refusal } from '#shared/problem/registry.ts';
import { byPlace } from '#shared/table/columns.ts';
import { type CsvTable, readCsv } from '#shared/table/csv.ts';
import type { ImportOutcome } from '#shared/table/import.ts';
import {
  COLUMNS_OF,
  draftLists,
  IMPORT_KINDS,
  type ImportKind,
  type List,
  type ListProblem,
} from '#shared/table/lists.ts';
import type { RowDoubt } from '#shared/table/weighing-doubts.ts';
import { LOCALE } from '#shared/words/say.ts';
import type { DraftAnswer, DraftQuestion } from './draft.ts';

/** `ledger` is a scratch one: the lists write into it. */
export function draftOfLists(ledger: Ledger, question: Omit<DraftQuestion, 'from' | 'added'>): DraftAnswer {
  const headSeq = ledger.entries.at(-1)?.seq ?? 0;
  const tables: { -readonly [kind in ImportKind]?: List } = {};
  const problems: ListProblem[] = [];
  for (const kind of IMPORT_KINDS) {
    const sent = question.lists[kind];
    if (sent === undefined) continue;
    const read = listOf(kind, sent);
    problems.push(...read.problems);
    if (read.table !== undefined) tables[kind] = { table: read.table, renamed: sent.columns ?? {} };
  }
  if (problems.length > 0) return { headSeq, digest: '', contents: [], kinds: {}, lists: {}, problems };
  const { aircraftId, today, by, revise } = question;
  const idOf = (name: string) => stableId(aircraftId, name);
  const drafted = draftLists(tables, { ledger, today, day: today, by, revise, isOwn: true, idOf });
  const entries = IMPORT_KINDS.flatMap((kind) => drafted.outcomes[kind]?.entries ?? []);
  const contents = drafted.problems.length > 0 ? [] : entries.map(entryText);
  const lists = Object.fromEntries(
    IMPORT_KINDS.flatMap((kind) => {
      const outcome = drafted.outcomes[kind];
      return outcome === undefined ? [] : [[kind, shownOf(outcome)]];
    }),
  );
  return {
    headSeq,
    digest: digestOf(contents, lists),
    contents,
    kinds: countBy(entries.map(({ kind }) => kind)),
    lists,
    problems: drafted.problems,
  };
}

/** A doubt that was not shown is as much another draft as an entry that was not. */
function digestOf(contents: readonly string[], lists: DraftAnswer['lists']): string {
  const doubts = Object.values(lists).flatMap((list) => list?.doubts ?? []);
  return createHash('sha256')
    .update([...contents, ...doubts.map((doubt) => JSON.stringify(doubt))].join('\n'))
    .digest('hex');
}

function shownOf({ rowCount, knownRows, warnings, listed, allowances, doubts, drifts }: ImportOutcome): ListPreview {
  return {
    rowCount,
    knownRows,
    warnings: warnings.slice(0, MOST_WARNINGS),
    listed,
    allowances: allowances.map((one) => ({ ...one, processes: [...one.processes] })),
    doubts: sameDoubts(doubts),
    drifts: drifts.slice(0, MOST_DRIFTS),
    driftCount: drifts.length,
  };
}

/** Most doubts say the same of many rows. */
function sameDoubts(doubts: readonly RowDoubt[]): ListPreview['doubts'] {
  const by = new Map<string, ListPreview['doubts'][number]>();
  for (const { slip, words, line } of doubts) {
    const key = `${slip}\n${words}`;
    const same = by.get(key);
    if (same === undefined) by.set(key, { slip, words, lines: [line] });
    else same.lines.push(line);
  }
  return [...by.values()];
}

const MOST_DRIFTS = 200;
const MOST_WARNINGS = 100;

function listOf(
  list: ImportKind,
  sent: SentList,
): { readonly table?: CsvTable; readonly problems: readonly ListProblem[] } {
  const whole = (refusal: Refusal, line = 0, column = 0): ListProblem => ({ list, line, column, heading: '', refusal });
  const unknown = unknownFields(list, sent);
  if (unknown.length > 0) return { problems: unknown.map((refusal) => whole(refusal)) };
  const table = sent.rows === undefined ? readCsv(sent.text ?? '') : tableOfRows(sent.rows);
  if (!table.ok) return { problems: [whole(table.refusal.refusal, table.refusal.line)] };
  const { rows, heading } = table.value;
  if (rows.length > MOST_ROWS)
    return { problems: [whole({ code: 'file-too-large', most: `${MOST_ROWS.toLocaleString(LOCALE)} rows` })] };
  // To read a quantity takes longer with the square of its length.
  const long = [heading, ...rows].flatMap(({ line, cells }) =>
    cells.flatMap((cell, at) =>
      cell.length > MOST_CELL
        ? [whole({ code: 'text-refused', why: `is longer than ${MOST_CELL} characters` }, line, at + 1)]
        : [],
    ),
  );
  if (long.length > 0) return { problems: long.sort(byPlace) };
  const { decimalComma } = sent;
  return { table: { ...table.value, ...(decimalComma === undefined ? {} : { decimalComma }) }, problems: [] };
}

/** A field that the list has not would be passed over in silence, and its column with it. */
function unknownFields(list: ImportKind, sent: SentList): readonly Refusal[] {
  const choices = COLUMNS_OF[list].map(({ field }) => field);
  return Object.keys(sent.columns ?? {})
    .filter((field) => !choices.includes(field))
    .map((text) => ({ code: 'not-a-choice', text, choices }));
}

function tableOfRows(sent: NonNullable<SentList['rows']>): ReturnType<typeof readCsv> {
  const rows = sent
    .map(([line, cells]) => ({ line, cells }))
    .filter(({ cells }) => cells.some((cell) => cell.trim() !== ''));
  const [heading, ...rest] = rows;
  if (heading === undefined) return { ok: false, refusal: { line: 1, refusal: { code: 'file-empty' } } };
  if (rest.length === 0) return { ok: false, refusal: { line: heading.line, refusal: { code: 'no-rows' } } };
  // Cells were copied or read one by one: nothing separates them, and a tab says as much.
  return { ok: true, value: { separator: '\t', heading, rows: rest } };
}

function countBy(words: readonly string[]): Readonly<Record<string, number>> {
  const counts: Record<string, number> = {};
  for (const word of words) counts[word] = (counts[word] ?? 0) + 1;
  return counts;
}
