/**
 * What a piece should weigh as it stands on the scale, and what it will weigh in the aircraft (rules E2, W3).
 * `flash` comes off after release; `later` goes on after trim, and `finish` is how much of it goes on after fitting out. All masses
 * are of one piece.
 */
import type { Condition } from '#shared/ledger/entry.ts';

export type StillToCome = {
  readonly flashKg: number;
  readonly laterKg: number;
  readonly finishKg?: number | undefined;
};
export type Installed = StillToCome & { readonly massKg: number };

/** Expected at the scale: installed, less what goes on later than this condition, with the flash before trim (rule E2). */
export function expectedAtScaleKg(estimate: Installed, condition: Condition): number {
  const flashKg = condition === 'as released' ? estimate.flashKg : 0;
  return estimate.massKg - toComeKg(estimate, condition) + flashKg;
}

/**
 * Rule W3: projected installed mass = net - flash (if as released) + what goes on later. A piece lighter than its flash is taken for
 * nothing rather than for less than nothing.
 */
export function projectedInstalledKg(netKg: number, condition: Condition, later: StillToCome): number {
  const trimmedKg = condition === 'as released' ? Math.max(0, netKg - later.flashKg) : netKg;
  return trimmedKg + toComeKg(later, condition);
}

/** What goes on after this condition: all of later until it is fitted out, then the finish, then nothing. */
export function toComeKg(later: StillToCome, condition: Condition): number {
  switch (condition) {
    case 'as released':
    case 'trimmed':
      return later.laterKg;
    case 'fitted':
      return later.finishKg ?? 0;
    case 'finished':
      return 0;
  }
}

/** A later condition tells more about the finished piece (rule W9). */
export function conditionRank(condition: Condition): number {
  return { 'as released': 0, trimmed: 1, fitted: 2, finished: 3 }[condition];
}
