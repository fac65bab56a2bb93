/**
 * Weighed assemblies (rule W7): the scale overrules the sum of the parts that were in it. The parts keep their books as if nothing had
 * happened; beside them each weighed assembly has a residual, what the scale found beyond its parts, as a mass and a moment.
 * So a part that is weighed afterwards takes from the residual what it adds, and the total stays. Like is compared with like: what was
 * still to come when the assembly stood on the scale is on both sides. Nothing is ever divided by a residual.
 */
import { conditionRank } from '#shared/estimate/condition.ts';
import {
  AXES,
  type Axis,
  addTally,
  EMPTY_TALLY,
  type LengthNm,
  type MassNg,
  type MomentNgNm,
  negateTally,
  type Placed,
  type Tally,
  tallyOf,
  toLengthNm,
  toMassNg,
} from '#shared/quantity/exact.ts';
import type { Condition, PartId, StatementOf } from './entry.ts';
import { byWhatHappened, type Life, type PartState, pieceMasses, type Standing } from './part-state.ts';

export type AsAssembly = Standing<StatementOf<'assembly weighing'>>;

/** What is counted beside the parts' books: basic mass and allowance, and the share of it that was weighed and where it is. */
export type Residual = {
  readonly basic: Tally;
  readonly allowance: Tally;
  readonly weighedNg: MassNg;
  readonly installedNg: MassNg;
  readonly inStockNg: MassNg;
};

/** What a part's pieces in an assembly count for in their own books. */
export type Share = {
  readonly inIt: Tally;
  /** Still to come when the assembly stood on the scale. */
  readonly toCome: Tally;
  /** The allowance that the scale has done away with. */
  readonly dropped: Tally;
  readonly weighedNg: MassNg;
  readonly installedNg: MassNg;
  readonly inStockNg: MassNg;
  /** The mass of articles that were in it and have been withdrawn since. */
  readonly goneNg: MassNg;
};

export type AssemblyBook = {
  readonly standing: AsAssembly;
  readonly shares: Map<PartId, Share>;
  /** The sum of the shares, and of the residuals of weighed assemblies in this one. */
  sum: Share;
  /** The mass of the whole as it will be in the aircraft, of what the scale showed. */
  projectedNg: MassNg;
  residual: Residual;
};

type Naming = { readonly standing: AsAssembly; readonly pieces: readonly number[] | undefined };

export type Assemblies = {
  /** By the part that is the assembly, where a weighing of it counts. */
  readonly books: Map<PartId, AssemblyBook>;
  /** Every weighing of an assembly that names a part, by the part and the number of the entry. */
  readonly naming: Map<PartId, Map<number, Naming>>;
};

export type StateOf = (partId: PartId) => PartState | undefined;

export function openAssemblies(): Assemblies {
  return { books: new Map(), naming: new Map() };
}

const NO_MASS = 0n as MassNg;
export const NO_RESIDUAL: Residual = {
  basic: EMPTY_TALLY,
  allowance: EMPTY_TALLY,
  weighedNg: NO_MASS,
  installedNg: NO_MASS,
  inStockNg: NO_MASS,
};
const NO_SHARE: Share = {
  inIt: EMPTY_TALLY,
  toCome: EMPTY_TALLY,
  dropped: EMPTY_TALLY,
  weighedNg: NO_MASS,
  installedNg: NO_MASS,
  inStockNg: NO_MASS,
  goneNg: NO_MASS,
};

/**
 * Brings the assemblies in step with a part whose book has been written anew, and answers by how much the sum of all residuals
 * changed. `before` and `after` are the part's weighings as an assembly, corrected and struck ones left out.
 */
