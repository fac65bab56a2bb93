/**
 * The parts' books: every part's standing entries, its state, and the sums over all parts, kept in step.
 * The running ledger and the history by day both write here, so they cannot disagree on what a part weighs.
 */

import { numberKey } from '#shared/part/from-words.ts';
import { addTally, EMPTY_TALLY, subtractTally, type Tally } from '#shared/quantity/exact.ts';
import type { PartId } from './entry.ts';
import { type PartState, partState, type Standing } from './part-state.ts';

type Book = { readonly standings: ReadonlyMap<number, Standing>; readonly state: PartState };

export type Sums = { readonly basic: Tally; readonly allowance: Tally };

export type PartBooks = {
  readonly byPart: Map<PartId, Book>;
  /** The part that holds a number now, by `numberKey`. Removed parts give theirs back. */
  readonly byNumber: Map<string, PartId>;
  sums: Sums;
};

export function openBooks(): PartBooks {
  return { byPart: new Map(), byNumber: new Map(), sums: { basic: EMPTY_TALLY, allowance: EMPTY_TALLY } };
}

/** Puts a standing entry into its part's book, in place of the one with the same number if there is one. */
export function enter(books: PartBooks, standing: Standing): void {
  const { partId } = standing.statement;
  rewrite(books, partId, new Map(books.byPart.get(partId)?.standings).set(standing.seq, standing));
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

/** True where the part has no estimate yet, leaving aside the entry with this number. */
export function nothingKnownBut(books: PartBooks, partId: PartId, seq: number): boolean {
  for (const standing of books.byPart.get(partId)?.standings.values() ?? [])
    if (standing.seq !== seq && standing.statement.kind === 'estimate') return false;
  return true;
}

function rewrite(books: PartBooks, partId: PartId, standings: ReadonlyMap<number, Standing>): void {
  const before = books.byPart.get(partId)?.state;
  const state = partState(partId, [...standings.values()]);
  books.byPart.set(partId, { standings, state });
  const [keyBefore, keyAfter] = [heldNumber(before), heldNumber(state)];
  if (keyBefore !== keyAfter && keyBefore !== undefined && books.byNumber.get(keyBefore) === partId)
    books.byNumber.delete(keyBefore);
  if (keyAfter !== undefined) books.byNumber.set(keyAfter, partId);
  books.sums = {
    basic: carry(books.sums.basic, before?.basic, state.basic),
    allowance: carry(books.sums.allowance, before?.allowance, state.allowance),
  };
}

function heldNumber(state: PartState | undefined): string | undefined {
  return state?.definition === undefined || state.removed ? undefined : numberKey(state.definition.number);
}

function carry(sum: Tally, before: Tally | undefined, after: Tally): Tally {
  return addTally(before === undefined ? sum : subtractTally(sum, before), after);
}
