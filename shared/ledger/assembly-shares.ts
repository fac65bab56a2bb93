/**
 * What the pieces of one part have to do with weighed assemblies (rule W7): which articles stood on the scale, what they count for in
 * their own book, what was still to come on them then, and which allowance the scale has done away with.
 */
import { conditionRank } from '#shared/estimate/condition.ts';
import { EMPTY_TALLY, type MassNg, type Tally, tallyOf } from '#shared/quantity/exact.ts';
import type { Condition, StatementOf } from './entry.ts';
import { byWhatHappened, type Life, type PartState, pieceMasses, type Standing } from './part-state.ts';

export type AsAssembly = Standing<StatementOf<'assembly weighing'>>;

/** A weighing of an assembly that names a part; without `pieces`, all of them. */
export type Naming = { readonly standing: AsAssembly; readonly pieces: readonly number[] | undefined };

/** The weighings of assemblies that name a part, by the number of the entry. */
export type Named = ReadonlyMap<number, Naming>;

/** What a part's pieces in an assembly count for in their own books. */
export type Share = {
  readonly inIt: Tally;
  /** Still to come when the assembly stood on the scale. */
  readonly toCome: Tally;
  /** Which life of the first piece is in it, for a part that is itself weighed as an assembly; undefined where none is. */
  readonly firstLife: number | undefined;
};

export const NO_SHARE: Share = { inIt: EMPTY_TALLY, toCome: EMPTY_TALLY, firstLife: undefined };

/** What the pieces of one part that are in an assembly count for in that part's own book. */
export function shareOf(state: PartState | undefined, named: Named | undefined, standing: AsAssembly): Share {
  const naming = named?.get(standing.seq);
  if (state === undefined || named === undefined || naming === undefined) return NO_SHARE;
  const masses = pieceMasses(state.estimate?.statement);
  let [inItNg, toComeNg] = [0n, 0n];
  let firstLife: number | undefined;
  for (const { piece, at, lives } of articlesIn(state, naming)) {
    inItNg += masses.massNg(lives[at]?.governing);
    toComeNg += masses.toComeNg(conditionsOf(piece, at, lives, named, standing).byThen);
    if (piece === 1) firstLife = at;
  }
  return {
    inIt: tallyOf(inItNg as MassNg, state.armsNm),
    toCome: tallyOf(toComeNg as MassNg, state.armsNm),
    firstLife,
  };
}

/** The articles of a part on the scale: the weighing that counts of each, and the latest condition it had been weighed in by then. */
export function articlesOn(state: PartState, named: Named | undefined, standing: AsAssembly) {
  const naming = named?.get(standing.seq);
  if (named === undefined || naming === undefined) return [];
  return articlesIn(state, naming).map(({ piece, at, lives }) => ({
    weighing: lives[at]?.governing,
    byThen: conditionsOf(piece, at, lives, named, standing).byThen,
  }));
}

/**
 * The pieces a part has now that are in an assembly whose weighing counts, each with the weighings it is in. A piece is in several where
 * assemblies are nested, and where it went from one to another.
 */
export function heldPieces(
  state: PartState,
  named: Named | undefined,
  counts: (standing: AsAssembly) => boolean,
): ReadonlyMap<number, readonly [AsAssembly, ...AsAssembly[]]> {
  const held = new Map<number, [AsAssembly, ...AsAssembly[]]>();
  if (state.removed !== undefined) return held;
  for (const naming of named?.values() ?? []) {
    if (!counts(naming.standing)) continue;
    for (const { piece, at, lives } of articlesIn(state, naming)) {
      if (at !== lives.length - 1) continue;
      const within = held.get(piece);
      if (within === undefined) held.set(piece, [naming.standing]);
      else within.push(naming.standing);
    }
  }
  return held;
}

/** The allowance that the scale has done away with: all of a piece's but that of what is still to come on it, once for each piece. */
export function droppedOf(
  state: PartState | undefined,
  named: Named | undefined,
  counts: (standing: AsAssembly) => boolean,
): Tally {
  if (state === undefined || named === undefined) return EMPTY_TALLY;
  let droppedNg = 0n;
  for (const pieceNg of droppedByPiece(state, named, counts).values()) droppedNg += pieceNg;
  return tallyOf(droppedNg as MassNg, state.armsNm);
}

export function droppedByPiece(
  state: PartState,
  named: Named | undefined,
  counts: (standing: AsAssembly) => boolean,
): ReadonlyMap<number, bigint> {
  const dropped = new Map<number, bigint>();
  if (named === undefined) return dropped;
  const masses = pieceMasses(state.estimate?.statement);
  for (const [piece, [standing]] of heldPieces(state, named, counts)) {
    const lives: readonly Life[] = state.lives.get(piece) ?? UNTOUCHED;
    const at = lives.length - 1;
    const { ever } = conditionsOf(piece, at, lives, named, standing);
    dropped.set(piece, masses.allowanceNg(lives[at]?.governing) - masses.toComeAllowanceNg(ever));
  }
  return dropped;
}

/** A piece as the article that had its number when the assembly stood on the scale: its lives, and which of them. */
type Article = { readonly piece: number; readonly at: number; readonly lives: readonly Life[] };

const UNTOUCHED: readonly Life[] = [{ begun: undefined, weighings: [], governing: undefined }];

function articlesIn(state: PartState, { standing, pieces }: Naming): readonly Article[] {
  if (state.definition === undefined) return [];
  const isOwn = standing.statement.partId === state.partId;
  if (!isOwn && state.removed !== undefined && byWhatHappened(state.removed, standing) < 0) return [];
  const { quantity } = state.definition;
  const all = pieces?.filter((piece) => piece <= quantity) ?? Array.from({ length: quantity }, (_, at) => at + 1);
  return all.map((piece) => {
    const lives = state.lives.get(piece) ?? UNTOUCHED;
    const at = lives.findLastIndex(({ begun }) => begun === undefined || byWhatHappened(begun, standing) < 0);
    return { piece, at, lives };
  });
}

/**
 * The latest condition in which an article had been, by its own weighings and by those of assemblies that it was in: when this assembly
 * stood on the scale (that weighing's own condition counted), and at any time, which is asked of the article there is now.
 */
function conditionsOf(
  piece: number,
  at: number,
  lives: readonly Life[],
  named: Named,
  of: AsAssembly,
): { readonly byThen: Condition; readonly ever: Condition } {
  const begun = lives[at]?.begun;
  let byThen = of.statement.condition;
  let ever = byThen;
  const see = (standing: Standing, condition: Condition): void => {
    ever = later(ever, condition);
    if (byWhatHappened(standing, of) < 0) byThen = later(byThen, condition);
  };
  for (const weighing of lives[at]?.weighings ?? []) see(weighing, weighing.statement.condition);
  for (const { standing, pieces } of named.values()) {
    if (standing === of || (pieces !== undefined && !pieces.includes(piece))) continue;
    if (begun !== undefined && byWhatHappened(standing, begun) < 0) continue;
    see(standing, standing.statement.condition);
  }
  return { byThen, ever };
}

function later(a: Condition, b: Condition): Condition {
  return conditionRank(b) > conditionRank(a) ? b : a;
}
