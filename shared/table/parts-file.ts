/**
 * A parts list into entries: a part added, and its estimate (rules E1, section 3). Assemblies are rows of the same list, in any
 * order. A part that is in the ledger already is recognised; a changed estimate needs `revise`.
 */
import { estimateFromWords } from '#shared/estimate/from-words.ts';
import { stateOf } from '#shared/ledger/books.ts';
import { differingFields } from '#shared/ledger/canonical.ts';
import { type Entry, type EntryId, type PartId, Process, type StatementOf } from '#shared/ledger/entry.ts';
import { allowancesBefore, type Ledger } from '#shared/ledger/fold.ts';
import type { Standing } from '#shared/ledger/part-state.ts';
import { numberKey, partFromWords } from '#shared/part/from-words.ts';
import type { Refusal } from '#shared/problem/registry.ts';
import { estimateReport } from '#shared/rollup/part-page.ts';
import { groupKey, groupsOf } from '#shared/target/groups.ts';
import { FieldReader } from '#shared/words/field-reader.ts';
import { addedAllowances } from './added-allowances.ts';
import {
  type CellProblem,
  type Columns,
  cellOf,
  type FieldColumn,
  fieldsOfRow,
  matchColumns,
  PART_NAMES,
  UNIT_COLUMN,
} from './columns.ts';
import type { CsvRow, CsvTable } from './csv.ts';
import { goingOn } from './going-on.ts';
import { type ImportContext, ImportDraft, type ImportOutcome, nearest, partIdOf, stampOf } from './import.ts';
import { looksLike } from './look-alike.ts';
import { sumWordAt } from './sum-line.ts';

/** `mass`, `est weight`, `weight estimate`, and the same with `m`, `w` and `wt`. */
const ESTIMATE_NAMES = [
  'mass',
  'weight',
  'wt',
  'unit mass',
  'unit weight',
  ...['mass', 'weight', 'wt', 'm', 'w'].flatMap((what) => [
    ...['est', 'estimate', 'estimated'].flatMap((word) => [`${what} ${word}`, `${word} ${what}`]),
  ]),
];

/** What a shop calls the mass that a part is to have: `planned wt`, `weight planned`. Not the target, which is not what the part is expected to weigh. */
const PLANNED_NAMES = [
  'planned',
  'plan',
  'design',
  'expected',
  'nominal',
  'calculated',
  'calc',
  'unit',
  'each',
].flatMap((word) => ['mass', 'weight', 'wt', 'm', 'w'].flatMap((what) => [`${word} ${what}`, `${what} ${word}`]));

/** `arm aft of datum`, `distance from datum`. */
const X_NAMES = ['arm', 'x', 'station', 'distance', 'cg', 'lever arm'].flatMap((what) =>
  ['aft of datum', 'from datum', 'behind datum', 'aft'].map((where) => `${what} ${where}`),
);

