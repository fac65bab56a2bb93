/**
 * Centre of gravity: sum(m x)/sum(m), along each axis, and in per cent of the mean aerodynamic chord (rule R2).
 * The general moment formula; its worked figures are checked in `tests/published`.
 */
import type { Axis, Tally } from '#shared/quantity/exact.ts';
import { accept, type Result, refuse } from '#shared/result.ts';

export type CgRefusal = { readonly code: 'cg-of-zero-mass'; readonly axis: Axis };

/**
 * CG along one axis in metres from the datum of the tally. Mass without an arm on that axis is left out, which is to
 * place it at the CG of the rest. Refused where no placed mass is left: a CG of nothing is not a number.
 */
export function centreOfGravityM(tally: Tally, axis: Axis): Result<number, CgRefusal> {
  const { placedNg, momentNgNm } = tally[axis];
  if (placedNg <= 0n) return refuse({ code: 'cg-of-zero-mass', axis });
  return accept(Number(momentNgNm) / Number(placedNg) / 1e9);
}

/** Per cent MAC: (x - LEMAC)/MAC x 100, with x and LEMAC from one datum, all in metres, MAC above 0. */
export function percentMac(xM: number, chord: { readonly lemacM: number; readonly macM: number }): number {
  return ((xM - chord.lemacM) / chord.macM) * 100;
}
