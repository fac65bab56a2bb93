/**
 * The running ledger (rules L2, L6, L8): a fold of the entries in the order of their numbers. `applyEntry` carries it on by one
 * entry and answers that entry's row: what changed, split over causes, and where the aircraft stands after it.
 * It decides nothing about whether an entry may be recorded (`admit.ts`); given any chain, it has an answer.
 */
import { limitsTold } from '#shared/loading/told.ts';
import {
  addTally,
  EMPTY_TALLY,
  type LengthNm,
  type MassNg,
  negateTally,
  seenFrom,
  type Tally,
  toLengthNm,
  toM,
  toMassNg,
} from '#shared/quantity/exact.ts';
import { addResidual, type Residual, residualOn } from './assemblies.ts';
import {
  allowanceSum,
  basicSum,
  bringsNewMass,
  enter,
  openBooks,
  type PartBooks,
  strike,
  weighAircraft,
} from './books.ts';
import { type Causes, causesOf, type Effect, effectsBetween } from './cause.ts';
import type { EntryId, PartId, RecordedEntry, Statement, StatementOf } from './entry.ts';
import { oncePerChange, oncePerEntry } from './once.ts';
import {
  byWhatHappened,
  latestSeq,
  type PartKind,
  type PartState,
  type PartStatement,
  type Standing,
} from './part-state.ts';

/** An entry first made, with what became of it. */
type Root = {
  readonly id: EntryId;
  readonly seq: number;
  readonly kind: Statement['kind'];
  readonly causes: Causes;
  /** Where the datum lay that its stations are counted from, in the entry and in what corrects it. */
  frameNm: LengthNm;
  /** As it stands now; undefined where a correction struck it out. */
  standing: Standing<Statement> | undefined;
  /** The entry a further correction must name: the root itself, or its last correction. */
  latestId: EntryId;
};

export type LedgerRow = {
  readonly seq: number;
  readonly effects: readonly Effect[];
  /** Sums after the entry, about the datum in force after it. */
  readonly basic: Tally;
  readonly predicted: Tally;
  readonly marginNg: MassNg | undefined;
};

/** The kinds of entry that speak of the aircraft as a whole. */
export type WholeKind = Exclude<Statement['kind'], PartKind>;

export type Ledger = {
  readonly books: PartBooks;
  readonly whole: { readonly [Kind in WholeKind]: Map<number, Standing<StatementOf<Kind>>> };
  readonly entries: RecordedEntry[];
  readonly rows: LedgerRow[];
  /** Every entry, and every correction under its own id, leads to the entry first made. */
  readonly roots: Map<EntryId, Root>;
  readonly entryById: Map<EntryId, RecordedEntry>;
  /** How often what stands of a kind has changed. */
  readonly changes: { [Kind in WholeKind]: number };
  /** How far aft of the first datum the present one lies. */
  datumNm: LengthNm;
  /** Target less reserve, as it last was: kept while no targets stand, so that the next ones are told from it (rule L6). */
  aimNg: MassNg | undefined;
};

export function openLedger(): Ledger {
  return {
    books: openBooks(),
    whole: {
      aircraft: new Map(),
      'aircraft weighing': new Map(),
      'datum moved': new Map(),
      targets: new Map(),
      allowances: new Map(),
      loading: new Map(),
      scale: new Map(),
      'check weight': new Map(),
      material: new Map(),
      'process cause': new Map(),
      note: new Map(),
    },
    entries: [],
    rows: [],
    roots: new Map(),
    entryById: new Map(),
    changes: {
      aircraft: 0,
      'aircraft weighing': 0,
      allowances: 0,
      loading: 0,
      'datum moved': 0,
      targets: 0,
      scale: 0,
      'check weight': 0,
      material: 0,
      'process cause': 0,
      note: 0,
    },
    datumNm: 0n as LengthNm,
    aimNg: undefined,
  };
}