export const PARTS_COLUMNS: readonly FieldColumn[] = [
  {
    field: 'number',
    holds: 'text',
    required: true,
    names: [...PART_NAMES, 'part'],
  },
  {
    field: 'name',
    holds: 'text',
    names: ['description', 'desc', 'part name', 'title', 'designation', 'part description'],
  },
  {
    field: 'group',
    holds: 'text',
    required: true,
    names: [
      'functional group',
      'ata',
      'ata chapter',
      'chapter',
      'area',
      'area of a/c',
      'section',
      'zone',
      'part group',
    ],
  },
  {
    field: 'assembly',
    holds: 'text',
    names: ['assy', 'parent', 'parent assembly', 'belongs to', 'next assembly', 'next higher assembly', 'part of'],
  },
  {
    field: 'quantity',
    holds: 'count',
    names: [
      ...['qty', 'count', 'number of pieces', 'no of pieces', 'pcs', 'pieces', 'nos'],
      ...['no off', 'number off', 'qty off', 'quantity off', 'off'],
      ...['no reqd', 'qty reqd', 'quantity required', 'number required', 'qty per aircraft', 'no per aircraft'],
    ],
  },
  { field: 'side', holds: 'text', names: ['hand', 'lh/rh'] },
  { field: 'process', holds: 'text', names: ['made by', 'manufacture', 'manufacturing process', 'method'] },
  { field: 'estimate', holds: 'mass', names: ESTIMATE_NAMES, also: PLANNED_NAMES },
  UNIT_COLUMN,
  {
    field: 'x',
    holds: 'length',
    names: [
      'station',
      'fuselage station',
      'fs',
      'sta',
      'arm',
      'x arm',
      'arm x',
      'x cg',
      'cg x',
      'xcg',
      'cg',
      'moment arm',
    ],
    also: [...X_NAMES, 'lever arm', 'aft of datum', 'from datum', 'long arm', 'longitudinal arm'],
  },
  {
    field: 'y',
    holds: 'length',
    names: ['butt line', 'buttline', 'bl', 'y arm', 'arm y', 'y cg', 'cg y', 'ycg'],
    also: ['lateral arm', 'lat arm'],
  },
  {
    field: 'z',
    holds: 'length',
    names: ['waterline', 'water line', 'wl', 'z arm', 'arm z', 'z cg', 'cg z', 'zcg'],
    also: ['vertical arm', 'vert arm'],
  },
  { field: 'arm uncertainty', holds: 'length', names: ['arm std', 'u arm'] },
  { field: 'evidence', holds: 'text', names: ['basis', 'basis of estimate'] },
  {
    field: 'std uncertainty',
    holds: 'mass or share',
    names: ['standard uncertainty', 'uncertainty', 'u', 'std'],
    also: ['±', '+/', 'plus minus', 'plus/minus'],
  },
  { field: 'allowance', holds: 'share', names: ['growth allowance', 'growth', 'mass growth allowance'] },
  { field: 'later allowance', holds: 'share', names: ['allowance on later'] },
  { field: 'flash', holds: 'mass', names: ['comes off', 'trim off'] },
  { field: 'later', holds: 'mass', names: ['goes on later', 'added later'] },
  { field: 'finish', holds: 'mass', names: ['finish mass', 'goes on last'] },
  { field: 'date', holds: 'text', names: ['day'] },
  { field: 'by', holds: 'text', names: ['who', 'initials', 'person'] },
  { field: 'note', holds: 'text', names: ['remark', 'remarks', 'notes', 'comment', 'comments'] },
];

type Row = {
  readonly row: CsvRow;
  readonly reader: FieldReader;
  readonly key: string | undefined;
  readonly parentKey: string | undefined;
};

/** Reads a parts table into the context's scratch ledger. */
export function importParts(
  table: CsvTable,
  context: ImportContext,
  renamed: Readonly<Record<string, string>> = {},
): ImportOutcome {
  const draft = new ImportDraft(context);
  const columns = matchColumns(table, PARTS_COLUMNS, renamed);
  draft.problems.push(...columns.problems);
  for (const heading of columns.unused) draft.warnings.push(`The column headed ${heading} is not used.`);
  if (columns.problems.length > 0) return draft.outcome(table.rows.length);
  const known = groupsOf(context.ledger);
  // Where both spellings are there already, each stays what it is.
  const groups = new Map(
    [groupKey, (group: string) => group].flatMap((key) => known.map((group) => [key(group), group] as const)),
  );
  const rows = table.rows
    .filter((row) => !isSumLine(row, columns, draft))
    .map((row) => openRow(row, columns, table, draft));
  const firstOf = firstRows(rows, columns, draft);
  draft.namedParts = new Set(firstOf.keys());
  for (const row of parentsFirst([...firstOf.values()], firstOf, columns, draft))
    takeRow(row, { columns, context, draft, firstOf, groups });
  for (const row of rows) {
    if (row.key === undefined) takeRow(row, { columns, context, draft, firstOf, groups });
    // Whatever else is wrong in the second row of a number is told with it.
    else if (firstOf.get(row.key) !== row) readRow(row, { columns, context, draft, firstOf, groups });
  }
  tellEstimatesOnce(table, columns, draft);
  warnOfCountedTwice(context, draft);
  draft.allowances = addedAllowances(draft.entries, context.ledger);
  return draft.outcome(table.rows.length);
}

/** A line of sums is no part; it is told once, and not cell by cell. */
function isSumLine(row: CsvRow, { byField }: Columns, draft: ImportDraft): boolean {
  const needed = ['number', 'group'].flatMap((field) => byField.get(field)?.at ?? []);
  const at = sumWordAt(row, needed);
  if (at === undefined) return false;
  const refusal = { code: 'line-of-sums', word: row.cells[at]?.trim() ?? '' } as const;
  draft.problems.push({ line: row.line, column: at + 1, heading: '', refusal });
  return true;
}

