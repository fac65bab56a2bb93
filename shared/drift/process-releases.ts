/**
 * What a process released, in order (rules D4, F1): the first weighing of each article of a part, against the estimate in force on that
 * day. Pieces on a scale together are one release. A part that was removed since was made by the process as well. What nothing was
 * expected of is left out: no estimate, or none of its mass moulded.
 */
import { expectedAtScaleKg } from '#shared/estimate/condition.ts';
import type { ErrorBasis } from '#shared/estimate/shop-errors.ts';
import type { PartId, Process, StatementOf } from '#shared/ledger/entry.ts';
import { latestSeq, type PartState, type Weighing } from '#shared/ledger/part-state.ts';
import { pieceNetKg, pieceNetStdKg } from '#shared/weighing/net.ts';
import { gainStdAt } from '#shared/weighing/scales.ts';
import { estimateFor } from './part-drift.ts';

/** Fractions are of the moulded mass of the estimate. */
export type Release = {
  readonly partId: PartId;
  readonly process: Process;
  readonly part: string;
  /** The entry that says it now, and the day. */
  readonly seq: number;
  readonly on: string;
  readonly pieces: readonly number[];
  /** The entry of the estimate that it is held against. */
  readonly estimateSeq: number;
  /** r: moulded mass less estimated moulded mass. */
  readonly differenceFraction: number;
  /** g */
  readonly allowanceFraction: number;
  /** s: what the estimate states, or else what the shop's pieces differ by; one error for all pieces under the estimate. */
  readonly estimateStdFraction: number;
  /** u: what the scale leaves open. */
  readonly scaleStdFraction: number;
};

/** A release with the weighing that it was, which says where it comes among others. */
export type Ordered = { readonly weighing: Weighing; readonly release: Release };

/** A part's state is made anew whenever the part changes, so what was released of it stays with it. */
const ofState = new WeakMap<PartState, { readonly basis: ErrorBasis; readonly releases: readonly Ordered[] }>();

export function releasesOfPart(part: PartState, basis: ErrorBasis): readonly Ordered[] {
  const before = ofState.get(part);
  if (before?.basis === basis) return before.releases;
  const releases = firstWeighings(part).flatMap(({ weighing, pieces }): Ordered[] => {
    const release = releaseOf(part, weighing, pieces, basis);
    return release === undefined ? [] : [{ weighing, release }];
  });
  ofState.set(part, { basis, releases });
  return releases;
}

/** The first weighing of each article, with the pieces whose first it is. */
function firstWeighings({ lives }: PartState): readonly { weighing: Weighing; pieces: number[] }[] {
  const bySeq = new Map<number, { weighing: Weighing; pieces: number[] }>();
  for (const [piece, ofPiece] of lives)
    for (const { weighings } of ofPiece) {
      const [weighing] = weighings;
      if (weighing === undefined) continue;
      const known = bySeq.get(weighing.seq);
      if (known === undefined) bySeq.set(weighing.seq, { weighing, pieces: [piece] });
      else known.pieces.push(piece);
    }
  return [...bySeq.values()].map(({ weighing, pieces }) => ({ weighing, pieces: pieces.sort((a, b) => a - b) }));
}

function releaseOf(
  part: PartState,
  weighing: Weighing,
  pieces: readonly number[],
  { scales, unstatedStd }: ErrorBasis,
): Release | undefined {
  const { definition, partId } = part;
  const estimate = estimateFor(weighing, part.estimates);
  if (definition === undefined || estimate === undefined) return undefined;
  const { condition, scale } = weighing.statement;
  const mouldedKg = mouldedKgOf(estimate.statement);
  if (!(mouldedKg > 0)) return undefined;
  const differenceKg = pieceNetKg(weighing.statement) - expectedAtScaleKg(estimate.statement, condition);
  return {
    partId,
    process: definition.process,
    part: definition.number,
    seq: latestSeq(weighing),
    on: weighing.happenedOn,
    pieces,
    estimateSeq: estimate.seq,
    differenceFraction: differenceKg / mouldedKg,
    allowanceFraction: estimate.statement.growth,
    estimateStdFraction: estimateStdFraction(estimate.statement, unstatedStd),
    scaleStdFraction: pieceNetStdKg(weighing.statement, gainStdAt(scales, scale, weighing)) / mouldedKg,
  };
}

/** What a release missed estimate and allowance by. */
export function missOf({ differenceFraction, allowanceFraction }: Release): number {
  return differenceFraction - allowanceFraction;
}

/** The standard deviation of that. */
export function missStdOf({ estimateStdFraction, scaleStdFraction }: Release): number {
  return Math.sqrt(estimateStdFraction ** 2 + scaleStdFraction ** 2);
}

/** How many standard deviations a release missed by. */
export function deviationOf(release: Release): number {
  return missOf(release) / missStdOf(release);
}

/** The same with the allowance left out. */
export function sparedDeviationOf(release: Release): number {
  return release.differenceFraction / missStdOf(release);
}

/** What comes out of the mould, flash taken off, one piece. */
export function mouldedKgOf(estimate: Pick<StatementOf<'estimate'>, 'massKg' | 'laterKg'>): number {
  return estimate.massKg - estimate.laterKg;
}

/** No process repeats itself exactly: an estimate that says it is exact is taken for one that says nothing. */
function estimateStdFraction({ massKg, massStdKg }: StatementOf<'estimate'>, unstatedStd: number): number {
  return massStdKg !== undefined && massStdKg > 0 ? massStdKg / massKg : unstatedStd;
}
