/**
 * What one part contributes to the aircraft, from its own entries alone (rules R1, E2, W3, W8, W9).
 * A pure function of the part's entries as they stand corrected, whatever order they were recorded in: what happened
 * later counts over what happened earlier, by day, then by number. So a ledger that is carried on entry by entry and one
 * that is built anew agree to the last bit, and one entry costs the work of one part.
 */
import { conditionRank, projectedInstalledKg } from '#shared/estimate/condition.ts';
import {
  type Arms,
  AXES,
  type Axis,
  EMPTY_TALLY,
  type LengthNm,
  type MassNg,
  type Tally,
  tallyOf,
  toLengthNm,
  toMassNg,
} from '#shared/quantity/exact.ts';
import { pieceNetKg } from '#shared/weighing/net.ts';
import type { PartId, Statement, StatementOf } from './entry.ts';

export type PartKind = Exclude<Statement['kind'], 'aircraft' | 'datum moved' | 'targets' | 'note'>;
export type PartStatement = Extract<Statement, { kind: PartKind }>;

/**
 * An entry of a part as it stands after corrections. `seq` is the place of the entry first made; `correctedBySeq` the
 * correction in force. Arms were typed in the frame of a datum that lay `frameNm` aft of the first one.
 */
export type Standing<S extends Statement = PartStatement> = {
  readonly seq: number;
  readonly happenedOn: string;
  readonly frameNm: LengthNm;
  readonly correctedBySeq?: number | undefined;
  readonly statement: S;
};

export type GoverningWeighing = {
  readonly standing: Standing<StatementOf<'weighing'>>;
  /** The pieces this weighing still speaks for: not weighed again in a later condition, not withdrawn. */
  readonly pieces: readonly number[];
};

/** A part's share of the aircraft. Moments are about the first datum. Basic plus allowance is the predicted mass. */
export type PartState = {
  readonly partId: PartId;
  readonly definition: StatementOf<'part added'> | undefined;
  readonly addedSeq: number | undefined;
  readonly removed: boolean;
  readonly estimates: readonly Standing<StatementOf<'estimate'>>[];
  /** The estimate in force, the one made last. */
  readonly estimate: Standing<StatementOf<'estimate'>> | undefined;
  readonly weighings: readonly GoverningWeighing[];
  readonly weighedPieces: number;
  readonly installedPieces: readonly number[];
  readonly armsNm: Arms;
  readonly basic: Tally;
  readonly allowance: Tally;
  readonly weighedNg: MassNg;
  /** Basic mass of the pieces built in, and of those weighed but not yet built in. */
  readonly installedNg: MassNg;
  readonly inStockNg: MassNg;
};

/** The state of a part from its entries in any order. */
export function partState(partId: PartId, standings: readonly Standing[]): PartState {
  const ordered = [...standings].sort(byWhatHappened);
  const added = lastOf(ordered, 'part added');
  const removed = lastOf(ordered, 'part removed') !== undefined;
  const estimates = ordered.filter((standing) => isOf(standing, 'estimate'));
  const estimate = estimates.at(-1);
  const quantity = added?.statement.quantity ?? 0;
  const pieces = followPieces(ordered, quantity);
  const armsNm = armsOf(ordered, estimate);
  const counted = removed || added === undefined ? NOTHING : countPieces(quantity, estimate?.statement, pieces, armsNm);
  return {
    partId,
    definition: added?.statement,
    addedSeq: added?.seq,
    removed,
    estimates,
    estimate,
    weighings: groupByWeighing(pieces.governing),
    weighedPieces: pieces.governing.size,
    installedPieces: [...pieces.installed].sort((a, b) => a - b),
    armsNm,
    ...counted,
  };
}

/** By the day it happened, then by its number in the ledger. */
export function byWhatHappened(
  a: { readonly happenedOn: string; readonly seq: number },
  b: { readonly happenedOn: string; readonly seq: number },
): number {
  if (a.happenedOn !== b.happenedOn) return a.happenedOn < b.happenedOn ? -1 : 1;
  return a.seq - b.seq;
}

export function isOf<Kind extends Statement['kind']>(
  standing: Standing<Statement>,
  kind: Kind,
): standing is Standing<StatementOf<Kind>> {
  return standing.statement.kind === kind;
}

function lastOf<Kind extends PartKind>(
  ordered: readonly Standing[],
  kind: Kind,
): Standing<StatementOf<Kind>> | undefined {
  return ordered.findLast((standing): standing is Standing & Standing<StatementOf<Kind>> => isOf(standing, kind));
}

type Weighing = Standing<StatementOf<'weighing'>>;
type Pieces = { readonly governing: ReadonlyMap<number, Weighing>; readonly installed: ReadonlySet<number> };