export function followPart(
  assemblies: Assemblies,
  stateOf: StateOf,
  part: { readonly partId: PartId; readonly before: readonly AsAssembly[]; readonly after: readonly AsAssembly[] },
): Residual {
  const { partId } = part;
  const rewritten = rename(assemblies, part);
  const governing = stateOf(partId)?.asAssembly;
  const changed = new Set<PartId>();
  if (assemblies.books.get(partId)?.standing !== governing) rewritten.add(partId);
  let change = NO_RESIDUAL;
  for (const assemblyId of rewritten) {
    const standing = stateOf(assemblyId)?.asAssembly;
    const old = assemblies.books.get(assemblyId);
    if (standing === undefined) {
      if (old === undefined) continue;
      assemblies.books.delete(assemblyId);
      change = addResidual(change, negated(old.residual));
    } else assemblies.books.set(assemblyId, openBook(assemblies, stateOf, standing, old?.residual));
    changed.add(assemblyId);
  }
  for (const { standing } of assemblies.naming.get(partId)?.values() ?? []) {
    const book = assemblies.books.get(standing.statement.partId);
    if (book === undefined || book.standing !== standing || rewritten.has(standing.statement.partId)) continue;
    book.shares.set(partId, shareOf(assemblies, stateOf, partId, standing));
    changed.add(standing.statement.partId);
  }
  if (changed.size === 0) return NO_RESIDUAL;
  return addResidual(change, reckon(assemblies, stateOf, withOuter(assemblies, changed)));
}

/** Writes down which weighings name which parts, and answers the assemblies whose parts must all be looked at again. */
function rename(
  { naming, books }: Assemblies,
  {
    partId,
    before,
    after,
  }: { readonly partId: PartId; readonly before: readonly AsAssembly[]; readonly after: readonly AsAssembly[] },
): Set<PartId> {
  const gone = before.filter((standing) => !after.includes(standing));
  const come = after.filter((standing) => !before.includes(standing));
  const touched = new Set<PartId>();
  for (const { seq, statement } of gone)
    for (const member of membersOf(statement)) {
      naming.get(member.partId)?.delete(seq);
      touched.add(member.partId);
    }
  for (const standing of come)
    for (const member of membersOf(standing.statement)) {
      const named = naming.get(member.partId) ?? new Map<number, Naming>();
      naming.set(member.partId, named.set(standing.seq, { standing, pieces: member.pieces }));
      touched.add(member.partId);
    }
  const rewritten = new Set<PartId>(touched.size > 0 ? [partId] : []);
  for (const [assemblyId, book] of books)
    for (const memberId of touched) if (book.shares.has(memberId)) rewritten.add(assemblyId);
  return rewritten;
}

/** The assembly's own piece is in it without being named. */
function membersOf(
  statement: StatementOf<'assembly weighing'>,
): readonly { readonly partId: PartId; readonly pieces?: readonly number[] | undefined }[] {
  return [{ partId: statement.partId }, ...statement.members.filter(({ partId }) => partId !== statement.partId)];
}

function openBook(
  assemblies: Assemblies,
  stateOf: StateOf,
  standing: AsAssembly,
  residual = NO_RESIDUAL,
): AssemblyBook {
  const shares = new Map(
    membersOf(standing.statement).map(({ partId }) => [partId, shareOf(assemblies, stateOf, partId, standing)]),
  );
  return { standing, shares, sum: NO_SHARE, projectedNg: NO_MASS, residual };
}

/** The assemblies given and all weighed ones that hold them. */
function withOuter({ books }: Assemblies, changed: Set<PartId>): ReadonlySet<PartId> {
  for (const innerId of changed)
    for (const [outerId, outer] of books) if (outerId !== innerId && outer.shares.has(innerId)) changed.add(outerId);
  return changed;
}

/** Works the residuals out anew, inner assemblies before those that hold them, and answers by how much their sum changed. */
function reckon({ books }: Assemblies, stateOf: StateOf, changed: ReadonlySet<PartId>): Residual {
  const reached = new Set<PartId>();
  let change = NO_RESIDUAL;
  const visit = (assemblyId: PartId): void => {
    const book = books.get(assemblyId);
    if (book === undefined || reached.has(assemblyId) || !changed.has(assemblyId)) return;
    reached.add(assemblyId);
    let sum = NO_SHARE;
    for (const share of book.shares.values()) sum = addShare(sum, share);
    for (const [innerId, inner] of books) {
      if (innerId === assemblyId || !book.shares.has(innerId) || inner.shares.has(assemblyId)) continue;
      visit(innerId);
      sum = withInner(sum, inner.residual);
    }
    const before = book.residual;
    book.sum = sum;
    book.projectedNg = projectedNgOf(book.standing, sum, stateOf(assemblyId));
    book.residual = residualOf(book, stateOf(assemblyId));
    change = addResidual(change, addResidual(book.residual, negated(before)));
  };
  for (const assemblyId of changed) visit(assemblyId);
  return change;
}

