/**
 * Which tables an aircraft is carried in, and their columns (rule X1): one table for each kind of entry. First what a person looks for, in the
 * words in which it was stated; then the record itself, field by field under its own name, so that a field that is new travels by itself;
 * what is nested stands as JSON in its cell.
 */
import { Entry, type Statement } from '#shared/ledger/entry.ts';
import { FIELDS, KINDS } from '#shared/words/fields.ts';

export type EntryKind = Statement['kind'] | 'correction';

export const ENTRY_KINDS: readonly EntryKind[] = [...KINDS, 'correction'];

/** `words` are told for people and made anew; the others are the record. */
export type ColumnIs = 'text' | 'json' | 'words';

export type Column = {
  readonly heading: string;
  readonly is: ColumnIs;
  /** The field of the entry, or of the chain (`seq`, `recordedAt`, `hash`); of words that of `statementInWords`. */
  readonly field: string;
};

/** The heading of the last column, which has the check digits of the row. */
export const CHECK = 'check';

/** The fields that every entry has; they stand at the two ends of a row. */
const FIRST: readonly Column[] = [
  { heading: 'entry', is: 'json', field: 'seq' },
  { heading: 'day', is: 'text', field: 'happenedOn' },
  { heading: 'who', is: 'text', field: 'by' },
];
const LAST: readonly Column[] = [
  { heading: 'remark', is: 'text', field: 'remark' },
  { heading: 'id', is: 'text', field: 'id' },
  { heading: 'recorded', is: 'text', field: 'recordedAt' },
  { heading: 'hash', is: 'text', field: 'hash' },
];
const STAMPS = new Set(['kind', ...[...FIRST, ...LAST].map(({ field }) => field)]);

/** Told in words and in no field of its own. */
const MORE_WORDS: Readonly<Partial<Record<EntryKind, readonly string[]>>> = {
  'assembly weighing': ['in it'],
  'aircraft weighing': ['not aboard'],
  correction: ['corrects', 'part', 'says'],
};
/** `not yet in` is told by what is in it; the target of a group stands in `groups`. */
const LEFT_OUT: ReadonlySet<string> = new Set(['not yet in', 'not aboard']);

/** The columns of a kind without that of the check digits, in their order. */
export const COLUMNS: ReadonlyMap<EntryKind, readonly Column[]> = new Map(
  ENTRY_KINDS.map((kind) => [kind, columnsOf(kind)]),
);

/** Where entries of a kind stand. */
export function fileOfKind(kind: EntryKind): string {
  return `${kind.replaceAll(' ', '-')}.csv`;
}

function columnsOf(kind: EntryKind): readonly Column[] {
  const record = recordColumns(kind);
  const own = new Set(record.map(({ field }) => field));
  const fields = kind === 'correction' ? [] : FIELDS[kind];
  const words = [...fields.filter((field) => !LEFT_OUT.has(field)), ...(MORE_WORDS[kind] ?? [])];
  return [
    ...FIRST,
    ...words.filter((field) => !own.has(field)).map((field): Column => ({ heading: field, is: 'words', field })),
    ...record,
    ...LAST,
  ];
}

/** The fields of a kind, as the shape of an entry names them. */
function recordColumns(kind: EntryKind): readonly Column[] {
  const shape = Entry.options.find((option) => option.shape.kind.value === kind)?.shape;
  if (shape === undefined) throw new Error(`no entry is of the kind ${kind}`);
  return Object.entries(shape)
    .filter(([field]) => !STAMPS.has(field))
    .map(([field, type]) => ({ heading: field, is: isText(type as unknown as Shape) ? 'text' : 'json', field }));
}

/** As much of a Zod type as is looked at here. */
type Shape = { readonly def: { readonly type: string; readonly innerType?: Shape } };

function isText({ def }: Shape): boolean {
  if (def.innerType !== undefined) return isText(def.innerType);
  return def.type === 'string' || def.type === 'enum';
}
