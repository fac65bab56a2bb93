/**
 * The scales of a shop (rules W1, W12, U1): what is known of one on a day, and what that says of a weighing made on it. Read from the ledger
 * whenever it is asked, so that a calibration or a check recorded late speaks of the weighings it is about.
 */
import type { StatementOf } from '#shared/ledger/entry.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import { oncePerChange } from '#shared/ledger/once.ts';
import { byWhatHappened, latestSeq, type Standing } from '#shared/ledger/part-state.ts';

export type ScaleStatement = Standing<StatementOf<'scale'>>;
export type CheckWeight = Standing<StatementOf<'check weight'>>;

/** One scale: its calibrations and its check weights, oldest first by the day they happened. */
export type Scale = {
  readonly name: string;
  readonly calibrations: readonly ScaleStatement[];
  readonly checks: readonly CheckWeight[];
};

/** By `scaleKey`. */
export type Scales = ReadonlyMap<string, Scale>;

/** Why a weighing is in doubt because of its scale. */
export type ScaleMark =
  | { readonly mark: 'calibration out of date'; readonly dueOn: string }
  | { readonly mark: 'check weight failed'; readonly checkSeq: number; readonly checkedOn: string };

/** Names of scales are one name whatever their case and outer spaces. */
export function scaleKey(name: string): string {
  return name.trim().toLowerCase().normalize('NFC');
}

/** Every scale that was described or checked. */
export const scalesOf: (ledger: Ledger) => Scales = oncePerChange(['scale', 'check weight'], (ledger) => {
  const scales = new Map<string, { name: string; calibrations: ScaleStatement[]; checks: CheckWeight[] }>();
  const named = (name: string) => {
    const known = scales.get(scaleKey(name)) ?? { name, calibrations: [], checks: [] };
    scales.set(scaleKey(name), known);
    return known;
  };
  for (const standing of [...ledger.whole.scale.values()].sort(byWhatHappened))
    named(standing.statement.scale).calibrations.push(standing);
  for (const standing of [...ledger.whole['check weight'].values()].sort(byWhatHappened))
    named(standing.statement.scale).checks.push(standing);
  return scales;
});

type At = { readonly happenedOn: string; readonly seq: number };

/** What was known of the scale at a moment: the last statement before it, or else the first one there is. */
export function calibrationAt(scale: Scale | undefined, at: At): StatementOf<'scale'> | undefined {
  if (scale === undefined) return undefined;
  const last = scale.calibrations.findLast((standing) => byWhatHappened(standing, at) < 0);
  return (last ?? scale.calibrations[0])?.statement;
}

/** Rule U1: the relative standard uncertainty that all weighings on one scale share; 0 where nothing is known of the scale. */
export function gainStdAt(scales: Scales, name: string | undefined, at: At): number {
  return gainStdOf(scaleNamed(scales, name), at);
}

/** The same of a scale that has been looked up. */
export function gainStdOf(scale: Scale | undefined, at: At): number {
  return calibrationAt(scale, at)?.gainStd ?? 0;
}

export function scaleNamed(scales: Scales, name: string | undefined): Scale | undefined {
  return name === undefined ? undefined : scales.get(scaleKey(name));
}

/** Rule W12: the scale shows the known mass within the limit. Bounds count as passed; the last digits of binary fractions do not. */
export function passesCheck(check: Pick<StatementOf<'check weight'>, 'referenceKg' | 'shownKg' | 'limitKg'>): boolean {
  const offNg = Math.abs(Math.round(check.shownKg * 1e12) - Math.round(check.referenceKg * 1e12));
  return offNg <= Math.round(check.limitKg * 1e12);
}

/**
 * What the scale says against a weighing: it was out of calibration on that day, or a check weight failed on it since the last good one
 * before the weighing (rule W12). A good check after the failed one ends the doubt for what is weighed after it.
 */
export function scaleMarks(
  scales: Scales,
  weighing: At & { readonly scale: string | undefined },
): readonly ScaleMark[] {
  return marksOf(scaleNamed(scales, weighing.scale), weighing);
}

/** The same of a scale that has been looked up. */
export function marksOf(scale: Scale | undefined, weighing: At): readonly ScaleMark[] {
  if (scale === undefined) return [];
  const marks: ScaleMark[] = [];
  const dueOn = calibrationAt(scale, weighing)?.dueOn;
  if (dueOn !== undefined && dueOn < weighing.happenedOn) marks.push({ mark: 'calibration out of date', dueOn });
  const before = scale.checks.findLast((check) => byWhatHappened(check, weighing) < 0);
  const after = scale.checks.find((check) => byWhatHappened(check, weighing) > 0);
  const failed = [before, after].find((check) => check !== undefined && !passesCheck(check.statement));
  if (failed !== undefined)
    marks.push({
      mark: 'check weight failed',
      checkSeq: latestSeq(failed),
      checkedOn: failed.happenedOn,
    });
  return marks;
}
