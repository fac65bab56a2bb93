/** Entries as tables and back (rule X1): from the rows comes the canonical text of every entry, character by character. */
import canonicalize from 'canonicalize';
import { entryFromText } from '#shared/ledger/canonical.ts';
import type { Entry, Member, PartId, Statement } from '#shared/ledger/entry.ts';
import { statementInWords } from '#shared/words/statement-in-words.ts';
import { jsonCell, textCell, textOfCell, valueOfCell } from './cells.ts';
import { COLUMNS, type Column, ENTRY_KINDS, type EntryKind } from './columns.ts';
import type { Row, Table, TableProblem } from './table.ts';

/** An entry in its chain: `content` is its canonical text, `hash` its own. */
export type ChainedText = {
  readonly seq: number;
  readonly recordedAt: string;
  readonly hash: string;
  readonly content: string;
};

/** The tables of a chain: one for each kind of which there are entries, each in the order of the chain. */
export function entryTables(entries: readonly ChainedText[]): ReadonlyMap<EntryKind, Table> {
  const rows = new Map<EntryKind, (readonly string[])[]>();
  const teller = new Teller();
  for (const chained of entries) {
    const fields = new Map<string, unknown>(Object.entries(JSON.parse(chained.content) as object));
    const entry = entryFromText(chained.content);
    const words = teller.wordsOf(entry, chained.seq);
    for (const name of ['seq', 'recordedAt', 'hash'] as const) fields.set(name, chained[name]);
    const cells = columnsOf(entry.kind).map((column) => cellOf(column, fields, words));
    const before = rows.get(entry.kind);
    if (before === undefined) rows.set(entry.kind, [cells]);
    else before.push(cells);
  }
  return new Map(
    ENTRY_KINDS.flatMap((kind) => {
      const table = rows.get(kind);
      return table === undefined ? [] : [[kind, { headings: headingsOf(kind), rows: table }] as const];
    }),
  );
}

export function headingsOf(kind: EntryKind): readonly string[] {
  return columnsOf(kind).map(({ heading }) => heading);
}

function columnsOf(kind: EntryKind): readonly Column[] {
  return COLUMNS.get(kind) ?? [];
}

function cellOf(
  { is, field }: Column,
  fields: ReadonlyMap<string, unknown>,
  words: Readonly<Record<string, string | undefined>>,
): string {
  if (is === 'words') return textCell(words[field]);
  const value = fields.get(field);
  return is === 'text' ? textCell(value === undefined ? undefined : String(value)) : jsonCell(value);
}

/** Tells entries in words, and knows the numbers of parts and entries from those that it has told. */
class Teller {
  readonly #numbers = new Map<PartId, string>();
  readonly #seqs = new Map<string, number>();

  wordsOf(entry: Entry, seq: number): Readonly<Record<string, string | undefined>> {
    this.#seqs.set(entry.id, seq);
    const statement = entry.kind === 'correction' ? entry.replacement?.statement : entry;
    if (statement?.kind === 'part added') this.#numbers.set(statement.partId, statement.number);
    if (entry.kind !== 'correction') return this.#statementWords(entry);
    return {
      corrects: String(this.#seqs.get(entry.supersedesId) ?? ''),
      part: statement === undefined ? undefined : this.#partOf(statement),
      says: statement === undefined ? 'should never have been made' : sayingOf(this.#statementWords(statement)),
    };
  }

  #statementWords(statement: Statement): Readonly<Record<string, string | undefined>> {
    const words = statementInWords(statement, this.#partOf(statement) ?? '', this.#numbers);
    if (statement.kind === 'assembly weighing') return { ...words, 'in it': this.#members(statement.members) };
    if (statement.kind === 'aircraft weighing') return { ...words, 'not aboard': this.#members(statement.missing) };
    return words;
  }

  #partOf(statement: Statement): string | undefined {
    return 'partId' in statement && statement.partId !== undefined && statement.kind !== 'part added'
      ? this.#numbers.get(statement.partId)
      : undefined;
  }

  #members(members: readonly Member[]): string | undefined {
    const told = members.map(({ partId, pieces }) => {
      const number = this.#numbers.get(partId) ?? partId;
      return pieces === undefined ? number : `${number} piece ${pieces.join(', ')}`;
    });
    return told.length === 0 ? undefined : told.join('; ');
  }
}

function sayingOf(words: Readonly<Record<string, string | undefined>>): string {
  return Object.entries(words)
    .flatMap(([field, text]) => (text === undefined || field === 'part' ? [] : [`${field} ${text}`]))
    .join(', ');
}

export type ReadRow = { readonly line: number; readonly chained: ChainedText };

/** The entries of the rows of one table. A row from which none can be read is a problem at its cell. */
export function entriesOfRows(
  kind: EntryKind,
  rows: readonly Row[],
): { readonly entries: readonly ReadRow[]; readonly problems: readonly TableProblem[] } {
  const columns = columnsOf(kind);
  const entries: ReadRow[] = [];
  const problems: TableProblem[] = [];
  for (const { line, cells } of rows) {
    const fields: Record<string, unknown> = { kind };
    const before = problems.length;
    for (const [at, { is, field, heading }] of columns.entries()) {
      if (is === 'words') continue;
      const cell = cells[at] ?? '';
      const read = is === 'text' ? { isWhole: true, value: textOfCell(cell) } : valueOfCell(cell);
      if (!read.isWhole)
        problems.push({ line, column: at + 1, heading, refusal: { code: 'archive-changed', what: 'cell' } });
      else if (read.value !== undefined) fields[field] = read.value;
    }
    if (problems.length > before) continue;
    const { seq, recordedAt, hash, ...own } = fields;
    const why = misfit(seq, recordedAt, hash);
    if (why !== undefined) {
      problems.push({ line, column: 0, heading: '', refusal: { code: 'archive-row-refused', why } });
      continue;
    }
    const content = canonicalize(own) ?? '';
    entries.push({
      line,
      chained: { seq: Number(seq), recordedAt: String(recordedAt), hash: String(hash), content },
    });
  }
  return { entries, problems };
}

function misfit(seq: unknown, recordedAt: unknown, hash: unknown): string | undefined {
  if (!Number.isSafeInteger(seq) || Number(seq) < 1) return 'it has no number of an entry';
  if (typeof recordedAt !== 'string' || !MOMENT.test(recordedAt)) return 'it does not say when it was recorded';
  if (typeof hash !== 'string' || !HASH.test(hash)) return 'it has no hash';
  return undefined;
}

export const MOMENT = /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}\.\d{3}Z$/;
export const HASH = /^[0-9a-f]{64}$/;
