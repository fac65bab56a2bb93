/**
 * Loading limits held against the aircraft as plain data (rules C1-C5): against the predicted empty weight, the forecast, the corners of its band,
 * and all of the band. The corners take mass and CG as far off together as each is alone, which is more than the forecast means. What the drift since an earlier day did is told by today's limits on the empty aircraft of that day (rule F4).
 */

import type { ForecastReport } from '#shared/contract/forecast.ts';
import type {
  AnswerReport,
  BandReport,
  EarlierReport,
  EmptyRangeReport,
  EmptyReport,
  LoadingReport,
  StatedLimits,
} from '#shared/contract/loading.ts';
import { forecastByDay } from '#shared/forecast/history.ts';
import { forecastReport } from '#shared/forecast/report.ts';
import { inForce, type Ledger, predictedOf, standingsOf, statedBy } from '#shared/ledger/fold.ts';
import { historyByDay } from '#shared/ledger/history.ts';
import { oncePerEntry } from '#shared/ledger/once.ts';
import { type Tally, toKg } from '#shared/quantity/exact.ts';
import { centreOfGravityM } from '#shared/rollup/centre-of-gravity.ts';
import type { Loading } from './all-loadings.ts';
import { answerOf, loadedReport, worstReport } from './answer.ts';
import { emptyRange, type RangeEnd } from './empty-range.ts';
import { type Band, bandLoadings, CORNERS, cornersOf } from './empty-states.ts';
import { isReadable } from './envelope.ts';
import type { Chord } from './limits.ts';

/** `since`: the day with which today is compared. */
export function loadingReport(ledger: Ledger, since: string): LoadingReport {
  const loading = loadingIn(ledger);
  const standing = standingReport(ledger);
  const earlier = loading === undefined ? undefined : earlierReport(ledger, loading, since);
  return earlier === undefined ? standing : { ...standing, earlier };
}

const standingReport: (ledger: Ledger) => LoadingReport = oncePerEntry((ledger) => {
  const loading = loadingIn(ledger);
  const empties = emptiesOf(ledger);
  const answers = loading === undefined ? [] : empties.map((empty) => answerOf(loading, empty));
  const band = loading === undefined ? undefined : bandReport(loading, forecastReport(ledger), answers);
  return {
    seq: ledger.entries.at(-1)?.seq ?? 0,
    stated: statedLimits(ledger),
    chord: chordOf(ledger),
    empties: [...empties],
    answers,
    ...(band === undefined ? {} : { band }),
    ranges: loading === undefined ? [] : [...rangesOf(ledger, loading)],
  };
});

/** What stands of limits and chord, told from the present datum; undefined until limits are stated, and where they need a chord that is no more. */
export function loadingIn(ledger: Ledger): Loading | undefined {
  const limits = inForce(ledger, 'loading')?.limits;
  const chord = chordOf(ledger);
  return limits === undefined || !isReadable(limits.envelope, chord) ? undefined : { limits, chord };
}

export function chordOf(ledger: Ledger): Chord | undefined {
  const { macM, lemacM } = inForce(ledger, 'aircraft') ?? {};
  return macM === undefined || lemacM === undefined ? undefined : { macM, lemacM };
}

function statedLimits(ledger: Ledger): StatedLimits | undefined {
  const standings = standingsOf(ledger, 'loading');
  const standing = standings.at(-1);
  if (standing === undefined) return undefined;
  const { limits, reason } = standing.statement;
  const { seq: latestSeq, happenedOn } = statedBy(ledger, standing);
  const by = ledger.entries[standing.seq - 1]?.entry.by ?? '';
  return {
    ...{ seq: standing.seq, latestSeq, happenedOn, by, revision: standings.length, limits },
    ...(reason === undefined ? {} : { reason }),
  };
}

/** None where the aircraft has no CG. */
export function emptiesOf(ledger: Ledger): readonly EmptyReport[] {
  const predicted = emptyOf('predicted', predictedOf(ledger));
  return [...(predicted === undefined ? [] : [predicted]), ...forecastEmpties(forecastReport(ledger))];
}