/** Which weighing speaks for each piece: the later condition, then the later day; a withdrawal starts the piece anew. */
function followPieces(ordered: readonly Standing[], quantity: number): Pieces {
  const governing = new Map<number, Weighing>();
  const installed = new Set<number>();
  for (const standing of ordered) {
    if (isOf(standing, 'weighing')) {
      for (const piece of standing.statement.pieces) {
        const before = governing.get(piece);
        const better =
          before === undefined ||
          conditionRank(standing.statement.condition) >= conditionRank(before.statement.condition);
        if (piece <= quantity && better) governing.set(piece, standing);
      }
    } else if (isOf(standing, 'piece withdrawn')) {
      for (const piece of standing.statement.pieces) {
        governing.delete(piece);
        installed.delete(piece);
      }
    } else if (isOf(standing, 'piece installed')) {
      for (const piece of standing.statement.pieces) if (piece <= quantity) installed.add(piece);
    }
  }
  return { governing, installed };
}

function groupByWeighing(governing: ReadonlyMap<number, Weighing>): readonly GoverningWeighing[] {
  const bySeq = new Map<number, { standing: Weighing; pieces: number[] }>();
  for (const [piece, standing] of governing) {
    const group = bySeq.get(standing.seq);
    if (group === undefined) bySeq.set(standing.seq, { standing, pieces: [piece] });
    else group.pieces.push(piece);
  }
  for (const group of bySeq.values()) group.pieces.sort((a, b) => a - b);
  return [...bySeq.values()].sort((a, b) => byWhatHappened(a.standing, b.standing));
}

/** A measured arm overrules the estimate's, axis by axis. */
function armsOf(ordered: readonly Standing[], estimate: Standing<StatementOf<'estimate'>> | undefined): Arms {
  const arms: Record<Axis, LengthNm | undefined> = { x: undefined, y: undefined, z: undefined };
  const sources = [...(estimate === undefined ? [] : [estimate]), ...ordered.filter((s) => isOf(s, 'arm measured'))];
  for (const source of sources) {
    const statedM = { x: source.statement.xM, y: source.statement.yM, z: source.statement.zM };
    for (const axis of AXES) {
      const armM = statedM[axis];
      if (armM === undefined) continue;
      const armNm = toLengthNm(armM);
      arms[axis] = (axis === 'x' ? armNm + source.frameNm : armNm) as LengthNm;
    }
  }
  return arms;
}

type Counted = Pick<PartState, 'basic' | 'allowance' | 'weighedNg' | 'installedNg' | 'inStockNg'>;
const NOTHING: Counted = {
  basic: EMPTY_TALLY,
  allowance: EMPTY_TALLY,
  weighedNg: 0n as MassNg,
  installedNg: 0n as MassNg,
  inStockNg: 0n as MassNg,
};

/** Rule R1: every piece once, the weighing before the estimate. */
function countPieces(
  quantity: number,
  estimate: StatementOf<'estimate'> | undefined,
  pieces: Pieces,
  armsNm: Arms,
): Counted {
  const perPiece = pieceMasses(estimate);
  let weighedNg = 0n;
  let allowanceNg = 0n;
  let installedNg = 0n;
  let inStockNg = 0n;
  for (const [piece, { statement }] of pieces.governing) {
    const projectedNg = toMassNg(projectedInstalledKg(pieceNetKg(statement), statement.condition, perPiece));
    weighedNg += projectedNg;
    if (statement.condition !== 'finished') allowanceNg += perPiece.laterAllowanceNg;
    if (pieces.installed.has(piece)) installedNg += projectedNg;
    else inStockNg += projectedNg;
  }
  const unweighed = quantity - pieces.governing.size;
  allowanceNg += BigInt(unweighed) * perPiece.allowanceNg;
  for (const piece of pieces.installed) if (!pieces.governing.has(piece)) installedNg += perPiece.estimateNg;
  const basicNg = weighedNg + BigInt(unweighed) * perPiece.estimateNg;
  return {
    basic: tallyOf(basicNg as MassNg, armsNm),
    allowance: tallyOf(allowanceNg as MassNg, armsNm),
    weighedNg: weighedNg as MassNg,
    installedNg: installedNg as MassNg,
    inStockNg: inStockNg as MassNg,
  };
}

/** The masses of one unweighed piece, and what later work adds to a weighed one. */
function pieceMasses(estimate: StatementOf<'estimate'> | undefined) {
  if (estimate === undefined) return { flashKg: 0, laterKg: 0, estimateNg: 0n, allowanceNg: 0n, laterAllowanceNg: 0n };
  const { massKg, flashKg, laterKg, growth, laterGrowth } = estimate;
  const laterAllowanceNg: bigint = toMassNg(laterKg * laterGrowth);
  return {
    flashKg,
    laterKg,
    estimateNg: toMassNg(massKg) as bigint,
    allowanceNg: toMassNg((massKg - laterKg) * growth) + laterAllowanceNg,
    laterAllowanceNg,
  };
}
