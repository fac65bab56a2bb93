/**
 * The releases of every process in order, carried on with the ledger (rules D4, F1): one more release costs the same however many there are.
 * One that happened before others, or that a correction changes, has its process watched anew from there on. Reads the ledger and changes
 * nothing.
 */
import { type ErrorBasis, errorBasisOf } from '#shared/estimate/shop-errors.ts';
import type { PartId, Process } from '#shared/ledger/entry.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import { oncePerEntry } from '#shared/ledger/once.ts';
import { byWhatHappened } from '#shared/ledger/part-state.ts';
import { deviationOf, type Ordered, type Release, releasesOfPart, sparedDeviationOf } from './process-releases.ts';
import { ProcessWatch } from './process-watch.ts';

/** What one process released. */
export class ProcessRecord {
  readonly #ordered: Ordered[] = [];
  readonly #releases: Release[] = [];
  #kept: readonly Release[] | undefined;
  readonly watch = new ProcessWatch();
  /** The same releases, watched with their allowances left out. */
  readonly spared = new ProcessWatch();

  /** In order. They change with the next entry: read them, and keep nothing of them. */
  get releases(): readonly Release[] {
    return this.#releases;
  }

  /** Takes some releases out and puts others in. */
  change(gone: ReadonlySet<Ordered>, come: readonly Ordered[]): void {
    const from = [...gone, ...come].reduce((least, one) => Math.min(least, this.#placeOf(one)), this.#ordered.length);
    const later = [...this.#ordered.slice(from).filter((one) => !gone.has(one)), ...come].sort(inOrder);
    this.#kept = undefined;
    this.#ordered.length = from;
    this.#releases.length = from;
    this.watch.backTo(from);
    this.spared.backTo(from);
    for (const one of later) {
      this.#ordered.push(one);
      this.#releases.push(one.release);
      this.watch.add(deviationOf(one.release));
      this.spared.add(sparedDeviationOf(one.release));
    }
  }

  first(): Ordered | undefined {
    return this.#ordered[0];
  }

  /** The releases as they are now, which may be kept: the same list until they change. */
  list(): readonly Release[] {
    this.#kept ??= [...this.#releases];
    return this.#kept;
  }

  /** How many releases come before one. */
  #placeOf(one: Ordered): number {
    let [from, to] = [0, this.#ordered.length];
    while (from < to) {
      const middle = (from + to) >> 1;
      const other = this.#ordered[middle];
      if (other !== undefined && inOrder(other, one) < 0) from = middle + 1;
      else to = middle;
    }
    return from;
  }
}

function inOrder(a: Ordered, b: Ordered): number {
  return byWhatHappened(a.weighing, b.weighing);
}

type Kept = {
  readonly basis: ErrorBasis;
  readonly byProcess: Map<Process, ProcessRecord>;
  readonly ofPart: Map<PartId, readonly Ordered[]>;
  upTo: number;
};
const kept = new WeakMap<Ledger['books'], Kept>();

/** The processes that released something, in the order of their first releases. */
export function recordsOf(ledger: Ledger): ReadonlyMap<Process, ProcessRecord> {
  const { books } = ledger;
  const basis = errorBasisOf(ledger);
  const before = kept.get(books);
  const isOld = before?.basis !== basis;
  const now: Kept = isOld ? { basis, byProcess: new Map(), ofPart: new Map(), upTo: 0 } : before;
  if (!isOld && now.upTo === books.touched.length) return now.byProcess;
  const changes = new Map<Process, { gone: Set<Ordered>; come: Ordered[] }>();
  const changesOf = ({ release }: Ordered) => {
    const known = changes.get(release.process) ?? { gone: new Set(), come: [] };
    changes.set(release.process, known);
    return known;
  };
  for (const partId of isOld ? books.byPart.keys() : new Set(books.touched.slice(now.upTo))) {
    const state = books.byPart.get(partId)?.state;
    const was = new Set(now.ofPart.get(partId));
    const is = sameWhereEqual(was, state === undefined ? [] : releasesOfPart(state, basis));
    for (const one of is) if (!was.delete(one)) changesOf(one).come.push(one);
    for (const one of was) changesOf(one).gone.add(one);
    if (is.length > 0) now.ofPart.set(partId, is);
    else now.ofPart.delete(partId);
  }
  for (const [process, { gone, come }] of changes) {
    const record = now.byProcess.get(process) ?? new ProcessRecord();
    now.byProcess.set(process, record);
    record.change(gone, come);
  }
  putInOrder(now.byProcess);
  now.upTo = books.touched.length;
  if (isOld) kept.set(books, now);
  return now.byProcess;
}

/** What a part released before and still does is kept as it was: then nothing has to be taken out for it. */
function sameWhereEqual(was: ReadonlySet<Ordered>, is: readonly Ordered[]): readonly Ordered[] {
  if (was.size === 0) return is;
  const bySeq = new Map([...was].map((one) => [one.weighing.seq, one]));
  return is.map((one) => {
    const before = bySeq.get(one.weighing.seq);
    return before !== undefined && isEqual(before, one) ? before : one;
  });
}

function isEqual(a: Ordered, b: Ordered): boolean {
  if (inOrder(a, b) !== 0) return false;
  const { pieces, ...figures } = a.release;
  const others = b.release;
  if (pieces.length !== others.pieces.length || !pieces.every((piece, at) => piece === others.pieces[at])) return false;
  return (Object.keys(figures) as (keyof typeof figures)[]).every((key) => Object.is(figures[key], others[key]));
}

function putInOrder(byProcess: Map<Process, ProcessRecord>): void {
  const ordered = [...byProcess].flatMap(([process, record]) => {
    const first = record.first();
    return first === undefined ? [] : [{ process, record, first }];
  });
  ordered.sort((a, b) => inOrder(a.first, b.first));
  byProcess.clear();
  for (const { process, record } of ordered) byProcess.set(process, record);
}

export type ByProcess = ReadonlyMap<Process, readonly Release[]>;

/** The releases of every process that has some, in the order of the first ones, as lists that may be kept. */
export const releasesByProcess: (ledger: Ledger) => ByProcess = oncePerEntry(
  (ledger) => new Map([...recordsOf(ledger)].map(([process, record]) => [process, record.list()])),
);
