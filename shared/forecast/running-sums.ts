/**
 * A forecast that goes along with books as they are written in (rule F4): the errors of the parts and the pieces that are open, kept in step
 * at the cost of the parts that something happened to.
 */
import { countedBook } from '#shared/ledger/assemblies.ts';
import { type PartBooks, stateOf } from '#shared/ledger/books.ts';
import type { PartId, Process } from '#shared/ledger/entry.ts';
import { isPresent, type PresentPart } from '#shared/ledger/fold.ts';
import type { PartState } from '#shared/ledger/part-state.ts';
import { addTally, type Tally } from '#shared/quantity/exact.ts';
import { ownShifts, residualShifts } from '#shared/uncertainty/ledger-shifts.ts';
import { addShift, NOTHING, type Shift, type Shifts } from '#shared/uncertainty/shift.ts';
import { SourceSums } from '#shared/uncertainty/source-sums.ts';
import { armSource } from '#shared/uncertainty/sources.ts';
import type { Scales } from '#shared/weighing/scales.ts';
import { atRiskOf, processSource, tallyFrom } from './forecast.ts';
import { type OpenPart, openPartOf } from './open-pieces.ts';
import type { Normal } from './process-shift.ts';

/**
 * Open pieces, and the error of their arm along x: `armMoment` is what it does to the predicted aircraft, `perShift` what it does beside that
 * for each unit of shift of the process, which acts on the same arm.
 */
type Pending = { readonly atRisk: Shift; readonly armMoment: number; readonly perShift: number };

/** What a process has still to release. */
type Works = {
  readonly pending: Map<PartId, Pending>;
  atRisk: Shift;
  /** What the process is in the sums as a source of error. */
  error: Shift;
  /** Sums over the open parts of armMoment x perShift, and of perShift squared. */
  armProducts: number;
  armSquares: number;
};

export class RunningSums {
  readonly #books: PartBooks;
  readonly #scales: Scales;
  readonly #ofPart = new Map<PartId, Shifts>();
  readonly #ofResidual = new Map<PartId, Shifts>();
  readonly #processOf = new Map<PartId, Process>();
  readonly #works = new Map<Process, Works>();
  readonly #errors = new SourceSums();
  readonly #touched = new Set<PartId>();

  constructor(books: PartBooks, scales: Scales) {
    this.#books = books;
    this.#scales = scales;
  }

  /** Something was written in the book of a part. */
  touch(partId: PartId): void {
    this.#touched.add(partId);
  }

  /** The forecast of the books as they are: mass and moments about the first datum, and how sure the mass and the CG along x are. */
  forecast(predicted: Tally, shiftOf: (process: Process) => Normal) {
    this.#bringUpToDate();
    let tally = predicted;
    let armMoment2 = 0;
    for (const [process, works] of this.#works) {
      const shift = shiftOf(process);
      this.#putError(process, works, addShift(NOTHING, works.atRisk, shift.std));
      tally = addTally(tally, tallyFrom(addShift(NOTHING, works.atRisk, shift.mean)));
      // sum (a + shift b)^2 - a^2
      armMoment2 += 2 * shift.mean * works.armProducts + shift.mean ** 2 * works.armSquares;
    }
    return { tally, massStdKg: this.#errors.massStdKg(), cgXStdM: this.#errors.cgStdM(tally, 'x', armMoment2) };
  }

  #bringUpToDate(): void {
    const { assemblies } = this.#books;
    // What happens to a part of an assembly, or to the assembly, can change every part of it.
    const named = [...this.#touched].some((partId) => assemblies.naming.has(partId) || this.#ofResidual.has(partId));
    const residuals = named ? residualShifts({ books: this.#books }, this.#scales) : undefined;
    if (named) for (const partId of assemblies.naming.keys()) this.#touched.add(partId);
    for (const partId of this.#touched) {
      const part = presentOf(stateOf(this.#books, partId));
      this.#replace(this.#ofPart, partId, part && ownShifts(part, assemblies.dropped.get(partId), this.#scales));
      if (residuals === undefined) continue;
      const book = part && countedBook(assemblies, partId);
      this.#replace(this.#ofResidual, partId, book && residuals(book));
    }
    // Once all errors are in place: an open piece looks at that of its arm.
    for (const partId of this.#touched) {
      const part = presentOf(stateOf(this.#books, partId));
      this.#close(partId);
      const open = part && openPartOf(part, assemblies);
      if (open !== undefined) this.#open(open);
    }
    this.#touched.clear();
  }

  #replace(into: Map<PartId, Shifts>, partId: PartId, shifts: Shifts | undefined): void {
    const before = into.get(partId);
    if (before !== undefined) this.#errors.put(before, -1);
    into.delete(partId);
    if (shifts === undefined) return;
    this.#errors.put(shifts, 1);
    into.set(partId, shifts);
  }

  #open(open: OpenPart): void {
    const { partId, definition, armsNm, armStdM } = open.part;
    const { process } = definition;
    const works = this.#works.get(process) ?? {
      pending: new Map(),
      atRisk: NOTHING,
      error: NOTHING,
      armProducts: 0,
      armSquares: 0,
    };
    this.#works.set(process, works);
    this.#processOf.set(partId, process);
    const pending = {
      atRisk: atRiskOf(open),
      armMoment: this.#errors.momentKgM(armSource(partId, 'x'), 'x'),
      perShift: armsNm.x === undefined ? 0 : open.mouldedKg * armStdM.x,
    };
    works.pending.set(partId, pending);
    count(works, pending, 1);
  }

  #close(partId: PartId): void {
    const process = this.#processOf.get(partId);
    const works = process && this.#works.get(process);
    const pending = works?.pending.get(partId);
    if (process === undefined || works === undefined || pending === undefined) return;
    count(works, pending, -1);
    this.#processOf.delete(partId);
    works.pending.delete(partId);
    if (works.pending.size > 0) return;
    this.#putError(process, works, NOTHING);
    this.#works.delete(process);
  }

  #putError(process: Process, works: Works, error: Shift): void {
    const source = processSource(process);
    this.#errors.put(new Map([[source, works.error]]), -1);
    this.#errors.put(new Map([[source, error]]), 1);
    works.error = error;
  }
}

function count(works: Works, { atRisk, armMoment, perShift }: Pending, times: number): void {
  works.atRisk = addShift(works.atRisk, atRisk, times);
  works.armProducts += times * armMoment * perShift;
  works.armSquares += times * perShift ** 2;
}

function presentOf(state: PartState | undefined): PresentPart | undefined {
  return state !== undefined && isPresent(state) ? state : undefined;
}
