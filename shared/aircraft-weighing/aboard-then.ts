/**
 * What the ledger counts of the parts that were aboard on a day (rule A3), as it is known today: own mass of each piece without allowance, and
 * what weighed assemblies have beyond their parts; with the errors of both.
 */
import { errorBasisOf } from '#shared/estimate/shop-errors.ts';
import { type Aboard, piecesThen } from '#shared/ledger/aboard.ts';
import { aboardOf } from '#shared/ledger/books.ts';
import type { PartId } from '#shared/ledger/entry.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import type { PartState } from '#shared/ledger/part-state.ts';
import type { Tally } from '#shared/quantity/exact.ts';
import { aboardShiftsIn } from '#shared/uncertainty/aboard-shifts.ts';
import type { Shifts } from '#shared/uncertainty/shift.ts';

export type PartAboard = {
  readonly state: PartState;
  /** The assembly it belongs to, by number. */
  readonly assembly: string | undefined;
  readonly tally: Tally;
  readonly shifts: Shifts;
  /** All of its pieces that were aboard had been weighed. */
  readonly isWeighed: boolean;
};
export type AboardThen = { readonly parts: ReadonlyMap<PartId, PartAboard>; readonly sum: Tally };

export function aboardThen(ledger: Ledger, standing: Aboard['standing']): AboardThen {
  const aboard = aboardOf(ledger.books, standing);
  const shiftsOf = aboardShiftsIn(aboard, errorBasisOf(ledger));
  const stateThen = (partId: PartId | undefined) =>
    partId === undefined ? undefined : aboard.past.byPart.get(partId)?.state;
  const parts = new Map<PartId, PartAboard>();
  for (const [partId, tally] of aboard.counted) {
    const state = stateThen(partId);
    if (state === undefined || tally.massNg === 0n) continue;
    const pieces = [...piecesThen(aboard, state)];
    const isWeighed = pieces.every((piece) => state.lives.get(piece)?.at(-1)?.governing !== undefined);
    const assembly = stateThen(state.definition?.parentPartId)?.definition?.number;
    parts.set(partId, { state, assembly, tally, shifts: shiftsOf(partId), isWeighed });
  }
  return { parts, sum: aboard.countedSum };
}
