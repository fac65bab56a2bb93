/**
 * Has a process changed? (rule D4). Its releases in order, each as the number of standard deviations by which it missed estimate and
 * allowance, on two charts about 0: an EWMA, and a cumulative sum that also tells where a shift began. Reads the ledger and changes nothing.
 */
import type { ProcessDriftReport, ProcessSignal, ReleaseReport } from '#shared/contract/forecast.ts';
import type { Process } from '#shared/ledger/entry.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import { oncePerEntry } from '#shared/ledger/once.ts';
import {
  type CusumPoint,
  cusumChart,
  type EwmaPoint,
  ewmaChart,
  FALSE_ALARM_RUN_LENGTH,
  SHOP_CUSUM,
  SHOP_EWMA,
  type Side,
} from './control-charts.ts';
import { processCauseOf } from './process-cause.ts';
import { type Release, releasesByProcess } from './process-releases.ts';

/** Every process that released something, those that were called first, heavy before light; then in the order of their first releases. */
export const processDrifts: (ledger: Ledger) => readonly ProcessDriftReport[] = oncePerEntry((ledger) =>
  [...releasesByProcess(ledger)]
    .map(([process, releases]) => ({
      process,
      ...withCause(ledger, process, releases),
      limits: { ...SHOP_EWMA, ...SHOP_CUSUM },
      falseAlarmEvery: { ...FALSE_ALARM_RUN_LENGTH },
    }))
    .sort((a, b) => rankOf(a) - rankOf(b)),
);

/** The processes that ask for a cause: called, and nobody has said why. An allowance to spare asks for none. */
export function withoutProcessCause(ledger: Ledger): readonly Process[] {
  return processDrifts(ledger)
    .filter(
      ({ signal, cause }) => signal !== undefined && signal.reading !== 'allowance to spare' && cause === undefined,
    )
    .map(({ process }) => process);
}

const RANK = { heavy: 0, light: 1, 'allowance to spare': 2 } as const;

function rankOf({ signal }: Pick<ProcessDriftReport, 'signal'>): number {
  return signal === undefined ? 3 : RANK[signal.reading];
}

function withCause(ledger: Ledger, process: Process, releases: readonly Release[]) {
  const { began, ...charts } = chartsOf(releases);
  const since = began === undefined ? [] : releases.slice(began);
  return { ...charts, cause: processCauseOf(ledger, process, since) };
}

/** What a release missed estimate and allowance by, and the standard deviation of that. */
export function missOf(release: Release): { readonly missFraction: number; readonly stdFraction: number } {
  const { differenceFraction, allowanceFraction, estimateStdFraction, scaleStdFraction } = release;
  return {
    missFraction: differenceFraction - allowanceFraction,
    stdFraction: Math.hypot(estimateStdFraction, scaleStdFraction),
  };
}

export function deviationOf(release: Release): number {
  const { missFraction, stdFraction } = missOf(release);
  return missFraction / stdFraction;
}

/**
 * How many of the releases came before the process was last seen to change: 0 where it never was. After a change it is watched about the
 * level that it changed to, so that one change is one, and a process that is put right again has changed once more.
 */
export function releasesBeforeLastChange(releases: readonly Release[]): number {
  const deviations = releases.map(deviationOf);
  let [from, watchedFrom, level] = [0, 0, 0];
  for (;;) {
    const called = firstCall(deviations.slice(watchedFrom), level);
    if (called === undefined) return from;
    from = watchedFrom + called.began;
    watchedFrom += called.at + 1;
    const since = deviations.slice(from, watchedFrom);
    level = since.reduce((sum, deviation) => sum + deviation, 0) / since.length;
  }
}

const charted = new WeakMap<readonly Release[], ReturnType<typeof chart>>();

/** A list of releases that has not changed is not drawn again. */
function chartsOf(releases: readonly Release[]): ReturnType<typeof chart> {
  const before = charted.get(releases);
  if (before !== undefined) return before;
  const drawn = chart(releases);
  charted.set(releases, drawn);
  return drawn;
}

function chart(releases: readonly Release[]) {
  const deviations = releases.map(deviationOf);
  const charts = chartsAbout(deviations, 0);
  const { ewma, cusum } = charts;
  const points = releases.flatMap((release, at): ReleaseReport[] => {
    const [average, sums] = [ewma[at], cusum[at]];
    if (average === undefined || sums === undefined) return [];
    const { differenceFraction, allowanceFraction } = release;
    return [
      {
        ...placeOf(release),
        pieces: [...release.pieces],
        differenceFraction,
        allowanceFraction,
        stdFraction: missOf(release).stdFraction,
        deviation: deviationOf(release),
        ewma: average.ewma,
        ewmaLower: average.lower,
        ewmaUpper: average.upper,
        cusumHigh: sums.high,
        cusumLow: sums.low,
      },
    ];
  });
  const call = firstIn(charts);
  return { points, signal: signalOf(releases, call), began: call?.began };
}

function chartsAbout(deviations: readonly number[], level: number) {
  return {
    ewma: ewmaChart(deviations, { target: level, sd: 1, ...SHOP_EWMA }),
    cusum: cusumChart(deviations, { target: level, ...SHOP_CUSUM }),
  };
}

type Call = {
  readonly at: number;
  readonly began: number;
  readonly side: Side;
  readonly chart: ProcessSignal['chart'];
};

/** The first place at which either chart is out. An average that is out while the sum of its side is nothing began there and then. */
function firstCall(deviations: readonly number[], level: number): Call | undefined {
  return firstIn(chartsAbout(deviations, level));
}

function firstIn({ ewma, cusum }: ReturnType<typeof chartsAbout>): Call | undefined {
  for (const [at, average] of ewma.entries()) {
    const sums = cusum[at];
    const side = average.side ?? sums?.side;
    if (sums === undefined || side === undefined) continue;
    const began = (side === 'high' ? sums.highFrom : sums.lowFrom) ?? at;
    return { at, began, side, chart: chartOf(average, sums) };
  }
  return undefined;
}

function chartOf(average: EwmaPoint, sums: CusumPoint): Call['chart'] {
  if (average.side === undefined) return 'cusum';
  return sums.side === average.side ? 'both' : 'ewma';
}

function signalOf(releases: readonly Release[], call: Call | undefined): ProcessSignal | undefined {
  if (call === undefined) return undefined;
  const [release, began] = [releases[call.at], releases[call.began]];
  if (release === undefined || began === undefined) return undefined;
  return {
    ...placeOf(release),
    direction: call.side === 'high' ? 'heavy' : 'light',
    chart: call.chart,
    began: placeOf(began),
    releasesSince: call.at - call.began,
    reading: call.side === 'high' ? 'heavy' : isBelowEstimates(releases) ? 'light' : 'allowance to spare',
  };
}

/** The same charts, with the allowances left out. */
function isBelowEstimates(releases: readonly Release[]): boolean {
  const deviations = releases.map((release) => release.differenceFraction / missOf(release).stdFraction);
  return firstCall(deviations, 0)?.side === 'low';
}

function placeOf({ seq, part, on }: Release) {
  return { seq, part, on };
}