function projectedNgOf({ statement }: AsAssembly, sum: Share, own: PartState | undefined): MassNg {
  const flashNg = statement.condition === 'as released' ? toMassNg(own?.estimate?.statement.flashKg ?? 0) : 0n;
  const netNg = toMassNg(statement.netKg) - flashNg;
  return ((netNg > 0n ? netNg : 0n) + sum.toCome.massNg) as MassNg;
}

/**
 * The pair of rule W7: M - sum(m), and M X - sum(m x). Along an axis on which the assembly's CG was not measured its mass sits at
 * the CG of its parts.
 */
function residualOf({ standing, sum, projectedNg }: AssemblyBook, own: PartState | undefined): Residual {
  const massNg = (projectedNg - sum.inIt.massNg) as MassNg;
  const placed = (axis: Axis): Placed => {
    const armNm = measuredArmNm(standing, axis);
    const { placedNg, momentNgNm } = sum.inIt[axis];
    if (armNm !== undefined) {
      const toCome = sum.toCome[axis];
      const wholeNgNm = (projectedNg - toCome.placedNg) * armNm + toCome.momentNgNm;
      return { placedNg: (projectedNg - placedNg) as MassNg, momentNgNm: (wholeNgNm - momentNgNm) as MomentNgNm };
    }
    if (placedNg <= 0n) return EMPTY_TALLY[axis];
    return { placedNg: massNg, momentNgNm: floorDivide(massNg * momentNgNm, placedNg) as MomentNgNm };
  };
  const [x, y, z] = AXES.map(placed) as [Placed, Placed, Placed];
  const stillHereNg = projectedNg - sum.goneNg;
  const isInstalled = own?.installedPieces.includes(1) ?? false;
  return {
    basic: { massNg, x, y, z },
    allowance: negateTally(sum.dropped),
    weighedNg: (stillHereNg - sum.weighedNg) as MassNg,
    // What was weighed in an assembly is where the assembly is.
    installedNg: ((isInstalled ? stillHereNg : 0n) - sum.installedNg) as MassNg,
    inStockNg: ((isInstalled ? 0n : stillHereNg) - sum.inStockNg) as MassNg,
  };
}

/** The assembly's measured arm along an axis, about the first datum. */
export function measuredArmNm({ statement, frameNm }: AsAssembly, axis: Axis): LengthNm | undefined {
  const armM = { x: statement.xM, y: statement.yM, z: statement.zM }[axis];
  if (armM === undefined) return undefined;
  return (axis === 'x' ? toLengthNm(armM) + frameNm : toLengthNm(armM)) as LengthNm;
}

/** What the pieces of one part that are in an assembly count for in that part's own book. */
function shareOf({ naming }: Assemblies, stateOf: StateOf, partId: PartId, standing: AsAssembly): Share {
  const state = stateOf(partId);
  const named = naming.get(partId);
  if (state?.definition === undefined || named === undefined) return NO_SHARE;
  if (state.removed !== undefined && byWhatHappened(state.removed, standing) < 0) return NO_SHARE;
  const { quantity } = state.definition;
  const pieces = named.get(standing.seq)?.pieces;
  let [inItNg, toComeNg, droppedNg, weighedNg, installedNg, inStockNg, goneNg] = [0n, 0n, 0n, 0n, 0n, 0n, 0n];
  const masses = pieceMasses(state.estimate?.statement);
  const installed = new Set(state.installedPieces);
  const countPiece = (piece: number): void => {
    const lives = state.lives.get(piece) ?? UNTOUCHED;
    const life = lives.findLast(({ begun }) => begun === undefined || byWhatHappened(begun, standing) < 0);
    if (life === undefined) return;
    const { before, ever } = conditionsOf(piece, life, lives, { standing, named });
    const massNg = masses.massNg(life.governing);
    inItNg += massNg;
    toComeNg += masses.toComeNg(before);
    if (life !== lives.at(-1) || state.removed !== undefined) {
      goneNg += massNg;
      return;
    }
    droppedNg += masses.allowanceNg(life.governing) - masses.toComeAllowanceNg(ever);
    if (life.governing !== undefined) weighedNg += massNg;
    if (installed.has(piece)) installedNg += massNg;
    else if (life.governing !== undefined) inStockNg += massNg;
  };
  if (pieces === undefined) for (let piece = 1; piece <= quantity; piece += 1) countPiece(piece);
  else for (const piece of pieces) if (piece <= quantity) countPiece(piece);
  return {
    inIt: tallyOf(inItNg as MassNg, state.armsNm),
    toCome: tallyOf(toComeNg as MassNg, state.armsNm),
    dropped: tallyOf(droppedNg as MassNg, state.armsNm),
    weighedNg: weighedNg as MassNg,
    installedNg: installedNg as MassNg,
    inStockNg: inStockNg as MassNg,
    goneNg: goneNg as MassNg,
  };
}

