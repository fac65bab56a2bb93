/**
 * What a part that is in line adds to the sums of rule D5: by its group, its process and the lots of its pieces. Pieces that stand under one
 * estimate, and those weighed as one lot, are off together.
 */
import type { ManySmallReport } from '#shared/contract/drift.ts';
import type { ErrorBasis } from '#shared/estimate/shop-errors.ts';
import { toM } from '#shared/quantity/exact.ts';
import { estimateStdKg } from '#shared/uncertainty/sources.ts';
import { pieceNetStdKg } from '#shared/weighing/net.ts';
import { gainStdAt } from '#shared/weighing/scales.ts';
import { levelOf, type PartDrift } from './part-drift.ts';

/** Kilograms, and kilogram metres about the first datum. */
export type SmallShare = {
  readonly by: ManySmallReport['by'];
  readonly name: string;
  readonly growthKg: number;
  readonly varianceKg2: number;
  readonly placedKg: number;
  readonly momentKgM: number;
};

/** One share for each place the part's weighings belong to; none where one of them is not in line. */
export function smallShares(drifts: readonly PartDrift[], basis: ErrorBasis): readonly SmallShare[] {
  if (drifts.some(({ judgement }) => levelOf(judgement.flag) !== 'in line')) return [];
  const shares = new Map<string, SmallShare>();
  for (const drift of drifts) {
    const { group, process } = drift.part.definition;
    const { lot } = drift.weighing.standing.statement;
    put(shares, { by: 'group', name: group }, drift, basis);
    put(shares, { by: 'process', name: process }, drift, basis);
    if (lot !== undefined) put(shares, { by: 'lot', name: lot }, drift, basis);
  }
  return [...shares.values()];
}

export function smallKey({ by, name }: Pick<SmallShare, 'by' | 'name'>): string {
  return `${by} ${name}`;
}

function put(
  shares: Map<string, SmallShare>,
  place: Pick<SmallShare, 'by' | 'name'>,
  drift: PartDrift,
  basis: ErrorBasis,
): void {
  const { part, weighing, judgement } = drift;
  const { statement } = weighing.standing;
  const before = shares.get(smallKey(place));
  const { growthKg, varianceKg2, placedKg, momentKgM } = smallGrowth({
    differenceKg: judgement.differenceKg,
    pieceCount: weighing.pieces.length,
    estimateStdKg: part.estimate === undefined ? 0 : estimateStdKg(part.estimate.statement, basis.unstatedStd),
    netStdKg: pieceNetStdKg(statement, gainStdAt(basis.scales, statement.scale, weighing.standing)),
    xM: part.armsNm.x === undefined ? undefined : toM(part.armsNm.x),
  });
  shares.set(smallKey(place), {
    ...place,
    growthKg: (before?.growthKg ?? 0) + growthKg,
    varianceKg2: (before?.varianceKg2 ?? 0) + varianceKg2,
    placedKg: (before?.placedKg ?? 0) + placedKg,
    momentKgM: (before?.momentKgM ?? 0) + momentKgM,
  });
}

/** What some pieces that are in line add, off together from one estimate and one weighing, whose figures are of one piece. */
export function smallGrowth(of: {
  readonly differenceKg: number;
  readonly pieceCount: number;
  readonly estimateStdKg: number;
  readonly netStdKg: number;
  /** About the first datum. */
  readonly xM: number | undefined;
}): Omit<SmallShare, 'by' | 'name'> {
  const { differenceKg, pieceCount, xM } = of;
  const growthKg = differenceKg * pieceCount;
  return {
    growthKg,
    varianceKg2: (of.estimateStdKg * pieceCount) ** 2 + (of.netStdKg * pieceCount) ** 2,
    placedKg: xM === undefined ? 0 : growthKg,
    momentKgM: xM === undefined ? 0 : growthKg * xM,
  };
}
