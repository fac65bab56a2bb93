/** What drift costs in ballast (rule F7): the least mass at a station that brings the forecast CG inside its range, and the payload it takes. */
import type { Figures } from '#shared/contract/forecast.ts';
import type { BallastReport } from '#shared/contract/proposal.ts';
import { accept, type Result, refuse } from '#shared/result.ts';
import { type BallastRefusal, ballastKg } from './ballast.ts';

export type RangeBallastRefusal =
  | BallastRefusal
  | { readonly code: 'cg-range-missing' }
  | { readonly code: 'cg-missing' };

/** All stations from the datum in force. */
export function rangeBallast(figures: Figures, stationM: number): Result<BallastReport, RangeBallastRefusal> {
  const { targets } = figures;
  if (targets === undefined || (targets.cgForwardM === undefined && targets.cgAftM === undefined))
    return refuse({ code: 'cg-range-missing' });
  const cgM = figures.cg.x?.atM;
  if (cgM === undefined) return refuse({ code: 'cg-missing' });
  const { cgForwardM = cgM, cgAftM = cgM } = targets;
  const toM = cgM < cgForwardM ? cgForwardM : cgM > cgAftM ? cgAftM : undefined;
  const needed = toM === undefined ? accept(0) : ballastKg({ massKg: figures.forecastKg, cgM }, { toM, stationM });
  if (!needed.ok) return needed;
  const overTargetKg = figures.forecastKg + needed.value - targets.emptyMassKg;
  return accept({ stationM, massKg: needed.value, toM, cgM, overTargetKg, payloadKg: Math.max(0, overTargetKg) });
}
