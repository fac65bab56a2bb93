/**
 * The uncertainty of every figure of a ledger (rule U2): what each source of error does to each part, to each weighed assembly, and so to
 * any sum of them. Reads the ledger and changes nothing.
 */
import { type ErrorBasis, errorBasisOf } from '#shared/estimate/shop-errors.ts';
import { type AssemblyBook, countedBook, innerOf, measuredArmNm, sumsOf } from '#shared/ledger/assemblies.ts';
import { articlesOn } from '#shared/ledger/assembly-shares.ts';
import { type Ledger, residualOf } from '#shared/ledger/fold.ts';
import type { PartState, Weighing } from '#shared/ledger/part-state.ts';
import { AXES, type Axis, type Tally, toKg, toKgM, toM } from '#shared/quantity/exact.ts';
import { gather, gatherAll, momentShift, NOTHING, type Shift, type Shifts } from './shift.ts';
import { gatherArms, gatherEstimate, gatherOnScale, gatherPieces, pieceToComeKg } from './sources.ts';

/**
 * Answers for one part after another: its own book, and in the row of an assembly the residual too. All of them together are the
 * predicted aircraft.
 */
export function shiftsIn(ledger: Ledger): (part: PartState) => Shifts {
  return shiftsOn(ledger, errorBasisOf(ledger));
}

/** The same of books that are no ledger's. */
export function shiftsOn(ledger: Pick<Ledger, 'books'>, basis: ErrorBasis): (part: PartState) => Shifts {
  const { assemblies } = ledger.books;
  const shiftsOf = residualShifts(ledger, basis);
  return (part) => {
    const shifts = ownShifts(part, residualOf(ledger, part.partId).allowance, basis);
    const book = countedBook(assemblies, part.partId);
    if (book !== undefined) gatherAll(shifts, shiftsOf(book));
    return shifts;
  };
}

/** The shifts of a part's own book, with the allowance that is left where scales have done away with some of it (`beside`). */
function ownShifts(part: PartState, beside: Tally, basis: ErrorBasis): Map<string, Shift> {
  const shifts = new Map<string, Shift>();
  const counts = new Map<Weighing | undefined, number>(
    part.weighings.map(({ standing, pieces }) => [standing, pieces.length]),
  );
  const unweighed = (part.definition?.quantity ?? 0) - part.weighedPieces;
  if (unweighed > 0) counts.set(undefined, unweighed);
  gatherPieces(shifts, part, counts, basis);
  const allowanceKg = toKg(part.allowance.massNg) + toKg(beside.massNg);
  gatherArms(shifts, part, toKg(part.basic.massNg) + allowanceKg);
  return shifts;
}

/** What the residual of a weighed assembly is off by: the whole less what its parts count for. Each is worked out once. */
export function residualShifts(ledger: Pick<Ledger, 'books'>, basis: ErrorBasis): (book: AssemblyBook) => Shifts {
  const { books } = ledger.books.assemblies;
  const done = new Map<AssemblyBook, Shifts>();
  const visit = (book: AssemblyBook): Shifts => {
    const known = done.get(book);
    if (known !== undefined) return known;
    const members = memberShifts(ledger, book, basis);
    for (const inner of innerOf(books, book)) gatherAll(members.inIt, visit(inner));
    const shifts = residualOfBook(ledger, book, members, basis);
    done.set(book, shifts);
    return shifts;
  };
  return visit;
}

type Members = { readonly inIt: Map<string, Shift>; readonly toCome: Map<string, Shift> };

function memberShifts(ledger: Pick<Ledger, 'books'>, book: AssemblyBook, basis: ErrorBasis): Members {
  const { byPart, assemblies } = ledger.books;
  const members: Members = { inIt: new Map(), toCome: new Map() };
  for (const [partId, share] of book.shares) {
    const state = byPart.get(partId)?.state;
    if (state === undefined) continue;
    const counts = new Map<Weighing | undefined, number>();
    let toComeKg = 0;
    for (const { weighing, byThen } of articlesOn(state, assemblies.naming.get(partId), book.standing)) {
      counts.set(weighing, (counts.get(weighing) ?? 0) + 1);
      toComeKg += pieceToComeKg(state, byThen);
    }
    gatherPieces(members.inIt, state, counts, basis);
    gatherArms(members.inIt, state, toKg(share.inIt.massNg));
    gatherEstimate(members.toCome, state, toComeKg, basis);
    gatherArms(members.toCome, state, toKg(share.toCome.massNg));
  }
  return members;
}

/** First-order change of the pair of rule W7, source by source. */
function residualOfBook(
  ledger: Pick<Ledger, 'books'>,
  book: AssemblyBook,
  members: Members,
  basis: ErrorBasis,
): Shifts {
  const { standing, projectedNg, partId } = book;
  const { inIt, toCome } = sumsOf(ledger.books.assemblies.books, book);
  const own = ledger.books.byPart.get(partId)?.state;
  // The net, as a mass alone: where it sits is said below, axis by axis.
  const net = new Map<string, Shift>();
  gatherOnScale(net, standing, basis.scales, (massKg) => ({ ...NOTHING, massKg }));
  if (own?.estimate !== undefined && standing.statement.condition === 'as released')
    gather(net, `estimate ${partId}`, { ...NOTHING, massKg: -flashStdKg(own, basis) });
  const residualKg = toKg(projectedNg) - toKg(inIt.massNg);
  const shifts = new Map<string, Shift>();
  for (const source of new Set([...net.keys(), ...members.inIt.keys(), ...members.toCome.keys()])) {
    const wholeKg = (net.get(source) ?? NOTHING).massKg + (members.toCome.get(source) ?? NOTHING).massKg;
    const later = members.toCome.get(source) ?? NOTHING;
    const parts = members.inIt.get(source) ?? NOTHING;
    const massKg = wholeKg - parts.massKg;
    const along = (axis: Axis): Shift[Axis] => {
      const armNm = measuredArmNm(standing, axis);
      if (armNm !== undefined)
        return {
          placedKg: wholeKg - parts[axis].placedKg,
          momentKgM: (wholeKg - later[axis].placedKg) * toM(armNm) + later[axis].momentKgM - parts[axis].momentKgM,
        };
      const placedKg = toKg(inIt[axis].placedNg);
      if (!(placedKg > 0)) return NOTHING[axis];
      const cgM = toKgM(inIt[axis].momentNgNm) / placedKg;
      const cgShiftM = (parts[axis].momentKgM - cgM * parts[axis].placedKg) / placedKg;
      return { placedKg: massKg, momentKgM: massKg * cgM + residualKg * cgShiftM };
    };
    gather(shifts, source, { massKg, x: along('x'), y: along('y'), z: along('z') });
  }
  const { armStdM } = standing.statement;
  for (const axis of AXES)
    if (armStdM !== undefined && measuredArmNm(standing, axis) !== undefined) {
      const atArmKg = toKg(projectedNg) - toKg(toCome[axis].placedNg);
      gather(shifts, `arm of ${standing.seq} ${axis}`, momentShift(axis, atArmKg * armStdM));
    }
  return shifts;
}

function flashStdKg(part: PartState, basis: ErrorBasis): number {
  const gathered = new Map<string, Shift>();
  gatherEstimate(gathered, part, part.estimate?.statement.flashKg ?? 0, basis);
  return gathered.get(`estimate ${part.partId}`)?.massKg ?? 0;
}
