/**
 * The uncertainty of every figure of a ledger (rule U2): what each source of error does to each part, to each weighed assembly, and so to
 * any sum of them. Reads the ledger and changes nothing.
 */
import { type AssemblyBook, articlesIn, measuredArmNm } from '#shared/ledger/assemblies.ts';
import type { PartId } from '#shared/ledger/entry.ts';
import { type Ledger, presentParts } from '#shared/ledger/fold.ts';
import type { PartState, Weighing } from '#shared/ledger/part-state.ts';
import { AXES, type Tally, toKg, toM } from '#shared/quantity/exact.ts';
import { type Scales, scalesOf } from '#shared/weighing/scales.ts';
import { gather, gatherAll, momentShift, NOTHING, type Shift, type Shifts } from './shift.ts';
import { gatherArms, gatherEstimate, gatherOnScale, gatherPieces, pieceToComeKg } from './sources.ts';

/** By part: its own book, and in the row of an assembly the residual too. All of them together are the predicted aircraft. */
export function shiftsByPart(ledger: Ledger): ReadonlyMap<PartId, Shifts> {
  const scales = scalesOf(ledger);
  const residuals = residualShifts(ledger, scales);
  return new Map(
    presentParts(ledger).map((part) => {
      const shifts = ownShifts(part, scales);
      gatherAll(shifts, residuals.get(part.partId) ?? new Map());
      return [part.partId, shifts];
    }),
  );
}

/** The shifts of a sum of parts. */
export function sumShifts(each: Iterable<Shifts>): Shifts {
  const sum = new Map<string, Shift>();
  for (const shifts of each) gatherAll(sum, shifts);
  return sum;
}

function ownShifts(part: PartState, scales: Scales): Map<string, Shift> {
  const shifts = new Map<string, Shift>();
  const counts = new Map<Weighing | undefined, number>(
    part.weighings.map(({ standing, pieces }) => [standing, pieces.length]),
  );
  const unweighed = (part.definition?.quantity ?? 0) - part.weighedPieces;
  if (unweighed > 0) counts.set(undefined, unweighed);
  gatherPieces(shifts, part, counts, scales);
  gatherArms(shifts, part, toKg(part.basic.massNg) + toKg(part.allowance.massNg));
  return shifts;
}

/** What the residual of each weighed assembly is off by: the whole less what its parts count for, allowances dropped with them. */
function residualShifts(ledger: Ledger, scales: Scales): ReadonlyMap<PartId, Shifts> {
  const { books } = ledger.books.assemblies;
  const done = new Map<PartId, Shifts>();
  const visiting = new Set<PartId>();
  const visit = (assemblyId: PartId, book: AssemblyBook): Shifts => {
    const known = done.get(assemblyId);
    if (known !== undefined) return known;
    visiting.add(assemblyId);
    const members = memberShifts(ledger, book, scales);
    for (const [innerId, inner] of books)
      if (innerId !== assemblyId && book.shares.has(innerId) && !inner.shares.has(assemblyId) && !visiting.has(innerId))
        gatherAll(members.inIt, visit(innerId, inner));
    visiting.delete(assemblyId);
    const shifts = residualOf(ledger, assemblyId, book, members, scales);
    done.set(assemblyId, shifts);
    return shifts;
  };
  for (const [assemblyId, book] of books) visit(assemblyId, book);
  return done;
}

type Members = {
  readonly inIt: Map<string, Shift>;
  readonly toCome: Map<string, Shift>;
  /** Of allowances dropped: only their arms can be off. */
  readonly dropped: Map<string, Shift>;
};

