/**
 * Has a process changed? (rule D4). Its releases in order, each as the number of standard deviations by which it missed estimate and
 * allowance, on two charts about 0: an EWMA, and a cumulative sum that also tells where a shift began. Reads the ledger and changes nothing.
 */
import type { ProcessDriftReport, ProcessSignal, ReleaseReport } from '#shared/contract/forecast.ts';
import type { Process } from '#shared/ledger/entry.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import { oncePerEntry } from '#shared/ledger/once.ts';
import { cusumChart, ewmaChart, FALSE_ALARM_RUN_LENGTH, SHOP_CUSUM, SHOP_EWMA } from './control-charts.ts';
import { processCauseOf } from './process-cause.ts';
import { recordsOf, releasesByProcess } from './process-records.ts';
import { deviationOf, missStdOf, type Release, sparedDeviationOf } from './process-releases.ts';
import { type Call, watched } from './process-watch.ts';

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

/** The processes that ask for a cause: changed, and nobody has said why. An allowance to spare asks for none, nor does one release alone. */
export const withoutProcessCause: (ledger: Ledger) => readonly Process[] = oncePerEntry((ledger) =>
  [...recordsOf(ledger)]
    .flatMap(([process, { watch, spared, releases }]) => {
      if (watch.first === undefined || releases.length === 1) return [];
      const reading = readingOf(watch.first, spared.first);
      const isExplained = () => processCauseOf(ledger, process, releases.slice(watch.first?.began)) !== undefined;
      return reading === 'allowance to spare' || isExplained() ? [] : [{ process, rank: RANK[reading] }];
    })
    .sort((a, b) => a.rank - b.rank)
    .map(({ process }) => process),
);

const RANK = { heavy: 0, light: 1, 'allowance to spare': 2 } as const;

function rankOf({ signal }: Pick<ProcessDriftReport, 'signal'>): number {
  return signal === undefined ? 3 : RANK[signal.reading];
}

function withCause(ledger: Ledger, process: Process, releases: readonly Release[]) {
  const { began, ...charts } = chartsOf(releases);
  const since = began === undefined ? [] : releases.slice(began);
  return { ...charts, cause: processCauseOf(ledger, process, since) };
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
  const ewma = ewmaChart(deviations, { target: 0, sd: 1, ...SHOP_EWMA });
  const cusum = cusumChart(deviations, { target: 0, ...SHOP_CUSUM });
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
        stdFraction: missStdOf(release),
        deviation: deviationOf(release),
        ewma: average.ewma,
        ewmaLower: average.lower,
        ewmaUpper: average.upper,
        cusumHigh: sums.high,
        cusumLow: sums.low,
      },
    ];
  });
  const call = watched(deviations).first;
  return { points, signal: signalOf(releases, call), began: call?.began };
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
    reading: readingOf(call, watched(releases.map(sparedDeviationOf)).first),
  };
}

/** Light is not always below the estimate: `spared` is the first call with the allowances left out. */
function readingOf(call: Call, spared: Call | undefined): ProcessSignal['reading'] {
  if (call.side === 'high') return 'heavy';
  return spared?.side === 'low' ? 'light' : 'allowance to spare';
}

function placeOf({ seq, part, on }: Release) {
  return { seq, part, on };
}
