/**
 * One entry as a person or a program states it, in words: `{ kind, happenedOn, by, part, gross: "12.5 lb", … }`, into the entry that is
 * recorded. The door for all kinds; the file imports use the same readers behind their own columns. A part is named by its number,
 * a corrected entry by its number in the ledger.
 */
import { z } from 'zod';
import { aircraftWeighingFromWords } from '#shared/aircraft-weighing/from-words.ts';
import { processCauseFromWords } from '#shared/drift/process-cause-words.ts';
import { allowancesFromWords } from '#shared/estimate/allowance.ts';
import { estimateFromWords, laidUpFromWords } from '#shared/estimate/from-words.ts';
import { estimateWithGeometry } from '#shared/geometry/from-words.ts';
import { layUpFromWords } from '#shared/layup/from-words.ts';
import { listedMaterials, materialStatement } from '#shared/layup/list.ts';
import { stateOf } from '#shared/ledger/books.ts';
import type { Entry, EntryId, PartId, Stamp, Statement, StatementOf } from '#shared/ledger/entry.ts';
import { allowancesBefore, inForce, type Ledger } from '#shared/ledger/fold.ts';
import type { PartKind } from '#shared/ledger/part-state.ts';
import { limitsFromWords } from '#shared/loading/from-words.ts';
import { numberKey, partFromWords } from '#shared/part/from-words.ts';
import { type LengthNm, toLengthNm, toM } from '#shared/quantity/exact.ts';
import { accept, type Result, refuse } from '#shared/result.ts';
import { groupTarget, targetsFromWords } from '#shared/target/from-words.ts';
import { type At, assemblyFromWords } from '#shared/weighing/assembly-from-words.ts';
import { weighingFromWords } from '#shared/weighing/from-words.ts';
import { checkFromWords, scaleFromWords } from '#shared/weighing/scale-from-words.ts';
import { calibrationAt, scaleKey, scalesOf } from '#shared/weighing/scales.ts';
import { say } from '#shared/words/say.ts';
import { armFromWords } from './arm-from-words.ts';
import { FieldReader } from './field-reader.ts';
import { CORRECTION_FIELDS, FIELDS, KINDS, STAMP_FIELDS } from './fields.ts';
import type { PathProblem } from './path-problem.ts';
import {
  aircraftFromWords,
  datumFromWords,
  dispositionFromWords,
  noteFromWords,
  piecesFromWords,
  removalFromWords,
} from './plain-statements.ts';

export type WordsContext = {
  readonly ledger: Ledger;
  /** Taken where the entry names no day or person of its own. */
  readonly day: string;
  readonly by: string;
  /** The number of the entry that is corrected: it keeps its place among those of its day. */
  readonly seq?: number;
  readonly newId: () => string;
  /** The datum from which stations are counted, as far aft of the first one; the present one where it is not said. */
  readonly aboutNm?: LengthNm | undefined;
};

const Word = z.union([z.string(), z.number().transform(String)]);
const Words = z.record(z.string(), Word);
const Outer = z.record(z.string(), z.union([Word, Words, z.record(z.string(), z.unknown()), z.null()]));

/** The entry, or every problem found. Whether the ledger takes it is asked afterwards (`ledger/admit.ts`). */
export function entryFromWords(sent: unknown, context: WordsContext): Result<Entry, readonly PathProblem[]> {
  const outer = Outer.safeParse(sent);
  if (!outer.success) return refuse(shapeProblems(outer.error));
  const { data } = outer;
  const kind = typeof data['kind'] === 'string' ? data['kind'] : '';
  if (kind !== 'correction' && !isKind(kind)) {
    const choices = [...KINDS, 'correction'];
    return refuse([{ path: ['kind'], refusal: { code: 'not-a-choice', text: kind, choices } }]);
  }
  const stamp = readStamp(data, context);
  if (kind === 'correction') return correctionFromWords(data, stamp, context);
  const statement = statementFromWords(kind, data, [...STAMP_FIELDS], context);
  if (!stamp.ok) return refuse([...stamp.refusal, ...(statement.ok ? [] : statement.refusal)]);
  return statement.ok ? accept({ ...statement.value, ...stamp.value }) : statement;
}

