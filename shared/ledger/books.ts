/**
 * The parts' books: every part's standing entries, its state, the weighed assemblies, and the sums over all of them, kept in step.
 * The running ledger and the history by day both write here, so they cannot disagree on what a part weighs.
 */

import { numberKey } from '#shared/part/from-words.ts';
import { addTally, EMPTY_TALLY, subtractTally, type Tally } from '#shared/quantity/exact.ts';
import { type Aboard, foundBy, hadHappened, openAboard, recount, redrop } from './aboard.ts';
import {
  type Assemblies,
  addResidual,
  copyOfAssemblies,
  followPart,
  NO_RESIDUAL,
  openAssemblies,
  type Residual,
} from './assemblies.ts';
import type { AsAssembly } from './assembly-shares.ts';
import type { PartId } from './entry.ts';
import { isOf, type PartState, partState, type Standing } from './part-state.ts';

type Book = { readonly standings: ReadonlyMap<number, Standing>; readonly state: PartState };

/** Basic mass and allowance of the parts' own books, and what weighed assemblies and a weighing of the aircraft add to both. */
export type Sums = {
  readonly basic: Tally;
  readonly allowance: Tally;
  readonly residual: Residual;
  readonly whole: Residual;
};

export type PartBooks = {
  readonly byPart: Map<PartId, Book>;
  /** The part that holds a number now, by `numberKey`. Removed parts give theirs back. */
  readonly byNumber: Map<string, PartId>;
  /** The parts that stand directly in an assembly, removed ones left out. */
  readonly byParent: Map<PartId, Set<PartId>>;
  readonly assemblies: Assemblies;
  /** The weighing of the whole aircraft that counts, and what was aboard. */
  aboard: Aboard | undefined;
  /** The parts of which something changed, one after another: who keeps figures of parts carries them on from here. */
  readonly touched: PartId[];
  sums: Sums;
};

export function openBooks(): PartBooks {
  return {
    byPart: new Map(),
    byNumber: new Map(),
    byParent: new Map(),
    assemblies: openAssemblies(),
    aboard: undefined,
    touched: [],
    sums: { basic: EMPTY_TALLY, allowance: EMPTY_TALLY, residual: NO_RESIDUAL, whole: NO_RESIDUAL },
  };
}

/** Books that can be written in without the first ones noticing. */
export function copyOf(books: PartBooks): PartBooks {
  return {
    byPart: new Map(books.byPart),
    byNumber: new Map(books.byNumber),
    byParent: new Map([...books.byParent].map(([id, children]) => [id, new Set(children)])),
    assemblies: copyOfAssemblies(books.assemblies),
    aboard: books.aboard && copyOfAboard(books.aboard),
    touched: [],
    sums: books.sums,
  };
}

function copyOfAboard(aboard: Aboard): Aboard {
  const { past, counted, pieces, dropped } = aboard;
  return {
    ...aboard,
    past: copyOf(past),
    counted: new Map(counted),
    pieces: new Map(pieces),
    dropped: new Map(dropped),
  };
}

/** What counts as basic mass, weighed assemblies and a weighed aircraft counted as weighed. */
export function basicSum({ basic, residual, whole }: Sums): Tally {
  return addTally(addTally(basic, residual.basic), whole.basic);
}

export function allowanceSum({ allowance, residual, whole }: Sums): Tally {
  return addTally(addTally(allowance, residual.allowance), whole.allowance);
}

/** Makes this weighing of the aircraft the one that counts (rule A4); without one, none does. */
export function weighAircraft(books: PartBooks, standing: Aboard['standing'] | undefined): void {
  if (standing === undefined && books.aboard === undefined) return;
  const partIds = [...books.byPart.keys()];
  books.aboard = undefined;
  books.sums = { ...books.sums, whole: NO_RESIDUAL };
  if (standing !== undefined) {
    books.aboard = openAboard(standing, openBooks());
    followAboard(books, partIds);
  }
  books.touched.push(...partIds);
}

/** Puts a standing entry into its part's book, in place of the one with the same number if there is one. */
export function enter(books: PartBooks, standing: Standing): void {
  const { partId } = standing.statement;
  rewrite(books, partId, new Map(books.byPart.get(partId)?.standings).set(standing.seq, standing));
}

/** Writes a part's book from all its standing entries at once: as `enter` one after another would. */
export function enterAll(books: PartBooks, partId: PartId, standings: readonly Standing[]): void {
  rewrite(books, partId, new Map(standings.map((standing) => [standing.seq, standing])));
}

/** Takes the entry with this number out of a part's book. */
export function strike(books: PartBooks, partId: PartId, seq: number): void {
  const standings = new Map(books.byPart.get(partId)?.standings);
  standings.delete(seq);
  rewrite(books, partId, standings);
}

export function stateOf(books: PartBooks, partId: PartId): PartState | undefined {
  return books.byPart.get(partId)?.state;
}

/**
 * True where an entry brings mass that nobody had counted yet: the first estimate of a part, or the first weighing of pieces of a part
 * that has none.
 */
