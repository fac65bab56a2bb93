/**
 * A list of weighings into entries (rules W1, W2, L4). A row that the ledger holds already is passed over, so that a shop
 * may keep one growing list and import it again; the same row twice in one list is a slip and is refused.
 */
import canonicalize from 'canonicalize';
import { type Objection, toDay } from '#shared/ledger/admit.ts';
import { toWeighedPart } from '#shared/ledger/admit-weighing.ts';
import { stateOf } from '#shared/ledger/books.ts';
import type { EntryId, Stamp, StatementOf } from '#shared/ledger/entry.ts';
import { numberKey } from '#shared/part/from-words.ts';
import { ASSEMBLY_FIELDS, assemblyFromWords } from '#shared/weighing/assembly-from-words.ts';
import { weighingFromWords } from '#shared/weighing/from-words.ts';
import { rowDigitKg } from '#shared/weighing/on-scale.ts';
import { scaleKey } from '#shared/weighing/scales.ts';
import { FieldReader } from '#shared/words/field-reader.ts';
import {
  type Columns,
  cellOf,
  type FieldColumn,
  fieldsOfRow,
  matchColumns,
  PART_NAMES,
  UNIT_COLUMN,
} from './columns.ts';
import type { CsvRow, CsvTable } from './csv.ts';
import { type ImportContext, ImportDraft, type ImportOutcome, nearest, stampOf } from './import.ts';
import { WeighingDoubts } from './weighing-doubts.ts';

export const WEIGHINGS_COLUMNS: readonly FieldColumn[] = [
  {
    field: 'part',
    holds: 'text',
    required: true,
    names: [...PART_NAMES, 'number'],
  },
  { field: 'piece', holds: 'text', names: ['serial', 'piece number', 'serial number'] },
  { field: 'pieces', holds: 'count', names: ['number of pieces', 'qty', 'quantity', 'count'] },
  { field: 'date', holds: 'text', names: ['day', 'weighed on', 'released on'] },
  {
    field: 'gross',
    holds: 'mass',
    required: true,
    names: ['gross mass', 'gross weight', 'gross wt', 'reading', 'scale reading', 'on scale'],
  },
  { field: 'tare', holds: 'mass', names: ['tare mass', 'tare weight', 'tare wt'] },
  UNIT_COLUMN,
  { field: 'condition', holds: 'text', required: true, names: ['state', 'weighed as'] },
  { field: 'scale', holds: 'text', names: ['scales', 'balance'] },
  { field: 'fixture', holds: 'text', names: ['cradle', 'tray'] },
  { field: 'resolution', holds: 'mass', names: ['scale resolution', 'scale division', 'd'] },
  { field: 'by', holds: 'text', names: ['who', 'initials', 'weighed by', 'person'] },
  { field: 'note', holds: 'text', names: ['remark', 'remarks', 'notes', 'comment'] },
  { field: 'cause', holds: 'text', names: ['why', 'reason'] },
  { field: 'lot', holds: 'text', names: ['roll', 'material lot', 'fabric lot'] },
  { field: 'batch', holds: 'text', names: ['resin batch', 'mix'] },
  { field: 'operator', holds: 'text', names: ['laid up by', 'made by'] },
  { field: 'temperature', holds: 'temperature', names: ['shop temperature', 'temp'] },
  { field: 'humidity', holds: 'share', names: ['relative humidity', 'rh'] },
  { field: 'not yet in', holds: 'text', names: ['without', 'not in it'] },
];

/** Reads a weighings table into the context's scratch ledger, which holds the parts. */
export function importWeighings(
  table: CsvTable,
  context: ImportContext,
  renamed: Readonly<Record<string, string>> = {},
): ImportOutcome {
  const draft = new ImportDraft(context);
  const columns = matchColumns(table, WEIGHINGS_COLUMNS, renamed);
  draft.problems.push(...columns.problems);
  for (const heading of columns.unused) draft.warnings.push(`The column headed ${heading} is not used.`);
  if (columns.problems.length > 0) return draft.outcome(table.rows.length);
  const known = new Set(context.ledger.entryById.keys());
  const lineOf = new Map<EntryId, number>();
  const digitKgOf = scaleDigits(table, columns);
  const doubts = new WeighingDoubts(context.ledger);
  for (const row of table.rows) takeRow(row, { table, columns, context, draft, known, lineOf, digitKgOf, doubts });
  draft.drifts = doubts.finish();
  draft.doubts = doubts.doubts;
  return draft.outcome(table.rows.length);
}

