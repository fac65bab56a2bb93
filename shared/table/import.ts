/**
 * What every import shares: rows are read against a scratch ledger, every problem is gathered with its place, and nothing is
 * recorded unless there is none. An import that is repeated adds nothing: it knows its own rows again.
 */

import { closest, distance } from 'fastest-levenshtein';
import { objectionsTo } from '#shared/ledger/admit.ts';
import type { Entry, EntryId, PartId, Stamp } from '#shared/ledger/entry.ts';
import { applyEntry, type Ledger } from '#shared/ledger/fold.ts';
import type { AddedAllowance } from './added-allowances.ts';
import { byPlace, type CellProblem } from './columns.ts';
import type { NewDrift, RowDoubt } from './weighing-doubts.ts';

export type ImportContext = {
  /** The ledger as it stands. The import writes its own entries into it as it goes: give it one of its own. */
  readonly ledger: Ledger;
  /** The shop's day, and who imports; a row may name its own day and person. */
  readonly today: string;
  readonly day: string;
  readonly by: string;
  /** A stable id from a name: the same name gives the same id within the aircraft. */
  readonly idOf: (name: string) => string;
  /** The person of every entry is `by`, and whom a row names stands in the remark (rule N13). */
  readonly isOwn?: boolean;
  /** Take changed estimates of parts that are in the ledger as revisions. */
  readonly revise: boolean;
};

export type ImportOutcome = {
  readonly entries: readonly Entry[];
  readonly problems: readonly CellProblem[];
  /** Worth knowing, no reason to refuse. */
  readonly warnings: readonly string[];
  readonly rowCount: number;
  /** Weighings that look like a slip, by line, and those that drift. */
  readonly doubts: readonly RowDoubt[];
  readonly drifts: readonly NewDrift[];
  /** Growth allowances that the list did not state. */
  readonly allowances: readonly AddedAllowance[];
  /** Rows whose content the ledger holds already. */
  readonly knownRows: number;
  /** What a parts list comes to: its pieces, and the estimates of all of them together, without allowances. */
  readonly listed: { readonly pieceCount: number; readonly massKg: number };
  /** Keys of all part numbers that a parts list names, also in rows that have a problem. */
  readonly namedParts: ReadonlySet<string>;
};

/** Takes an entry into the scratch ledger and the outcome, or answers the ledger's objections to it. */
export class ImportDraft {
  readonly entries: Entry[] = [];
  readonly problems: CellProblem[] = [];
  readonly warnings: string[] = [];
  namedParts: ReadonlySet<string> = new Set();
  allowances: readonly AddedAllowance[] = [];
  readonly listed = { pieceCount: 0, massKg: 0 };
  doubts: readonly RowDoubt[] = [];
  drifts: readonly NewDrift[] = [];
  knownRows = 0;
  readonly #context: ImportContext;

  constructor(context: ImportContext) {
    this.#context = context;
  }

  /** The ledger's objections to an entry that is not taken, since something else in its row is wrong. */
  object(entry: Entry, where: (path: readonly string[]) => Omit<CellProblem, 'refusal'>): void {
    for (const { path, refusal } of objectionsTo(entry, this.#context.ledger, this.#context.today))
      this.problems.push({ ...where(path), refusal });
  }

  /** `where` turns the path of a field into its place in the file. */
  admit(entry: Entry, where: (path: readonly string[]) => Omit<CellProblem, 'refusal'>): boolean {
    const { ledger, today } = this.#context;
    const objections = objectionsTo(entry, ledger, today);
    for (const { path, refusal } of objections) this.problems.push({ ...where(path), refusal });
    if (objections.length > 0) return false;
    applyEntry(ledger, { seq: this.nextSeq, recordedAt: '', entry });
    this.entries.push(entry);
    return true;
  }

  /** The number in the scratch ledger that the next entry has. */
  get nextSeq(): number {
    return (this.#context.ledger.entries.at(-1)?.seq ?? 0) + 1;
  }

  outcome(rowCount: number): ImportOutcome {
    const { entries, warnings, knownRows, namedParts, allowances, listed, doubts, drifts } = this;
    return {
      entries,
      problems: [...this.problems].sort(byPlace),
      warnings,
      rowCount,
      knownRows,
      namedParts,
      allowances,
      listed,
      doubts,
      drifts,
    };
  }
}

export function stampOf(
  context: ImportContext,
  idName: string,
  row: { readonly day: string | undefined; readonly by: string | undefined; readonly remark: string | undefined },
): Stamp {
  const isOther = context.isOwn === true && row.by !== undefined && row.by !== context.by;
  const remark = isOther ? [`by ${row.by}`, row.remark].filter(Boolean).join('; ').slice(0, 2000) : row.remark;
  return {
    id: context.idOf(idName) as EntryId,
    happenedOn: row.day ?? context.day,
    by: context.isOwn === true ? context.by : (row.by ?? context.by),
    ...(remark === undefined ? {} : { remark }),
  };
}

export function partIdOf(context: ImportContext, name: string): PartId {
  return context.idOf(name) as PartId;
}

/** The word of a list that is most like another, where it is like enough to be a slip of the keyboard. */
export function nearest(word: string, words: readonly string[]): string | undefined {
  if (words.length === 0) return undefined;
  const found = closest(word, words);
  return distance(word, found) <= Math.max(1, Math.floor(word.length / 4)) ? found : undefined;
}
