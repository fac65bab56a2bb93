/** Makes a backup with the packing and writing in a thread; the rows are read here, where the database is. */
import { Worker } from 'node:worker_threads';
import type { Kysely } from 'kysely';
import { readStore } from '#db/backup/read-store.ts';
import type { Chunk } from '#db/backup/survey.ts';
import type { BackupReport } from '#db/backup/write-backup.ts';
import type { Database } from '#db/database.ts';
import { StoreRefusal } from '#db/engine/store-refusal.ts';
import type { BackupTask, FromBackupWorker, ToBackupWorker } from './backup-worker.ts';

/** Messages that may be under way: reading goes on while the thread packs, and memory stays bounded. */
const MOST_UNDER_WAY = 4;

/** As `makeBackup`, which does it all here. `signal` gives it up; nothing is left behind then. */
export async function makeBackupInThread(
  db: Kysely<Database>,
  { to, at, signal }: { readonly to: string; readonly at: Date; readonly signal: AbortSignal },
): Promise<BackupReport> {
  const task: BackupTask = { to, atMs: at.getTime() };
  const thread = new Packer(
    new Worker(new URL('./backup-worker.ts', import.meta.url), { execArgv: [], workerData: task }),
  );
  try {
    const schema = await readStore(db, async (chunk) => {
      signal.throwIfAborted();
      await thread.put(chunk);
    });
    return await thread.finish(schema);
  } catch (error) {
    await thread.abandon();
    throw error;
  } finally {
    await thread.end();
  }
}

/** The thread as seen from here: every message it is sent is answered by one. */
class Packer {
  readonly #worker: Worker;
  readonly #waiting: { resolve(said: FromBackupWorker): void; reject(error: unknown): void }[] = [];
  readonly #underWay: Promise<unknown>[] = [];

  constructor(worker: Worker) {
    this.#worker = worker;
    const fail = (error: unknown) => {
      for (const { reject } of this.#waiting.splice(0)) reject(error);
    };
    worker
      .on('message', (said: FromBackupWorker) => this.#waiting.shift()?.resolve(said))
      .once('error', fail)
      .once('exit', () => fail(new Error('the thread that writes backups has ended')));
  }

  async put(chunk: Chunk): Promise<void> {
    const answered = this.#ask(chunk);
    // Met when it is waited for; until then it is nobody's.
    answered.catch(() => undefined);
    this.#underWay.push(answered);
    if (this.#underWay.length >= MOST_UNDER_WAY) await this.#underWay.shift();
  }

  async finish(schema: readonly string[]): Promise<BackupReport> {
    for (const answered of this.#underWay.splice(0)) await answered;
    const said = await this.#ask({ schema });
    if (typeof said === 'string' || !('report' in said)) throw new Error('the thread did not report');
    return said.report;
  }

  async abandon(): Promise<void> {
    await this.#ask('abandon').catch(() => undefined);
  }

  async end(): Promise<void> {
    await this.#worker.terminate();
  }

  async #ask(message: ToBackupWorker): Promise<FromBackupWorker> {
    const { promise, resolve, reject } = Promise.withResolvers<FromBackupWorker>();
    this.#waiting.push({ resolve, reject });
    this.#worker.postMessage(message);
    const said = await promise;
    if (typeof said === 'string') return said;
    if ('fault' in said) throw new Error(said.fault);
    if ('refusal' in said) throw new StoreRefusal(said.refusal);
    return said;
  }
}
