/**
 * A forecast that goes along with books as they are written in (rule F4): the errors of the parts and the pieces that are open, kept in step
 * at the cost of the parts that something happened to.
 */

import type { ErrorBasis } from '#shared/estimate/shop-errors.ts';
import type { PartBooks } from '#shared/ledger/books.ts';
import type { PartId, Process } from '#shared/ledger/entry.ts';
import { isPresent } from '#shared/ledger/fold.ts';
import type { Tally } from '#shared/quantity/exact.ts';
import { aboardShiftsIn, weighedShifts } from '#shared/uncertainty/aboard-shifts.ts';
import { shiftsOn } from '#shared/uncertainty/ledger-shifts.ts';
import type { Shifts } from '#shared/uncertainty/shift.ts';
import { SourceSums } from '#shared/uncertainty/source-sums.ts';
import type { Normal } from './normal-update.ts';
import { openPartOf } from './open-pieces.ts';
import { PendingSums, type Reckoned } from './pending-sums.ts';

export class RunningSums {
  readonly #books: PartBooks;
  readonly #basis: ErrorBasis;
  readonly #ofPart = new Map<PartId, Shifts>();
  readonly #sources = new SourceSums();
  readonly #pending = new PendingSums();
  readonly #settled = new Map<PartId, Shifts>();
  #aboard: PartBooks['aboard'];
  #upTo = 0;

  constructor(books: PartBooks, basis: ErrorBasis) {
    this.#books = books;
    this.#basis = basis;
  }

  /** The forecast of the books as they are; `predicted` is their predicted aircraft. */
  forecast(predicted: Tally, shiftOf: (process: Process) => Normal): Reckoned {
    this.#bringUpToDate();
    return this.#pending.forecast(predicted, this.#sources, shiftOf);
  }

  #bringUpToDate(): void {
    const { touched, byPart, aboard } = this.#books;
    if (this.#aboard !== aboard) this.#settle();
    const shiftsOf = shiftsOn({ books: this.#books }, this.#basis);
    const parts = [...new Set(touched.slice(this.#upTo))].map((partId) => {
      const state = byPart.get(partId)?.state;
      return { partId, part: state !== undefined && isPresent(state) ? state : undefined };
    });
    for (const { partId, part } of parts) {
      const before = this.#ofPart.get(partId);
      if (before !== undefined) this.#sources.put(before, -1);
      this.#ofPart.delete(partId);
      if (part === undefined) continue;
      const shifts = shiftsOf(part);
      this.#sources.put(shifts, 1);
      this.#ofPart.set(partId, shifts);
    }
    // Once all errors are in place: an open piece looks at that of its arm.
    for (const { partId, part } of parts)
      this.#pending.put(partId, part && openPartOf(part, this.#books), this.#sources);
    this.#upTo = touched.length;
  }

  /** The aircraft was weighed (rule A4): its scales' errors take the place of those of all that was aboard. Nothing later changes that. */
  #settle(): void {
    const { aboard, byPart } = this.#books;
    if (this.#aboard !== undefined) this.#sources.put(weighedShifts(this.#aboard), -1);
    for (const shifts of this.#settled.values()) this.#sources.put(shifts, 1);
    this.#settled.clear();
    this.#aboard = aboard;
    if (aboard === undefined) return;
    this.#sources.put(weighedShifts(aboard), 1);
    const settledOf = aboardShiftsIn(aboard, this.#basis);
    for (const partId of byPart.keys()) {
      const shifts = settledOf(partId);
      this.#settled.set(partId, shifts);
      this.#sources.put(shifts, -1);
    }
  }
}
