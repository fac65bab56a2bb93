/**
 * The folded ledger of each aircraft, kept in the process and carried on by what has been recorded since (rules L6, L7). The database
 * rules: an entry is applied here only as it was acknowledged or read back, in the order of its number, so that two processes on
 * one database come to the same figures.
 *
 * Work on one aircraft queues here; so the writers of one process do not fight, and a reader never meets a half-applied entry. What waits to be
 * recorded goes into one transaction, since the disk takes as long for one commit as for thirty: each entry is drafted against the ledger with those
 * before it, and nobody is answered, nor is anything read, until all are committed. Where that fails, the ledger is read anew and each is tried by itself.
 *
 * Entries are first read, then folded. A long ledger is folded in steps, each a turn of its own in the queue, so that who asks for the headline alone,
 * which needs no folded ledger, is answered in between; and a reader that would wait long is told how far it has come.
 */
import { setImmediate as nextTurn } from 'node:timers/promises';
import type { Kysely } from 'kysely';
import type { Database } from '#db/database.ts';
import { isDatabaseAway } from '#db/engine/database-away.ts';
import type { EntryFeed } from '#db/engine/entry-feed.ts';
import type { ReadCopy } from '#db/engine/read-copy.ts';
import { appendEntries } from '#db/ledger/append.ts';
import { type ReadEntry, readEntries } from '#db/ledger/read.ts';
import { bulkHeadline } from '#shared/bulk/bulk-headline.ts';
import { foldedOverview, type Overview } from '#shared/bulk/overview.ts';
import { entryFromText, entryText } from '#shared/ledger/canonical.ts';
import type { Entry, RecordedEntry } from '#shared/ledger/entry.ts';
import { applyEntry, type Ledger, openLedger } from '#shared/ledger/fold.ts';
import type { Refusal } from '#shared/problem/registry.ts';
import { headSeqOf } from './load-ledger.ts';
import { readFromCopy } from './read-from-copy.ts';
import { toRefusal } from './record-entries.ts';

/** What a draft makes of a ledger, which it must not change. It may be asked again where the ledger has moved on. */
export type LiveDraft<Refused> = (ledger: Ledger) => { ok: true; entry: Entry } | { ok: false; refused: Refused };

/** How far the reading of a long ledger has come, in entries. */
export type ReadingSoFar = { readonly done: number; readonly of: number };

export type LiveRead<Answer> =
  | { readonly ok: true; readonly value: Answer }
  | { readonly ok: false; readonly refusal: Refusal }
  | { readonly ok: false; readonly reading: ReadingSoFar };

/** Somebody who waits for an entry to be recorded. */
type Waiting = {
  readonly draft: LiveDraft<unknown>;
  readonly tell: Tell<unknown>;
  readonly answer: (recorded: Recorded<unknown, unknown>) => void;
  readonly fail: (error: unknown) => void;
};

type Tell<Told> = (recorded: { seq: number; replayed: boolean; ledger: Ledger }) => Told;

type Recorded<Refused, Told> =
  | { ok: true; told: Told }
  | { ok: false; refused: Refused }
  | { ok: false; refusal: Refusal };

/** What became of one who waits: to be answered or thrown once it is committed. */
type Outcome =
  | { readonly recorded: Recorded<unknown, unknown>; readonly addedSeq: number | undefined }
  | { readonly error: unknown };

type Kept = {
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
  readonly waiting: Waiting[];
  isRecording: boolean;
  /** Turns that wait or are being taken. */
  turns: number;
  usedAtMs: number;
  /** All that was recorded before this moment (`performance.now()`) has been read. */
  knownAtMs: number;
};

const MOST_TRIES = 50;

/** An aircraft that nobody has asked about for so long is let go of. */
const IDLE_MS = 60 * 60_000;

/** Entries of one commit: a reader waits for them. */
const MOST_TOGETHER = 32;

/** Entries that are read or folded in one go: some hundredths of a second, in which nobody else is answered. */
const STEP_ENTRIES = 500;