const UNTOUCHED: readonly Life[] = [{ begun: undefined, weighings: [], governing: undefined }];

/**
 * The latest condition in which a piece had been, by its own weighings and by those of assemblies that it was in: when the assembly
 * stood on the scale (that weighing's own condition counted), and at any time.
 */
function conditionsOf(
  piece: number,
  life: Life,
  lives: readonly Life[],
  of: { readonly standing: AsAssembly; readonly named: ReadonlyMap<number, Naming> },
): { readonly before: Condition; readonly ever: Condition } {
  const end = lives[lives.indexOf(life) + 1]?.begun;
  let before = of.standing.statement.condition;
  let ever = before;
  const see = (at: { readonly happenedOn: string; readonly seq: number }, condition: Condition): void => {
    ever = later(ever, condition);
    if (byWhatHappened(at, of.standing) < 0) before = later(before, condition);
  };
  for (const weighing of life.weighings) see(weighing, weighing.statement.condition);
  for (const { standing, pieces } of of.named.values()) {
    if (standing === of.standing || (pieces !== undefined && !pieces.includes(piece))) continue;
    if (life.begun !== undefined && byWhatHappened(standing, life.begun) < 0) continue;
    if (end !== undefined && byWhatHappened(standing, end) > 0) continue;
    see(standing, standing.statement.condition);
  }
  return { before, ever };
}

function later(a: Condition, b: Condition): Condition {
  return conditionRank(b) > conditionRank(a) ? b : a;
}

function withInner(sum: Share, inner: Residual): Share {
  return {
    ...sum,
    inIt: addTally(sum.inIt, inner.basic),
    dropped: addTally(sum.dropped, inner.allowance),
    weighedNg: (sum.weighedNg + inner.weighedNg) as MassNg,
    installedNg: (sum.installedNg + inner.installedNg) as MassNg,
    inStockNg: (sum.inStockNg + inner.inStockNg) as MassNg,
  };
}

function addShare(a: Share, b: Share): Share {
  return {
    inIt: addTally(a.inIt, b.inIt),
    toCome: addTally(a.toCome, b.toCome),
    dropped: addTally(a.dropped, b.dropped),
    weighedNg: (a.weighedNg + b.weighedNg) as MassNg,
    installedNg: (a.installedNg + b.installedNg) as MassNg,
    inStockNg: (a.inStockNg + b.inStockNg) as MassNg,
    goneNg: (a.goneNg + b.goneNg) as MassNg,
  };
}

export function addResidual(a: Residual, b: Residual): Residual {
  return {
    basic: addTally(a.basic, b.basic),
    allowance: addTally(a.allowance, b.allowance),
    weighedNg: (a.weighedNg + b.weighedNg) as MassNg,
    installedNg: (a.installedNg + b.installedNg) as MassNg,
    inStockNg: (a.inStockNg + b.inStockNg) as MassNg,
  };
}

function negated(a: Residual): Residual {
  return {
    basic: negateTally(a.basic),
    allowance: negateTally(a.allowance),
    weighedNg: -a.weighedNg as MassNg,
    installedNg: -a.installedNg as MassNg,
    inStockNg: -a.inStockNg as MassNg,
  };
}

/** Division rounded down, so that a datum moved by whole nanometres moves the quotient by as much and no more. */
function floorDivide(dividend: bigint, divisor: bigint): bigint {
  const quotient = dividend / divisor;
  return dividend % divisor !== 0n && dividend < 0n !== divisor < 0n ? quotient - 1n : quotient;
}
