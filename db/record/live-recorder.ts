/**
 * Records entries against their ledger as it stands, one commit of an aircraft after the other. What waits goes into one transaction and one statement, since the disk takes as long for one
 * commit as for thirty: each entry is drafted against the ledger with those before it, and nobody is answered, nor is anything read, until all are
 * committed. Where that fails, the ledger is read anew and each is tried by itself.
 */
import type { Kysely } from 'kysely';
import type { Database } from '#db/database.ts';
import type { EntryFeed } from '#db/engine/entry-feed.ts';
import { sqlState } from '#db/engine/sql-state.ts';
import { storeTrouble } from '#db/engine/store-trouble.ts';
import { appendEntries, appendStorable, holdAircraft } from '#db/ledger/append.ts';
import { projectContent } from '#db/ledger/projection.ts';
import { entryText } from '#shared/ledger/canonical.ts';
import type { Entry } from '#shared/ledger/entry.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import type { Refusal } from '#shared/problem/registry.ts';
import { forget, type Kept, type KeptLedgers } from './kept-ledgers.ts';
import { headSeqOf } from './load-ledger.ts';
import { toRefusal } from './record-entries.ts';

/** What a draft makes of a ledger, which it must not change. It may be asked again where the ledger has moved on. */
export type LiveDraft<Refused> = (ledger: Ledger) => { ok: true; entry: Entry } | { ok: false; refused: Refused };

/** Somebody who waits for an entry to be recorded. */
type Waiting = {
  readonly draft: LiveDraft<unknown>;
  readonly tell: Tell<unknown>;
  readonly answer: (recorded: Recorded<unknown, unknown>) => void;
  readonly fail: (error: unknown) => void;
};

type InLedger = { readonly seq: number; readonly replayed: boolean; readonly ledger: Ledger };

export type Tell<Told> = (recorded: InLedger) => Told;

export type Recorded<Refused, Told> =
  | { ok: true; told: Told }
  | { ok: false; refused: Refused }
  | { ok: false; refusal: Refusal };

/** What became of one who waits: to be answered or thrown once it is committed. */
type Outcome =
  | { readonly recorded: Recorded<unknown, unknown>; readonly addedSeq: number | undefined }
  | { readonly error: unknown };

/** Entries of one commit: a reader waits for them. */
const MOST_TOGETHER = 32;

/** A ledger that was read before then may be far behind. */
const LONG_AGO_MS = 5_000;

/** What the database says where its clock was set back while an aircraft was held. */
const OTHER_TIME = 'TB005';

export class LiveRecorder {
  readonly #db: Kysely<Database>;
  readonly #ledgers: KeptLedgers;
  readonly #onRecorded: () => void;
  readonly #tell: EntryFeed['tell'];
  /** Who waits for an entry of an aircraft to be recorded. An aircraft is here while somebody is seen to. */
  readonly #waiting = new Map<string, Waiting[]>();

