/**
 * What if (rule F6): scratch changes to the forecast aircraft, made one after the other on rows of their own. Nothing here is recorded and
 * the ledger is only read.
 */
import type { WhatIfChange, WhatIfReport } from '#shared/contract/forecast.ts';
import type { PartId } from '#shared/ledger/entry.ts';
import { inForce, type Ledger, type PresentPart, predictedOf, presentParts, residualOf } from '#shared/ledger/fold.ts';
import { oncePerEntry } from '#shared/ledger/once.ts';
import {
  AXES,
  type Axis,
  addTally,
  type LengthNm,
  type MassNg,
  seenFrom,
  type Tally,
  toKg,
  toKgM,
  toM,
} from '#shared/quantity/exact.ts';
import { accept, type Result, refuse } from '#shared/result.ts';
import { centreOfGravityM } from '#shared/rollup/centre-of-gravity.ts';
import { shiftsOf } from '#shared/rollup/running.ts';
import { addShift, gather, gatherAll, massShift, NOTHING, type Shift, type Shifts } from '#shared/uncertainty/shift.ts';
import { armsM } from '#shared/uncertainty/sources.ts';
import { type BallastRefusal, ballastKg } from './ballast.ts';
import { atRiskOf, type Forecast, forecastOf, gatherArmsOf, processSource, tallyFrom } from './forecast.ts';
import { figuresOf } from './report.ts';

/** `at` counts changes from 0. */
export type ChangeRefusal =
  | { readonly code: 'change-of-no-part'; readonly at: number }
  | { readonly code: 'change-takes-too-much'; readonly at: number; readonly part: string; readonly hasKg: number }
  | { readonly code: 'change-moves-no-station'; readonly at: number; readonly part: string };
export type WhatIfRefusal = ChangeRefusal | BallastRefusal;

/** A part as it is forecast: its mass and moments about the first datum, and its errors; and its mass as predicted. */
type Row = { readonly sum: Shift; readonly shifts: Shifts; readonly predictedKg: number };
const EMPTY_ROW: Row = { sum: NOTHING, shifts: new Map(), predictedKg: 0 };

/** The forecast before and after. */
export function whatIf(
  ledger: Ledger,
  asked: { readonly changes: readonly WhatIfChange[]; readonly ballastAtM?: number | undefined },
): Result<WhatIfReport, WhatIfRefusal> {
  const forecast = forecastOf(ledger);
  const changed = changedForecast(ledger, asked.changes);
  if (!changed.ok) return changed;
  const { tally, shiftChanges, predictedKg, steps } = changed.value;
  const shifts = new Map(forecast.shifts);
  gatherAll(shifts, shiftChanges);
  const told = { datumNm: ledger.datumNm, targets: inForce(ledger, 'targets') };
  const ballast = ballastFor(forecast.tally, tally, asked.ballastAtM, ledger.datumNm);
  if (!ballast.ok) return ballast;
  const predictedBeforeKg = toKg(predictedOf(ledger).massNg);
  return accept({
    predictedBeforeKg,
    predictedAfterKg: predictedBeforeKg + predictedKg,
    before: figuresOf(forecast, told),
    after: figuresOf({ tally, shifts }, told),
    steps: [...steps],
    massChangeKg: massBetween(forecast.tally, tally),
    cgChangeXM: between(forecast.tally, tally),
    ballast: ballast.value,
  });
}

export type ChangedForecast = {
  /** The forecast with all changes made. */
  readonly tally: Tally;
  /** What they do to its errors, source by source. */
  readonly shiftChanges: Shifts;
  /** What they do to the predicted mass, which knows nothing of what processes add. */
  readonly predictedKg: number;
  readonly steps: WhatIfReport['steps'];
};

const partsById = oncePerEntry(
  (ledger: Ledger) => new Map(presentParts(ledger).map((part) => [part.partId, part] as const)),
);