export function bringsNewMass(books: PartBooks, standing: Standing): boolean {
  const { seq, statement } = standing;
  const pieces = new Set(statement.kind === 'weighing' ? statement.pieces : []);
  for (const other of books.byPart.get(statement.partId)?.standings.values() ?? []) {
    if (other.seq === seq) continue;
    if (other.statement.kind === 'estimate') return false;
    if (other.statement.kind === 'weighing' && other.statement.pieces.some((piece) => pieces.has(piece))) return false;
  }
  return true;
}

function rewrite(books: PartBooks, partId: PartId, standings: ReadonlyMap<number, Standing>): void {
  const book = books.byPart.get(partId);
  const before = book?.state;
  const state = partState(partId, [...standings.values()]);
  books.byPart.set(partId, { standings, state });
  const [keyBefore, keyAfter] = [heldNumber(before), heldNumber(state)];
  if (keyBefore !== keyAfter && keyBefore !== undefined && books.byNumber.get(keyBefore) === partId)
    books.byNumber.delete(keyBefore);
  if (keyAfter !== undefined) books.byNumber.set(keyAfter, partId);
  const parents = moveInTree(books.byParent, before, state);
  const { residual, touched } = followPart(books.assemblies, (id) => stateOf(books, id), {
    partId,
    before: asAssemblies(book?.standings),
    after: asAssemblies(standings),
  });
  books.sums = {
    basic: carry(books.sums.basic, before?.basic, state.basic),
    allowance: carry(books.sums.allowance, before?.allowance, state.allowance),
    residual: residual === NO_RESIDUAL ? books.sums.residual : addResidual(books.sums.residual, residual),
    whole: books.sums.whole,
  };
  books.touched.push(...followAboard(books, [...parents, ...touched]));
}

/** What was aboard when an aircraft stood on its scales, for a weighing that does not count, or does not yet. */
export function aboardOf(books: PartBooks, standing: Aboard['standing']): Aboard {
  const aboard = openAboard(standing, openBooks());
  followAboard({ ...books, aboard }, [...books.byPart.keys()]);
  return aboard;
}

/** Brings what was aboard in step with parts that have been written anew, and answers the parts that this changes something of. */
function followAboard(books: PartBooks, partIds: readonly PartId[]): Iterable<PartId> {
  const { aboard } = books;
  if (aboard === undefined) return partIds;
  const { past } = aboard;
  const changed = new Set<PartId>(partIds);
  // What counted then is looked at again only where the past was written anew: an entry of a later day does not reach it.
  const changedThen = new Set<PartId>();
  for (const partId of changed) {
    const standings = hadHappened(aboard, books, partId);
    if (isSame(standings, past.byPart.get(partId)?.standings)) continue;
    rewrite(past, partId, standings);
    // What is in a part that was missing was missing with it, and a part can come to another assembly.
    const below = aboard.missing.size > 0 ? allBelow(past, partId) : [];
    for (const touched of [...past.touched.splice(0), ...below]) {
      changed.add(touched);
      changedThen.add(touched);
    }
  }
  for (const partId of changedThen) recount(aboard, partId);
  for (const partId of changed) redrop(aboard, books, partId);
  books.sums = { ...books.sums, whole: foundBy(aboard) };
  return changed;
}

function allBelow({ byParent }: PartBooks, partId: PartId): ReadonlySet<PartId> {
  const found = new Set(byParent.get(partId));
  for (const below of found) for (const next of byParent.get(below) ?? []) found.add(next);
  return found;
}

function isSame(a: ReadonlyMap<number, Standing>, b: ReadonlyMap<number, Standing> | undefined): boolean {
  if (a.size !== (b?.size ?? 0)) return false;
  return [...a].every(([seq, one]) => {
    const other = b?.get(seq);
    return other?.statement === one.statement && other.happenedOn === one.happenedOn && other.frameNm === one.frameNm;
  });
}

/** Answers the assemblies that have one part more or less. */
function moveInTree(
  byParent: PartBooks['byParent'],
  before: PartState | undefined,
  after: PartState,
): readonly PartId[] {
  const [from, to] = [parentOf(before), parentOf(after)];
  if (from === to) return [];
  if (from !== undefined) byParent.get(from)?.delete(after.partId);
  if (to !== undefined) byParent.set(to, (byParent.get(to) ?? new Set<PartId>()).add(after.partId));
  return [from, to].filter((partId) => partId !== undefined);
}

function parentOf(state: PartState | undefined): PartId | undefined {
  return state === undefined || state.removed !== undefined ? undefined : state.definition?.parentPartId;
}

function asAssemblies(standings: ReadonlyMap<number, Standing> | undefined): readonly AsAssembly[] {
  return [...(standings?.values() ?? [])].filter((standing): standing is Standing & AsAssembly =>
    isOf(standing, 'assembly weighing'),
  );
}

function heldNumber(state: PartState | undefined): string | undefined {
  return state?.definition === undefined || state.removed !== undefined
    ? undefined
    : numberKey(state.definition.number);
}

function carry(sum: Tally, before: Tally | undefined, after: Tally): Tally {
  return addTally(before === undefined ? sum : subtractTally(sum, before), after);
}