/** The ledger of a whole chain, or of its first `upToSeq` entries: as known at that entry (rule L7). */
export function foldEntries(entries: Iterable<RecordedEntry>, upToSeq = Number.POSITIVE_INFINITY): Ledger {
  const ledger = openLedger();
  for (const entry of entries) if (entry.seq <= upToSeq) applyEntry(ledger, entry);
  return ledger;
}

/** Carries the ledger on by one entry. Costs the work of the one or two parts it names. */
export function applyEntry(ledger: Ledger, recorded: RecordedEntry): LedgerRow {
  const before = { sums: ledger.books.sums, datumNm: ledger.datumNm, aimNg: ledger.aimNg };
  const { entry } = recorded;
  const root = entry.kind === 'correction' ? correct(ledger, recorded) : enterNew(ledger, recorded);
  ledger.entries.push(recorded);
  ledger.entryById.set(entry.id, recorded);

  const aimNg = aimInForce(ledger);
  ledger.aimNg = aimNg ?? before.aimNg;
  const after = { sums: ledger.books.sums, datumNm: ledger.datumNm, aimNg: ledger.aimNg };
  const effects = root === undefined ? [] : effectsBetween(before, after, root.causes, entry.kind === 'correction');
  const predicted = predictedOf(ledger);
  const row: LedgerRow = {
    seq: recorded.seq,
    effects,
    basic: basicOf(ledger),
    predicted,
    marginNg: aimNg === undefined ? undefined : ((aimNg - predicted.massNg) as MassNg),
  };
  ledger.rows.push(row);
  return row;
}

/** What of a ledger the figures of the aircraft as a whole are made of, beside those of its parts. */
export type Totals = Pick<Ledger, 'whole' | 'datumNm'> & { readonly books: Pick<PartBooks, 'sums'> };

/** The sum of basic masses about the present datum. */
export function basicOf(ledger: Totals): Tally {
  return seenFrom(basicSum(ledger.books.sums), ledger.datumNm);
}

/** Basic mass plus the allowance of what is not yet weighed, about the present datum (rule R1). */
export function predictedOf(ledger: Totals): Tally {
  const { sums } = ledger.books;
  return seenFrom(addTally(basicSum(sums), allowanceSum(sums)), ledger.datumNm);
}

/** A part that counts. */
export type PresentPart = PartState & { readonly definition: StatementOf<'part added'> };

/** The parts that count, in the order in which they were added. */
export const presentParts: (ledger: Ledger) => readonly PresentPart[] = oncePerEntry(({ books }) =>
  [...books.byPart.values()]
    .map((book) => book.state)
    .filter(isPresent)
    .sort((a, b) => (a.addedSeq ?? 0) - (b.addedSeq ?? 0)),
);

export function isPresent(state: PartState): state is PresentPart {
  return state.definition !== undefined && state.removed === undefined;
}

/** The number of the correction that names this entry, found from the last one of its root backwards; undefined where there is none. */
export function correctedBySeq(ledger: Ledger, entryId: EntryId): number | undefined {
  let id = ledger.roots.get(entryId)?.latestId;
  while (id !== undefined && id !== entryId) {
    const by = ledger.entryById.get(id);
    if (by?.entry.kind !== 'correction') return undefined;
    if (by.entry.supersedesId === entryId) return by.seq;
    id = by.entry.supersedesId;
  }
  return undefined;
}

/** The entry that says a standing now: its number, its day as it stands, and who made it. */
export function statedBy(ledger: Ledger, standing: Omit<Standing<Statement>, 'statement' | 'frameNm'>) {
  const seq = latestSeq(standing);
  return { seq, happenedOn: standing.happenedOn, by: ledger.entries[seq - 1]?.entry.by ?? '' };
}

/**
 * What weighed assemblies, and a weighing of the aircraft, change on a part beside its own book (rules W7, A4); nothing where it was in none.
 * What the aircraft's scales found beyond all parts is no part's.
 */