function memberShifts(ledger: Ledger, book: AssemblyBook, scales: Scales): Members {
  const { byPart, assemblies } = ledger.books;
  const members: Members = { inIt: new Map(), toCome: new Map(), dropped: new Map() };
  for (const [partId, share] of book.shares) {
    const state = byPart.get(partId)?.state;
    if (state === undefined) continue;
    const counts = new Map<Weighing | undefined, number>();
    let toComeKg = 0;
    for (const { weighing, before } of articlesIn(assemblies, state, book.standing)) {
      counts.set(weighing, (counts.get(weighing) ?? 0) + 1);
      toComeKg += pieceToComeKg(state, before);
    }
    gatherPieces(members.inIt, state, counts, scales);
    gatherArms(members.inIt, state, toKg(share.inIt.massNg));
    gatherEstimate(members.toCome, state, toComeKg);
    gatherArms(members.toCome, state, toKg(share.toCome.massNg));
    gatherArms(members.dropped, state, toKg(share.dropped.massNg));
  }
  return members;
}

/** First-order change of the pair of rule W7, source by source. */
function residualOf(
  ledger: Ledger,
  assemblyId: PartId,
  book: AssemblyBook,
  { inIt, toCome, dropped }: Members,
  scales: Scales,
): Shifts {
  const { standing, sum, projectedNg } = book;
  const own = ledger.books.byPart.get(assemblyId)?.state;
  // The net, as a mass alone: where it sits is said below, axis by axis.
  const net = new Map<string, Shift>();
  gatherOnScale(net, standing, scales, (massKg) => ({ ...NOTHING, massKg }));
  if (own?.estimate !== undefined && standing.statement.condition === 'as released')
    gather(net, `estimate ${assemblyId}`, { ...NOTHING, massKg: -flashStdKg(own) });
  const residualKg = toKg(projectedNg) - toKg(sum.inIt.massNg);
  const shifts = new Map<string, Shift>();
  for (const source of new Set([...net.keys(), ...inIt.keys(), ...toCome.keys()])) {
    const [ofNet, ofParts, later] = [net, inIt, toCome].map((from) => from.get(source) ?? NOTHING) as [
      Shift,
      Shift,
      Shift,
    ];
    const massKg = ofNet.massKg + later.massKg - ofParts.massKg;
    let shift: Shift = { ...NOTHING, massKg };
    for (const axis of AXES) {
      const armNm = measuredArmNm(standing, axis);
      const placedKg = toKg(sum.inIt[axis].placedNg);
      let along = NOTHING[axis];
      if (armNm !== undefined) {
        const unplacedKg = ofNet.massKg + later.massKg - later[axis].placedKg;
        along = {
          placedKg: ofNet.massKg + later.massKg - ofParts[axis].placedKg,
          momentKgM: unplacedKg * toM(armNm) + later[axis].momentKgM - ofParts[axis].momentKgM,
        };
      } else if (placedKg > 0) {
        const cgM = momentKgM(sum.inIt, axis) / placedKg;
        const cgShiftM = (ofParts[axis].momentKgM - cgM * ofParts[axis].placedKg) / placedKg;
        along = { placedKg: massKg, momentKgM: massKg * cgM + residualKg * cgShiftM };
      }
      shift = { ...shift, [axis]: along };
    }
    gather(shifts, source, shift);
  }
  gatherAll(shifts, dropped, -1);
  for (const axis of AXES)
    if (measuredArmNm(standing, axis) !== undefined && standing.statement.armStdM !== undefined) {
      const atArmKg = toKg(projectedNg) - toKg(sum.toCome[axis].placedNg);
      gather(shifts, `arm of ${standing.seq} ${axis}`, momentShift(axis, atArmKg * standing.statement.armStdM));
    }
  return shifts;
}

function flashStdKg(part: PartState): number {
  const gathered = new Map<string, Shift>();
  gatherEstimate(gathered, part, part.estimate?.statement.flashKg ?? 0);
  return gathered.get(`estimate ${part.partId}`)?.massKg ?? 0;
}

function momentKgM(tally: Tally, axis: 'x' | 'y' | 'z'): number {
  return Number(tally[axis].momentNgNm) / 1e21;
}
