/** Has photos made anew, one after the other, and ends what takes longer than any honest one does. */
import { Worker } from 'node:worker_threads';
import { Problem } from '#api/problem/problem.ts';
import type { FromRemakeWorker } from './remake-worker.ts';

const MOST_MS = 60_000;
/** How many wait at once; more would hold as many photos in memory. */
const MOST_WAITING = 8;

export class PhotoWork {
  #queue: Promise<unknown> = Promise.resolve();
  #waiting = 0;
  #worker: Worker | undefined;

  async remake(bytes: Uint8Array): Promise<FromRemakeWorker> {
    if (this.#waiting >= MOST_WAITING) throw new Problem('photos-busy', { retryAfterS: 5 });
    this.#waiting += 1;
    const turn = this.#queue
      .then(() => this.#run(bytes))
      .finally(() => {
        this.#waiting -= 1;
      });
    this.#queue = turn.catch(() => undefined);
    return turn;
  }

  close(): void {
    void this.#worker?.terminate();
  }

  async #run(bytes: Uint8Array): Promise<FromRemakeWorker> {
    const { promise, resolve } = Promise.withResolvers<FromRemakeWorker>();
    const worker = new Worker(new URL('./remake-worker.ts', import.meta.url), {
      execArgv: [],
      resourceLimits: { maxOldGenerationSizeMb: 512 },
    });
    this.#worker = worker;
    // A codec that breaks off or never ends has been sent something that is no photo.
    const broken = () => resolve({ refused: 'photo-unreadable' });
    const late = setTimeout(broken, MOST_MS);
    worker.once('message', resolve).once('error', broken).once('exit', broken).postMessage(bytes);
    try {
      return await promise;
    } finally {
      clearTimeout(late);
      this.#worker = undefined;
      await worker.terminate();
    }
  }
}
