/**
 * What a piece should weigh as it stands on the scale, and what it will weigh in the aircraft (rules E2, W3).
 * `flash` comes off after release; `later` goes on after trim. All masses are of one piece.
 */
import type { Condition } from '#shared/ledger/entry.ts';

export type Installed = { readonly massKg: number; readonly flashKg: number; readonly laterKg: number };

/** Expected at the scale: as released = installed - later + flash; trimmed = installed - later; finished = installed. */
export function expectedAtScaleKg(estimate: Installed, condition: Condition): number {
  switch (condition) {
    case 'as released':
      return estimate.massKg - estimate.laterKg + estimate.flashKg;
    case 'trimmed':
      return estimate.massKg - estimate.laterKg;
    case 'finished':
      return estimate.massKg;
  }
}

/** Rule W3: projected installed mass = net - flash (if as released) + later (unless finished). */
export function projectedInstalledKg(
  netKg: number,
  condition: Condition,
  later: { readonly flashKg: number; readonly laterKg: number },
): number {
  const trimmedKg = condition === 'as released' ? netKg - later.flashKg : netKg;
  return condition === 'finished' ? trimmedKg : trimmedKg + later.laterKg;
}

/** A later condition tells more about the finished piece (rule W9). */
export function conditionRank(condition: Condition): number {
  return { 'as released': 0, trimmed: 1, finished: 2 }[condition];
}
