/**
 * The thread in which aircraft are packed and unpacked: a long ledger takes seconds, and the server answers everybody else meanwhile. It ends
 * with its one task.
 */
import { parentPort } from 'node:worker_threads';
import type { Answer, ReadArchive } from '#db/archive/archive.ts';
import { readArchive } from '#db/archive/read-archive.ts';
import { type WriteRequest, writeArchive } from '#db/archive/write-archive.ts';
import { unzipArchive, zipArchive } from '#db/archive/zip.ts';

export type PackTask = { readonly pack: WriteRequest };
export type UnpackTask = { readonly unpack: Uint8Array; readonly today: string };
export type ArchiveTask = PackTask | UnpackTask;
export type Packed = Answer<Uint8Array>;
export type Unpacked = Answer<ReadArchive>;
export type FromArchiveWorker = { readonly answer: Packed | Unpacked } | { readonly fault: string };

parentPort?.once('message', (task: ArchiveTask) => parentPort?.postMessage(answerTo(task)));

function answerTo(task: ArchiveTask): FromArchiveWorker {
  try {
    return { answer: 'pack' in task ? pack(task) : unpack(task) };
  } catch (error) {
    return { fault: error instanceof Error ? (error.stack ?? error.message) : String(error) };
  }
}

function pack({ pack: request }: PackTask): Packed {
  const files = writeArchive(request);
  return files.ok ? { ok: true, value: zipArchive(files.value, new Date(request.exportedAt)) } : files;
}

function unpack({ unpack: bytes, today }: UnpackTask): Unpacked {
  const files = unzipArchive(bytes);
  return files.ok ? readArchive(files.value, { today }) : files;
}