/** The path of an objection to the entry (`ledger/admit.ts`) under the names that the sender used. */
export function pathInWords(path: readonly string[]): readonly string[] {
  return path
    .filter((name, at) => name !== 'statement' || path[at - 1] !== 'replacement')
    .map((name) => (Object.hasOwn(NAME_IN_WORDS, name) ? (NAME_IN_WORDS[name] ?? name) : name));
}

const NAME_IN_WORDS: Readonly<Record<string, string>> = {
  supersedesId: 'entry',
  partId: 'part',
  parentPartId: 'assembly',
  pieces: 'piece',
  massKg: 'estimate',
  massStdKg: 'std uncertainty',
  laterKg: 'later',
  finishKg: 'finish',
  members: 'not yet in',
  missing: 'not aboard',
  signedBy: 'signed by',
  signedOn: 'signed on',
  armStdM: 'arm uncertainty',
  netKg: 'gross',
  readings: 'gross',
  resin: 'resin mixed',
  releaseSeq: 'release',
  reserveKg: 'reserve',
  cgAftM: 'cg aft',
  macM: 'mac',
  lateral: 'butt line right',
};

type Sent = z.infer<typeof Outer>;

function isKind(kind: string): kind is Statement['kind'] {
  return Object.hasOwn(FIELDS, kind);
}

function readStamp(data: Sent, context: WordsContext): Result<Stamp, readonly PathProblem[]> {
  const reader = readerOf(data);
  const day = reader.day('happenedOn') ?? context.day;
  const by = reader.text('by', 60) ?? context.by;
  const remark = reader.text('remark', 2000);
  const id = reader.raw('id') ?? context.newId();
  if (!z.uuid().safeParse(id).success) reader.problem('id', { code: 'shape-refused', why: say`an id is a UUID` });
  if (reader.problems.length > 0) return refuse(atPaths(reader, []));
  return accept({
    id: id.toLowerCase() as EntryId,
    happenedOn: day,
    by,
    ...(remark === undefined ? {} : { remark }),
  });
}

function statementFromWords(
  kind: Statement['kind'],
  data: Sent,
  beside: readonly string[],
  context: WordsContext,
  ownPartId?: PartId,
): Result<Statement, readonly PathProblem[]> {
  const reader = readerOf(data);
  const known = [...FIELDS[kind], ...beside];
  for (const field of Object.keys(data))
    if (!known.includes(field)) reader.problem(field, { code: 'field-unknown', known });
  const deeper: PathProblem[] = [];
  const statement = readStatement(kind, { reader, deeper, data, context, ownPartId });
  const problems = [...atPaths(reader, []), ...deeper];
  if (problems.length > 0) return refuse(problems);
  if (statement === undefined) return refuse([{ path: ['kind'], refusal: { code: 'missing' } }]);
  return accept(statement);
}

type Reading = {
  readonly reader: FieldReader;
  /** Where problems go that lie deeper than a field. */
  readonly deeper: PathProblem[];
  readonly data: Sent;
  readonly context: WordsContext;
  readonly ownPartId: PartId | undefined;
};

function readStatement(kind: Statement['kind'], reading: Reading): Statement | undefined {
  const { reader, deeper, data, context, ownPartId } = reading;
  switch (kind) {
    case 'aircraft':
      return aircraftFromWords(reader);
    case 'part added': {
      const parent = reader.has('assembly') ? partNamed(reader, 'assembly', context.ledger) : undefined;
      const partId = ownPartId ?? (context.newId() as PartId);
      return partFromWords(reader, { partId, parentPartId: parent?.partId });
    }
    case 'scale':
      return scaleFromWords(reader);
    case 'check weight':
      return checkFromWords(reader, (name) => {
        return calibrationAt(scalesOf(context.ledger).get(scaleKey(name)), atOf(reader, context));
      });
    case 'process cause':
      return processCauseFromWords(reader, context.ledger);
    case 'aircraft weighing': {
      const place = { sent: data['weighed'], deeper };
      return aircraftWeighingFromWords(reader, place, { ledger: context.ledger, at: atOf(reader, context) });
    }
    case 'material':
      return materialStatement(reader);
    case 'datum moved':
      return datumFromWords(reader);
    case 'targets':
      return targetsFromWords(reader, chordAbout(context), groupTargets(reader, data['groups']));
    case 'allowances':
      return allowancesFromWords(reader);
    case 'loading': {
      const limits = limitsFromWords(data['limits']);
      if (!limits.ok) deeper.push(...limits.refusal.map(below('limits')));
      const reason = reader.text('reason', 400);
      return limits.ok ? { kind, limits: limits.value, ...(reason === undefined ? {} : { reason }) } : undefined;
    }
    case 'note': {
      const part = reader.has('part') ? partNamed(reader, 'part', context.ledger) : undefined;
      return noteFromWords(reader, part?.partId);
    }
    default: {
      reader.need('part');
      const part = partNamed(reader, 'part', context.ledger);
      return part === undefined ? undefined : ofPart(kind, part, reading);
    }
  }
}