/** A ledger of so many entries is read from the copy of the database first, where there is one; a shorter one is one page. */
const LONG_ENTRIES = 1_000;

/** A reader waits this long for a ledger that is being read, then it is told so instead. */
const PATIENCE_MS = 300;

export class LiveLedgers {
  readonly #db: Kysely<Database>;
  readonly #kept = new Map<string, Kept>();

  readonly #patienceMs: number;

  readonly #onRecorded: () => void;

  readonly #tell: EntryFeed['tell'];

  readonly #copy: ReadCopy | undefined;

  readonly #idleMs: number;
  #sweptAtMs = performance.now();

  /** `tell`: of the feed, where it is there. `copy`: long ledgers are read there first. */
  constructor(
    db: Kysely<Database>,
    given: {
      readonly patienceMs?: number;
      readonly idleMs?: number;
      readonly onRecorded?: () => void;
      readonly tell?: EntryFeed['tell'];
      readonly copy?: ReadCopy | undefined;
    } = {},
  ) {
    this.#db = db;
    this.#idleMs = given.idleMs ?? IDLE_MS;
    this.#patienceMs = given.patienceMs ?? PATIENCE_MS;
    this.#onRecorded = given.onRecorded ?? (() => undefined);
    this.#tell = given.tell;
    this.#copy = given.copy;
  }

  /** How many aircraft are held in memory. */
  get count(): number {
    return this.#kept.size;
  }

