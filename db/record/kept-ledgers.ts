/**
 * What a process keeps of each aircraft: its entries as they were read, and the ledger folded over them. The database rules: an entry is taken in here only as
 * it was read back or acknowledged, or is about to be while its aircraft is held, in the order of its number, so that two processes on one
 * database come to the same figures.
 *
 * Work on one aircraft queues here, so that nobody meets a half-applied entry. Entries are first read, then folded. A long ledger is folded in steps, each a
 * turn of its own in the queue, so that who asks for the headline alone, which needs no folded ledger, is answered in between; and a reader that
 * would wait long is told how far it has come.
 */
import { setImmediate as nextTurn } from 'node:timers/promises';
import type { Kysely } from 'kysely';
import type { Database } from '#db/database.ts';
import type { ReadCopy } from '#db/engine/read-copy.ts';
import { type ReadEntry, readEntries } from '#db/ledger/read.ts';
import type { Overview } from '#shared/bulk/overview.ts';
import { entryFromText } from '#shared/ledger/canonical.ts';
import type { RecordedEntry } from '#shared/ledger/entry.ts';
import { applyEntry, type Ledger, openLedger } from '#shared/ledger/fold.ts';
import { headSeqOf } from './load-ledger.ts';
import { readFromCopy } from './read-from-copy.ts';

/** Of so many entries, each read and folded, so many are done. */
export type ReadingSoFar = { readonly done: number; readonly of: number };

export type Kept = {
  /** All that was read, without a gap from the first entry on. */
  entries: RecordedEntry[];
  /** Folded over the first ones of them, or all. */
  ledger: Ledger;
  queue: Promise<unknown>;
  past: Ledger | undefined;
  reading: ReadingSoFar | undefined;
  /** The headline that was last worked out without a folded ledger. */
  overview: Overview | undefined;
  isFolding: boolean;
  /** Turns that wait or are being taken. */
  turns: number;
  usedAtMs: number;
  /** All that was recorded before this moment (`performance.now()`) has been read. */
  knownAtMs: number;
};

/** An aircraft that nobody has asked about for so long is let go of. */
const IDLE_MS = 60 * 60_000;

/** Entries that are read or folded in one go: some hundredths of a second, in which nobody else is answered. */
const STEP_ENTRIES = 500;

/** A ledger of so many entries is read from the copy of the database first, where there is one; a shorter one is one page. */
const LONG_ENTRIES = 1_000;

export class KeptLedgers {
  readonly #db: Kysely<Database>;
  readonly #kept = new Map<string, Kept>();
  readonly #copy: ReadCopy | undefined;
  readonly #idleMs: number;
  #sweptAtMs = performance.now();

  /** `copy`: long ledgers are read there first. */
  constructor(
    db: Kysely<Database>,
    { copy, idleMs = IDLE_MS }: { copy?: ReadCopy | undefined; idleMs?: number | undefined },
  ) {
    this.#db = db;
    this.#copy = copy;
    this.#idleMs = idleMs;
  }

  /** How many aircraft are held in memory. */
  get count(): number {
    return this.#kept.size;
  }

  /** How far the ledger of an aircraft has been read; undefined where nobody is reading it. */
  readingOf(aircraftId: string): ReadingSoFar | undefined {
    return this.#kept.get(aircraftId)?.reading;
  }