type Taking = {
  readonly table: CsvTable;
  readonly columns: Columns;
  readonly context: ImportContext;
  readonly draft: ImportDraft;
  /** Ids that stood in the ledger before this import, and the lines of this import's own. */
  readonly known: ReadonlySet<EntryId>;
  readonly lineOf: Map<EntryId, number>;
  readonly digitKgOf: ReadonlyMap<string, number>;
  readonly doubts: WeighingDoubts;
};

function takeRow(row: CsvRow, taking: Taking): void {
  const { table, columns, context, draft, known, lineOf, digitKgOf } = taking;
  const reader = new FieldReader(fieldsOfRow(row, columns), columns.manner);
  if (row.cells.slice(table.heading.cells.length).some((cell) => cell.trim() !== ''))
    reader.problem('', { code: 'cells-too-many', cells: row.cells.length, columns: table.heading.cells.length });
  const stamp = { day: reader.day('date'), by: reader.text('by', 60), remark: reader.text('note', 2000) };
  reader.need('part');
  const part = partOf(reader, context, draft.problems.length < MOST_HINTS);
  const digitKg = digitKgOf.get(scaleKey(reader.raw('scale') ?? ''));
  // A row that says what is not yet in it speaks of an assembly, also where it says `none`.
  const weighing =
    part !== undefined && reader.has('not yet in')
      ? assemblyRow(reader, part, { context, day: stamp.day, digitKg })
      : weighingFromWords(reader, part ?? UNKNOWN_PART, digitKg);
  if (reader.problems.length > 0 || part === undefined || weighing === undefined) {
    for (const { field, refusal } of reader.problems)
      if (part !== undefined || refusal.code !== 'no-such-piece')
        draft.problems.push({ ...cellOf(row, field, columns), refusal });
    for (const { path, refusal } of besideItsCells(reader, { part, day: stamp.day, context }))
      draft.problems.push({ ...cellOf(row, columnOf(path), columns), refusal });
    return;
  }
  const own = identityOf(weighing, reader);
  // Who wrote it down is no part of it, nor is the day of the import where neither the row nor the person states one: tomorrow the row is still the same row.
  const { day = context.day === context.today ? undefined : context.day, remark } = stamp;
  const name = `${weighing.kind} ${canonicalize({ ...own, resolution: reader.raw('resolution'), day, remark })}`;
  const stamped = { ...weighing, ...stampOf(context, name, stamp) };
  const firstLine = lineOf.get(stamped.id);
  if (firstLine !== undefined) {
    draft.problems.push({ ...cellOf(row, 'part', columns), refusal: { code: 'row-twice', firstLine } });
    return;
  }
  lineOf.set(stamped.id, row.line);
  if (known.has(stamped.id)) draft.knownRows += 1;
  else enterRow(row, stamped, taking);
}

/** What is doubtful is entered as it stands: whoever brings it is asked (rule W4). */
function enterRow(row: CsvRow, weighing: Weighing, { draft, doubts, columns }: Taking): void {
  const seq = draft.nextSeq;
  const { line } = row;
  const { happenedOn } = weighing;
  const asked = weighing.kind === 'weighing' ? doubts.about(weighing, { line, seq, happenedOn }) : [];
  if (draft.admit(weighing, (path) => cellOf(row, columnOf(path), columns)))
    doubts.entered(seq, { line, weighing }, asked);
}

type Weighing = Stamp & (StatementOf<'weighing'> | StatementOf<'assembly weighing'>);