export function residualOf({ books }: Pick<Ledger, 'books'>, partId: PartId): Residual {
  const residual = residualOn(books.assemblies, partId);
  const dropped = books.aboard?.dropped.get(partId);
  if (dropped === undefined) return residual;
  return addResidual(residual, { basic: EMPTY_TALLY, allowance: negateTally(dropped) });
}

/** What stands of one kind, oldest first by the day it happened, its stations told from the present datum. The last one is in force. */
export function standingsOf<Kind extends WholeKind>(
  ledger: Omit<Totals, 'books'>,
  kind: Kind,
): readonly Standing<StatementOf<Kind>>[] {
  return [...ledger.whole[kind].values()].map((standing) => toldFrom(standing, ledger.datumNm)).sort(byWhatHappened);
}

/** Rule L8: where the datum has moved since, the stations of the chord, of the CG range and of the loading move as every arm does. */
function toldFrom<S extends Statement>(standing: Standing<S>, datumNm: LengthNm): Standing<S> {
  if (standing.frameNm === datumNm) return standing;
  const statement: Statement = { ...standing.statement };
  const told = (stationM: number) => toM((toLengthNm(stationM) + standing.frameNm - datumNm) as LengthNm);
  if (statement.kind === 'aircraft' && statement.lemacM !== undefined) statement.lemacM = told(statement.lemacM);
  if (statement.kind === 'aircraft weighing') {
    statement.xM = told(statement.xM);
    // Supports are counted from the reference, and go along with it.
    const corrections = statement.weighed.corrections.map((one) => ({ ...one, xM: told(one.xM) }));
    statement.weighed = { ...statement.weighed, referenceM: told(statement.weighed.referenceM), corrections };
  }
  if (statement.kind === 'targets') {
    if (statement.cgForwardM !== undefined) statement.cgForwardM = told(statement.cgForwardM);
    if (statement.cgAftM !== undefined) statement.cgAftM = told(statement.cgAftM);
  }
  if (statement.kind === 'loading') statement.limits = limitsTold(statement.limits, told);
  return { ...standing, frameNm: datumNm, statement: statement as S };
}

/** The statement of a kind that is in force, the last one by the day it happened. */
export function inForce<Kind extends WholeKind>(
  ledger: Omit<Totals, 'books'>,
  kind: Kind,
): StatementOf<Kind> | undefined {
  return standingsOf(ledger, kind).at(-1)?.statement;
}

/** The shop's own allowances as they were before an entry: what an estimate takes stays as it was taken (rule E1). */
export function allowancesBefore(
  ledger: Ledger,
  seq = Number.POSITIVE_INFINITY,
): StatementOf<'allowances'> | undefined {
  return standingsOf(ledger, 'allowances').findLast((standing) => standing.seq < seq)?.statement;
}

function enterNew(ledger: Ledger, recorded: RecordedEntry): Root | undefined {
  const { entry, seq } = recorded;
  if (entry.kind === 'correction') return undefined;
  const standing: Standing<Statement> = {
    seq,
    happenedOn: entry.happenedOn,
    frameNm: ledger.datumNm,
    statement: entry,
  };
  const root: Root = {
    id: entry.id,
    seq,
    kind: entry.kind,
    frameNm: ledger.datumNm,
    causes: causesOf(entry.kind, isOfPart(standing) && bringsNewMass(ledger.books, standing)),
    standing,
    latestId: entry.id,
  };
  ledger.roots.set(entry.id, root);
  place(ledger, undefined, standing);
  return root;
}

/** Rule L2: the corrected entry now says something else, or nothing; the correction itself has no effect of its own. */
function correct(ledger: Ledger, recorded: RecordedEntry): Root | undefined {
  const { entry, seq } = recorded;
  if (entry.kind !== 'correction') return undefined;
  const root = ledger.roots.get(entry.supersedesId);
  if (root === undefined) return undefined;
  const before = root.standing;
  const { replacement } = entry;
  root.latestId = entry.id;
  ledger.roots.set(entry.id, root);
  root.standing =
    replacement === null
      ? undefined
      : {
          seq: root.seq,
          happenedOn: replacement.happenedOn,
          frameNm: root.frameNm,
          correctedBySeq: seq,
          statement: replacement.statement,
        };
  place(ledger, before, root.standing);
  return root;
}