/** Makes the changes, one after the other. */
export function changedForecast(
  ledger: Ledger,
  changes: readonly WhatIfChange[],
): Result<ChangedForecast, ChangeRefusal> {
  const forecast = forecastOf(ledger);
  const parts = partsById(ledger);
  const rows = new Map<PartId, Row>();
  const shiftChanges = new Map<string, Shift>();
  let { tally } = forecast;
  let predictedKg = 0;
  const steps: WhatIfReport['steps'] = [];
  for (const [at, change] of changes.entries()) {
    const part = change.act === 'add part' ? undefined : parts.get(change.partId);
    if (change.act !== 'add part' && part === undefined) return refuse({ code: 'change-of-no-part', at });
    const before = part === undefined ? EMPTY_ROW : (rows.get(part.partId) ?? rowOf(ledger, forecast, part));
    const changed = changedRow(before, change, { at, part, datumM: toM(ledger.datumNm) });
    if (!changed.ok) return changed;
    const after = { ...changed.value, predictedKg: predictedAfter(before, change) };
    if (part !== undefined) rows.set(part.partId, after);
    gatherAll(shiftChanges, before.shifts, -1);
    gatherAll(shiftChanges, after.shifts);
    predictedKg += after.predictedKg - before.predictedKg;
    const next = addTally(tally, tallyFrom(addShift(after.sum, before.sum, -1)));
    steps.push({ massKg: massBetween(tally, next), cgXM: between(tally, next) });
    tally = next;
  }
  return accept({ tally, shiftChanges, predictedKg, steps });
}

function predictedAfter({ predictedKg }: Row, change: WhatIfChange): number {
  switch (change.act) {
    case 'remove':
      return 0;
    case 'set mass':
    case 'add part':
      return change.massKg;
    case 'add mass':
      return predictedKg + change.massKg;
    case 'set arm':
    case 'move':
      return predictedKg;
  }
}

/** What a part counts for in the forecast, the residual in the row of its assembly. */
function rowOf(ledger: Ledger, { processes }: Forecast, part: PresentPart): Row {
  const residual = residualOf(ledger, part.partId);
  const book = [part.allowance, residual.basic, residual.allowance].reduce(addTally, part.basic);
  const shifts = new Map(shiftsOf(ledger)(part.partId));
  const predictedKg = toKg(book.massNg);
  const process = processes.find((one) => one.process === part.definition.process);
  const open = process?.open.find((one) => one.part.partId === part.partId);
  if (process === undefined || open === undefined) return { sum: shiftFrom(book), shifts, predictedKg };
  gather(shifts, processSource(process.process), atRiskOf(open), process.shift.std);
  gatherArmsOf(shifts, open, process.shift.mean);
  return { sum: addShift(shiftFrom(book), atRiskOf(open), process.shift.mean), shifts, predictedKg };
}

export function shiftFrom(tally: Tally): Shift {
  const along = (axis: Axis) => ({
    placedKg: toKg(tally[axis].placedNg),
    momentKgM: toKgM(tally[axis].momentNgNm),
  });
  return { massKg: toKg(tally.massNg), x: along('x'), y: along('y'), z: along('z') };
}

/** What a change makes of mass, moments and errors. */
type Made = Omit<Row, 'predictedKg'>;
type Of = { readonly at: number; readonly part: PresentPart | undefined; readonly datumM: number };

function changedRow(row: Made, change: WhatIfChange, of: Of): Result<Made, ChangeRefusal> {
  switch (change.act) {
    case 'remove':
      return accept(EMPTY_ROW);
    case 'add part':
      return accept(placedRow(change.massKg, change.massStdKg, statedFrom(change, of.datumM), of.at));
    case 'add mass': {
      const massKg = row.sum.massKg + change.massKg;
      if (massKg < 0) return refuse({ ...tooMuch(row, of), code: 'change-takes-too-much' });
      return accept({ ...row, sum: addShift(row.sum, massShift(change.massKg, armsOf(row, of))) });
    }
    case 'set mass':
      return accept(withMass(row, change, of));
    case 'set arm': {
      const stated = statedFrom(change, of.datumM);
      return accept(AXES.reduce((placed, axis) => placedAt(placed, axis, stated[axis]), row));
    }
    case 'move': {
      const by = { x: change.xM, y: change.yM, z: change.zM };
      const arms = armsOf(row, of);
      const moved = AXES.filter((axis) => by[axis] !== undefined);
      if (moved.some((axis) => arms[axis] === undefined))
        return refuse({ code: 'change-moves-no-station', at: of.at, part: of.part?.definition.number ?? '' });
      return accept(moved.reduce((placed, axis) => placedAt(placed, axis, (arms[axis] ?? 0) + (by[axis] ?? 0)), row));
    }
  }
}

function tooMuch(row: Made, { at, part }: Of) {
  return { at, part: part?.definition.number ?? '', hasKg: row.sum.massKg };
}

