/**
 * Where the uncertainty of a part comes from (rules U1, U2): readings, tares and calibrations of what was weighed, the estimate of what
 * was not, and of what comes off and goes on later, and the arms. Masses in kilograms, stations in metres about the first datum.
 */
import { toComeKg } from '#shared/estimate/condition.ts';
import type { ErrorBasis } from '#shared/estimate/shop-errors.ts';
import type { Condition, PartId, StatementOf } from '#shared/ledger/entry.ts';
import type { PartState, Standing, Weighing } from '#shared/ledger/part-state.ts';
import { AXES, type Axis, toM } from '#shared/quantity/exact.ts';
import { readingStdKg, resolutionStdKg } from '#shared/weighing/net.ts';
import { gainStdAt, type Scales, scaleKey } from '#shared/weighing/scales.ts';
import { gather, massShift, momentShift, type Shift } from './shift.ts';

/** Standard uncertainty of an estimate's installed mass, one piece, in kilograms; `unstatedStd` of its mass where it states none. */
export function estimateStdKg(
  estimate: Pick<StatementOf<'estimate'>, 'massKg' | 'massStdKg'>,
  unstatedStd: number,
): number {
  return estimate.massStdKg ?? unstatedStd * estimate.massKg;
}

/** The arms of a part in metres about the first datum. */
export function armsM(part: Pick<PartState, 'armsNm'>): { readonly [axis in Axis]: number | undefined } {
  const along = (axis: Axis) => {
    const armNm = part.armsNm[axis];
    return armNm === undefined ? undefined : toM(armNm);
  };
  return { x: along('x'), y: along('y'), z: along('z') };
}

/** Some pieces of a part, by the weighing that counts for them; under undefined those that count as estimated. */
export type PieceCounts = ReadonlyMap<Weighing | undefined, number>;

/** The mass errors of some pieces of a part, in their own book. */
export function gatherPieces(into: Map<string, Shift>, part: PartState, counts: PieceCounts, basis: ErrorBasis): void {
  const armM = armsM(part);
  for (const [weighing, count] of counts) {
    if (weighing === undefined) {
      gatherEstimate(into, part, count * (part.estimate?.statement.massKg ?? 0), basis);
      continue;
    }
    const { statement } = weighing;
    gatherOnScale(into, weighing, basis.scales, (massKg) =>
      massShift((massKg * count) / statement.pieces.length, armM),
    );
    const estimate = part.estimate?.statement;
    if (estimate === undefined) continue;
    const flashKg = statement.condition === 'as released' ? estimate.flashKg : 0;
    gatherEstimate(into, part, count * (toComeKg(estimate, statement.condition) - flashKg), basis);
  }
}

/** A mass that follows from the part's estimate carries the estimate's relative uncertainty. */
export function gatherEstimate(
  into: Map<string, Shift>,
  part: PartState,
  massKg: number,
  { unstatedStd }: ErrorBasis,
): void {
  const estimate = part.estimate?.statement;
  if (estimate === undefined || estimate.massKg <= 0 || massKg === 0) return;
  const stdKg = (massKg * estimateStdKg(estimate, unstatedStd)) / estimate.massKg;
  gather(into, `estimate ${part.partId}`, massShift(stdKg, armsM(part)));
}

/** What still goes on after a condition, one piece. */
export function pieceToComeKg(part: PartState, condition: Condition): number {
  const estimate = part.estimate?.statement;
  return estimate === undefined ? 0 : toComeKg(estimate, condition);
}

/** The name of the error of an arm of a part. */
export function armSource(partId: PartId, axis: Axis): string {
  return `arm ${partId} ${axis}`;
}

/** The error of each arm of a part, over the mass that is at it. */
export function gatherArms(into: Map<string, Shift>, part: PartState, atArmKg: number): void {
  for (const axis of AXES)
    if (part.armsNm[axis] !== undefined && part.armStdM[axis] > 0)
      gather(into, armSource(part.partId, axis), momentShift(axis, atArmKg * part.armStdM[axis]));
}

type OnScale = Standing<StatementOf<'weighing'>> | Standing<StatementOf<'assembly weighing'>>;

/** The errors of everything on the scale together: its reading, its tare, and the calibration, which acts on the net. */
export function gatherOnScale(
  into: Map<string, Shift>,
  weighing: OnScale,
  scales: Scales,
  shiftOf: (massKg: number) => Shift,
): void {
  const { statement, seq } = weighing;
  const put = (source: string, stdKg: number) => {
    if (stdKg !== 0) gather(into, source, shiftOf(stdKg));
  };
  put(`reading ${seq}`, readingStdKg(statement));
  put(tareSource(statement, seq), -resolutionStdKg(statement.tareResolutionKg));
  if (statement.scale !== undefined)
    put(`gain ${scaleKey(statement.scale)}`, statement.netKg * gainStdAt(scales, statement.scale, weighing));
}

/** Weighings that name one fixture and took off the same tare read that tare once. */
export function tareSource({ fixture, readings }: OnScale['statement'], seq: number): string {
  const [first, ...others] = readings;
  const isOne = others.every(({ tareKg }) => tareKg === first?.tareKg);
  return fixture === undefined || !isOne ? `tare ${seq}` : `tare of ${scaleKey(fixture)} ${first?.tareKg}`;
}
