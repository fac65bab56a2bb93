/** The forecast as plain data (rules F1-F3): masses and stations with their bands, and how likely it is that the targets are met. */
import type {
  ChancesReport,
  ForecastReport,
  ProcessForecastReport,
  StationForecast,
} from '#shared/contract/forecast.ts';
import { withoutProcessCause } from '#shared/drift/process-drift.ts';
import type { StatementOf } from '#shared/ledger/entry.ts';
import { inForce, type Ledger, predictedOf } from '#shared/ledger/fold.ts';
import { oncePerEntry } from '#shared/ledger/once.ts';
import { type Axis, type LengthNm, seenFrom, type Tally, toKg } from '#shared/quantity/exact.ts';
import { centreOfGravityM } from '#shared/rollup/centre-of-gravity.ts';
import { cgStdM, massStdKg } from '#shared/uncertainty/shift.ts';
import { type Forecast, forecastOf, type ProcessForecast } from './forecast.ts';
import { chanceBelow, chanceWithin, NINETY_PERCENT } from './normal.ts';

export const forecastReport: (ledger: Ledger) => ForecastReport = oncePerEntry((ledger) => {
  const forecast = forecastOf(ledger);
  return {
    seq: ledger.entries.at(-1)?.seq ?? 0,
    predictedKg: toKg(predictedOf(ledger).massNg),
    ...figuresOf(forecast, { datumNm: ledger.datumNm, targets: inForce(ledger, 'targets') }),
    processes: forecast.processes.map(processReport),
    processesCalled: [...withoutProcessCause(ledger)],
  };
});

/** The figures of a forecast, its CG told from a datum. */
export function figuresOf(
  { tally, shifts }: Pick<Forecast, 'tally' | 'shifts'>,
  told: { readonly datumNm: LengthNm; readonly targets: StatementOf<'targets'> | undefined },
): Omit<ForecastReport, 'seq' | 'predictedKg' | 'processes' | 'processesCalled'> {
  // Shifts are kept about the first datum, and so must be what they are divided into.
  const along = (axis: Axis) => stationOf(seenFrom(tally, told.datumNm), axis, cgStdM(shifts, tally, axis));
  const mass = massOf(tally, massStdKg(shifts));
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

function processReport({ process, shift, open, atRisk }: ProcessForecast): ProcessForecastReport {
  const [first] = shift.releases;
  return {
    process,
    shiftFraction: shift.mean,
    shiftStdFraction: shift.std,
    releaseCount: shift.releases.length,
    earlierCount: shift.earlierCount,
    since:
      first === undefined || shift.earlierCount === 0 ? undefined : { seq: first.seq, part: first.part, on: first.on },
    openPieces: open.reduce((sum, { pieceCount }) => sum + pieceCount, 0),
    openKg: atRisk.massKg,
    effectKg: shift.mean * atRisk.massKg,
    effectStdKg: shift.std * atRisk.massKg,
  };
}