  /** `onRecorded`: for each entry. `tell`: of the feed, where it is there. */
  constructor(
    db: Kysely<Database>,
    ledgers: KeptLedgers,
    {
      onRecorded = () => undefined,
      tell,
    }: { onRecorded?: (() => void) | undefined; tell?: EntryFeed['tell'] | undefined },
  ) {
    this.#db = db;
    this.#ledgers = ledgers;
    this.#onRecorded = onRecorded;
    this.#tell = tell;
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
      const one = { draft, tell, answer, fail };
      const waiting = this.#waiting.get(aircraftId);
      if (waiting !== undefined) {
        waiting.push(one);
        return;
      }
      const first = [one];
      this.#waiting.set(aircraftId, first);
      void this.#recordOn(aircraftId, first);
    });
  }

  /** Records what has gathered, a turn for each commit, until nobody waits. Where they failed as one, each of them is tried by itself; until the store is in trouble. */
  async #recordOn(aircraftId: string, waiting: Waiting[]): Promise<void> {
    let alone = 0;
    while (waiting.length > 0) {
      try {
        await this.#ledgers.withWhole(aircraftId, undefined, async (kept) => {
          const together = waiting.splice(0, alone > 0 ? 1 : MOST_TOGETHER);
          if (alone > 0) alone -= 1;
          const failed = await this.#recordTogether(aircraftId, kept, together);
          if (failed === undefined) return;
          const { error } = failed;
          const isTrouble = storeTrouble(error) !== undefined;
          if (!isTrouble && together.length > 1) {
            waiting.unshift(...together);
            alone = together.length;
            return;
          }
          // In trouble it would be the same for those who are still to be tried.
          const others = isTrouble ? waiting.splice(0, alone) : [];
          alone -= others.length;
          for (const { fail } of [...together, ...others]) fail(error);
        });
      } catch (error) {
        // The ledger could not be read: nobody who waits has been looked at.
        for (const { fail } of waiting.splice(0)) fail(error);
      }
    }
    // At once: who comes after this begins anew.
    this.#waiting.delete(aircraftId);
  }

  /** Answers them, or why they failed as one. That may be after the commit: an entry's id keeps it from being recorded twice. */
  async #recordTogether(
    aircraftId: string,
    kept: Kept,
    together: readonly Waiting[],
  ): Promise<{ readonly error: unknown } | undefined> {
    const [alone, ...others] = together;
    try {
      // Not all of it while the aircraft is held.
      if (others.length > 0 && performance.now() - kept.knownAtMs > LONG_AGO_MS)
        await this.#ledgers.catchUp(this.#db, aircraftId, kept);
      // One statement is a transaction of its own.
      const outcomes =
        alone !== undefined && others.length === 0
          ? [[alone, await this.#record(this.#db, aircraftId, kept, alone)] as const]
          : await this.#db.transaction().execute((tx) => this.#recordHeld(tx, aircraftId, kept, together));
      this.#settle(aircraftId, outcomes);
    } catch (error) {
      // What the ledger was carried on by may not be in the database.
      if (others.length > 0) forget(kept);
      return { error };
    }
    return undefined;
  }

  /**
   * Records many in one statement. The aircraft is held first, so that each can be drafted against the ledger with those before it, and be told of it, before
   * they are in the database. Throws where the database does not take them as they were drafted.
   */
  async #recordHeld(
    tx: Kysely<Database>,
    aircraftId: string,
    kept: Kept,
    together: readonly Waiting[],
  ): Promise<readonly (readonly [Waiting, Outcome])[]> {
    const held = await holdAircraft(tx, aircraftId);
    if (held === undefined) throw new Error('there is no such aircraft');
    if (held.headSeq > headSeqOf(kept.ledger)) await this.#ledgers.catchUp(tx, aircraftId, kept);
    const contents: string[] = [];
    const append = async () => {
      const expectedSeq = kept.entries.length - contents.length;
      const isUntold = this.#tell !== undefined;
      const given = { aircraftId, contents: contents.splice(0), expectedSeq, isUntold, heldAt: held.heldAt };
      if (given.contents.length === 0) return;
      const answer = await appendStorable(tx, given);
      const isAsDrafted = answer.ok && answer.entries.every(({ seq }, at) => seq === expectedSeq + 1 + at);
      if (!isAsDrafted) throw new Error('the database took other entries than were drafted');
    };
    const outcomes: (readonly [Waiting, Outcome])[] = [];
    for (const one of together) {
      const drafted = outcomeOf(() => contentOf(one.draft(kept.ledger)));
      if ('error' in drafted) outcomes.push([one, drafted]);
      else if (!drafted.value.ok) outcomes.push([one, { recorded: drafted.value, addedSeq: undefined }]);
      else {
        const { entry, content } = drafted.value;
        if (kept.ledger.entryById.has(entry.id) || !projectContent(content).ok) {
          // A repeat is answered with what is recorded, what cannot be stored is refused: both add nothing.
          await append();
          outcomes.push([one, await this.#record(tx, aircraftId, kept, one)]);
          continue;
        }
        contents.push(content);
        const seq = kept.entries.push({ seq: kept.entries.length + 1, recordedAt: held.heldAt, entry });
        this.#ledgers.foldOn(kept);
        outcomes.push([one, recordedAs({ seq, replayed: false, ledger: kept.ledger }, one.tell)]);
      }
    }
    await append();
    // Nobody else adds anything before this is committed.
    kept.knownAtMs = performance.now();
    return outcomes;
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
    const drafted = outcomeOf(() => contentOf(draft(kept.ledger)));
    if ('error' in drafted) return drafted;
    if (!drafted.value.ok) {
      if (await this.#ledgers.catchUp(db, aircraftId, kept)) return this.#recordHolding(aircraftId, kept, one);
      return { recorded: drafted.value, addedSeq: undefined };
    }
    const { entry, content } = drafted.value;
    const askedAtMs = performance.now();
    const given = {
      aircraftId,
      contents: [content],
      expectedSeq: headSeqOf(kept.ledger),
      isUntold: this.#tell !== undefined,
    };
    const answer = await appendEntries(db, given);
    if (!answer.ok) {
      if (await this.#ledgers.catchUp(db, aircraftId, kept)) return this.#recordHolding(aircraftId, kept, one);
      return {
        recorded: { ok: false, refusal: toRefusal(answer.refusal, [entry]).refusal },
        addedSeq: undefined,
      };
    }
    const [appended] = answer.entries;
    if (appended === undefined) throw new Error('an append of one entry answers for one entry');
    const { seq, recordedAt, replayed } = appended;
    if (seq === kept.entries.length + 1) {
      kept.entries.push({ seq, recordedAt, entry });
      // A repeat does not tell where the ledger ends.
      if (!replayed) kept.knownAtMs = askedAtMs;
      this.#ledgers.foldOn(kept);
    } else await this.#ledgers.catchUp(db, aircraftId, kept);
    return recordedAs({ seq, replayed, ledger: kept.ledger }, tell);
  }

  /** Where another server was quicker: with the aircraft held, since it might be so each time. */
  async #recordHolding(aircraftId: string, kept: Kept, one: Waiting, isLast = false): Promise<Outcome> {
    try {
      const [[, outcome] = []] = await this.#db
        .transaction()
        .execute((tx) => this.#recordHeld(tx, aircraftId, kept, [one]));
      if (outcome === undefined) throw new Error('who waits has an outcome');
      return outcome;
    } catch (error) {
      forget(kept);
      if (isLast || sqlState(error) !== OTHER_TIME) throw error;
      return this.#recordHolding(aircraftId, kept, one, true);
    }
  }
}

/** With the text of the entry. Throws where it has none. */
function contentOf<Refused>(drafted: ReturnType<LiveDraft<Refused>>) {
  return drafted.ok ? { ...drafted, content: entryText(drafted.entry) } : drafted;
}

/** What `work` answers or throws. */
function outcomeOf<Value>(work: () => Value): { readonly value: Value } | { readonly error: unknown } {
  try {
    return { value: work() };
  } catch (error) {
    return { error };
  }
}

function recordedAs(recorded: InLedger, tell: Tell<unknown>): Outcome {
  const told = outcomeOf(() => tell(recorded));
  if ('error' in told) return told;
  return { recorded: { ok: true, told: told.value }, addedSeq: recorded.replayed ? undefined : recorded.seq };
}