/** What the ledger objects to in a row that cannot be read as a whole, so that it is told with the rest. */
function besideItsCells(
  reader: FieldReader,
  of: {
    readonly part: StatementOf<'part added'> | undefined;
    readonly day: string | undefined;
    readonly context: ImportContext;
  },
): readonly Objection[] {
  const { part, day, context } = of;
  return [
    ...(day === undefined ? [] : toDay(day, context.today, ['happenedOn'])),
    ...(part === undefined || reader.has('not yet in') ? [] : toWeighedPart(part, context.ledger)),
  ];
}

function assemblyRow(
  reader: FieldReader,
  part: StatementOf<'part added'>,
  of: { readonly context: ImportContext; readonly day: string | undefined; readonly digitKg: number | undefined },
): StatementOf<'assembly weighing'> | undefined {
  // A cell that would be passed over in silence is told.
  for (const { field } of WEIGHINGS_COLUMNS)
    if (
      !ROW_FIELDS.includes(field) &&
      reader.has(field) &&
      !(PIECE_FIELDS.includes(field) && reader.raw(field) === '1')
    )
      reader.problem(field, { code: 'not-of-assembly', what: field });
  const at = { happenedOn: of.day ?? of.context.day, seq: Number.POSITIVE_INFINITY };
  return assemblyFromWords(reader, part, { ledger: of.context.ledger, at }, of.digitKg);
}

const ROW_FIELDS: readonly string[] = ['part', 'date', 'by', 'note', ...ASSEMBLY_FIELDS];
/** An assembly is one piece, and a list may say so in every row. */
const PIECE_FIELDS: readonly string[] = ['piece', 'pieces'];

/**
 * What makes a row itself. What follows from other rows (the resolution) is no part of it. Of an assembly it is what the row says was not
 * yet in it, and not the list of parts that follows: a part that joins the assembly afterwards must not make this another row.
 */
function identityOf(weighing: StatementOf<'weighing'> | StatementOf<'assembly weighing'>, reader: FieldReader): object {
  const { grossResolutionKg, tareResolutionKg, resolutionFrom, typed, ...own } = weighing;
  if (own.kind === 'weighing') return own;
  const { members, ...ofAssembly } = own;
  const named = (reader.raw('not yet in') ?? '').split(';').map(numberKey);
  return { ...ofAssembly, 'not yet in': named.filter((words) => words !== '' && words !== 'none').sort() };
}

/** Stands in for a part that was not found, so that the rest of its row is still read for problems. */
const UNKNOWN_PART = { partId: '' as never, number: '', quantity: 1 };

/** Looking for the number that was meant costs a pass over all parts; a file that is wrong throughout needs no more hints. */
const MOST_HINTS = 100;

function partOf(reader: FieldReader, context: ImportContext, withHint: boolean) {
  const number = reader.raw('part');
  if (number === undefined) return undefined;
  const { books } = context.ledger;
  const partId = books.byNumber.get(numberKey(number));
  const definition = partId === undefined ? undefined : stateOf(books, partId)?.definition;
  if (definition !== undefined) return definition;
  const key = withHint ? nearest(numberKey(number), [...books.byNumber.keys()]) : undefined;
  const nearId = key === undefined ? undefined : books.byNumber.get(key);
  const near = nearId === undefined ? undefined : stateOf(books, nearId)?.definition?.number;
  reader.problem('part', { code: 'unknown-part', part: number, near });
  return undefined;
}

/** The finest digit that each named scale shows in the file, by `scaleKey`. */
function scaleDigits(table: CsvTable, columns: Columns): ReadonlyMap<string, number> {
  const digits = new Map<string, number>();
  for (const row of table.rows) {
    const reader = new FieldReader(fieldsOfRow(row, columns), columns.manner);
    const name = reader.raw('scale');
    const scale = name === undefined ? undefined : scaleKey(name);
    if (scale !== undefined)
      digits.set(scale, Math.min(digits.get(scale) ?? Number.POSITIVE_INFINITY, rowDigitKg(reader)));
  }
  return digits;
}

function columnOf(path: readonly string[]): string {
  const columns: Readonly<Record<string, string>> = {
    happenedOn: 'date',
    partId: 'part',
    pieces: 'piece',
    members: 'not yet in',
    readings: 'gross',
    netKg: 'gross',
  };
  return columns[path[0] ?? 'part'] ?? path[0] ?? 'part';
}