  keptOf(aircraftId: string): Kept {
    const nowMs = performance.now();
    if (nowMs - this.#sweptAtMs > this.#idleMs / 60) this.#sweep(nowMs);
    const kept = this.#kept.get(aircraftId) ?? newlyKept();
    kept.usedAtMs = nowMs;
    this.#kept.set(aircraftId, kept);
    return kept;
  }

  inTurn<Answer>(aircraftId: string, work: (kept: Kept) => Promise<Answer>): Promise<Answer> {
    const kept = this.keptOf(aircraftId);
    kept.turns += 1;
    const turn = kept.queue
      .then(() => work(kept))
      .finally(() => {
        kept.turns -= 1;
      });
    kept.queue = turn.catch(() => undefined);
    return turn;
  }

  /**
   * Calls `work` in a turn in which the ledger is whole: with all that was recorded before `asOfMs`, or at least as read before. Until then each
   * step is a turn of its own.
   */
  async withWhole<Answer>(
    aircraftId: string,
    asOfMs: number | undefined,
    work: (kept: Kept) => Promise<Answer>,
  ): Promise<Answer> {
    for (;;) {
      const done = await this.inTurn(aircraftId, async (kept) => {
        if (!this.foldOn(kept)) return undefined;
        if (kept.knownAtMs < (asOfMs ?? 0) || kept.entries.length === 0) await this.readOn(aircraftId, kept);
        return this.foldOn(kept) ? { answer: await work(kept) } : undefined;
      });
      if (done !== undefined) return done.answer;
      await nextTurn();
    }
  }

  /** Folds one step more of what was read; true where the ledger is whole then. */
  foldOn(kept: Kept): boolean {
    const { entries, ledger } = kept;
    const upTo = Math.min(entries.length, ledger.entries.length + STEP_ENTRIES);
    try {
      for (const recorded of entries.slice(ledger.entries.length, upTo)) applyEntry(ledger, recorded);
    } catch (error) {
      // Nobody must go on with a ledger that an error left in the middle.
      forget(kept);
      throw error;
    }
    const isWhole = upTo === entries.length;
    if (isWhole) Object.assign(kept, { reading: undefined, overview: undefined });
    else tellHowFar(kept, entries.length);
    return isWhole;
  }

  /** Reads and applies what has been recorded since; true where there was something. */
  async catchUp(db: Kysely<Database>, aircraftId: string, kept: Kept): Promise<boolean> {
    const before = headSeqOf(kept.ledger);
    await this.readOn(aircraftId, kept, db);
    while (!this.foldOn(kept)) await nextTurn();
    return headSeqOf(kept.ledger) > before;
  }

  /** Reads what has been recorded since. */
  async readOn(aircraftId: string, kept: Kept, db = this.#db): Promise<void> {
    const askedAtMs = performance.now();
    try {
      if (kept.entries.length === 0) await this.#readFromCopy(db, aircraftId, kept);
      const entries = readEntries(db, { aircraftId, afterSeq: kept.entries.length });
      await takeIn(kept, entries, (seq) => lastSeqOf(db, aircraftId, seq));
      kept.knownAtMs = askedAtMs;
    } finally {
      kept.reading = undefined;
    }
  }

  /** Reads the beginning of a long ledger from the copy, as far as it has come there. */
  async #readFromCopy(db: Kysely<Database>, aircraftId: string, kept: Kept): Promise<void> {
    if (this.#copy === undefined) return;
    const upToSeq = await lastSeqOf(db, aircraftId, 0);
    if (upToSeq < LONG_ENTRIES) return;
    const take = (entries: AsyncIterable<ReadEntry>) => takeIn(kept, entries, async () => upToSeq);
    let isConfirmed = false;
    try {
      isConfirmed = await readFromCopy(this.#copy, db, { aircraftId, upToSeq }, take);
    } finally {
      // Also where the database was lost before it could say.
      if (!isConfirmed) forget(kept);
    }
  }

  /** Lets go of the aircraft that nobody has asked about for long: a ledger takes much memory, and can be read again. */
  #sweep(nowMs: number): void {
    this.#sweptAtMs = nowMs;
    for (const [aircraftId, { turns, usedAtMs }] of this.#kept)
      if (turns === 0 && nowMs - usedAtMs > this.#idleMs) this.#kept.delete(aircraftId);
  }
}

type Read = Pick<Kept, 'entries' | 'ledger' | 'past' | 'reading' | 'overview' | 'knownAtMs'>;

function nothingRead(): Read {
  const nothing = { past: undefined, reading: undefined, overview: undefined };
  return { entries: [], ledger: openLedger(), ...nothing, knownAtMs: Number.NEGATIVE_INFINITY };
}

function newlyKept(): Kept {
  const idle = { queue: Promise.resolve(), isFolding: false, turns: 0, usedAtMs: 0 };
  return { ...nothingRead(), ...idle };
}

async function lastSeqOf(db: Kysely<Database>, aircraftId: string, atLeast: number): Promise<number> {
  const query = db.selectFrom('aircraft').select('head_seq').where('id', '=', aircraftId);
  return (await query.executeTakeFirst())?.head_seq ?? atLeast;
}

/** Adds entries that were read to those that are kept, in steps. `lastSeq` answers how many there are, when the last one read is given. */
async function takeIn(
  kept: Kept,
  entries: AsyncIterable<ReadEntry>,
  lastSeq: (seq: number) => Promise<number>,
): Promise<void> {
  const before = kept.entries.length;
  let of: number | undefined;
  for await (const { seq, recordedAt, content } of entries) {
    if (seq !== kept.entries.length + 1) throw new Error(`entry ${seq} does not follow ${kept.entries.length}`);
    kept.entries.push({ seq, recordedAt, entry: entryFromText(content) });
    if ((seq - before) % STEP_ENTRIES !== 0) continue;
    of ??= await lastSeq(seq);
    tellHowFar(kept, of);
    await nextTurn();
  }
}

/** The next one who asks has it read anew. */
export function forget(kept: Kept): void {
  Object.assign(kept, nothingRead());
}

/** Reading an entry is one half of it, folding it the other. */
function tellHowFar(kept: Kept, of: number): void {
  const { entries, ledger } = kept;
  const all = Math.max(of, entries.length);
  kept.reading = { done: Math.floor((entries.length + ledger.entries.length) / 2), of: all };
}

/** The ledger as it was known at an entry, in steps as well. */
export async function pastAt(kept: Kept, asKnownAt: number): Promise<Ledger> {
  const past = openLedger();
  try {
    for (const recorded of kept.ledger.entries) {
      if (recorded.seq > asKnownAt) break;
      applyEntry(past, recorded);
      if (recorded.seq % STEP_ENTRIES !== 0) continue;
      kept.reading = { done: recorded.seq, of: asKnownAt };
      await nextTurn();
    }
  } finally {
    kept.reading = undefined;
  }
  return past;
}