function place(ledger: Ledger, before: Standing<Statement> | undefined, after: Standing<Statement> | undefined): void {
  if (before !== undefined && !(after !== undefined && samePlace(before, after))) {
    if (isOfPart(before)) strike(ledger.books, before.statement.partId, before.seq);
    else {
      ledger.whole[wholeKindOf(before)].delete(before.seq);
      ledger.changes[wholeKindOf(before)] += 1;
    }
  }
  if (after !== undefined) {
    if (isOfPart(after)) enter(ledger.books, after);
    else setWhole(ledger, after);
  }
  if (before?.statement.kind === 'datum moved' || after?.statement.kind === 'datum moved')
    moveDatum(ledger, before !== undefined || after?.correctedBySeq !== undefined);
  if (before?.statement.kind === 'aircraft weighing' || after?.statement.kind === 'aircraft weighing')
    weighAircraft(ledger.books, lastAircraftWeighing(ledger));
}

/** Its station as it was told, from the datum of its day: `standingsOf` tells it from the present one. */
function lastAircraftWeighing({ whole }: Ledger) {
  return [...whole['aircraft weighing'].values()].sort(byWhatHappened).at(-1);
}

/**
 * Arms are kept about the first datum, so that moving the datum costs nothing. Where a move is corrected, every arm that was
 * typed after it was typed from elsewhere than thought, and all books are written again.
 */
function moveDatum(ledger: Ledger, isCorrection: boolean): void {
  const moves = standingsOf(ledger, 'datum moved');
  const frameAt = (seq: number) =>
    moves.reduce((sumNm, move) => (move.seq < seq ? sumNm + toLengthNm(move.statement.shiftM) : sumNm), 0n) as LengthNm;
  ledger.datumNm = frameAt(Number.POSITIVE_INFINITY);
  if (!isCorrection) return;
  for (const root of new Set(ledger.roots.values())) {
    root.frameNm = frameAt(root.seq);
    const { standing } = root;
    if (standing === undefined) continue;
    const moved = { ...standing, frameNm: root.frameNm };
    root.standing = moved;
    if (isOfPart(moved)) enter(ledger.books, moved);
    else setWhole(ledger, moved);
  }
  weighAircraft(ledger.books, lastAircraftWeighing(ledger));
}

const aimInForce: (ledger: Ledger) => MassNg | undefined = oncePerChange(['targets'], (ledger) =>
  aimNgOf(inForce(ledger, 'targets')),
);

/** Target less reserve: what the predicted mass is measured against. Undefined until targets are set. */
export function aimNgOf(targets: StatementOf<'targets'> | undefined): MassNg | undefined {
  if (targets === undefined) return undefined;
  return (toMassNg(targets.emptyMassKg) - toMassNg(targets.reserveKg)) as MassNg;
}

export function isOfPart(standing: Standing<Statement>): standing is Standing<PartStatement> {
  return 'partId' in standing.statement && standing.statement.kind !== 'note';
}

function samePlace(a: Standing<Statement>, b: Standing<Statement>): boolean {
  if (isOfPart(a)) return isOfPart(b) && a.statement.partId === b.statement.partId;
  return a.statement.kind === b.statement.kind;
}

function wholeKindOf(standing: Standing<Statement>): WholeKind {
  return standing.statement.kind as WholeKind;
}

/** The map of a kind holds that kind's standings: the one place where the two are brought together again. */
function setWhole(ledger: Ledger, standing: Standing<Statement>): void {
  const standings = ledger.whole[wholeKindOf(standing)] as Map<number, Standing<Statement>>;
  standings.set(standing.seq, standing);
  ledger.changes[wholeKindOf(standing)] += 1;
}
