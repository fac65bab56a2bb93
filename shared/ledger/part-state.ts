/**
 * What one part contributes to the aircraft, from its own entries alone (rules R1, E2, W3, W8, W9).
 * A pure function of the part's entries as they stand corrected, whatever order they were recorded in: what happened
 * later counts over what happened earlier, by day, then by number. So a ledger that is carried on entry by entry and one
 * that is built anew agree to the last bit, and one entry costs the work of one part.
 */
import { conditionRank, type Installed, projectedInstalledKg, toComeKg } from '#shared/estimate/condition.ts';
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
import type { Condition, PartId, Statement, StatementOf } from './entry.ts';

export type PartKind = Exclude<
  Statement['kind'],
  | 'aircraft'
  | 'aircraft weighing'
  | 'datum moved'
  | 'targets'
  | 'allowances'
  | 'loading'
  | 'note'
  | 'scale'
  | 'check weight'
  | 'material'
  | 'process cause'
>;
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

/** One article that had the number of a piece, from its making to its withdrawal (rule W8). */
export type Life = {
  /** What ended the life before; undefined for the first one. */
  readonly begun: Standing | undefined;
  /** Its own weighings, oldest first by the day they happened. */
  readonly weighings: readonly Weighing[];
  /** The weighing that counts (rule W9); undefined where the estimate does. */
  readonly governing: Weighing | undefined;
};

/** A part's share of the aircraft. Moments are about the first datum. Basic plus allowance is the predicted mass. */
export type PartState = {
  readonly partId: PartId;
  readonly definition: StatementOf<'part added'> | undefined;
  readonly addedSeq: number | undefined;
  readonly removed: Standing<StatementOf<'part removed'>> | undefined;
  readonly estimates: readonly Standing<StatementOf<'estimate'>>[];
  /** The estimate in force, the one made last. */
  readonly estimate: Standing<StatementOf<'estimate'>> | undefined;
  readonly weighings: readonly GoverningWeighing[];
  /** The lives of the pieces that were weighed or withdrawn; a piece that is not here has one, of which nothing is known. */
  readonly lives: ReadonlyMap<number, readonly Life[]>;
  readonly weighedPieces: number;
  readonly installedPieces: readonly number[];
  readonly dispositions: readonly Standing<StatementOf<'disposition'>>[];
  /** By the lives of the first piece, the weighing as an assembly that counts (rule W7); the last one is of the article there is now. */
  readonly assemblyByLife: readonly (Standing<StatementOf<'assembly weighing'>> | undefined)[];
  readonly armsNm: Arms;
  /** Standard uncertainty of each arm in force, 0 where none is stated. */
  readonly armStdM: { readonly [axis in Axis]: number };
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
  const removed = lastOf(ordered, 'part removed');
  const estimates = ordered.filter((standing) => isOf(standing, 'estimate'));
  const estimate = estimates.at(-1);
  const quantity = added?.statement.quantity ?? 0;
  const { lives, installed } = followPieces(ordered, quantity);
  const governing = governingOf(lives);
  const { armsNm, armStdM } = armsOf(ordered, estimate);
  const counts = removed === undefined && added !== undefined;
  return {
    partId,
    definition: added?.statement,
    addedSeq: added?.seq,
    removed,
    estimates,
    estimate,
    weighings: groupByWeighing(governing),
    lives,
    weighedPieces: governing.size,
    installedPieces: [...installed].sort((a, b) => a - b),
    dispositions: ordered.filter((standing) => isOf(standing, 'disposition')),
    assemblyByLife: weighedAsAssembly(ordered),
    armsNm,
    armStdM,
    ...(counts ? countPieces({ quantity, estimate: estimate?.statement, governing, installed, armsNm }) : NOTHING),
  };
}

