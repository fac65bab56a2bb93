/**
 * Weighed assemblies (rule W7): the scale overrules the sum of the parts that were in it. The parts keep their books as if nothing had
 * happened; beside them each weighed assembly has a residual, what the scale found beyond its parts, as a mass and a moment.
 * So a part that is weighed afterwards takes from the residual what it adds, and the total stays. Like is compared with like: what was
 * still to come when the assembly stood on the scale is on both sides. Nothing is ever divided by a residual.
 * An assembly that has been withdrawn since keeps its book, which does not count: one that it was in brings it along on both sides.
 */
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
  subtractTally,
  type Tally,
  toLengthNm,
  toMassNg,
} from '#shared/quantity/exact.ts';
import { type AsAssembly, droppedOf, type Naming, type Share, shareOf } from './assembly-shares.ts';
import type { PartId, StatementOf } from './entry.ts';
import { byWhatHappened, type PartState } from './part-state.ts';

/** What weighed assemblies change beside the parts' own books: the residuals, and the allowance that they do away with. */
export type Residual = { readonly basic: Tally; readonly allowance: Tally };

/** The weighing that counts of one article: another has the assembly's number after a withdrawal. */
export type AssemblyBook = {
  readonly partId: PartId;
  readonly life: number;
  readonly standing: AsAssembly;
  /** This article is there now. */
  readonly counts: boolean;
  readonly shares: Map<PartId, Share>;
  /** The mass of the whole as it will be in the aircraft, of what the scale showed. */
  projectedNg: MassNg;
  residual: Tally;
};

/** By part, and by the life of its piece. */
type Books = Map<PartId, readonly (AssemblyBook | undefined)[]>;

export type Assemblies = {
  readonly books: Books;
  /** Every weighing of an assembly that names a part, by the part and the number of the entry. */
  readonly naming: Map<PartId, Map<number, Naming>>;
  /** What weighed assemblies do away with of a part's allowance. */
  readonly dropped: Map<PartId, Tally>;
};

/** By how much all residuals and allowances changed, and the parts that something changed of. */
export type Followed = { readonly residual: Residual; readonly touched: ReadonlySet<PartId> };

export type StateOf = (partId: PartId) => PartState | undefined;

export const NO_RESIDUAL: Residual = { basic: EMPTY_TALLY, allowance: EMPTY_TALLY };

export function openAssemblies(): Assemblies {
  return { books: new Map(), naming: new Map(), dropped: new Map() };
}

/** Books that can be written in without the first ones noticing. */
export function copyOfAssemblies({ books, naming, dropped }: Assemblies): Assemblies {
  const copyOf = (book: AssemblyBook | undefined) => book && { ...book, shares: new Map(book.shares) };
  return {
    books: new Map([...books].map(([id, ofPart]) => [id, ofPart.map(copyOf)])),
    naming: new Map([...naming].map(([id, named]) => [id, new Map(named)])),
    dropped: new Map(dropped),
  };
}

export function addResidual(a: Residual, b: Residual): Residual {
  return { basic: addTally(a.basic, b.basic), allowance: addTally(a.allowance, b.allowance) };
}

/** The book of the assembly that a part is now, where it was weighed. */
export function countedBook({ books }: Assemblies, partId: PartId): AssemblyBook | undefined {
  return books.get(partId)?.find((book) => book?.counts);
}

/** True where this very weighing is the one that counts of an assembly that is there. */
export function isCounted(assemblies: Assemblies, standing: AsAssembly): boolean {
  return countedBook(assemblies, standing.statement.partId)?.standing === standing;
}

/** What weighed assemblies change on one part: its residual as an assembly, its allowance as a part of them. */
export function residualOn(assemblies: Assemblies, partId: PartId): Residual {
  const basic = countedBook(assemblies, partId)?.residual ?? EMPTY_TALLY;
  const dropped = assemblies.dropped.get(partId);
  return { basic, allowance: dropped === undefined ? EMPTY_TALLY : negateTally(dropped) };
}

/**
 * Brings the assemblies in step with a part whose book has been written anew, and answers what that changed. `before` and `after` are the
 * part's weighings as an assembly, corrected and struck ones left out.
 */
export function followPart(
  assemblies: Assemblies,
  stateOf: StateOf,
  part: { readonly partId: PartId; readonly before: readonly AsAssembly[]; readonly after: readonly AsAssembly[] },
): Followed {
  const { books, naming } = assemblies;
  if (isInNone(assemblies, part)) return { residual: NO_RESIDUAL, touched: new Set([part.partId]) };
  // What is named elsewhere may be later on in its making than was known.
  const toShare = rename(assemblies, part).add(part.partId);
  const turned = reopen(assemblies, stateOf(part.partId), part.partId);
  const changed = new Set(turned);
  for (const book of turned)
    if (isOpen(books, book)) for (const { partId } of membersOf(book.standing.statement)) share(book, partId);
  for (const partId of toShare)
    for (const { standing } of naming.get(partId)?.values() ?? []) {
      const book = books.get(standing.statement.partId)?.find((one) => one?.standing === standing);
      if (book !== undefined && !turned.has(book)) changed.add(share(book, partId));
    }
  const toDrop = new Set([...toShare, ...[...turned].flatMap(({ shares }) => [...shares.keys()])]);
  const allowance = drop(assemblies, stateOf, toDrop);
  if (changed.size === 0 && allowance === EMPTY_TALLY) return { residual: NO_RESIDUAL, touched: toDrop };
  const closed = [...turned].filter((book) => book.counts && !isOpen(books, book));
  const basic = closed.reduce((sum, { residual }) => subtractTally(sum, residual), EMPTY_TALLY);
  const all = withOuter(books, changed);
  return {
    residual: { basic: addTally(basic, reckon(books, stateOf, all)), allowance },
    touched: withAllInThem(books, new Set([...toDrop, ...[...all].map((book) => book.partId)])),
  };

  function share(book: AssemblyBook, partId: PartId): AssemblyBook {
    book.shares.set(partId, shareOf(stateOf(partId), naming.get(partId), book.standing));
    return book;
  }
}