/** When what is stated happened. A day that is none is told as a problem elsewhere. */
function atOf(reader: FieldReader, { day, seq }: WordsContext): At {
  return { happenedOn: reader.raw('happenedOn')?.slice(0, 10) ?? day, seq: seq ?? Number.POSITIVE_INFINITY };
}

function ofPart(
  kind: Exclude<PartKind, 'part added'>,
  part: StatementOf<'part added'>,
  reading: Reading,
): Statement | undefined {
  const { reader, context } = reading;
  switch (kind) {
    case 'part removed':
      return removalFromWords(reader, part.partId);
    case 'estimate':
      return estimateWithGeometry(reader, reading.data['geometry'], estimateOfPart(part, reading));
    case 'weighing':
      return weighingFromWords(reader, part);
    case 'assembly weighing':
      return assemblyFromWords(reader, part, { ledger: context.ledger, at: atOf(reader, context) });
    case 'disposition':
      return dispositionFromWords(reader, part);
    case 'arm measured':
      return armFromWords(reader, part.partId);
    case 'piece withdrawn':
    case 'piece installed':
      return piecesFromWords(reader, kind, part);
  }
}

/** A mass in words, or a lay-up schedule that comes to one (rule E3). */
function estimateOfPart(
  part: StatementOf<'part added'>,
  { reader, deeper, data, context }: Reading,
): StatementOf<'estimate'> | undefined {
  const allowances = allowancesBefore(context.ledger, context.seq);
  const sent = data['layUp'];
  if (sent === undefined) {
    reader.need('estimate');
    return estimateFromWords(reader, part, allowances);
  }
  const layUp = layUpFromWords(sent, { materials: listedMaterials(context.ledger), process: part.process });
  if (!layUp.ok) deeper.push(...layUp.refusal.map(below('layUp')));
  return laidUpFromWords(reader, { part, layUp: layUp.ok ? layUp.value : undefined, own: allowances });
}

/** Rule L2. `entry` is the number of the entry to be corrected; `replacement` its fields as they should be, or null. */
function correctionFromWords(
  data: Sent,
  stamp: Result<Stamp, readonly PathProblem[]>,
  context: WordsContext,
): Result<Entry, readonly PathProblem[]> {
  const reader = readerOf(data);
  const known = [...STAMP_FIELDS, ...CORRECTION_FIELDS];
  for (const field of Object.keys(data))
    if (!known.includes(field)) reader.problem(field, { code: 'field-unknown', known });
  reader.need('reason');
  const reason = reader.text('reason', 400);
  const seq = reader.need('entry') ? reader.entryNumber('entry') : undefined;
  const corrected = context.ledger.entries.find((recorded) => recorded.seq === seq);
  const root = corrected === undefined ? undefined : context.ledger.roots.get(corrected.entry.id);
  if (seq !== undefined && root === undefined) reader.problem('entry', { code: 'nothing-to-correct' });
  if (data['replacement'] === undefined) reader.problem('replacement', { code: 'missing' });
  // What is wrong with the replacement is told beside what is wrong with the correction, not in a second round.
  const replacement =
    root === undefined || data['replacement'] === undefined
      ? undefined
      : readReplacement(data['replacement'], root, context);
  const problems = [
    ...(stamp.ok ? [] : stamp.refusal),
    ...atPaths(reader, []),
    ...(replacement === undefined || replacement.ok ? [] : replacement.refusal),
  ];
  if (problems.length > 0 || corrected === undefined || reason === undefined || !stamp.ok) return refuse(problems);
  if (replacement?.ok !== true) return refuse(problems);
  return accept({
    kind: 'correction',
    ...stamp.value,
    supersedesId: corrected.entry.id,
    reason,
    replacement: replacement.value,
  });
}

