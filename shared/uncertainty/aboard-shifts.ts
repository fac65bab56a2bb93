/**
 * The errors of an aircraft that was weighed as a whole (rules U2, A4). The errors of the scales stand for those of everything that was aboard,
 * so what each part counted for then takes its own errors out again, source by source; what has changed since keeps both. Along an axis on
 * which the aircraft's CG was not found it stays as uncertain as its parts are.
 */
import type { ErrorBasis } from '#shared/estimate/shop-errors.ts';
import { type Aboard, ownMassNg, piecesThen } from '#shared/ledger/aboard.ts';
import { countedBook, measuredArmNm } from '#shared/ledger/assemblies.ts';
import type { PartId } from '#shared/ledger/entry.ts';
import type { PartState, Weighing } from '#shared/ledger/part-state.ts';
import { AXES, type Axis, toKg, toM } from '#shared/quantity/exact.ts';
import { residualShifts } from './ledger-shifts.ts';
import { gather, gatherAll, massShift, momentShift, NOTHING, type Shift, type Shifts } from './shift.ts';
import { gatherArms, gatherPieces } from './sources.ts';

/**
 * What the scales under the aircraft were off by: its mass, at its CG, and its CG. First order, taken as independent of each other: an error of
 * the mass alone leaves the CG where it is.
 */
export function weighedShifts({ standing }: Aboard): Shifts {
  const { seq, statement } = standing;
  const found = (axis: Axis) => measuredArmNm(standing, axis);
  const armM = (axis: Axis) => {
    const armNm = found(axis);
    return armNm === undefined ? undefined : toM(armNm);
  };
  const shifts = new Map<string, Shift>();
  gather(shifts, `aircraft ${seq}`, massShift(statement.massStdKg, { x: armM('x'), y: armM('y'), z: armM('z') }));
  const stdM = { x: statement.xStdM, y: statement.yStdM, z: statement.zStdM };
  for (const axis of AXES)
    if (found(axis) !== undefined)
      gather(shifts, `aircraft ${seq} ${axis}`, momentShift(axis, statement.massKg * (stdM[axis] ?? 0)));
  return shifts;
}

/** Answers for one part after another what it was off by when it was aboard; it is to be taken out. */
export function aboardShiftsIn(aboard: Aboard, basis: ErrorBasis): (partId: PartId) => Shifts {
  const { past, standing } = aboard;
  const residualOf = residualShifts({ books: past }, basis);
  const unfound = AXES.filter((axis) => measuredArmNm(standing, axis) === undefined);
  return (partId) => {
    const state = past.byPart.get(partId)?.state;
    const pieces = state === undefined ? undefined : piecesThen(aboard, state);
    if (state === undefined || pieces === undefined || pieces.size === 0) return NO_SHIFTS;
    const shifts = piecesShifts(state, pieces, basis);
    const book = pieces.has(1) ? countedBook(past.assemblies, partId) : undefined;
    if (book !== undefined) gatherAll(shifts, residualOf(book));
    if (unfound.length === 0) return shifts;
    const still = Object.fromEntries(unfound.map((axis) => [axis, NOTHING[axis]]));
    return new Map([...shifts].map(([source, shift]) => [source, { ...shift, ...still }]));
  };
}
const NO_SHIFTS: Shifts = new Map();

function piecesShifts(state: PartState, pieces: ReadonlySet<number>, basis: ErrorBasis) {
  const shifts = new Map<string, Shift>();
  const counts = new Map<Weighing | undefined, number>();
  for (const piece of pieces) {
    const weighing = state.lives.get(piece)?.at(-1)?.governing;
    counts.set(weighing, (counts.get(weighing) ?? 0) + 1);
  }
  gatherPieces(shifts, state, counts, basis);
  gatherArms(shifts, state, toKg(ownMassNg(state, pieces)));
  return shifts;
}
