/** Ballast (rule F6): how much of it at a station brings a CG to where it should be. Moments, about any one datum. */
import { accept, type Result, refuse } from '#shared/result.ts';

export type BallastRefusal = {
  readonly code: 'ballast-on-wrong-side';
  readonly stationM: number;
  readonly toM: number;
  readonly way: 'forward' | 'aft';
};

/** Nearer than this, in metres, a CG is where it should be. */
const NEAR_M = 1e-9;

/**
 * Least mass at `stationM` that brings the CG of `massKg` from `cgM` to `toM`: (M X + m s)/(M + m) = T, so m = M (X - T)/(T - s). Refused
 * where the station does not lie on the far side of T.
 */
export function ballastKg(
  { massKg, cgM }: { readonly massKg: number; readonly cgM: number },
  { toM, stationM }: { readonly toM: number; readonly stationM: number },
): Result<number, BallastRefusal> {
  if (Math.abs(cgM - toM) <= NEAR_M || !(massKg > 0)) return accept(0);
  const ballast = (massKg * (cgM - toM)) / (toM - stationM);
  if (Number.isFinite(ballast) && ballast > 0) return accept(ballast);
  return refuse({ code: 'ballast-on-wrong-side', stationM, toM, way: cgM > toM ? 'forward' : 'aft' });
}
