/**
 * The thread that packs and writes a backup: a large one takes many seconds, and the server answers everybody else meanwhile. It takes the rows
 * as they were read, one message after the other, and ends with its one file.
 */
import { parentPort, workerData } from 'node:worker_threads';
import type { Chunk } from '#db/backup/survey.ts';
import { type BackupReport, BackupWriter } from '#db/backup/write-backup.ts';
import { StoreRefusal, type StoreRefusalCode } from '#db/engine/store-refusal.ts';

export type BackupTask = { readonly to: string; readonly atMs: number };
export type ToBackupWorker = Chunk | { readonly schema: readonly string[] } | 'abandon';
export type FromBackupWorker =
  | 'taken'
  | 'abandoned'
  | { readonly report: BackupReport }
  | { readonly refusal: { readonly code: StoreRefusalCode; readonly words: string; readonly remedy: string } }
  | { readonly fault: string };

const { to, atMs } = workerData as BackupTask;
let writer: BackupWriter | undefined;

function answerTo(message: ToBackupWorker): FromBackupWorker {
  try {
    if (message === 'abandon') {
      writer?.abandon();
      return 'abandoned';
    }
    writer ??= new BackupWriter(to, new Date(atMs));
    if ('schema' in message) return { report: writer.finish(message.schema) };
    writer.add(message);
    return 'taken';
  } catch (error) {
    writer?.abandon();
    if (error instanceof StoreRefusal)
      return { refusal: { code: error.code, words: error.words, remedy: error.remedy } };
    return { fault: error instanceof Error ? (error.stack ?? error.message) : String(error) };
  }
}

parentPort?.on('message', (message: ToBackupWorker) => parentPort?.postMessage(answerTo(message)));