/** A part that was never weighed as an assembly nor within one, as most are: nothing of the assemblies follows it. */
function isInNone({ books, naming }: Assemblies, { partId, before, after }: Parameters<typeof followPart>[2]): boolean {
  return before.length === 0 && after.length === 0 && !naming.has(partId) && !books.has(partId);
}

/** Writes down which weighings name which parts, and answers the parts about which that has changed. */
function rename(
  { naming }: Assemblies,
  { before, after }: { readonly before: readonly AsAssembly[]; readonly after: readonly AsAssembly[] },
): Set<PartId> {
  const touched = new Set<PartId>();
  for (const { seq, statement } of before.filter((standing) => !after.includes(standing)))
    for (const { partId } of membersOf(statement)) {
      naming.get(partId)?.delete(seq);
      touched.add(partId);
    }
  for (const standing of after.filter((one) => !before.includes(one)))
    for (const { partId, pieces } of membersOf(standing.statement)) {
      const named = naming.get(partId) ?? new Map<number, Naming>();
      naming.set(partId, named.set(standing.seq, { standing, pieces }));
      touched.add(partId);
    }
  return touched;
}

/** The assembly's own piece is in it without being named. */
function membersOf({ partId, members }: StatementOf<'assembly weighing'>) {
  const own: { readonly partId: PartId; readonly pieces?: readonly number[] | undefined } = { partId, pieces: [1] };
  return [own, ...members.filter((member) => member.partId !== partId)];
}

/** Opens and closes a part's books as its weighings come to count or cease to, and answers the ones opened and closed. */
function reopen({ books }: Assemblies, state: PartState | undefined, partId: PartId): Set<AssemblyBook> {
  const governing = state?.definition === undefined ? [] : state.assemblyByLife;
  const before = books.get(partId) ?? [];
  const after = governing.map((standing, life): AssemblyBook | undefined => {
    const counts = state?.removed === undefined && life === governing.length - 1;
    const old = before[life];
    if (standing === undefined || (old?.standing === standing && old.counts === counts)) return standing && old;
    return { partId, life, standing, counts, shares: new Map(), projectedNg: 0n as MassNg, residual: EMPTY_TALLY };
  });
  if (after.some((book) => book !== undefined)) books.set(partId, after);
  else books.delete(partId);
  const opened = after.filter((book) => !before.includes(book));
  const closed = before.filter((book) => !after.includes(book));
  return new Set([...opened, ...closed].filter((book) => book !== undefined));
}

function isOpen(books: Books, book: AssemblyBook): boolean {
  return books.get(book.partId)?.[book.life] === book;
}

/** Looks again at what of these parts' allowances is done away with, and answers by how much the allowance of all changes. */
function drop(assemblies: Assemblies, stateOf: StateOf, partIds: ReadonlySet<PartId>): Tally {
  const { naming, dropped } = assemblies;
  let change = EMPTY_TALLY;
  for (const partId of partIds) {
    const before = dropped.get(partId);
    const after = droppedOf(stateOf(partId), naming.get(partId), (standing) => isCounted(assemblies, standing));
    if (before === undefined && after === EMPTY_TALLY) continue;
    change = addTally(change, subtractTally(before ?? EMPTY_TALLY, after));
    if (after === EMPTY_TALLY) dropped.delete(partId);
    else dropped.set(partId, after);
  }
  return change;
}

/** The books given and those of all weighed assemblies that hold one of them. */
function withOuter(books: Books, changed: Set<AssemblyBook>): ReadonlySet<AssemblyBook> {
  for (const { partId, life } of changed)
    for (const outer of [...books.values()].flat())
      if (outer?.shares.get(partId)?.firstLife === life) changed.add(outer);
  return changed;
}

/** The parts given, and whatever is in those of them that were weighed as assemblies: it is where they are. */
function withAllInThem(books: Books, partIds: Set<PartId>): ReadonlySet<PartId> {
  for (const partId of partIds)
    for (const book of books.get(partId) ?? []) for (const inIt of book?.shares.keys() ?? []) partIds.add(inIt);
  return partIds;
}

