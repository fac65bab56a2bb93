/**
 * What makes no sense in a weighing of the aircraft as a whole (rules A1, A2): too few supports, supports in one line, a CG that cannot
 * follow, runs that do not agree. Each with its place, under the names that a person types it by. Runs that do not agree are not averaged
 * and cannot be recorded side by side: a mean of two readings that contradict each other is nobody's reading. One is set aside with its
 * reason, which stays in the record, or the aircraft is weighed once more.
 */
import type { Refusal } from '#shared/problem/registry.ts';
import { type DisplayUnits, SI_UNITS, showFixed, showLength, showMass } from '#shared/quantity/show.ts';
import type { PathProblem } from '#shared/words/path-problem.ts';
import { say } from '#shared/words/say.ts';
import { computeWeighing, runPoints } from './compute.ts';
import { standInLine } from './model.ts';
import { CHECKS, LEAST_TILT_RAD, type Run, type Weighed } from './weighing.ts';

const problem = (path: readonly string[], refusal: Refusal): PathProblem => ({ path, refusal });

/**
 * Every objection; none means that the result can be computed. With `isWhole` also what keeps it from being signed. Figures are told in `units`.
 */
export function weighedRefusals(
  weighed: Weighed,
  { isWhole = false, units = SI_UNITS }: { readonly isWhole?: boolean; readonly units?: DisplayUnits | undefined } = {},
): readonly PathProblem[] {
  const found = [...toSupports(weighed), ...toRuns(weighed, units), ...toTilt(weighed)];
  if (found.length > 0) return found;
  const { empty } = computeWeighing(weighed);
  if (!(empty.massKg > 0))
    return [problem(['corrections'], { code: 'nothing-left', left: massText(empty.massKg, units) })];
  return isWhole ? [...toAgreement(weighed, units), ...toChecklist(weighed)] : [];
}

/** Whether the runs that count agree (rule A2); one run by itself has nothing to agree with. */
export function runsAgree(weighed: Weighed): {
  readonly isOne: boolean;
  readonly agree: boolean;
  readonly apartKg: number;
  readonly apartM: number;
} {
  const points = runPoints(weighed);
  const apartKg = rangeOf(points.map(({ massKg }) => massKg));
  const apartM = rangeOf(points.map(({ xM }) => xM));
  const { massKg, cgM } = weighed.agreement;
  // The last digits of binary fractions do not decide.
  const agree = apartKg <= massKg * (1 + 1e-9) && apartM <= cgM * (1 + 1e-9);
  return { isOne: points.length === 1, agree, apartKg, apartM };
}

function rangeOf(values: readonly number[]): number {
  return Math.max(...values) - Math.min(...values);
}

function toSupports({ supports }: Weighed): readonly PathProblem[] {
  if (supports.length < 2)
    return [problem(['supports'], { code: 'supports-too-few', count: supports.length, least: 2 })];
  const [first] = supports;
  const found: PathProblem[] = [];
  if (supports.every(({ xM }) => xM === first?.xM))
    found.push(problem(['supports'], { code: 'supports-at-one-place' }));
  const withY = supports.filter(({ yM }) => yM !== undefined).length;
  if (withY > 0 && withY < supports.length) {
    const at = supports.findIndex(({ yM }) => yM === undefined);
    found.push(
      problem(['supports', String(at), 'y'], { code: 'support-y-missing', support: supports[at]?.name ?? '' }),
    );
  } else if (withY > 0 && withY < 3)
    found.push(problem(['supports'], { code: 'supports-too-few', count: withY, least: 3 }));
  else if (withY > 0 && standInLine(supports)) found.push(problem(['supports'], { code: 'supports-in-line' }));
  return found;
}

function toRuns({ supports, level, tilted }: Weighed, units: DisplayUnits): readonly PathProblem[] {
  const attitudes = [['level', level] as const, ...(tilted === undefined ? [] : [['tilted', tilted.runs] as const])];
  return attitudes.flatMap(([attitude, runs]) => [
    ...(runs.length === 0 ? [problem([attitude], { code: 'no-run' })] : []),
    ...(runs.length > 0 && runs.every(({ setAside }) => setAside !== undefined)
      ? [problem([attitude], { code: 'all-runs-set-aside' })]
      : []),
    ...runs.flatMap((run, at) => toReadings(run, [attitude, String(at), 'readings'], supports, units)),
  ]);
}

function toReadings(
  { readings }: Run,
  path: readonly string[],
  supports: Weighed['supports'],
  units: DisplayUnits,
): readonly PathProblem[] {
  const found: PathProblem[] = [];
  const unread = supports[readings.length];
  if (unread !== undefined) found.push(problem(path, { code: 'reading-missing', support: unread.name }));
  else if (readings.length > supports.length)
    found.push(problem(path, { code: 'shape-refused', why: say`must not have more readings than supports` }));
  const empty = readings.find(({ grossKg, tareKg }) => grossKg <= tareKg);
  if (empty !== undefined) {
    const [gross, tare] = [massText(empty.grossKg, units), massText(empty.tareKg, units)];
    found.push(problem(path, { code: 'gross-not-above-tare', gross, tare }));
  }
  return found;
}

function toTilt({ tilted, supports }: Weighed): readonly PathProblem[] {
  if (tilted === undefined) return [];
  const found: PathProblem[] = [];
  if (Math.abs(tilted.angleRad) < LEAST_TILT_RAD) {
    const degrees = `${showFixed((tilted.angleRad * 180) / Math.PI, 2)}°`;
    found.push(problem(['angle'], { code: 'tilt-too-small', angle: degrees }));
  }
  const at = supports.findIndex(({ zM }) => zM === undefined);
  if (at >= 0)
    found.push(
      problem(['supports', String(at), 'z'], { code: 'support-z-missing', support: supports[at]?.name ?? '' }),
    );
  return found;
}

function toAgreement(weighed: Weighed, units: DisplayUnits): readonly PathProblem[] {
  const { agree, apartKg, apartM } = runsAgree(weighed);
  if (agree) return [];
  const { massKg, cgM } = weighed.agreement;
  const facts = {
    apart: `${massText(apartKg, units)}, CG ${lengthText(apartM, units)}`,
    limit: `${massText(massKg, units)}, CG ${lengthText(cgM, units)}`,
  };
  return [problem(['level'], { code: 'runs-disagree', ...facts })];
}

function toChecklist({ checklist }: Weighed): readonly PathProblem[] {
  const open = CHECKS.filter((check) => !checklist.some((one) => one.check === check));
  return [
    ...(open.length === 0 ? [] : [problem(['checklist'], { code: 'checklist-open', open })]),
    ...checklist.flatMap(({ isSo, words }, at) =>
      isSo || words !== undefined ? [] : [problem(['checklist', String(at), 'words'], { code: 'check-without-words' })],
    ),
  ];
}

function massText(massKg: number, { mass }: DisplayUnits): string {
  return `${showMass(massKg, mass)} ${mass}`;
}

function lengthText(lengthM: number, { length }: DisplayUnits): string {
  return `${showLength(lengthM, length)} ${length}`;
}