/** Where no column has the estimates, that is one problem of the headings and not one of each row. */
function tellEstimatesOnce(table: CsvTable, { byField, unused }: Columns, draft: ImportDraft): void {
  if (byField.has('estimate')) return;
  const isOne = ({ refusal }: CellProblem) => refusal.code === 'estimate-missing';
  const because = draft.problems.find(isOne)?.refusal;
  if (because?.code !== 'estimate-missing') return;
  const rest = draft.problems.filter((problem) => !isOne(problem));
  const like = unused.filter((heading) => looksLike(heading, new Set(['estimate'])) !== undefined);
  const refusal = { code: 'estimate-column-missing', because: because.because, unused: like } as const;
  draft.problems.splice(0, draft.problems.length, ...rest, {
    ...{ line: table.heading.line, column: 0, heading: '' },
    refusal,
  });
}

function openRow(row: CsvRow, columns: Columns, table: CsvTable, draft: ImportDraft): Row {
  const surplus = row.cells.slice(table.heading.cells.length).some((cell) => cell.trim() !== '');
  if (surplus)
    draft.problems.push({
      line: row.line,
      column: table.heading.cells.length + 1,
      heading: '',
      refusal: { code: 'cells-too-many', cells: row.cells.length, columns: table.heading.cells.length },
    });
  const reader = new FieldReader(fieldsOfRow(row, columns), columns.manner);
  const keyOf = (field: string) => {
    const text = reader.raw(field);
    return text === undefined ? undefined : numberKey(text);
  };
  return { row, reader, key: keyOf('number'), parentKey: keyOf('assembly') };
}

/** The first row of each number; a second one is a problem. */
function firstRows(rows: readonly Row[], columns: Columns, draft: ImportDraft): ReadonlyMap<string, Row> {
  const firstOf = new Map<string, Row>();
  for (const row of rows) {
    if (row.key === undefined) continue;
    const first = firstOf.get(row.key);
    if (first === undefined) firstOf.set(row.key, row);
    else
      draft.problems.push({
        ...cellOf(row.row, 'number', columns),
        refusal: { code: 'number-twice', number: row.reader.raw('number') ?? '', firstLine: first.row.line },
      });
  }
  return firstOf;
}

/** The rows with every assembly ahead of what it holds. A row that leads back to itself is a problem; the rest of it is read on. */
function parentsFirst(
  rows: readonly Row[],
  firstOf: ReadonlyMap<string, Row>,
  columns: Columns,
  draft: ImportDraft,
): readonly Row[] {
  const done = new Set<Row>();
  const ordered: Row[] = [];
  for (const start of rows) {
    const way: Row[] = [];
    let at: Row | undefined = start;
    while (at !== undefined && !done.has(at) && !way.includes(at)) {
      way.push(at);
      at = at.parentKey === undefined ? undefined : firstOf.get(at.parentKey);
    }
    const isLoop = at !== undefined && !done.has(at);
    if (isLoop && at !== undefined) {
      const loop = [...way.slice(way.indexOf(at)), at].map((row) => row.reader.raw('number') ?? '');
      draft.problems.push({ ...cellOf(at.row, 'assembly', columns), refusal: { code: 'assembly-cycle', path: loop } });
    }
    for (const row of way.reverse()) {
      done.add(row);
      ordered.push(row);
    }
  }
  return ordered;
}

type Taking = {
  readonly columns: Columns;
  readonly context: ImportContext;
  readonly draft: ImportDraft;
  readonly firstOf: ReadonlyMap<string, Row>;
  /** The groups that are known by now, by their name and by `groupKey`. */
  readonly groups: Map<string, string>;
};

function takeRow(row: Row, taking: Taking): void {
  const { columns, context, draft } = taking;
  const { held, partId, part, estimate, stamp } = readRow(row, taking);
  const { reader } = row;
  const where = (path: readonly string[]) => cellOf(row.row, columnOf(path), columns);
  if (part === undefined) return;
  draft.listed.pieceCount += part.quantity;
  draft.listed.massKg += part.quantity * (estimate?.massKg ?? 0);
  if (held !== undefined) {
    takeKnownPart({ part, estimate, stamp, reader }, taking, where);
    return;
  }
  const added = { ...part, ...stampOf(context, `part ${partId}`, stamp) };
  if (reader.problems.length > 0) draft.object(added, where);
  else if (draft.admit(added, where) && estimate !== undefined)
    draft.admit({ ...estimate, ...stampOf(context, `estimate ${partId} 0`, { ...stamp, remark: undefined }) }, where);
}