/** Works the residuals out anew, inner assemblies before those that hold them, and answers by how much their sum changed. */
function reckon(books: Books, stateOf: StateOf, changed: ReadonlySet<AssemblyBook>): Tally {
  const reached = new Set<AssemblyBook>();
  let change = EMPTY_TALLY;
  const visit = (book: AssemblyBook): void => {
    if (reached.has(book) || !changed.has(book) || !isOpen(books, book)) return;
    reached.add(book);
    for (const inner of innerOf(books, book)) visit(inner);
    const { inIt, toCome } = sumsOf(books, book);
    const before = book.residual;
    book.projectedNg = (shownNg(book.standing, stateOf(book.partId)) + toCome.massNg) as MassNg;
    book.residual = pairOf(book.standing, { wholeNg: book.projectedNg, inIt, toCome });
    if (book.counts) change = addTally(change, subtractTally(book.residual, before));
  };
  for (const book of changed) visit(book);
  return change;
}

/** What the parts in an assembly count for, residuals of weighed ones in it with them, and what was still to come on all of it. */
export function sumsOf(
  books: Assemblies['books'],
  book: AssemblyBook,
): { readonly inIt: Tally; readonly toCome: Tally } {
  let inIt = EMPTY_TALLY;
  let toCome = EMPTY_TALLY;
  for (const share of book.shares.values()) {
    inIt = addTally(inIt, share.inIt);
    toCome = addTally(toCome, share.toCome);
  }
  for (const inner of innerOf(books, book)) inIt = addTally(inIt, inner.residual);
  return { inIt, toCome };
}

/**
 * The weighed assemblies in one, as the articles that were in it. Two that each hold the other, directly or through others, were built
 * anew between their weighings: there the one weighed later holds the other.
 */
export function innerOf(books: Assemblies['books'], outer: AssemblyBook): readonly AssemblyBook[] {
  return namedIn(books, outer).filter(
    (inner) => byWhatHappened(outer.standing, inner.standing) > 0 || !reaches(books, inner, outer),
  );
}

function namedIn(books: Assemblies['books'], outer: AssemblyBook): readonly AssemblyBook[] {
  const named = [...outer.shares].map(([partId, { firstLife }]) => books.get(partId)?.[firstLife ?? -1]);
  return named.filter((book) => book !== undefined && book !== outer) as AssemblyBook[];
}

function reaches(books: Assemblies['books'], from: AssemblyBook, to: AssemblyBook): boolean {
  const reached = new Set([from]);
  for (const book of reached) {
    if (book === to) return true;
    for (const inner of namedIn(books, book)) reached.add(inner);
  }
  return false;
}

/** Net less flash, which cannot take more than there is. */
function shownNg({ statement }: AsAssembly, own: PartState | undefined): bigint {
  const flashNg = statement.condition === 'as released' ? toMassNg(own?.estimate?.statement.flashKg ?? 0) : 0n;
  const netNg = toMassNg(statement.netKg) - flashNg;
  return netNg > 0n ? netNg : 0n;
}

/** Something that was weighed as a whole: where its CG was found, and from which datum that was told. */
export type WeighedWhole = {
  readonly frameNm: LengthNm;
  readonly statement: { readonly [Arm in `${Axis}M`]?: number | undefined };
};

/**
 * The pair of rules W7 and A4: M - sum(m), and M X - sum(m x), where what is still to come keeps its own arm. Along an axis on which the CG of
 * the whole was not measured its mass sits at the CG of what is in it.
 */
export function pairOf(
  weighed: WeighedWhole,
  { wholeNg, inIt, toCome }: { readonly wholeNg: MassNg; readonly inIt: Tally; readonly toCome: Tally },
): Tally {
  const massNg = (wholeNg - inIt.massNg) as MassNg;
  const placed = (axis: Axis): Placed => {
    const armNm = measuredArmNm(weighed, axis);
    const { placedNg, momentNgNm } = inIt[axis];
    if (armNm !== undefined) {
      const wholeNgNm = (wholeNg - toCome[axis].placedNg) * armNm + toCome[axis].momentNgNm;
      return { placedNg: (wholeNg - placedNg) as MassNg, momentNgNm: (wholeNgNm - momentNgNm) as MomentNgNm };
    }
    if (placedNg <= 0n) return EMPTY_TALLY[axis];
    return { placedNg: massNg, momentNgNm: floorDivide(massNg * momentNgNm, placedNg) as MomentNgNm };
  };
  const [x, y, z] = AXES.map(placed) as [Placed, Placed, Placed];
  return { massNg, x, y, z };
}

/** The measured arm along an axis, about the first datum. */
export function measuredArmNm({ statement, frameNm }: WeighedWhole, axis: Axis): LengthNm | undefined {
  const armM = statement[`${axis}M`];
  if (armM === undefined) return undefined;
  return (axis === 'x' ? toLengthNm(armM) + frameNm : toLengthNm(armM)) as LengthNm;
}

/** Division rounded down, so that a datum moved by whole nanometres moves the quotient by as much and no more. */
function floorDivide(dividend: bigint, divisor: bigint): bigint {
  const quotient = dividend / divisor;
  return dividend % divisor !== 0n && dividend < 0n !== divisor < 0n ? quotient - 1n : quotient;
}
