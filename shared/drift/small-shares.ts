/**
 * What a part that is in line adds to the sums of rule D5: by its group, its process and the lots of its pieces. Pieces that stand under one
 * estimate, and those weighed as one lot, are off together.
 */
import type { ManySmallReport } from '#shared/contract/drift.ts';
import { toM } from '#shared/quantity/exact.ts';
import { estimateStdKg } from '#shared/uncertainty/sources.ts';
import { pieceNetStdKg } from '#shared/weighing/net.ts';
import { gainStdAt, type Scales } from '#shared/weighing/scales.ts';
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
export function smallShares(drifts: readonly PartDrift[], scales: Scales): readonly SmallShare[] {
  if (drifts.some(({ judgement }) => levelOf(judgement.flag) !== 'in line')) return [];
  const shares = new Map<string, SmallShare>();
  for (const drift of drifts) {
    const { group, process } = drift.part.definition;
    const { lot } = drift.weighing.standing.statement;
    put(shares, { by: 'group', name: group }, drift, scales);
    put(shares, { by: 'process', name: process }, drift, scales);
    if (lot !== undefined) put(shares, { by: 'lot', name: lot }, drift, scales);
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
  scales: Scales,
): void {
  const before = shares.get(smallKey(place));
  const growthKg = drift.judgement.differenceKg * drift.weighing.pieces.length;
  const armNm = drift.part.armsNm.x;
  const placedKg = armNm === undefined ? 0 : growthKg;
  shares.set(smallKey(place), {
    ...place,
    growthKg: (before?.growthKg ?? 0) + growthKg,
    varianceKg2: (before?.varianceKg2 ?? 0) + varianceKg2(drift, scales),
    placedKg: (before?.placedKg ?? 0) + placedKg,
    momentKgM: (before?.momentKgM ?? 0) + (armNm === undefined ? 0 : growthKg * toM(armNm)),
  });
}

function varianceKg2({ part, weighing }: PartDrift, scales: Scales): number {
  const { standing, pieces } = weighing;
  const gainStd = gainStdAt(scales, standing.statement.scale, standing);
  const estimate = part.estimate?.statement;
  const ofEstimateKg = estimate === undefined ? 0 : estimateStdKg(estimate) * pieces.length;
  return ofEstimateKg ** 2 + (pieceNetStdKg(standing.statement, gainStd) * pieces.length) ** 2;
}
