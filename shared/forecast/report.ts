/** The forecast as plain data (rules F1-F3): masses and stations with their bands, and how likely it is that the targets are met. */
import type {
  ChancesReport,
  Figures,
  ForecastReport,
  GroupForecastReport,
  ProcessForecastReport,
  StationForecast,
} from '#shared/contract/forecast.ts';
import { withoutProcessCause } from '#shared/drift/process-drift.ts';
import { ownErrorsOf, shopErrorsOf } from '#shared/estimate/shop-errors.ts';
import type { StatementOf } from '#shared/ledger/entry.ts';
import { inForce, type Ledger, predictedOf } from '#shared/ledger/fold.ts';
import { oncePerEntry } from '#shared/ledger/once.ts';
import { type Axis, type LengthNm, seenFrom, type Tally, toKg } from '#shared/quantity/exact.ts';
import { centreOfGravityM } from '#shared/rollup/centre-of-gravity.ts';
import { cgStdM, massStdKg } from '#shared/uncertainty/shift.ts';
import { type GroupForecast, groupForecasts } from './by-group.ts';
import type { Forecast } from './forecast.ts';
import { chanceBelow, chanceWithin, NINETY_PERCENT } from './normal.ts';
import type { Reckoned } from './pending-sums.ts';
import { type ProcessStanding, runningForecastOf } from './running-forecast.ts';

export const forecastReport: (ledger: Ledger) => ForecastReport = oncePerEntry((ledger) => {
  const forecast = runningForecastOf(ledger);
  return {
    seq: ledger.entries.at(-1)?.seq ?? 0,
    predictedKg: toKg(predictedOf(ledger).massNg),
    ...figuresFrom(forecast, { datumNm: ledger.datumNm, targets: inForce(ledger, 'targets') }),
    processes: forecast.processes.map(processReport),
    processesCalled: [...withoutProcessCause(ledger)],
    assumed: assumedIn(ledger),
  };
});

/** The groups against their targets (rule D3). Of all parts at once, so it is asked for by itself. */
export const groupForecastReport: (ledger: Ledger) => readonly GroupForecastReport[] = oncePerEntry((ledger) =>
  groupForecasts(ledger).map(groupReport),
);

function assumedIn(ledger: Ledger): ForecastReport['assumed'] {
  const own = ownErrorsOf(ledger);
  return { ...shopErrorsOf(ledger), isOwnShift: own.processShiftStd, isOwnPiece: own.pieceToPieceStd };
}

type Told = { readonly datumNm: LengthNm; readonly targets: StatementOf<'targets'> | undefined };

/** The figures of a forecast that lists its sources of error. */
export function figuresOf({ tally, shifts }: Pick<Forecast, 'tally' | 'shifts'>, told: Told): Figures {
  const along = (axis: Axis) => cgStdM(shifts, tally, axis);
  return figuresFrom(
    { tally, massStdKg: massStdKg(shifts), cgStdM: { x: along('x'), y: along('y'), z: along('z') } },
    told,
  );
}

/** The figures of a forecast, its CG told from a datum. */
function figuresFrom(reckoned: Reckoned, told: Told): Figures {
  const { tally } = reckoned;
  const along = (axis: Axis) => stationOf(seenFrom(tally, told.datumNm), axis, reckoned.cgStdM[axis]);
  const mass = massOf(tally, reckoned.massStdKg);
  const cg = { x: along('x'), y: along('y'), z: along('z') };
  return { ...mass, cg, targets: told.targets && chancesOf(mass, cg.x, told.targets) };
}

/** The forecast mass with its band. */
export function massOf(tally: Tally, forecastStdKg: number) {
  const forecastKg = toKg(tally.massNg);
  const halfKg = NINETY_PERCENT * forecastStdKg;
  return { forecastKg, forecastStdKg, lowKg: forecastKg - halfKg, highKg: forecastKg + halfKg };
}

/** The CG of a tally with its band, from the datum of the tally. */
export function stationOf(tally: Tally, axis: Axis, stdM: number | undefined): StationForecast | undefined {
  const cg = centreOfGravityM(tally, axis);
  if (!cg.ok || stdM === undefined) return undefined;
  return { atM: cg.value, stdM, lowM: cg.value - NINETY_PERCENT * stdM, highM: cg.value + NINETY_PERCENT * stdM };
}

/** How likely it is that a forecast meets the targets. */
export function chancesOf(
  { forecastKg, forecastStdKg }: { readonly forecastKg: number; readonly forecastStdKg: number },
  x: StationForecast | undefined,
  targets: StatementOf<'targets'>,
): ChancesReport {
  const { emptyMassKg, reserveKg, cgForwardM, cgAftM } = targets;
  const mass = { mean: forecastKg, std: forecastStdKg };
  const hasRange = cgForwardM !== undefined || cgAftM !== undefined;
  return {
    emptyMassKg,
    reserveKg,
    marginKg: emptyMassKg - reserveKg - forecastKg,
    withinTarget: chanceBelow(emptyMassKg, mass),
    withinTargetLessReserve: chanceBelow(emptyMassKg - reserveKg, mass),
    cgForwardM,
    cgAftM,
    cgInRange:
      x === undefined || !hasRange
        ? undefined
        : chanceWithin({ from: cgForwardM, to: cgAftM }, { mean: x.atM, std: x.stdM }),
  };
}

function groupReport(row: GroupForecast): GroupForecastReport {
  const { group, partCount, predictedNg, forecastNg, forecastStdKg, targetKg, marginKg } = row;
  const forecastKg = toKg(forecastNg);
  const halfKg = NINETY_PERCENT * forecastStdKg;
  const band = { lowKg: forecastKg - halfKg, highKg: forecastKg + halfKg };
  return { group, partCount, predictedKg: toKg(predictedNg), forecastKg, forecastStdKg, ...band, targetKg, marginKg };
}

function processReport({ process, shift, openPieces, atRisk }: ProcessStanding): ProcessForecastReport {
  const { first, earlierCount } = shift;
  return {
    process,
    shiftFraction: shift.mean,
    shiftStdFraction: shift.std,
    releaseCount: shift.releaseCount,
    earlierCount,
    since: first === undefined || earlierCount === 0 ? undefined : { seq: first.seq, part: first.part, on: first.on },
    openPieces,
    openKg: atRisk.massKg,
    effectKg: shift.mean * atRisk.massKg,
    effectStdKg: shift.std * atRisk.massKg,
  };
}
