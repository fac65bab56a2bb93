/** Asks the worker, one question at a time, and ends it where a list takes longer than any honest one does. */
import { Worker } from 'node:worker_threads';
import type { Kysely } from 'kysely';
import { Problem } from '#api/problem/problem.ts';
import type { Database } from '#db/database.ts';
import { readEntries } from '#db/ledger/read.ts';
import type { DraftAnswer, DraftQuestion, FromWorker, RecordedText } from './draft.ts';

const MOST_MS = 60_000;
/** A worker that nobody asks any more gives its memory back. */
const IDLE_MS = 120_000;

type Held = { readonly worker: Worker; aircraftId: string; headSeq: number };

export class ListReader {
  readonly #db: Kysely<Database>;
  readonly #mostMs: number;
  #held: Held | undefined;
  #queue: Promise<unknown> = Promise.resolve();
  #idle: NodeJS.Timeout | undefined;

  constructor(db: Kysely<Database>, mostMs = MOST_MS) {
    this.#db = db;
    this.#mostMs = mostMs;
  }

  /** What the lists make of the ledger as it stands. `isWanted` is asked when its turn comes. */
  draft(question: Omit<DraftQuestion, 'from' | 'added'>, isWanted: () => boolean): Promise<DraftAnswer | undefined> {
    const turn = this.#queue.then(() => (isWanted() ? this.#ask(question) : undefined));
    this.#queue = turn.catch(() => undefined);
    return turn;
  }

  close(): void {
    clearTimeout(this.#idle);
    void this.#held?.worker.terminate();
    this.#held = undefined;
  }

  async #ask(question: Omit<DraftQuestion, 'from' | 'added'>): Promise<DraftAnswer> {
    clearTimeout(this.#idle);
    const { aircraftId } = question;
    const held = this.#held ?? { worker: startWorker(), aircraftId: '', headSeq: 0 };
    this.#held = held;
    const from = held.aircraftId === aircraftId ? held.headSeq : 0;
    const added: RecordedText[] = [];
    for await (const { seq, recordedAt, content } of readEntries(this.#db, { aircraftId, afterSeq: from }))
      added.push({ seq, recordedAt, content });
    Object.assign(held, { aircraftId, headSeq: from + added.length });
    try {
      const said = await this.#answer(held.worker, { ...question, from, added });
      if ('fault' in said) throw new Error(said.fault);
      return said.answer;
    } catch (error) {
      this.close();
      throw error;
    } finally {
      this.#idle = setTimeout(() => this.close(), IDLE_MS);
      this.#idle.unref();
    }
  }

  #answer(worker: Worker, question: DraftQuestion): Promise<FromWorker> {
    const { promise, resolve, reject } = Promise.withResolvers<FromWorker>();
    const late = setTimeout(() => reject(new Problem('list-too-large')), this.#mostMs);
    const ended = () => reject(new Error('the thread that reads lists has ended'));
    worker.once('message', resolve).once('error', reject).once('exit', ended).postMessage(question);
    return promise.finally(() => {
      clearTimeout(late);
      worker.off('message', resolve).off('error', reject).off('exit', ended);
    });
  }
}

function startWorker(): Worker {
  const worker = new Worker(new URL('./draft-worker.ts', import.meta.url), { execArgv: [] });
  // Told to whoever waits; where nobody does there is nobody to tell.
  worker.on('error', () => undefined);
  // The server must be able to end while it waits.
  worker.unref();
  return worker;
}
