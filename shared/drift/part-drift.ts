/**
 * Does a piece come out as estimated? (rules D1, D2). A weighing is compared with the estimate for the same condition
 * that was in force on the day it was weighed; an estimate revised afterwards does not rewrite the finding.
 */
import type { DriftFlag, JudgementReport } from '#shared/contract/drift.ts';
import { expectedAtScaleKg } from '#shared/estimate/condition.ts';
import type { PartLimit, StatementOf } from '#shared/ledger/entry.ts';
import { inForce, type Ledger, predictedOf, presentParts } from '#shared/ledger/fold.ts';
import { oncePerEntry } from '#shared/ledger/once.ts';
import { byWhatHappened, type GoverningWeighing, type PartState, type Standing } from '#shared/ledger/part-state.ts';
import {
  type Axis,
  type LengthNm,
  type MassNg,
  type Tally,
  toKg,
  toLengthNm,
  toM,
  wholeNg,
} from '#shared/quantity/exact.ts';
import { centreOfGravityM } from '#shared/rollup/centre-of-gravity.ts';
import { pieceNetKg, pieceNetStdKg } from '#shared/weighing/net.ts';
import { gainStdAt, type ScaleMark, type Scales, scaleMarks, scalesOf } from '#shared/weighing/scales.ts';

/** The larger of 6 % and 20 g, until a baseline says otherwise. Common practice, no source: adjust to your shop. */
export const SHOP_PART_LIMIT: PartLimit = { absoluteKg: 0.02, fraction: 0.06 };

/** The limit of the baseline in force. */
export function partLimitOf(ledger: Ledger): PartLimit {
  return inForce(ledger, 'targets')?.partLimit ?? SHOP_PART_LIMIT;
}

export type DriftLevel = 'in line' | 'watch' | 'drifting';

/** How one weighing stands to its estimate. Masses are of one piece, in kilograms. */
export type Judgement = JudgementReport;

/** Two standard uncertainties: what the scale can tell from zero. */
export const COVERAGE = 2;

/** The judgement of a weighing of a part, or undefined where the part has no estimate to be compared with. */
export function judgeWeighing(
  weighing: Standing<StatementOf<'weighing'>>,
  part: Pick<PartState, 'estimates'>,
  limit: PartLimit,
  scales: Scales,
): Judgement | undefined {
  const estimate = estimateFor(weighing, part.estimates);
  if (estimate === undefined) return undefined;
  const expectedKg = expectedAtScaleKg(estimate.statement, weighing.statement.condition);
  return judge({
    expectedKg,
    netKg: pieceNetKg(weighing.statement),
    netStdKg: pieceNetStdKg(weighing.statement, gainStdAt(scales, weighing.statement.scale, weighing)),
    limit,
  });
}

/**
 * Rule D1 on bare numbers, all of one piece in kilograms. What lies on a limit is within it: whole nanograms are compared, since 0.260 and
 * 0.240 are 0.020 apart and their binary neighbours a little more.
 */
export function judge(given: {
  readonly expectedKg: number;
  readonly netKg: number;
  readonly netStdKg: number;
  readonly limit: PartLimit;
}): Judgement {
  const { expectedKg, netKg, netStdKg, limit } = given;
  const differenceKg = netKg - expectedKg;
  const limitKg = limitAtKg(limit, expectedKg);
  const differenceNg = wholeNg(netKg) - wholeNg(expectedKg);
  const isTold = Math.abs(differenceNg) > wholeNg(COVERAGE * netStdKg);
  return {
    expectedKg,
    netKg,
    netStdKg,
    differenceKg,
    differenceFraction: expectedKg > 0 ? differenceKg / expectedKg : undefined,
    limitKg,
    isTold,
    flag: flagOf(differenceNg, wholeNg(limitKg), isTold),
  };
}

/** How far a piece may be from what is expected of it: the larger of an absolute and a relative limit. */
export function limitAtKg(limit: PartLimit, expectedKg: number): number {
  return Math.max(limit.absoluteKg, limit.fraction * expectedKg);
}

/** Rule W5: beyond the limit and told by the scale; somebody should say why. */
export function isFlagged(flag: DriftFlag): boolean {
  return levelOf(flag) === 'drifting';
}

export function levelOf(flag: DriftFlag): DriftLevel {
  if (flag === 'in line') return 'in line';
  return flag.startsWith('watch') ? 'watch' : 'drifting';
}