/** The number of the entry that says it now: the one to look at, or to correct. */
export function latestSeq({ seq, correctedBySeq }: Pick<Standing, 'seq' | 'correctedBySeq'>): number {
  return correctedBySeq ?? seq;
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

export type Weighing = Standing<StatementOf<'weighing'>>;
type Pieces = { readonly lives: ReadonlyMap<number, readonly Life[]>; readonly installed: ReadonlySet<number> };

/** The lives of each piece: a withdrawal ends one and begins the next (rule W8). */
function followPieces(ordered: readonly Standing[], quantity: number): Pieces {
  const lives = new Map<number, Life[]>();
  const installed = new Set<number>();
  for (const standing of ordered) {
    if (isOf(standing, 'weighing')) {
      for (const piece of standing.statement.pieces) if (piece <= quantity) weigh(livesOf(lives, piece), standing);
    } else if (endsALife(standing)) {
      for (const piece of standing.statement.pieces) {
        if (piece > quantity) continue;
        livesOf(lives, piece).push({ begun: standing, weighings: [], governing: undefined });
        installed.delete(piece);
      }
    } else if (isOf(standing, 'piece installed')) {
      for (const piece of standing.statement.pieces) if (piece <= quantity) installed.add(piece);
    }
  }
  return { lives, installed };
}

function livesOf(lives: Map<number, Life[]>, piece: number): Life[] {
  const known = lives.get(piece);
  if (known !== undefined) return known;
  const first: Life[] = [{ begun: undefined, weighings: [], governing: undefined }];
  lives.set(piece, first);
  return first;
}

/** Rule W9: the later condition counts, then the later day. */
function weigh(lives: Life[], weighing: Weighing): void {
  const life = lives.at(-1);
  if (life === undefined) return;
  const isBetter =
    life.governing === undefined ||
    conditionRank(weighing.statement.condition) >= conditionRank(life.governing.statement.condition);
  lives[lives.length - 1] = {
    begun: life.begun,
    weighings: [...life.weighings, weighing],
    governing: isBetter ? weighing : life.governing,
  };
}

/** A piece withdrawn, or one that was found and is to be scrapped (rules W8, W11). */
function endsALife(standing: Standing): standing is Standing<StatementOf<'piece withdrawn' | 'disposition'>> {
  return (
    isOf(standing, 'piece withdrawn') || (isOf(standing, 'disposition') && standing.statement.decision === 'scrapped')
  );
}

function governingOf(lives: ReadonlyMap<number, readonly Life[]>): ReadonlyMap<number, Weighing> {
  const governing = new Map<number, Weighing>();
  for (const [piece, ofPiece] of lives) {
    const weighing = ofPiece.at(-1)?.governing;
    if (weighing !== undefined) governing.set(piece, weighing);
  }
  return governing;
}

/** Rule W7 with W9: of the weighings of one article as an assembly the later condition counts, then the later day. */
function weighedAsAssembly(ordered: readonly Standing[]): PartState['assemblyByLife'] {
  const lives: [...PartState['assemblyByLife']] = [undefined];
  for (const standing of ordered) {
    if (endsALife(standing) && standing.statement.pieces.includes(1)) lives.push(undefined);
    if (!isOf(standing, 'assembly weighing')) continue;
    const best = lives.at(-1);
    if (best === undefined || conditionRank(standing.statement.condition) >= conditionRank(best.statement.condition))
      lives[lives.length - 1] = standing;
  }
  return lives;
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
function armsOf(
  ordered: readonly Standing[],
  estimate: Standing<StatementOf<'estimate'>> | undefined,
): Pick<PartState, 'armsNm' | 'armStdM'> {
  const armsNm: Record<Axis, LengthNm | undefined> = { x: undefined, y: undefined, z: undefined };
  const armStdM = { x: 0, y: 0, z: 0 };
  const sources = [...(estimate === undefined ? [] : [estimate]), ...ordered.filter((s) => isOf(s, 'arm measured'))];
  for (const { statement, frameNm } of sources) {
    const statedM = { x: statement.xM, y: statement.yM, z: statement.zM };
    for (const axis of AXES) {
      const armM = statedM[axis];
      if (armM === undefined) continue;
      const armNm = toLengthNm(armM);
      armsNm[axis] = (axis === 'x' ? armNm + frameNm : armNm) as LengthNm;
      armStdM[axis] = statement.armStdM ?? 0;
    }
  }
  return { armsNm, armStdM };
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
function countPieces(of: {
  readonly quantity: number;
  readonly estimate: StatementOf<'estimate'> | undefined;
  readonly governing: ReadonlyMap<number, Weighing>;
  readonly installed: ReadonlySet<number>;
  readonly armsNm: Arms;
}): Counted {
  const { quantity, governing, installed, armsNm } = of;
  const masses = pieceMasses(of.estimate);
  let weighedNg = 0n;
  let allowanceNg = 0n;
  let installedNg = 0n;
  let inStockNg = 0n;
  for (const [piece, weighing] of governing) {
    const projectedNg = masses.massNg(weighing);
    weighedNg += projectedNg;
    allowanceNg += masses.allowanceNg(weighing);
    if (installed.has(piece)) installedNg += projectedNg;
    else inStockNg += projectedNg;
  }
  const unweighed = BigInt(quantity - governing.size);
  allowanceNg += unweighed * masses.allowanceNg(undefined);
  for (const piece of installed) if (!governing.has(piece)) installedNg += masses.massNg(undefined);
  const basicNg = weighedNg + unweighed * masses.massNg(undefined);
  return {
    basic: tallyOf(basicNg as MassNg, armsNm),
    allowance: tallyOf(allowanceNg as MassNg, armsNm),
    weighedNg: weighedNg as MassNg,
    installedNg: installedNg as MassNg,
    inStockNg: inStockNg as MassNg,
  };
}

/** What one piece counts for, by its weighing, or by the estimate where it has none. Whole nanograms. */
export type PieceMasses = {
  readonly massNg: (weighing: Weighing | undefined) => bigint;
  readonly allowanceNg: (weighing: Weighing | undefined) => bigint;
  /** What goes on later than a condition (all of it where none is given), and the allowance on that. */
  readonly toComeNg: (condition: Condition | undefined) => bigint;
  readonly toComeAllowanceNg: (condition: Condition | undefined) => bigint;
};

export function pieceMasses(estimate: StatementOf<'estimate'> | undefined): PieceMasses {
  const of = estimate ?? NO_ESTIMATE;
  const toComeAllowanceNg = (condition: Condition = 'as released'): bigint =>
    toMassNg(toComeAllowanceKg(of, condition));
  return {
    massNg: (weighing) => toMassNg(weighing === undefined ? of.massKg : weighedPieceKg(of, weighing.statement)),
    allowanceNg: (weighing) =>
      weighing === undefined
        ? toMassNg(mouldedAllowanceKg(of)) + toComeAllowanceNg()
        : toComeAllowanceNg(weighing.statement.condition),
    toComeNg: (condition = 'as released') => toMassNg(toComeKg(of, condition)),
    toComeAllowanceNg,
  };
}

/** What allowances and projections are made of, one piece; nothing of it where a part has no estimate. */
export type Estimated = Installed & Pick<StatementOf<'estimate'>, 'growth' | 'laterGrowth'>;
export const NO_ESTIMATE: Estimated = { massKg: 0, flashKg: 0, laterKg: 0, growth: 0, laterGrowth: 0 };

/** What a weighed piece counts for, in kilograms. */
export function weighedPieceKg(estimate: Estimated, weighing: StatementOf<'weighing'>): number {
  return projectedInstalledKg(pieceNetKg(weighing), weighing.condition, estimate);
}

/** The allowance on what is moulded of a piece that is not weighed, in kilograms. */
export function mouldedAllowanceKg({ massKg, laterKg, growth }: Estimated): number {
  return (massKg - laterKg) * growth;
}

/** The allowance on what goes on after a condition, in kilograms. */
export function toComeAllowanceKg(estimate: Estimated, condition: Condition): number {
  return toComeKg(estimate, condition) * estimate.laterGrowth;
}

type Defined = { readonly state: Pick<PartState, 'definition'> };

/**
 * The assembly a part stands in, the one that stands in, and so on up. Corrections on two days can leave two assemblies in each other:
 * each is met once.
 */
export function assembliesUp(byPart: ReadonlyMap<PartId, Defined>, from: PartId | undefined): ReadonlySet<PartId> {
  const up = new Set<PartId>();
  for (let at = from; at !== undefined && !up.has(at); at = byPart.get(at)?.state.definition?.parentPartId) up.add(at);
  return up;
}