/** Every problem of the row's own cells; what could be read of it all the same. */
function readRow({ row, reader, parentKey }: Row, taking: Taking) {
  const { columns, context, draft } = taking;
  const { books } = context.ledger;
  const held = books.byNumber.get(numberKey(reader.raw('number') ?? ''));
  const parentPartId = parentKey === undefined ? undefined : books.byNumber.get(parentKey);
  if (parentKey !== undefined && parentPartId === undefined && !taking.firstOf.has(parentKey))
    reader.problem('assembly', unknownAssembly(reader.raw('assembly') ?? '', taking));
  const stamp = { day: reader.day('date'), by: reader.text('by', 60), remark: reader.text('note', 2000) };
  const partId = held ?? newPartId(context, numberKey(reader.raw('number') ?? ''));
  const part = inKnownGroup(partFromWords(reader, { partId, parentPartId }), taking);
  // Where the part itself cannot be read its estimate still is, so that every problem of the row is told at once.
  const process = part?.process ?? Process.enum.other;
  const made = { partId, process: held === undefined ? process : processOf(context, partId) };
  const estimate = estimateFromWords(reader, made, allowancesBefore(context.ledger));
  for (const { field, refusal } of reader.problems)
    draft.problems.push({ ...cellOf(row, field, columns), refusal: inHeadings(refusal, columns) });
  return { held, partId, part, estimate, stamp };
}

/** The sheet's own word for a column, where a refusal names one. */
function inHeadings(refusal: Refusal, { byField }: Columns): Refusal {
  if (refusal.code !== 'estimate-missing') return refusal;
  return { ...refusal, because: byField.get(refusal.because)?.heading ?? refusal.because };
}

/** A group that is known under another spelling is that group (rule R4): a target for it would miss the part. */
function inKnownGroup(
  part: StatementOf<'part added'> | undefined,
  { groups, draft }: Taking,
): StatementOf<'part added'> | undefined {
  if (part === undefined) return undefined;
  const key = groupKey(part.group);
  const known = groups.get(part.group) ?? groups.get(key);
  if (known === undefined) groups.set(key, part.group);
  if (known === undefined || known === part.group) return part;
  const words = `The group “${part.group}” is taken for “${known}”, which is there already.`;
  if (!draft.warnings.includes(words)) draft.warnings.push(words);
  return { ...part, group: known };
}

type KnownRow = {
  readonly part: StatementOf<'part added'>;
  readonly estimate: StatementOf<'estimate'> | undefined;
  readonly stamp: {
    readonly day: string | undefined;
    readonly by: string | undefined;
    readonly remark: string | undefined;
  };
  readonly reader: FieldReader;
};

/** A row of a part that is in the ledger: the same again, a first or revised estimate, or a contradiction. */
function takeKnownPart(
  { part, estimate: listed, stamp, reader }: KnownRow,
  { context, draft }: Taking,
  where: (path: readonly string[]) => ReturnType<typeof cellOf>,
): void {
  const state = stateOf(context.ledger.books, part.partId);
  const definition = state?.definition;
  if (state === undefined || definition === undefined) return;
  const stated = new Set(
    ['number', 'name', 'group', 'assembly', 'quantity', 'side', 'process'].filter((f) => reader.has(f)),
  );
  const differs = [
    ...(stated.has('name') && part.name !== definition.name ? ['name'] : []),
    ...(part.group !== definition.group ? ['group'] : []),
    ...(stated.has('assembly') && part.parentPartId !== definition.parentPartId ? ['assembly'] : []),
    ...(stated.has('quantity') && part.quantity !== definition.quantity ? ['quantity'] : []),
    ...(stated.has('side') && part.side !== definition.side ? ['side'] : []),
    ...(stated.has('process') && part.process !== definition.process ? ['process'] : []),
  ];
  const standing = state.estimate;
  const current =
    standing === undefined ? undefined : { ...standing.statement, ...stationsNow(context.ledger, standing) };
  const going = listed === undefined ? undefined : goingOn(listed, current);
  const estimate = going?.estimate;
  const isRevised = estimate !== undefined && current !== undefined && !sameEstimate(estimate, current);
  if (isRevised && !context.revise) differs.push('estimate');
  const isKnown = estimate === undefined || (current !== undefined && !isRevised);
  const revision = isKnown
    ? undefined
    : { ...estimate, ...stampOf(context, nextEstimateName(context, part.partId), stamp) };
  if (differs.length > 0) {
    const refusal = { code: 'number-taken', number: definition.number, seq: state.addedSeq ?? 0, differs } as const;
    draft.problems.push({ ...where(['number']), refusal });
  }
  if (differs.length > 0 || reader.problems.length > 0) {
    if (revision !== undefined) draft.object(revision, where);
  } else if (revision === undefined) draft.knownRows += 1;
  else if (draft.admit(revision, where))
    for (const left of going?.left ?? [])
      draft.warnings.push(
        `${definition.number}: the estimate of this list replaces one ${LEFT_WORDS[left]}, which does not go on with it.`,
      );
}

