/**
 * The folded ledger of each aircraft, kept in the process and carried on by what has been recorded since (rules L6, L7). The database
 * rules: an entry is applied here only as it was acknowledged or read back, in the order of its number, so that two processes on
 * one database come to the same figures.
 *
 * Work on one aircraft queues here; so the writers of one process do not fight, and a reader never meets a half-applied entry. Entries are
 * first read, then folded. A long ledger is folded in steps, each a turn of its own in the queue, so that who asks for the headline alone,
 * which needs no folded ledger, is answered in between; and a reader that would wait long is told how far it has come.
 */
import { setImmediate as nextTurn } from 'node:timers/promises';
import type { Kysely } from 'kysely';
import type { Database } from '#db/database.ts';
import { appendEntries } from '#db/ledger/append.ts';
import { readEntries } from '#db/ledger/read.ts';
import { bulkHeadline } from '#shared/bulk/bulk-headline.ts';
import { foldedOverview, type Overview } from '#shared/bulk/overview.ts';
import { entryFromText, entryText } from '#shared/ledger/canonical.ts';
import type { Entry, RecordedEntry } from '#shared/ledger/entry.ts';
import { applyEntry, type Ledger, openLedger } from '#shared/ledger/fold.ts';
import type { Refusal } from '#shared/problem/registry.ts';
import { headSeqOf } from './load-ledger.ts';
import { toRefusal } from './record-entries.ts';

/** What a draft makes of a ledger, which it must not change. It may be asked again where the ledger has moved on. */
export type LiveDraft<Refused> = (ledger: Ledger) => { ok: true; entry: Entry } | { ok: false; refused: Refused };

/** `ledger` is as it was right after the entry, and must be read before the next await. */
export type LiveAnswer<Refused> =
  | { ok: true; seq: number; replayed: boolean; ledger: Ledger }
  | { ok: false; refused: Refused }
  | { ok: false; refusal: Refusal };

/** How far the reading of a long ledger has come, in entries. */
export type ReadingSoFar = { readonly done: number; readonly of: number };

export type LiveRead<Answer> =
  | { readonly ok: true; readonly value: Answer }
  | { readonly ok: false; readonly refusal: Refusal }
  | { readonly ok: false; readonly reading: ReadingSoFar };

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
};

const MOST_TRIES = 50;

/** Entries that are read or folded in one go: some hundredths of a second, in which nobody else is answered. */
const STEP_ENTRIES = 500;

/** A reader waits this long for a ledger that is being read, then it is told so instead. */
const PATIENCE_MS = 300;

export class LiveLedgers {
  readonly #db: Kysely<Database>;
  readonly #kept = new Map<string, Kept>();

  readonly #patienceMs: number;

  readonly #onRecorded: () => void;

