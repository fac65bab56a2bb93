/**
 * What the finished aircraft will weigh, and where its CG will be (rules F2, F3): the predicted aircraft, with what its processes have shown
 * so far carried over to the pieces that they have not released yet. A process is one more source of error, common to all of those. Reads
 * the ledger and changes nothing.
 */
import { Process } from '#shared/ledger/entry.ts';
import { type Ledger, predictedOf, presentParts } from '#shared/ledger/fold.ts';
import { oncePerEntry } from '#shared/ledger/once.ts';
import {
  AXES,
  type Axis,
  addTally,
  type LengthNm,
  type MassNg,
  type MomentNgNm,
  seenFrom,
  type Tally,
  toMassNg,
} from '#shared/quantity/exact.ts';
import { settledShifts, shiftsOf } from '#shared/rollup/running.ts';
import {
  addShift,
  gather,
  massShift,
  momentShift,
  NOTHING,
  type Shift,
  type Shifts,
  sumShifts,
} from '#shared/uncertainty/shift.ts';
import { armSource, armsM } from '#shared/uncertainty/sources.ts';
import { type OpenPart, openPartOf } from './open-pieces.ts';
import { type ProcessShift, shiftsNow } from './process-shift.ts';

/** What a process has still to release. */
export type ProcessForecast = {
  readonly process: Process;
  readonly shift: ProcessShift;
  readonly open: readonly OpenPart[];
  /** What a shift of all of its mass would do: the moulded mass of its open pieces, at their arms. */
  readonly atRisk: Shift;
};

/** About the first datum, as the books are kept. */
export type Forecast = {
  readonly tally: Tally;
  readonly shifts: Shifts;
  readonly processes: readonly ProcessForecast[];
};

export const forecastOf: (ledger: Ledger) => Forecast = oncePerEntry((ledger) => {
  const parts = presentParts(ledger);
  const shiftsOfPart = shiftsOf(ledger);
  return forecastFrom({
    predicted: seenFrom(predictedOf(ledger), -ledger.datumNm as LengthNm),
    shifts: sumShifts([...parts.map(({ partId }) => shiftsOfPart(partId)), settledShifts(ledger)]),
    open: parts.flatMap((part) => openPartOf(part, ledger.books) ?? []),
    shiftOf: shiftsNow(ledger),
  });
});

/** The name of the source of error that a process is. */
export function processSource(process: Process): string {
  return `process ${process}`;
}

/** `predicted` and `shifts` are those of the predicted aircraft, about the first datum. */
export function forecastFrom(given: {
  readonly predicted: Tally;
  readonly shifts: Shifts;
  readonly open: Iterable<OpenPart>;
  readonly shiftOf: (process: Process) => ProcessShift;
}): Forecast {
  const byProcess = Map.groupBy(given.open, ({ part }) => part.definition.process);
  const shifts = new Map(given.shifts);
  let tally = given.predicted;
  const processes = Process.options.flatMap((process): ProcessForecast[] => {
    const open = byProcess.get(process);
    if (open === undefined) return [];
    const shift = given.shiftOf(process);
    const atRisk = open.reduce((sum, one) => addShift(sum, atRiskOf(one)), NOTHING);
    tally = addTally(tally, tallyFrom(addShift(NOTHING, atRisk, shift.mean)));
    gather(shifts, processSource(process), atRisk, shift.std);
    for (const one of open) gatherArmsOf(shifts, one, shift.mean);
    return [{ process, shift, open, atRisk }];
  });
  return { tally, shifts, processes };
}

/** The moulded mass of open pieces at their arms. */
export function atRiskOf({ part, mouldedKg }: OpenPart): Shift {
  return massShift(mouldedKg, armsM(part));
}

/** The arm of an open piece is off over what its process adds, too. */
export function gatherArmsOf(shifts: Map<string, Shift>, { part, mouldedKg }: OpenPart, shiftFraction: number): void {
  for (const axis of AXES)
    if (part.armsNm[axis] !== undefined && part.armStdM[axis] > 0)
      gather(shifts, armSource(part.partId, axis), momentShift(axis, shiftFraction * mouldedKg * part.armStdM[axis]));
}

/** A change in floating point as one that can be added to exact sums, to the nearest nanogram. */
export function tallyFrom(change: Shift): Tally {
  const along = (axis: Axis) => ({
    placedNg: toMassNg(change[axis].placedKg),
    momentNgNm: BigInt(Math.round(change[axis].momentKgM * 1e21)) as MomentNgNm,
  });
  return { massNg: toMassNg(change.massKg) as MassNg, x: along('x'), y: along('y'), z: along('z') };
}