  /**
   * Calls `work` with the ledger as it stands in the database, or as it was known at entry `asKnownAt`. `work` must be done when it
   * returns: the ledger is carried on afterwards. Where a long ledger is still being read, the answer is how far that has come, and
   * `work` is not called; the reading goes on.
   */
  async read<Answer>(
    aircraftId: string,
    asKnownAt: number | undefined,
    work: (ledger: Ledger) => Answer,
  ): Promise<LiveRead<Answer>> {
    const reader = { hasLeft: false };
    const turn = this.#withWhole(aircraftId, performance.now(), async (kept): Promise<LiveRead<Answer>> => {
      if (reader.hasLeft) return LEFT;
      const last = headSeqOf(kept.ledger);
      if (asKnownAt === undefined || asKnownAt === last) return reader.hasLeft ? LEFT : answered(work(kept.ledger));
      if (asKnownAt > last) return { ok: false, refusal: { code: 'no-such-entry', seq: asKnownAt, last } };
      // A page asks for the same moment several times over: the last one is kept.
      if (kept.past === undefined || headSeqOf(kept.past) !== asKnownAt) kept.past = await pastAt(kept, asKnownAt);
      return reader.hasLeft ? LEFT : answered(work(kept.past));
    });
    return this.#unlessLong(aircraftId, turn, reader);
  }

  /**
   * Calls `work` with the headline as it stands in the database, or as it was known at entry `asKnownAt`, as `read` does. A long ledger is not
   * folded for it; that begins behind it, since somebody will ask for more.
   */
  async headline<Answer>(
    aircraftId: string,
    asKnownAt: number | undefined,
    work: (overview: Overview) => Answer,
  ): Promise<LiveRead<Answer>> {
    const reader = { hasLeft: false };
    const askedAtMs = performance.now();
    const turn = this.#inTurn(aircraftId, async (kept): Promise<LiveRead<Answer> | undefined> => {
      if (reader.hasLeft) return LEFT;
      if (kept.knownAtMs < askedAtMs) await this.#readOn(this.#db, aircraftId, kept);
      const last = kept.entries.length;
      if (asKnownAt !== undefined && asKnownAt > last)
        return { ok: false, refusal: { code: 'no-such-entry', seq: asKnownAt, last } };
      const overview = this.#overviewAt(aircraftId, kept, asKnownAt ?? last);
      if (overview === undefined) return undefined;
      return reader.hasLeft ? LEFT : answered(work(overview));
    });
    const answer = turn.then(
      (told) => told ?? this.read(aircraftId, asKnownAt, (ledger) => work(foldedOverview(ledger))),
    );
    return this.#unlessLong(aircraftId, answer, reader);
  }

  /** From the folded ledger where it is there, else from the entries; undefined where only the folded ledger can tell. */
  #overviewAt(aircraftId: string, kept: Kept, seq: number): Overview | undefined {
    const isWhole = this.#foldOn(kept);
    if (isWhole && headSeqOf(kept.ledger) === seq) return foldedOverview(kept.ledger);
    if (!isWhole) this.#foldBehind(aircraftId, kept);
    if (kept.past !== undefined && headSeqOf(kept.past) === seq) return foldedOverview(kept.past);
    if (kept.overview?.seq !== seq) {
      const bulk = bulkHeadline(kept.entries.slice(0, seq));
      kept.overview = bulk && { seq, aircraft: bulk.aircraft, headline: () => bulk.headline };
    }
    return kept.overview;
  }

  #foldBehind(aircraftId: string, kept: Kept): void {
    if (kept.isFolding) return;
    kept.isFolding = true;
    // What goes wrong meets the next one who asks for the ledger.
    void this.#withWhole(aircraftId, undefined, async () => undefined)
      .catch(() => undefined)
      .finally(() => {
        kept.isFolding = false;
      });
  }

  /** The answer, or how far the reading has come as soon as that has kept the reader waiting. */
  #unlessLong<Answer>(
    aircraftId: string,
    turn: Promise<LiveRead<Answer>>,
    reader: { hasLeft: boolean },
  ): Promise<LiveRead<Answer>> {
    return new Promise((resolve, reject) => {
      const timer = setInterval(() => {
        const reading = this.#kept.get(aircraftId)?.reading;
        if (reading === undefined) return;
        clearInterval(timer);
        reader.hasLeft = true;
        resolve({ ok: false, reading });
      }, this.#patienceMs);
      turn.then(resolve, reject).finally(() => clearInterval(timer));
    });
  }

  /**
   * Records what `draft` makes of the ledger, and answers with `tell`. The draft is first made of the ledger as known here; before it is
   * refused, or where the database says that the ledger has moved on, it is made again of the ledger as it is.
   */
  record<Refused, Told>(
    aircraftId: string,
    draft: LiveDraft<Refused>,
    tell: Tell<Told>,
  ): Promise<Recorded<Refused, Told>> {
    return new Promise((resolve, fail) => {
      // Of one who waits, what is refused and told is what was given with it.
      const answer = resolve as (recorded: Recorded<unknown, unknown>) => void;
      const kept = this.#keptOf(aircraftId);
      kept.waiting.push({ draft, tell, answer, fail });
      if (kept.isRecording) return;
      kept.isRecording = true;
      void this.#recordOn(aircraftId, kept);
    });
  }

  /** Records what has gathered, a turn for each commit, until nobody waits. */
  async #recordOn(aircraftId: string, kept: Kept): Promise<void> {
    const { waiting } = kept;
    let alone = 0;
    while (waiting.length > 0) {
      try {
        await this.#withWhole(aircraftId, undefined, async () => {
          const together = waiting.splice(0, alone > 0 ? 1 : MOST_TOGETHER);
          if (alone > 0) alone -= 1;
          if (await this.#recordTogether(aircraftId, kept, together)) return;
          waiting.unshift(...together);
          alone = together.length;
        });
      } catch (error) {
        // The ledger could not be read: nobody who waits has been looked at.
        for (const { fail } of waiting.splice(0)) fail(error);
      }
    }
    // At once: who comes after this begins anew.
    kept.isRecording = false;
  }

  /** False where they failed as one and each is to be tried by itself: its id keeps an entry from being recorded twice. */
  async #recordTogether(aircraftId: string, kept: Kept, together: readonly Waiting[]): Promise<boolean> {
    const outcomes: (readonly [Waiting, Outcome])[] = [];
    const recordIn = async (db: Kysely<Database>) => {
      for (const one of together) outcomes.push([one, await this.#record(db, aircraftId, kept, one)]);
    };
    try {
      // One statement is a transaction of its own.
      await (together.length === 1 ? recordIn(this.#db) : this.#db.transaction().execute(recordIn));
    } catch (error) {
      // What the ledger was carried on by may not be in the database.
      if (together.length > 1) forget(kept);
      if (together.length > 1 && !isDatabaseAway(error)) return false;
      for (const { fail } of together) fail(error);
      return true;
    }
    this.#settle(aircraftId, outcomes);
    return true;
  }

  /** Answers those whose entries are committed. */
  #settle(aircraftId: string, outcomes: readonly (readonly [Waiting, Outcome])[]): void {
    for (const [one, outcome] of outcomes) {
      if ('error' in outcome) {
        one.fail(outcome.error);
        continue;
      }
      if (outcome.addedSeq !== undefined) {
        this.#onRecorded();
        this.#tell?.(aircraftId, outcome.addedSeq);
      }
      one.answer(outcome.recorded);
    }
  }

  /** Throws what the database throws; what the draft or the telling throws is the outcome. */
  async #record(db: Kysely<Database>, aircraftId: string, kept: Kept, one: Waiting): Promise<Outcome> {
    const { draft, tell } = one;
    for (let tries = 1; ; tries += 1) {
      const expectedSeq = headSeqOf(kept.ledger);
      const drafted = outcomeOf(() => draft(kept.ledger));
      if ('error' in drafted) return drafted;
      if (!drafted.value.ok) {
        if (await this.#catchUp(db, aircraftId, kept)) continue;
        return { recorded: drafted.value, addedSeq: undefined };
      }
      const { entry } = drafted.value;
      const askedAtMs = performance.now();
      const isUntold = this.#tell !== undefined;
      const answer = await appendEntries(db, { aircraftId, contents: [entryText(entry)], expectedSeq, isUntold });
      if (answer.ok) {
        const [appended] = answer.entries;
        if (appended === undefined) throw new Error('an append of one entry answers for one entry');
        const { seq, recordedAt, replayed } = appended;
        if (seq === kept.entries.length + 1) {
          kept.entries.push({ seq, recordedAt, entry });
          // A repeat does not tell where the ledger ends.
          if (!replayed) kept.knownAtMs = askedAtMs;
          this.#foldOn(kept);
        } else await this.#catchUp(db, aircraftId, kept);
        const told = outcomeOf(() => tell({ seq, replayed, ledger: kept.ledger }));
        if ('error' in told) return told;
        return { recorded: { ok: true, told: told.value }, addedSeq: replayed ? undefined : seq };
      }
      const hasMoved = await this.#catchUp(db, aircraftId, kept);
      if (hasMoved && !db.isTransaction) return this.#recordHolding(aircraftId, kept, one);
      if (hasMoved && tries < MOST_TRIES) continue;
      return {
        recorded: { ok: false, refusal: toRefusal(answer.refusal, [entry]).refusal },
        addedSeq: undefined,
      };
    }
  }

  /**
   * In a transaction, which keeps the row of the aircraft from its first try on, so that the second finds the ledger as it was read. Without that,
   * another server that records one batch after the other would be quicker each time.
   */
  async #recordHolding(aircraftId: string, kept: Kept, one: Waiting): Promise<Outcome> {
    try {
      return await this.#db.transaction().execute((tx) => this.#record(tx, aircraftId, kept, one));
    } catch (error) {
      forget(kept);
      throw error;
    }
  }

  /** Reads and applies what has been recorded since; true where there was something. */
  async #catchUp(db: Kysely<Database>, aircraftId: string, kept: Kept): Promise<boolean> {
    const before = headSeqOf(kept.ledger);
    await this.#readOn(db, aircraftId, kept);
    while (!this.#foldOn(kept)) await nextTurn();
    return headSeqOf(kept.ledger) > before;
  }

  /** Reads what has been recorded since. */
  async #readOn(db: Kysely<Database>, aircraftId: string, kept: Kept): Promise<void> {
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

  /** Folds one step more of what was read; true where the ledger is whole then. */
  #foldOn(kept: Kept): boolean {
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

  /**
   * Calls `work` in a turn in which the ledger is whole: with all that was recorded before `asOfMs`, or at least as read before. Until then each
   * step is a turn of its own.
   */
  async #withWhole<Answer>(
    aircraftId: string,
    asOfMs: number | undefined,
    work: (kept: Kept) => Promise<Answer>,
  ): Promise<Answer> {
    for (;;) {
      const done = await this.#inTurn(aircraftId, async (kept) => {
        if (!this.#foldOn(kept)) return undefined;
        if (kept.knownAtMs < (asOfMs ?? 0) || kept.entries.length === 0) await this.#readOn(this.#db, aircraftId, kept);
        return this.#foldOn(kept) ? { answer: await work(kept) } : undefined;
      });
      if (done !== undefined) return done.answer;
      await nextTurn();
    }
  }

  #inTurn<Answer>(aircraftId: string, work: (kept: Kept) => Promise<Answer>): Promise<Answer> {
    const kept = this.#keptOf(aircraftId);
    kept.turns += 1;
    const turn = kept.queue
      .then(() => work(kept))
      .finally(() => {
        kept.turns -= 1;
      });
    kept.queue = turn.catch(() => undefined);
    return turn;
  }

  #keptOf(aircraftId: string): Kept {
    const nowMs = performance.now();
    if (nowMs - this.#sweptAtMs > this.#idleMs / 60) this.#sweep(nowMs);
    const kept = this.#kept.get(aircraftId) ?? newlyKept();
    kept.usedAtMs = nowMs;
    this.#kept.set(aircraftId, kept);
    return kept;
  }

  /** Lets go of the aircraft that nobody has asked about for long: a ledger takes much memory, and can be read again. */
  #sweep(nowMs: number): void {
    this.#sweptAtMs = nowMs;
    for (const [aircraftId, { turns, isRecording, usedAtMs }] of this.#kept)
      if (turns === 0 && !isRecording && nowMs - usedAtMs > this.#idleMs) this.#kept.delete(aircraftId);
  }
}

