/**
 * What one part gives to the figures of the aircraft: numbers that can be put into sums and taken out again, and the lists it is on. It
 * depends on the part, on the weighed assemblies it is or is in, on the scales and on the part limit, and on no other part.
 */
import { isFlagged, levelOf, partDrifts, partLimitOf } from '#shared/drift/part-drift.ts';
import { type SmallShare, smallShares } from '#shared/drift/small-shares.ts';
import { errorBasisOf } from '#shared/estimate/shop-errors.ts';
import { type Ledger, type PresentPart, predictedOf, residualOf } from '#shared/ledger/fold.ts';
import { type Whereabouts, whereaboutsIn } from '#shared/ledger/whereabouts.ts';
import { shiftsIn } from '#shared/uncertainty/ledger-shifts.ts';
import type { Shifts } from '#shared/uncertainty/shift.ts';

/** The lists of parts with something open. */
export const OPEN_LISTS = ['withoutEstimate', 'withoutArm', 'withoutCause', 'withoutDecision', 'inDoubt'] as const;
export type OpenList = (typeof OPEN_LISTS)[number];

export type Leaf = {
  readonly part: PresentPart;
  /** With what weighed assemblies change on it. */
  readonly predictedNg: bigint;
  readonly whereabouts: Whereabouts;
  /** It counts as estimated with an uncertainty that nobody stated. */
  readonly isAssumed: boolean;
  /** Its station x counts as exact: nobody stated an uncertainty. */
  readonly isArmExact: boolean;
  /** Its weighings that drift, and those that are watched. */
  readonly driftingCount: number;
  readonly watchCount: number;
  readonly open: readonly OpenList[];
  readonly shifts: Shifts;
  readonly small: readonly SmallShare[];
};

/** Answers for one part after another; what is known of all of them is gathered once. */
export function leavesOf(ledger: Ledger): (part: PresentPart) => Leaf {
  const whereaboutsOf = whereaboutsIn(ledger.books);
  const shiftsOf = shiftsIn(ledger);
  const basis = errorBasisOf(ledger);
  const { scales } = basis;
  const { aboard } = ledger.books;
  const limit = partLimitOf(ledger);
  const aircraft = { predicted: predictedOf(ledger), datumNm: ledger.datumNm, scales };
  return (part) => {
    const drifts = partDrifts(part, limit, aircraft);
    const flagged = drifts.filter(({ judgement }) => isFlagged(judgement.flag));
    const residual = residualOf(ledger, part.partId);
    const isWeighedWhole = aboard?.pieces.get(part.partId)?.size === part.definition.quantity;
    const isAssembly = (ledger.books.byParent.get(part.partId)?.size ?? 0) > 0;
    const isOn: Readonly<Record<OpenList, boolean>> = {
      withoutEstimate: lacksEstimate(part, isAssembly),
      withoutArm: lacksArm(part),
      withoutCause: flagged.some(({ weighing }) => weighing.standing.statement.cause === undefined),
      withoutDecision: flagged.some(({ disposition }) => disposition === undefined),
      inDoubt: drifts.some(({ marks }) => marks.length > 0),
    };
    return {
      part,
      predictedNg: part.basic.massNg + part.allowance.massNg + residual.basic.massNg + residual.allowance.massNg,
      whereabouts: whereaboutsOf(part),
      isAssumed: !isWeighedWhole && isAssumed(part),
      isArmExact: !isWeighedWhole && part.armsNm.x !== undefined && part.armStdM.x === 0 && part.basic.massNg !== 0n,
      driftingCount: flagged.length,
      watchCount: drifts.filter(({ judgement }) => levelOf(judgement.flag) === 'watch').length,
      open: OPEN_LISTS.filter((list) => isOn[list]),
      shifts: shiftsOf(part),
      small: smallShares(drifts, basis),
    };
  };
}

/** An assembly is the sum of its parts; it lacks nothing when it has no estimate of its own. */
export function lacksEstimate(part: PresentPart, isAssembly: boolean): boolean {
  return !isAssembly && part.estimate === undefined && part.weighedPieces < part.definition.quantity;
}

export function lacksArm(part: PresentPart): boolean {
  return part.armsNm.x === undefined && part.basic.massNg !== 0n;
}

function isAssumed({ estimate, weighedPieces, definition }: PresentPart): boolean {
  if (estimate === undefined || weighedPieces >= definition.quantity) return false;
  return estimate.statement.massStdKg === undefined && estimate.statement.massKg > 0;
}