type ArmsM = { readonly [axis in Axis]: number | undefined };

/** Stations as they were typed are from the datum in force, those of the books from the first one. */
function statedFrom(
  stated: { xM?: number | undefined; yM?: number | undefined; zM?: number | undefined },
  datumM: number,
): ArmsM {
  return { x: stated.xM === undefined ? undefined : stated.xM + datumM, y: stated.yM, z: stated.zM };
}

/** Where the mass of a row sits; where it has none, where the part is. */
function armsOf({ sum }: Made, { part }: Of): ArmsM {
  const stated = part === undefined ? { x: undefined, y: undefined, z: undefined } : armsM(part);
  const along = (axis: Axis) => {
    const { placedKg, momentKgM } = sum[axis];
    return placedKg > 0 ? momentKgM / placedKg : stated[axis];
  };
  return { x: along('x'), y: along('y'), z: along('z') };
}

/** How the names of sources begin that a change brings with it; the number of the change follows. */
export const NEW_SOURCE = 'change ';

function placedRow(massKg: number, massStdKg: number | undefined, arms: ArmsM, at: number): Made {
  const shifts = new Map<string, Shift>();
  if (massStdKg !== undefined && massStdKg > 0) shifts.set(`${NEW_SOURCE}${at}`, massShift(massStdKg, arms));
  return { sum: massShift(massKg, arms), shifts };
}

/** All of a part's errors keep their share of its mass, unless the new mass comes with an uncertainty of its own; its arms are off as before. */
function withMass(row: Made, change: Extract<WhatIfChange, { act: 'set mass' }>, of: Of): Made {
  const { massKg, massStdKg } = change;
  if (!(row.sum.massKg > 0)) return placedRow(massKg, massStdKg, armsOf(row, of), of.at);
  const times = massKg / row.sum.massKg;
  const shifts = new Map<string, Shift>();
  for (const [source, shift] of row.shifts)
    if (massStdKg === undefined || isOfArm(shift)) gather(shifts, source, shift, times);
  if (massStdKg !== undefined) shifts.set(`${NEW_SOURCE}${of.at}`, massShift(massStdKg, armsOf(row, of)));
  return { sum: addShift(NOTHING, row.sum, times), shifts };
}

function isOfArm(shift: Shift): boolean {
  return shift.massKg === 0 && AXES.every((axis) => shift[axis].placedKg === 0);
}

/** All of a row at a station: what had one is moved as a whole, what had none is put there. */
function placedAt(row: Made, axis: Axis, toM: number | undefined): Made {
  if (toM === undefined) return row;
  const { placedKg, momentKgM } = row.sum[axis];
  const isPlaced = placedKg > 0;
  const byM = isPlaced ? toM - momentKgM / placedKg : 0;
  const put = (shift: Shift): Shift => {
    const was = shift[axis];
    const put = isPlaced
      ? { placedKg: was.placedKg, momentKgM: was.momentKgM + was.placedKg * byM }
      : { placedKg: shift.massKg, momentKgM: shift.massKg * toM + was.momentKgM };
    return { ...shift, [axis]: put };
  };
  return { sum: put(row.sum), shifts: new Map([...row.shifts].map(([source, shift]) => [source, put(shift)])) };
}

function massBetween(before: Tally, after: Tally): number {
  return toKg((after.massNg - before.massNg) as MassNg);
}

/** By how much the CG along x differs. */
function between(before: Tally, after: Tally): number | undefined {
  const [from, to] = [centreOfGravityM(before, 'x'), centreOfGravityM(after, 'x')];
  return from.ok && to.ok ? to.value - from.value : undefined;
}

function ballastFor(
  before: Tally,
  after: Tally,
  stationM: number | undefined,
  datumNm: LengthNm,
): Result<WhatIfReport['ballast'], BallastRefusal> {
  const [from, to] = [before, after].map((tally) => centreOfGravityM(seenFrom(tally, datumNm), 'x'));
  if (stationM === undefined || from?.ok !== true || to?.ok !== true) return accept(undefined);
  // What has no arm is taken to be at the CG of the rest, as everywhere.
  const massKg = toKg(after.massNg);
  const needed = ballastKg({ massKg, cgM: to.value }, { toM: from.value, stationM });
  if (!needed.ok) return needed;
  return accept({ stationM, massKg: needed.value, payloadKg: needed.value + massBetween(before, after) });
}
