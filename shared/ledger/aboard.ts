/**
 * The aircraft on its scales (rules R1, A4): a signed weighing of the whole is the basis, and what happens later is a change to it. Beside the
 * parts' books stands a pair of mass and moment, what the scales found beyond the parts that were aboard, as those had been known by then.
 * What is recorded later of an earlier day reshapes that pair and leaves the total. Parts that were not aboard go on counting by themselves.
 * `past` is a second set of books, with what had happened by the weighing as it stands now; it is never told of the weighing itself.
 */
import {
  addTally,
  EMPTY_TALLY,
  type MassNg,
  negateTally,
  subtractTally,
  type Tally,
  tallyOf,
  toMassNg,
} from '#shared/quantity/exact.ts';
import { countedBook, isCounted, pairOf, type Residual } from './assemblies.ts';
import { droppedByPiece } from './assembly-shares.ts';
import type { PartBooks } from './books.ts';
import type { PartId, StatementOf } from './entry.ts';
import { fromFirstDay } from './first-day.ts';
import { assembliesUp, byWhatHappened, type PartState, pieceMasses, type Standing } from './part-state.ts';

export type AircraftWeighed = Standing<StatementOf<'aircraft weighing'>>;

/** What of a weighing is asked here: also one that is not signed has it. */
export type WeighedFigures = Pick<
  StatementOf<'aircraft weighing'>,
  'massKg' | 'massStdKg' | 'xM' | 'xStdM' | 'yM' | 'yStdM' | 'zM' | 'zStdM' | 'missing'
>;

export type Aboard = {
  readonly standing: Pick<AircraftWeighed, 'seq' | 'happenedOn' | 'frameNm'> & { readonly statement: WeighedFigures };
  readonly past: PartBooks;
  /** What is listed as not aboard; without pieces, all of them. */
  readonly missing: ReadonlyMap<PartId, ReadonlySet<number> | undefined>;
  /** What each part counted for aboard, as an assembly too, and the sum of it. */
  readonly counted: Map<PartId, Tally>;
  /** The pieces of each part that were aboard and are still the same articles. */
  readonly pieces: Map<PartId, ReadonlySet<number>>;
  /** The allowance that the scales have done away with, of each part. */
  readonly dropped: Map<PartId, Tally>;
  countedSum: Tally;
  droppedSum: Tally;
};

export function openAboard(standing: Aboard['standing'], past: PartBooks): Aboard {
  const { missing } = standing.statement;
  return {
    standing,
    past,
    missing: new Map(missing.map(({ partId, pieces }) => [partId, pieces === undefined ? undefined : new Set(pieces)])),
    counted: new Map(),
    pieces: new Map(),
    dropped: new Map(),
    countedSum: EMPTY_TALLY,
    droppedSum: EMPTY_TALLY,
  };
}

/** What a weighing of the aircraft changes beside the books of parts and assemblies. */
export function foundBy({ standing, countedSum, droppedSum }: Aboard): Residual {
  const wholeNg = toMassNg(standing.statement.massKg);
  return {
    basic: pairOf(standing, { wholeNg, inIt: countedSum, toCome: EMPTY_TALLY }),
    allowance: negateTally(droppedSum),
  };
}

/** A part's entries that had happened by the weighing, by number; those of its first day stand on that day. */
export function hadHappened({ standing }: Aboard, books: PartBooks, partId: PartId): ReadonlyMap<number, Standing> {
  const inAssemblies = [...(books.assemblies.naming.get(partId)?.values() ?? [])].map((naming) => naming.standing);
  const ordered = fromFirstDay(
    books.byPart.get(partId)?.standings.values() ?? [],
    inAssemblies.map(({ happenedOn }) => happenedOn),
  );
  return new Map(ordered.filter((one) => byWhatHappened(one, standing) < 0).map((one) => [one.seq, one]));
}

