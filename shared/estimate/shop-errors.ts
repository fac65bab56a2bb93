/**
 * How far a shop's processes are believed to be off before anything was released, and how far one piece differs from the next (rule F1).
 * What a shop starts with is common practice, no source; it states its own with its allowances. Reads the ledger and changes nothing.
 */
import { inForce, type Ledger } from '#shared/ledger/fold.ts';
import { oncePerChange } from '#shared/ledger/once.ts';
import { type Scales, scalesOf } from '#shared/weighing/scales.ts';

/** Standard deviations, as fractions of a mass. */
export type ShopErrors = { readonly processShiftStd: number; readonly pieceToPieceStd: number };

/** Common practice, no source: adjust to your shop. */
export const COMMON_ERRORS: ShopErrors = { processShiftStd: 0.08, pieceToPieceStd: 0.03 };

/** The fields that a person states them in, beside the allowances. */
export const ERROR_FIELDS = {
  processShiftStd: 'process shift',
  pieceToPieceStd: 'piece to piece',
} as const satisfies Record<keyof ShopErrors, string>;

/** In force, the shop's own before common practice. */
export const shopErrorsOf: (ledger: Ledger) => ShopErrors = oncePerChange(['allowances'], (ledger) => {
  const own = inForce(ledger, 'allowances');
  return {
    processShiftStd: own?.processShiftStd ?? COMMON_ERRORS.processShiftStd,
    pieceToPieceStd: own?.pieceToPieceStd ?? COMMON_ERRORS.pieceToPieceStd,
  };
});

/** Which of them are the shop's own. */
export function ownErrorsOf(ledger: Ledger): { readonly [name in keyof ShopErrors]: boolean } {
  const own = inForce(ledger, 'allowances');
  return { processShiftStd: own?.processShiftStd !== undefined, pieceToPieceStd: own?.pieceToPieceStd !== undefined };
}

/** What the error of a mass stands on beside its own entries: the scales, and the deviation of an estimate that states none. */
export type ErrorBasis = { readonly scales: Scales; readonly unstatedStd: number };

export const errorBasisOf: (ledger: Ledger) => ErrorBasis = oncePerChange(
  ['scale', 'check weight', 'allowances'],
  (ledger) => ({ scales: scalesOf(ledger), unstatedStd: shopErrorsOf(ledger).pieceToPieceStd }),
);