  constructor(db: Kysely<Database>, given: { readonly patienceMs?: number; readonly onRecorded?: () => void } = {}) {
    this.#db = db;
    this.#patienceMs = given.patienceMs ?? PATIENCE_MS;
    this.#onRecorded = given.onRecorded ?? (() => undefined);
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
    const turn = this.#withWhole(aircraftId, 'as recorded', async (kept): Promise<LiveRead<Answer>> => {
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
    const turn = this.#inTurn(aircraftId, async (kept): Promise<LiveRead<Answer> | undefined> => {
      if (reader.hasLeft) return LEFT;
      await this.#readOn(aircraftId, kept);
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
    const isWhole = this.#foldOn(aircraftId, kept);
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
    void this.#withWhole(aircraftId, 'as read', async () => undefined)
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
  async record<Refused, Told>(
    aircraftId: string,
    draft: LiveDraft<Refused>,
    tell: (recorded: { seq: number; replayed: boolean; ledger: Ledger }) => Told,
  ): Promise<{ ok: true; told: Told } | { ok: false; refused: Refused } | { ok: false; refusal: Refusal }> {
    return this.#withWhole(aircraftId, 'as read', async (kept) => {
      const answer = await this.#record(aircraftId, kept, draft);
      return answer.ok ? { ok: true, told: tell(answer) } : answer;
    });
  }

  async #record<Refused>(aircraftId: string, kept: Kept, draft: LiveDraft<Refused>): Promise<LiveAnswer<Refused>> {
    for (let tries = 1; ; tries += 1) {
      const expectedSeq = headSeqOf(kept.ledger);
      const drafted = draft(kept.ledger);
      if (!drafted.ok) {
        if (await this.#catchUp(aircraftId, kept)) continue;
        return drafted;
      }
      const { entry } = drafted;
      const contents = [entryText(entry)];
      const answer = await appendEntries(this.#db, { aircraftId, contents, expectedSeq });
      if (answer.ok) {
        const [appended] = answer.entries;
        if (appended === undefined) throw new Error('an append of one entry answers for one entry');
        const { seq, recordedAt, replayed } = appended;
        if (!replayed) this.#onRecorded();
        if (seq === kept.entries.length + 1) {
          kept.entries.push({ seq, recordedAt, entry });
          this.#foldOn(aircraftId, kept);
        } else await this.#catchUp(aircraftId, kept);
        return { ok: true, seq, replayed, ledger: kept.ledger };
      }
      const hasMoved = await this.#catchUp(aircraftId, kept);
      if (hasMoved && tries < MOST_TRIES) continue;
      return { ok: false, refusal: toRefusal(answer.refusal, [entry]).refusal };
    }
  }

  /** Reads and applies what has been recorded since; true where there was something. */
  async #catchUp(aircraftId: string, kept: Kept): Promise<boolean> {
    const before = headSeqOf(kept.ledger);
    await this.#readOn(aircraftId, kept);
    while (!this.#foldOn(aircraftId, kept)) await nextTurn();
    return headSeqOf(kept.ledger) > before;
  }

  /** Reads what has been recorded since. */
  async #readOn(aircraftId: string, kept: Kept): Promise<void> {
    const before = kept.entries.length;
    let of: number | undefined;
    try {
      for await (const { seq, recordedAt, content } of readEntries(this.#db, { aircraftId, afterSeq: before })) {
        if (seq !== kept.entries.length + 1) throw new Error(`entry ${seq} does not follow ${kept.entries.length}`);
        kept.entries.push({ seq, recordedAt, entry: entryFromText(content) });
        if ((seq - before) % STEP_ENTRIES !== 0) continue;
        of ??= await this.#lastSeqOf(aircraftId, seq);
        tellHowFar(kept, of);
        await nextTurn();
      }
    } finally {
      kept.reading = undefined;
    }
  }

  async #lastSeqOf(aircraftId: string, atLeast: number): Promise<number> {
    const query = this.#db.selectFrom('aircraft').select('head_seq').where('id', '=', aircraftId);
    return (await query.executeTakeFirst())?.head_seq ?? atLeast;
  }

  /** Folds one step more of what was read; true where the ledger is whole then. */
  #foldOn(aircraftId: string, kept: Kept): boolean {
    const { entries, ledger } = kept;
    const upTo = Math.min(entries.length, ledger.entries.length + STEP_ENTRIES);
    try {
      for (const recorded of entries.slice(ledger.entries.length, upTo)) applyEntry(ledger, recorded);
    } catch (error) {
      // Nobody must go on with a ledger that an error left in the middle: the next one asked for is read anew.
      this.#kept.delete(aircraftId);
      Object.assign(kept, nothingKept());
      throw error;
    }
    const isWhole = upTo === entries.length;
    if (isWhole) Object.assign(kept, { reading: undefined, overview: undefined });
    else tellHowFar(kept, entries.length);
    return isWhole;
  }

  /**
   * Calls `work` in a turn in which the ledger is whole: as recorded in the database, or at least as read before. Until then each step is a
   * turn of its own.
   */
  async #withWhole<Answer>(
    aircraftId: string,
    as: 'as recorded' | 'as read',
    work: (kept: Kept) => Promise<Answer>,
  ): Promise<Answer> {
    for (;;) {
      const done = await this.#inTurn(aircraftId, async (kept) => {
        if (!this.#foldOn(aircraftId, kept)) return undefined;
        if (as === 'as recorded' || kept.entries.length === 0) await this.#readOn(aircraftId, kept);
        return this.#foldOn(aircraftId, kept) ? { answer: await work(kept) } : undefined;
      });
      if (done !== undefined) return done.answer;
      await nextTurn();
    }
  }

  #inTurn<Answer>(aircraftId: string, work: (kept: Kept) => Promise<Answer>): Promise<Answer> {
    const kept = this.#kept.get(aircraftId) ?? { ...nothingKept(), queue: Promise.resolve() };
    this.#kept.set(aircraftId, kept);
    const turn = kept.queue.then(() => work(kept));
    kept.queue = turn.catch(() => undefined);
    return turn;
  }
}

function nothingKept(): Omit<Kept, 'queue'> {
  const nothing = { past: undefined, reading: undefined, overview: undefined };
  return { entries: [], ledger: openLedger(), ...nothing, isFolding: false };
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
