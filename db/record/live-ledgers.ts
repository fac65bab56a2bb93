/**
 * The folded ledger of each aircraft, kept in the process and carried on by what has been recorded since (rules L6, L7): read here, and recorded in through
 * `LiveRecorder`.
 */
import type { Kysely } from 'kysely';
import type { Database } from '#db/database.ts';
import type { EntryFeed } from '#db/engine/entry-feed.ts';
import type { ReadCopy } from '#db/engine/read-copy.ts';
import { bulkHeadline } from '#shared/bulk/bulk-headline.ts';
import { foldedOverview, type Overview } from '#shared/bulk/overview.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import type { Refusal } from '#shared/problem/registry.ts';
import { type Kept, KeptLedgers, pastAt, type ReadingSoFar } from './kept-ledgers.ts';
import { type LiveDraft, LiveRecorder, type Recorded, type Tell } from './live-recorder.ts';
import { headSeqOf } from './load-ledger.ts';

export type LiveRead<Answer> =
  | { readonly ok: true; readonly value: Answer }
  | { readonly ok: false; readonly refusal: Refusal }
  | { readonly ok: false; readonly reading: ReadingSoFar };

/** A reader waits this long for a ledger that is being read, then it is told so instead. */
const PATIENCE_MS = 300;

export class LiveLedgers {
  readonly #ledgers: KeptLedgers;
  readonly #recorder: LiveRecorder;
  readonly #patienceMs: number;

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
    this.#ledgers = new KeptLedgers(db, given);
    this.#recorder = new LiveRecorder(db, this.#ledgers, given);
    this.#patienceMs = given.patienceMs ?? PATIENCE_MS;
  }

  /** How many aircraft are held in memory. */
  get count(): number {
    return this.#ledgers.count;
  }

  /** Records what `draft` makes of the ledger, and answers with `tell`, as `LiveRecorder` does. */
  record<Refused, Told>(
    aircraftId: string,
    draft: LiveDraft<Refused>,
    tell: Tell<Told>,
  ): Promise<Recorded<Refused, Told>> {
    return this.#recorder.record(aircraftId, draft, tell);
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
    const turn = this.#ledgers.withWhole(aircraftId, performance.now(), async (kept): Promise<LiveRead<Answer>> => {
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
    const turn = this.#ledgers.inTurn(aircraftId, async (kept): Promise<LiveRead<Answer> | undefined> => {
      if (reader.hasLeft) return LEFT;
      if (kept.knownAtMs < askedAtMs) await this.#ledgers.readOn(aircraftId, kept);
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
    const isWhole = this.#ledgers.foldOn(kept);
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
    void this.#ledgers
      .withWhole(aircraftId, undefined, async () => undefined)
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
        const reading = this.#ledgers.readingOf(aircraftId);
        if (reading === undefined) return;
        clearInterval(timer);
        reader.hasLeft = true;
        resolve({ ok: false, reading });
      }, this.#patienceMs);
      turn.then(resolve, reject).finally(() => clearInterval(timer));
    });
  }
}

/** For a reader that has gone: nobody hears it. */
const LEFT = { ok: false, reading: { done: 0, of: 0 } } as const;

function answered<Answer>(value: Answer): LiveRead<Answer> {
  return { ok: true, value };
}
