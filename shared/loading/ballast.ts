/**
 * Ballast (rule C4): the least mass at a station, or at the best of several, that brings every permitted loading (or one case) inside, and what
 * parts would have to weigh for it not to be needed. Everything is held against the limits once more with the ballast in.
 */
import type { BallastRefusal } from '#shared/forecast/ballast.ts';
import { accept, type Result, refuse } from '#shared/result.ts';
import { type AllLoadings, allLoadings, type Loading } from './all-loadings.ts';
import { type CaseReport, caseReport } from './case-report.ts';
import { type Aim, leastChange, type NoChange, withChange } from './least-change.ts';
import type { EmptyState } from './limits.ts';

/** Where ballast can be, and how much of it at most. */
export type BallastStation = {
  readonly name: string;
  readonly xM: number;
  readonly yM?: number | undefined;
  readonly mostKg?: number | undefined;
};

export type Ballast = {
  readonly station: string;
  readonly xM: number;
  readonly yM?: number | undefined;
  readonly massKg: number;
};

/** Everything held against the limits: all loadings, and the case where ballast is for one. */
export type Held = { readonly empty: EmptyState; readonly all: AllLoadings; readonly one: CaseReport | undefined };

export type BallastAnswer =
  | { readonly state: 'not needed'; readonly before: Held }
  | {
      readonly state: 'found';
      readonly ballast: readonly Ballast[];
      readonly massKg: number;
      readonly before: Held;
      readonly after: Held;
    }
  /** Ballast here cannot do it; `why` and `out` are of the station that comes nearest. */
  | ({ readonly before: Held } & NoChange);

/**
 * For limits, and a case, without refusals. Refused where the station is on the wrong side of the limit that is passed. Ballast is for the envelope:
 * whether a range of butt lines is kept is told before and after, and nothing is put aboard for it.
 */
export function ballastAt(
  loading: Loading,
  empty: EmptyState,
  station: BallastStation,
  aim: Aim = 'every loading',
): Result<BallastAnswer, BallastRefusal> {
  const before = held(loading, empty, aim);
  const found = leastChange(loading, empty, { way: 1, ...withMost(station) }, aim);
  if (found.state === 'none') {
    const refusal = wrongSide(before, station);
    return refusal === undefined ? accept({ before, ...found }) : refuse(refusal);
  }
  if (found.massKg === 0) return accept({ state: 'not needed', before });
  return accept(answerOf(loading, empty, [{ station, massKg: found.massKg }], before, aim));
}

/**
 * The station that needs least. Where none is enough by itself, each is filled before the next, those first that lie farthest from the limit that
 * is passed: the least there is with an upright limit, and with a sloped one not proven to be.
 */
export function ballastAmong(
  loading: Loading,
  empty: EmptyState,
  stations: readonly BallastStation[],
  aim: Aim = 'every loading',
): Result<BallastAnswer, BallastRefusal> {
  const [first, ...rest] = stations.map((station) => ballastAt(loading, empty, station, aim));
  if (first === undefined)
    return accept({ before: held(loading, empty, aim), state: 'none', why: 'not enough', out: undefined });
  const best = [first, ...rest].reduce((one, other) => (massOf(other) < massOf(one) ? other : one));
  if (massOf(best) < Number.POSITIVE_INFINITY) return best;
  const before = held(loading, empty, aim);
  const toM = worstLimitM(before);
  const useful = stations.filter((station) => toM === undefined || wrongSide(before, station) === undefined);
  const ordered = useful.toSorted((one, two) => Math.abs(two.xM - (toM ?? 0)) - Math.abs(one.xM - (toM ?? 0)));
  let filled = empty;
  const ballast: { station: BallastStation; massKg: number }[] = [];
  for (const station of ordered) {
    const change = { way: 1, ...withMost(station) } as const;
    const found = leastChange(loading, filled, change, aim);
    const massKg = found.state === 'found' ? found.massKg : change.mostKg;
    if (!Number.isFinite(massKg)) break;
    ballast.push({ station, massKg });
    if (found.state === 'found') return accept(answerOf(loading, empty, ballast, before, aim));
    filled = withChange(filled, change, massKg);
  }
  return [first, ...rest].find((one) => one.ok) ?? first;
}

/** A part, or several taken together at their CG. */
export type PartAt = {
  readonly id: string;
  readonly massKg: number;
  readonly xM: number;
  readonly yM?: number | undefined;
};

/** How much lighter it alone would have to be; undefined where being lighter does not bring everything inside. */
export type LighterPart = { readonly id: string; readonly lighterKg: number | undefined };

/** What each part would have to lose for no ballast to be needed, each by itself. */
export function lighterParts(
  loading: Loading,
  empty: EmptyState,
  parts: readonly PartAt[],
  aim: Aim = 'every loading',
): readonly LighterPart[] {
  return parts.map(({ id, massKg, xM, yM }) => {
    const mostKg = Math.min(massKg, empty.massKg * (1 - 1e-9));
    const found = leastChange(loading, empty, { way: -1, xM, yM, mostKg }, aim);
    return { id, lighterKg: found.state === 'found' ? found.massKg : undefined };
  });
}

function withMost({ xM, yM, mostKg = Number.POSITIVE_INFINITY }: BallastStation) {
  return { xM, yM, mostKg };
}

function held(loading: Loading, empty: EmptyState, aim: Aim): Held {
  const one = aim === 'every loading' ? undefined : caseReport(loading, aim, empty);
  return { empty, all: allLoadings(loading, empty), one };
}

function answerOf(
  loading: Loading,
  empty: EmptyState,
  ballast: readonly { readonly station: BallastStation; readonly massKg: number }[],
  before: Held,
  aim: Aim,
): BallastAnswer {
  const after = ballast.reduce((sum, { station, massKg }) => withChange(sum, { way: 1, ...station }, massKg), empty);
  return {
    state: 'found',
    ballast: ballast.map(({ station, massKg }) => ({ station: station.name, xM: station.xM, yM: station.yM, massKg })),
    massKg: ballast.reduce((sum, { massKg }) => sum + massKg, 0),
    before,
    after: held(loading, after, aim),
  };
}

function massOf(answer: Result<BallastAnswer, BallastRefusal>): number {
  if (!answer.ok || answer.value.state === 'none') return Number.POSITIVE_INFINITY;
  return answer.value.state === 'found' ? answer.value.massKg : 0;
}

/** The limit that is passed farthest, by its way. */
function worstPassed({ all, one }: Held): { readonly way: 'forward' | 'aft'; readonly limitM: number } | undefined {
  const fromCase = one?.stretches.map(({ worst }) => worst);
  const fromAll = all.state === 'nothing permitted' ? [] : all.worst.filter(({ isOutside }) => isOutside);
  const passed = (fromCase ?? fromAll).flatMap(({ way, limitM, outM }) =>
    (way === 'forward' || way === 'aft') && limitM !== undefined ? [{ way, limitM, outM: outM ?? 0 }] : [],
  );
  return passed.length === 0 ? undefined : passed.reduce((worst, other) => (other.outM > worst.outM ? other : worst));
}

function worstLimitM(before: Held): number | undefined {
  return worstPassed(before)?.limitM;
}

function wrongSide(before: Held, { xM }: BallastStation): BallastRefusal | undefined {
  const passed = worstPassed(before);
  if (passed === undefined) return undefined;
  const { way, limitM } = passed;
  const isRight = way === 'aft' ? xM < limitM : xM > limitM;
  if (isRight) return undefined;
  return { code: 'ballast-on-wrong-side', stationM: xM, toM: limitM, way: way === 'aft' ? 'forward' : 'aft' };
}