/** Looks again at what a part counted for when the aircraft was weighed. */
export function recount(aboard: Aboard, partId: PartId): void {
  const { past, counted } = aboard;
  const before = counted.get(partId) ?? EMPTY_TALLY;
  const state = past.byPart.get(partId)?.state;
  const pieces = state === undefined ? NO_PIECES : piecesThen(aboard, state);
  const after = state === undefined ? EMPTY_TALLY : countedOf(past, state, pieces);
  if (after === EMPTY_TALLY) counted.delete(partId);
  else counted.set(partId, after);
  aboard.countedSum = addTally(aboard.countedSum, subtractTally(after, before));
}

/** Looks again at which of a part's articles are still the ones that were aboard, and at the allowance that they have no more. */
export function redrop(aboard: Aboard, books: PartBooks, partId: PartId): void {
  const state = books.byPart.get(partId)?.state;
  const then = aboard.past.byPart.get(partId)?.state;
  const pieces =
    state === undefined || then === undefined ? NO_PIECES : stillThere(state, then, piecesThen(aboard, then));
  if (pieces.size === 0) aboard.pieces.delete(partId);
  else aboard.pieces.set(partId, pieces);
  const before = aboard.dropped.get(partId) ?? EMPTY_TALLY;
  const after = state === undefined || pieces.size === 0 ? EMPTY_TALLY : droppedOf(books, state, pieces);
  if (after === EMPTY_TALLY) aboard.dropped.delete(partId);
  else aboard.dropped.set(partId, after);
  aboard.droppedSum = addTally(aboard.droppedSum, subtractTally(after, before));
}

/** The pieces of a part that were aboard, as it was known by then. What is in a part that was missing was missing with it. */
export function piecesThen({ past, missing }: Aboard, state: PartState): ReadonlySet<number> {
  if (state.definition === undefined || state.removed !== undefined || isInMissing()) return NO_PIECES;
  const without = missing.get(state.partId);
  if (missing.has(state.partId) && without === undefined) return NO_PIECES;
  const pieces = new Set<number>();
  for (let piece = 1; piece <= state.definition.quantity; piece += 1) if (!without?.has(piece)) pieces.add(piece);
  return pieces;

  function isInMissing(): boolean {
    const up = assembliesUp(past.byPart, state.definition?.parentPartId);
    return [...up].some((assemblyId) => missing.has(assemblyId) && missing.get(assemblyId) === undefined);
  }
}
const NO_PIECES: ReadonlySet<number> = new Set();

/** What some pieces of a part count for in its own book. */
export function ownMassNg(state: PartState, pieces: ReadonlySet<number>): MassNg {
  const masses = pieceMasses(state.estimate?.statement);
  let massNg = 0n;
  for (const piece of pieces) massNg += masses.massNg(state.lives.get(piece)?.at(-1)?.governing);
  return massNg as MassNg;
}

function countedOf(past: PartBooks, state: PartState, pieces: ReadonlySet<number>): Tally {
  if (pieces.size === 0) return EMPTY_TALLY;
  const own = tallyOf(ownMassNg(state, pieces), state.armsNm);
  const residual = pieces.has(1) ? countedBook(past.assemblies, state.partId)?.residual : undefined;
  return residual === undefined ? own : addTally(own, residual);
}

/** A piece that was withdrawn since is another article. */
function stillThere(state: PartState, then: PartState, pieces: ReadonlySet<number>): ReadonlySet<number> {
  if (state.definition === undefined || state.removed !== undefined) return NO_PIECES;
  const { quantity } = state.definition;
  const livesOf = (of: PartState, piece: number) => of.lives.get(piece)?.length ?? 1;
  return new Set([...pieces].filter((piece) => piece <= quantity && livesOf(state, piece) === livesOf(then, piece)));
}

/** All of the allowance that weighed assemblies have left of it. */
function droppedOf({ assemblies }: PartBooks, state: PartState, pieces: ReadonlySet<number>): Tally {
  const masses = pieceMasses(state.estimate?.statement);
  const already = droppedByPiece(state, assemblies.naming.get(state.partId), (standing) =>
    isCounted(assemblies, standing),
  );
  let droppedNg = 0n;
  for (const piece of pieces)
    droppedNg += masses.allowanceNg(state.lives.get(piece)?.at(-1)?.governing) - (already.get(piece) ?? 0n);
  return tallyOf(droppedNg as MassNg, state.armsNm);
}