type Replacement = Extract<Entry, { kind: 'correction' }>['replacement'];

/** A replacement states the whole entry anew; its day is the corrected entry's unless it names another. */
function readReplacement(
  sent: Sent[string] | undefined,
  root: NonNullable<ReturnType<Ledger['roots']['get']>>,
  context: WordsContext,
): Result<Replacement, readonly PathProblem[]> {
  if (sent === null) return accept(null);
  const outer = Outer.safeParse(sent);
  if (!outer.success) return refuse(shapeProblems(outer.error).map(below('replacement')));
  const dayReader = readerOf(outer.data);
  const happenedOn = dayReader.day('happenedOn') ?? root.standing?.happenedOn ?? context.day;
  const before = root.standing?.statement;
  const ownPartId = before?.kind === 'part added' ? before.partId : undefined;
  // A per cent of the chord is turned into a station about the datum of the entry that is corrected.
  const then = { ...context, day: happenedOn, seq: root.seq, aboutNm: root.frameNm };
  const statement = statementFromWords(root.kind, outer.data, ['happenedOn'], then, ownPartId);
  const problems = [...atPaths(dayReader, []), ...(statement.ok ? [] : statement.refusal)];
  if (!statement.ok || problems.length > 0) return refuse(problems.map(below('replacement')));
  return accept({ happenedOn, statement: statement.value });
}

function chordAbout({ ledger, aboutNm = ledger.datumNm }: WordsContext) {
  const aircraft = inForce(ledger, 'aircraft');
  if (aircraft?.lemacM === undefined || aboutNm === ledger.datumNm) return aircraft;
  return { ...aircraft, lemacM: toM((toLengthNm(aircraft.lemacM) + ledger.datumNm - aboutNm) as LengthNm) };
}

function groupTargets(reader: FieldReader, sent: Sent[string] | undefined) {
  if (sent === undefined) return [];
  const groups = Words.safeParse(sent);
  if (!groups.success) {
    reader.problem('groups', { code: 'shape-refused', why: say`groups are names with a mass each` });
    return [];
  }
  return Object.entries(groups.data).flatMap(([name, text]) => {
    const group = name.trim();
    const read = groupTarget(reader, 'groups', group, text);
    if (read.ok) return [read.value];
    reader.problem('groups', read.refusal);
    return [];
  });
}

function partNamed(reader: FieldReader, field: string, ledger: Ledger): StatementOf<'part added'> | undefined {
  const number = reader.raw(field);
  if (number === undefined) return undefined;
  const partId = ledger.books.byNumber.get(numberKey(number));
  const definition = partId === undefined ? removedPart(ledger, number) : stateOf(ledger.books, partId)?.definition;
  if (definition === undefined) reader.problem(field, { code: 'unknown-part', part: number, near: undefined });
  return definition;
}

/** A part that was removed is still known by its number, so that it can be said that it was, and the removal be corrected. */
function removedPart({ books }: Ledger, number: string): StatementOf<'part added'> | undefined {
  const key = numberKey(number);
  const states = [...books.byPart.values()].map(({ state }) => state);
  return states.findLast(({ definition }) => definition !== undefined && numberKey(definition.number) === key)
    ?.definition;
}

/** A reader of the fields that hold words. */
function readerOf(data: Sent): FieldReader {
  return new FieldReader(
    Object.fromEntries(
      Object.entries(data).flatMap(([name, value]) => (typeof value === 'string' ? [[name, value]] : [])),
    ),
  );
}

function atPaths(reader: FieldReader, path: readonly string[]): readonly PathProblem[] {
  return reader.problems.map(({ field, refusal }) => ({ path: [...path, field], refusal }));
}

function below(name: string) {
  return (problem: PathProblem): PathProblem => ({ ...problem, path: [name, ...problem.path] });
}

function shapeProblems(error: z.ZodError): readonly PathProblem[] {
  return error.issues.map((issue) => ({
    path: issue.path.map(String),
    refusal: { code: 'shape-refused', why: say`an entry is an object of named texts and numbers` },
  }));
}