type Read = Pick<Kept, 'entries' | 'ledger' | 'past' | 'reading' | 'overview' | 'knownAtMs'>;

function nothingRead(): Read {
  const nothing = { past: undefined, reading: undefined, overview: undefined };
  return { entries: [], ledger: openLedger(), ...nothing, knownAtMs: Number.NEGATIVE_INFINITY };
}

function newlyKept(): Kept {
  const idle = { queue: Promise.resolve(), isFolding: false, waiting: [], isRecording: false, turns: 0, usedAtMs: 0 };
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
function forget(kept: Kept): void {
  Object.assign(kept, nothingRead());
}

/** What `work` answers or throws. */
function outcomeOf<Value>(work: () => Value): { readonly value: Value } | { readonly error: unknown } {
  try {
    return { value: work() };
  } catch (error) {
    return { error };
  }
}

/** Reading an entry is one half of it, folding it the other. */
function tellHowFar(kept: Kept, of: number): void {
  const { entries, ledger } = kept;
  const all = Math.max(of, entries.length);
  kept.reading = { done: Math.floor((entries.length + ledger.entries.length) / 2), of: all };
}

/** For a reader that has gone: nobody hears it. */
const LEFT = { ok: false, reading: { done: 0, of: 0 } } as const;

function answered<Answer>(value: Answer): LiveRead<Answer> {
  return { ok: true, value };
}

/** The ledger as it was known at an entry, in steps as well. */
async function pastAt(kept: Kept, asKnownAt: number): Promise<Ledger> {
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
