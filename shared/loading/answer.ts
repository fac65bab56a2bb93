/**
 * Loading limits held against one empty aircraft, as plain data (rules C1-C3, C5): the server answers with it, and the screen asks it of limits that
 * are still being typed.
 */
import type {
  AnswerReport,
  CaseReport,
  EmptyReport,
  LateralReport,
  LoadedReport,
  WorstReport,
} from '#shared/contract/loading.ts';
import { type AllLoadings, allLoadings, type Lateral, type Loading, reachOf, type Worst } from './all-loadings.ts';
import { caseReport } from './case-report.ts';
import type { EmptyState } from './limits.ts';
import type { Loaded } from './loaded.ts';
import { payloadReport } from './payload.ts';
import { reachOutline } from './reach-outline.ts';

/** Limits without refusals, held against one empty aircraft. */
export function answerOf(loading: Loading, empty: EmptyReport): AnswerReport {
  const { limits } = loading;
  const state: EmptyState = empty;
  const all = allLoadings(loading, state);
  const reach = reachOf(limits, state);
  return {
    empty,
    ...allReport(all),
    reach: reach === undefined ? [] : reachOutline(reach).map((stretch) => [...stretch]),
    cases: limits.cases.map((one): CaseReport => {
      const { pieces: _, ...report } = caseReport(loading, one, state);
      return {
        ...report,
        start: loadedReport(report.start),
        landing: loadedReport(report.landing),
        withoutFuel: loadedReport(report.withoutFuel),
        points: [...report.points],
        stretches: [...report.stretches],
        above: [...report.above],
      };
    }),
    payload: payloadReport(limits, state),
  };
}

function allReport(
  all: AllLoadings,
): Pick<AnswerReport, 'state' | 'worst' | 'worstOfAll' | 'mostForward' | 'mostAft' | 'lightest' | 'lateral'> {
  const lightest = loadedReport(all.lightest);
  if (all.state === 'nothing permitted') return { state: all.state, worst: [], lightest };
  return {
    state: all.state,
    worst: all.worst.map(worstReport),
    worstOfAll: worstReport(all.worstOfAll),
    mostForward: loadedReport(all.mostForward),
    mostAft: loadedReport(all.mostAft),
    lightest,
    lateral: lateralReport(all.lateral),
  };
}

export function lateralReport(lateral: Lateral | undefined): LateralReport | undefined {
  if (lateral === undefined) return undefined;
  const { leftmost, rightmost } = lateral;
  return { ...lateral, leftmost: loadedReport(leftmost), rightmost: loadedReport(rightmost) };
}

/** Field by field: what was found has its loads a second time, which is not to be sent. */
export function worstReport({ way, side, isOutside, limitM, limitKg, outM, outKg, loaded }: Worst): WorstReport {
  return { way, side, isOutside, limitM, limitKg, outM, outKg, loaded: loadedReport(loaded) };
}

export function loadedReport({ massKg, xM, yM, percentMac, loads }: Loaded): LoadedReport {
  return { massKg, xM, yM, percentMac, loads: loads.map((load) => ({ ...load })) };
}
