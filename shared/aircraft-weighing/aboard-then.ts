/**
 * What the ledger counts of the parts that were aboard on a day (rule A3): own mass of each piece by what had been weighed by then, without
 * allowance, and what weighed assemblies have beyond their parts; with the errors of both.
 */
import { countedBook } from '#shared/ledger/assemblies.ts';
import type { Member, PartId } from '#shared/ledger/entry.ts';
import { type Ledger, type PresentPart, presentParts } from '#shared/ledger/fold.ts';
import {
  byWhatHappened,
  isOf,
  type PartState,
  partState,
  pieceMasses,
  type Weighing,
} from '#shared/ledger/part-state.ts';
import { addTally, EMPTY_TALLY, type MassNg, type Tally, tallyOf, toKg } from '#shared/quantity/exact.ts';
import { residualShifts } from '#shared/uncertainty/ledger-shifts.ts';
import { gatherAll, type Shift, type Shifts } from '#shared/uncertainty/shift.ts';
import { gatherArms, gatherPieces } from '#shared/uncertainty/sources.ts';
import type { At } from '#shared/weighing/assembly-from-words.ts';
import { scalesOf } from '#shared/weighing/scales.ts';

export type PartAboard = {
  readonly state: PartState;
  readonly tally: Tally;
  readonly shifts: Shifts;
  readonly isWeighed: boolean;
};
export type AboardThen = { readonly parts: ReadonlyMap<PartId, PartAboard>; readonly sum: Tally };

export function aboardThen(ledger: Ledger, at: At, missing: readonly Member[]): AboardThen {
  const without = new Map(missing.map(({ partId, pieces }) => [partId, pieces]));
  const { assemblies, byPart } = ledger.books;
  const scales = scalesOf(ledger);
  const residualOf = residualShifts(ledger, scales);
  const parts = new Map<PartId, PartAboard>();
  let sum = EMPTY_TALLY;
  for (const part of presentParts(ledger)) {
    const { partId } = part;
    const standings = byPart.get(partId)?.standings.values() ?? [];
    const state = partState(
      partId,
      [...standings].filter((one) => isDefinition(one) || byWhatHappened(one, at) < 0),
    );
    const pieces = piecesOf(part, without);
    if (pieces.length === 0) continue;
    const masses = pieceMasses(state.estimate?.statement);
    const counts = new Map<Weighing | undefined, number>();
    let massNg = 0n;
    for (const piece of pieces) {
      const weighing = state.lives.get(piece)?.at(-1)?.governing;
      counts.set(weighing, (counts.get(weighing) ?? 0) + 1);
      massNg += masses.massNg(weighing);
    }
    const shifts = new Map<string, Shift>();
    gatherPieces(shifts, state, counts, scales);
    gatherArms(shifts, state, toKg(massNg as MassNg));
    let tally = tallyOf(massNg as MassNg, state.armsNm);
    const book = pieces.includes(1) ? countedBook(assemblies, partId) : undefined;
    if (book !== undefined && byWhatHappened(book.standing, at) < 0) {
      tally = addTally(tally, book.residual);
      gatherAll(shifts, residualOf(book));
    }
    if (tally.massNg === 0n) continue;
    parts.set(partId, { state, tally, shifts, isWeighed: !counts.has(undefined) });
    sum = addTally(sum, tally);
  }
  return { parts, sum };
}

/** A part, and what it is estimated at, is there from the beginning: lists are often brought in later than things happened. */
function isDefinition(standing: Parameters<typeof isOf>[0]): boolean {
  return isOf(standing, 'part added') || isOf(standing, 'estimate');
}

function piecesOf({ partId, definition }: PresentPart, without: ReadonlyMap<PartId, readonly number[] | undefined>) {
  const all = Array.from({ length: definition.quantity }, (_, at) => at + 1);
  if (!without.has(partId)) return all;
  const gone = without.get(partId);
  return gone === undefined ? [] : all.filter((piece) => !gone.includes(piece));
}
