/** Has aircraft packed and unpacked, one after the other, and ends what takes longer than any honest one does. */
import { Worker } from 'node:worker_threads';
import { Problem } from '#api/problem/problem.ts';
import type { ArchiveTask, FromArchiveWorker, Packed, PackTask, Unpacked, UnpackTask } from './archive-worker.ts';

const MOST_MS = 180_000;
/** Of a thread that unpacks what somebody has sent; beyond it the thread ends, and the server does not. */
const MOST_MEMORY_MB = 2_048;

export class ArchiveWork {
  readonly #mostMs: number;
  #queue: Promise<unknown> = Promise.resolve();
  #worker: Worker | undefined;

  constructor(mostMs = MOST_MS) {
    this.#mostMs = mostMs;
  }

  pack(task: PackTask): Promise<Packed> {
    return this.#inTurn(task) as Promise<Packed>;
  }

  unpack(task: UnpackTask): Promise<Unpacked> {
    return this.#inTurn(task) as Promise<Unpacked>;
  }

  close(): void {
    void this.#worker?.terminate();
  }

  #inTurn(task: ArchiveTask): Promise<Packed | Unpacked> {
    const turn = this.#queue.then(() => this.#run(task));
    this.#queue = turn.catch(() => undefined);
    return turn;
  }

  async #run(task: ArchiveTask): Promise<Packed | Unpacked> {
    const { promise, resolve, reject } = Promise.withResolvers<FromArchiveWorker>();
    const worker = new Worker(new URL('./archive-worker.ts', import.meta.url), {
      execArgv: [],
      resourceLimits: { maxOldGenerationSizeMb: MOST_MEMORY_MB },
    });
    this.#worker = worker;
    const late = setTimeout(() => reject(new Problem('archive-too-large')), this.#mostMs);
    worker
      .once('message', resolve)
      .once('error', (error: NodeJS.ErrnoException) =>
        reject(error.code === 'ERR_WORKER_OUT_OF_MEMORY' ? new Problem('archive-too-large') : error),
      )
      .once('exit', () => reject(new Error('the thread that packs aircraft has ended')))
      .postMessage(task);
    try {
      const said = await promise;
      if ('fault' in said) throw new Error(said.fault);
      return said.answer;
    } finally {
      clearTimeout(late);
      this.#worker = undefined;
      await worker.terminate();
    }
  }
}