/** What a list compares with: as the part's page tells it, from the present datum. */
function stationsNow(ledger: Ledger, standing: Standing<StatementOf<'estimate'>>) {
  const { xM, geometry } = estimateReport(ledger, standing);
  return { ...(xM === undefined ? {} : { xM }), ...(geometry === undefined ? {} : { geometry }) };
}

const LEFT_WORDS = {
  'lay-up schedule': 'that follows from a lay-up schedule',
  geometry: 'whose station comes from a geometry',
} as const;

/** A revision's id is new even where one made before it was struck out. */
function nextEstimateName(context: ImportContext, partId: PartId): string {
  for (let at = 0; ; at += 1) {
    const name = `estimate ${partId} ${at}`;
    if (!context.ledger.entryById.has(context.idOf(name) as EntryId)) return name;
  }
}

/** The same figures, however they were typed. A default that was taken stays as it was, also where the shop has another one by now (rule E1). */
function sameEstimate(a: StatementOf<'estimate'>, b: StatementOf<'estimate'>): boolean {
  const isDefault = [a, b].every(({ growthFrom }) => growthFrom === 'shop default') && a.evidence === b.evidence;
  const followsIt = ({ growth, laterGrowth }: StatementOf<'estimate'>) => growth === laterGrowth;
  const taken = isDefault ? ['growth', ...(followsIt(a) && followsIt(b) ? ['laterGrowth'] : [])] : [];
  const stamp = new Set(['id', 'happenedOn', 'by', 'remark', 'typed', ...taken]);
  return differingFields(a as Entry, b as Entry).every((field) => stamp.has(field));
}

function processOf(context: ImportContext, partId: PartId): Process {
  return stateOf(context.ledger.books, partId)?.definition?.process ?? Process.enum.other;
}

/** A number that was given back by a removed part names a new part when it comes again. */
function newPartId(context: ImportContext, key: string): PartId {
  for (let again = 1; ; again += 1) {
    const partId = partIdOf(context, again === 1 ? `part number ${key}` : `part number ${key} again ${again}`);
    if (stateOf(context.ledger.books, partId) === undefined) return partId;
  }
}

function unknownAssembly(assembly: string, { context, firstOf }: Taking) {
  const keys = [...firstOf.keys(), ...context.ledger.books.byNumber.keys()];
  const key = nearest(numberKey(assembly), keys);
  const near = key === undefined ? undefined : (firstOf.get(key)?.reader.raw('number') ?? key);
  return { code: 'unknown-assembly', assembly, near } as const;
}

function columnOf(path: readonly string[]): string {
  const [name] = path;
  const columns: Readonly<Record<string, string>> = {
    happenedOn: 'date',
    parentPartId: 'assembly',
    laterKg: 'later',
    finishKg: 'finish',
    partId: 'number',
  };
  return columns[name ?? 'number'] ?? name ?? 'number';
}

/** An assembly's own estimate counts beside those of its parts; a shop that meant the sum should know. */
function warnOfCountedTwice(context: ImportContext, draft: ImportDraft): void {
  const { books } = context.ledger;
  const parents = new Set<PartId>();
  for (const entry of draft.entries)
    if (entry.kind === 'part added' && entry.parentPartId !== undefined) parents.add(entry.parentPartId);
  for (const partId of parents) {
    const state = stateOf(books, partId);
    if ((state?.estimate?.statement.massKg ?? 0) > 0)
      draft.warnings.push(
        `Assembly ${state?.definition?.number} has an estimate of its own, which counts beside those of its parts.`,
      );
  }
}