function emptyOf(name: EmptyReport['name'], tally: Tally): EmptyReport | undefined {
  const at = (axis: 'x' | 'y' | 'z') => {
    const cg = centreOfGravityM(tally, axis);
    return cg.ok ? cg.value : undefined;
  };
  const [xM, yM, zM] = [at('x'), at('y'), at('z')];
  return xM === undefined ? undefined : { name, massKg: toKg(tally.massNg), xM, ...across(yM, zM) };
}

function across(yM: number | undefined, zM: number | undefined) {
  return { ...(yM === undefined ? {} : { yM }), ...(zM === undefined ? {} : { zM }) };
}

type ForecastFigures = Pick<ForecastReport, 'forecastKg' | 'lowKg' | 'highKg' | 'cg'>;

function forecastEmpties(figures: ForecastFigures): readonly EmptyReport[] {
  const { forecastKg, cg } = figures;
  const band = bandOf(figures);
  if (cg.x === undefined || band === undefined) return [];
  const beside = across(cg.y?.atM, cg.z?.atM);
  return [
    { name: 'forecast', massKg: forecastKg, xM: cg.x.atM, ...beside },
    ...cornersOf(band).map((corner) => ({ ...corner, ...beside })),
  ];
}

function bandOf({ lowKg, highKg, cg: { x } }: ForecastFigures): Band | undefined {
  return x === undefined || !(lowKg > 0) ? undefined : { lowKg, highKg, forwardM: x.lowM, aftM: x.highM };
}

/** Along x all of the band decides; what it leaves out, butt lines and that a heavy end may leave no room, its corners do. */
function bandReport(
  loading: Loading,
  forecast: ForecastFigures,
  answers: readonly AnswerReport[],
): BandReport | undefined {
  const band = bandOf(forecast);
  if (band === undefined) return undefined;
  const { state, worstOfAll } = bandLoadings(loading, band);
  const corners = answers.filter(({ empty }) => CORNERS.some((name) => name === empty.name));
  return {
    state: state === 'inside' && corners.some((corner) => corner.state !== 'inside') ? 'outside' : state,
    ...(worstOfAll === undefined ? {} : { worstOfAll: { ...worstReport(worstOfAll), empty: worstOfAll.empty } }),
  };
}

/** At the mass that is aimed at, and at the one that is forecast. */
function rangesOf(ledger: Ledger, loading: Loading): readonly EmptyRangeReport[] {
  const targetKg = inForce(ledger, 'targets')?.emptyMassKg;
  const { forecastKg } = forecastReport(ledger);
  return [
    ...(targetKg === undefined ? [] : [rangeAt(loading, 'target', targetKg)]),
    ...(forecastKg > 0 ? [rangeAt(loading, 'forecast', forecastKg)] : []),
  ];
}

function rangeAt(loading: Loading, of: EmptyRangeReport['of'], massKg: number): EmptyRangeReport {
  const range = emptyRange(loading, massKg);
  const ends = 'forward' in range ? { forward: endReport(range.forward), aft: endReport(range.aft) } : {};
  return { of, massKg, state: range.state, ...('why' in range ? { why: range.why } : {}), ...ends };
}

function endReport({ xM, side, loaded }: RangeEnd) {
  return { xM, side, loaded: loadedReport(loaded) };
}

function earlierReport(ledger: Ledger, loading: Loading, since: string): EarlierReport | undefined {
  const before = historyByDay(ledger).findLast(({ day }) => day <= since);
  if (before === undefined) return undefined;
  const predicted = emptyOf('predicted', before.predicted);
  const then = forecastByDay(ledger).findLast(({ day }) => day <= since);
  const [forecast] = then === undefined ? [] : forecastEmpties({ ...then, cg: { x: then.cgX } });
  return {
    since,
    day: before.day,
    ...(predicted === undefined ? {} : { predicted: answerOf(loading, predicted) }),
    ...(forecast === undefined ? {} : { forecast: answerOf(loading, forecast) }),
  };
}