/** One finding: a weighing that still speaks for some pieces, and what its difference does to the aircraft. */
export type PartDrift = {
  readonly part: PartState & { readonly definition: StatementOf<'part added'> };
  readonly weighing: GoverningWeighing;
  readonly judgement: Judgement;
  /** All these pieces together: what the difference takes from the margin (minus) or gives to it. */
  readonly marginEffectKg: number;
  /**
   * What the difference and the arm that was measured do to the CG along x, and the arm's share of it; undefined where the part or the
   * aircraft has no arm.
   */
  readonly cgEffectM: number | undefined;
  readonly armEffectM: number | undefined;
  /** What was decided on these pieces since they were weighed (rule W11), and what speaks against their scale (W12). */
  readonly disposition: Standing<StatementOf<'disposition'>> | undefined;
  readonly marks: readonly ScaleMark[];
};

/** The findings of one part, one for each weighing in force. */
export function partDrifts(
  part: PartDrift['part'],
  limit: PartLimit,
  aircraft: { readonly predicted: Tally; readonly datumNm: LengthNm; readonly scales: Scales },
): readonly PartDrift[] {
  return part.weighings.flatMap((weighing) => {
    const judgement = judgeWeighing(weighing.standing, part, limit, aircraft.scales);
    if (judgement === undefined) return [];
    const growthKg = judgement.differenceKg * weighing.pieces.length;
    const armNm = part.armsNm.x;
    const armM = armNm === undefined ? undefined : toM((armNm - aircraft.datumNm) as LengthNm);
    const armEffectM = armEffectOf(part, aircraft.predicted);
    const massEffectM =
      armM === undefined
        ? undefined
        : cgEffectM({ massKg: growthKg, momentKgM: growthKg * armM }, aircraft.predicted, 'x');
    const { standing, pieces } = weighing;
    return [
      {
        part,
        weighing,
        judgement,
        marginEffectKg: growthKg === 0 ? 0 : -growthKg,
        cgEffectM: massEffectM === undefined ? undefined : massEffectM + (armEffectM ?? 0),
        armEffectM,
        disposition: part.dispositions.findLast(
          (decided) =>
            byWhatHappened(decided, standing) > 0 && pieces.every((piece) => decided.statement.pieces.includes(piece)),
        ),
        marks: scaleMarks(aircraft.scales, { ...standing, scale: standing.statement.scale }),
      },
    ];
  });
}

/** The judgements of all parts' weighings that count. */
export const allPartDrifts: (ledger: Ledger) => readonly PartDrift[] = oncePerEntry((ledger) => {
  const limit = partLimitOf(ledger);
  const aircraft = { predicted: predictedOf(ledger), datumNm: ledger.datumNm, scales: scalesOf(ledger) };
  return presentParts(ledger).flatMap((part) => partDrifts(part, limit, aircraft));
});

/**
 * Rule D2: what a mass m_r with the moment S_r did to the CG of an aircraft whose tally holds them already, both about the tally's datum:
 * (S_r - X m_r)/(M - m_r), in metres. For dm at x that is (x - X) dm/(M - dm), the same as (x - X') dm/(M' + dm) with M', X' the mass and
 * CG without dm. Undefined where nothing else is placed.
 */
export function cgEffectM(
  { massKg, momentKgM }: { readonly massKg: number; readonly momentKgM: number },
  aircraft: Tally,
  axis: Axis,
): number | undefined {
  const cg = centreOfGravityM(aircraft, axis);
  const restKg = toKg(aircraft[axis].placedNg) - massKg;
  if (!cg.ok || !(restKg > 0)) return undefined;
  return (momentKgM - cg.value * massKg) / restKg;
}

/** Rule D2: an arm that was measured dx from where it was estimated adds m dx/M, in metres. Undefined where either is not known. */
function armEffectOf(part: PartState, aircraft: Tally): number | undefined {
  const { estimate, armsNm } = part;
  const placedKg = toKg(aircraft.x.placedNg);
  if (estimate?.statement.xM === undefined || armsNm.x === undefined || !(placedKg > 0)) return undefined;
  const estimatedNm = toLengthNm(estimate.statement.xM) + estimate.frameNm;
  const partKg = toKg((part.basic.massNg + part.allowance.massNg) as MassNg);
  return (partKg * toM((armsNm.x - estimatedNm) as LengthNm)) / placedKg;
}

/** The estimate in force on the day of the weighing; where none is as old, the first one. */
export function estimateFor(
  weighing: Standing<StatementOf<'weighing'>>,
  estimates: PartState['estimates'],
): Standing<StatementOf<'estimate'>> | undefined {
  return estimates.findLast((estimate) => byWhatHappened(estimate, weighing) < 0) ?? estimates[0];
}

/** Watching begins at two thirds of the limit. */
function flagOf(differenceNg: number, limitNg: number, isTold: boolean): DriftFlag {
  const sizeNg = Math.abs(differenceNg);
  const direction = differenceNg > 0 ? 'heavy' : 'light';
  if (sizeNg > limitNg && isTold) return `drifting ${direction}`;
  if (3 * sizeNg > 2 * limitNg) return `watch ${direction}`;
  return 'in line';
}
