/**
 * The least mass put on (or taken off) at a station so that nothing is outside the envelope (rule C4). Whatever loading is outside stays outside
 * up to the mass at which it comes in, which is the root of a quadratic, limits being sloped or not; no smaller mass can be the answer. So the
 * mass grows from root to root, with the loadings that are worst then, until none is outside: what comes out is the least, and not a guess that
 * happens to work. How loadings go with the change is in `change-paths.ts`.
 */
import { type Loading, lightestLoads, reachOf, roomOf, worstOf } from './all-loadings.ts';
import { caseReport } from './case-report.ts';
import { type Change, keptPath, type Path, pathsOf } from './change-paths.ts';
import { type Bounds, boundsOf, isInside, type Outside } from './envelope.ts';
import type { EmptyState, LoadingCase } from './limits.ts';
import { type ItemLoaded, loadedAt } from './loaded.ts';
import { rootsOf, valueAt } from './quadratic.ts';

/** The answer is to a milligram: smaller steps are not taken. */
const STEP_KG = 1e-6;
/** Far more than are ever needed; after these, steps grow, so that there is always an end. */
const MANY_STEPS = 300;

/** What must be inside: every permitted loading, or one case from start to landing. */
export type Aim = 'every loading' | LoadingCase;

/** Why no mass is enough, and the loading that stays outside. */
export type NoChange = {
  readonly state: 'none';
  readonly why: 'not enough' | 'no mass helps' | 'maximum weight';
  readonly out: Outside | undefined;
};

export type LeastChange = { readonly state: 'found'; readonly massKg: number; readonly steps: number } | NoChange;

/** For limits, and a case, without refusals. */
export function leastChange(
  loading: Loading,
  empty: EmptyState,
  change: Change,
  aim: Aim = 'every loading',
): LeastChange {
  const bounds = boundsOf(loading.limits.envelope, loading.chord);
  let [massKg, leastStepKg] = [0, STEP_KG];
  let out: Outside | undefined;
  for (let steps = 0; ; steps += 1) {
    const changed = withChange(empty, change, massKg);
    const cuts =
      aim === 'every loading'
        ? loadingCuts(loading, changed, change, bounds)
        : caseCuts({ loading, one: aim, bounds }, changed, change);
    if (cuts === undefined) return { state: 'none', why: 'maximum weight', out };
    if (cuts.length === 0) return { state: 'found', massKg, steps };
    const slowest = cuts.reduce((one, other) => (other.byKg > one.byKg ? other : one));
    out = slowest.out;
    if (slowest.byKg === Number.POSITIVE_INFINITY) return { state: 'none', why: 'no mass helps', out };
    if (massKg >= change.mostKg || massKg + slowest.byKg > change.mostKg + STEP_KG)
      return { state: 'none', why: 'not enough', out };
    massKg = Math.min(change.mostKg, massKg + Math.max(slowest.byKg, leastStepKg));
    if (steps > MANY_STEPS) leastStepKg *= 2;
  }
}

/** The empty aircraft with the change made. Where a butt line is not known, that of the aircraft stays as it is. */
export function withChange(empty: EmptyState, { way, xM, yM }: Omit<Change, 'mostKg'>, massKg: number): EmptyState {
  const wholeKg = empty.massKg + way * massKg;
  const mixed = (one: number, other: number) => (one * empty.massKg + way * other * massKg) / wholeKg;
  const across = empty.yM === undefined || yM === undefined ? empty.yM : mixed(empty.yM, yM);
  return { ...empty, massKg: wholeKg, xM: mixed(empty.xM, xM), yM: across };
}

/** A loading that is outside, and by what the change has to grow before it and those it goes over into are not. */
type Cut = { readonly out: Outside; readonly byKg: number };

/** None where every loading is inside; undefined where none is permitted any more. */
function loadingCuts(loading: Loading, empty: EmptyState, change: Change, bounds: Bounds): readonly Cut[] | undefined {
  const reach = reachOf(loading.limits, empty);
  if (reach === undefined) return change.way === 1 ? undefined : [nothingPermitted(loading, empty)];
  return worstOf(reach, bounds)
    .filter(({ isOutside }) => isOutside)
    .map((found) => {
      const paths = pathsOf(found.loads, loading, empty, change);
      return { out: found, byKg: Math.max(...paths.map((path) => insideAfter(path, bounds))) };
    });
}

/** Not even the lightest loading is permitted until so much is off the aircraft. */
function nothingPermitted({ limits }: Loading, empty: EmptyState): Cut {
  const room = roomOf(limits, empty);
  const lightest = loadedAt({ massKg: 0, xM: 0 }, lightestLoads(limits.stations), limits).loads;
  const sumKg = (loads: readonly ItemLoaded[]) => loads.reduce((sum, { massKg }) => sum + massKg, 0);
  const dryKg = sumKg(lightest.filter(({ quantityL }) => quantityL === undefined));
  const byKg = Math.max(dryKg - room.dryKg, sumKg(lightest) - room.allKg);
  return { out: { way: 'too heavy', outKg: byKg }, byKg };
}

type CaseAim = { readonly loading: Loading; readonly one: LoadingCase; readonly bounds: Bounds };

/** The same for a case. A maximum that it passes is not cured by a mass put on, and kilogram by kilogram by one taken off. */
function caseCuts({ loading, one, bounds }: CaseAim, empty: EmptyState, change: Change): readonly Cut[] | undefined {
  const { stretches, above } = caseReport(loading, one, empty);
  if (above.length > 0 && change.way === 1) return undefined;
  const passed = above.map(({ aboveKg }): Cut => ({ out: { way: 'too heavy', outKg: aboveKg }, byKg: aboveKg }));
  const outside = stretches.map(({ worst }): Cut => {
    const at = { massKg: worst.massKg, momentKgM: worst.massKg * worst.xM, mostKg: Number.POSITIVE_INFINITY };
    return { out: worst, byKg: insideAfter(keptPath(at, change), bounds) };
  });
  return [...passed, ...outside];
}

/** By what the change has to grow before a loading is inside, or can no longer be made so; nothing less does it. */
function insideAfter(path: Path, bounds: Bounds): number {
  const corners = bounds.sides.flatMap((side) => [side.fromKg, side.toKg]);
  for (const { fromKg, toKg, mass, moment } of path) {
    const levels = mass.per === 0 ? [] : corners.map((massKg) => (massKg - mass.at) / mass.per);
    const crossings = bounds.sides.flatMap(({ a, b }) =>
      rootsOf({
        c: moment.c - mass.at * (a + b * mass.at),
        d: moment.d - mass.per * (a + 2 * b * mass.at),
        e: moment.e - b * mass.per ** 2,
      }),
    );
    const between = [...levels, ...crossings].filter((byKg) => byKg > fromKg && byKg <= toKg);
    for (const byKg of between.sort((one, two) => one - two)) {
      const massKg = mass.at + mass.per * byKg;
      if (isInside(bounds, { massKg, xM: valueAt(moment, byKg) / massKg })) return byKg;
    }
  }
  return path.at(-1)?.toKg ?? 0;
}
