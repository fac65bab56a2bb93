/**
 * Writes a backup (rule Z1). It has its name once it is whole and on the disk, and nothing is written over; until then its file ends in
 * `.part`. Works without waiting for anything, so that a server does it in a thread of its own.
 */
import { createHash } from 'node:crypto';
import { closeSync, existsSync, fsyncSync, mkdirSync, openSync, renameSync, rmSync, writeSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { gzipSync } from 'node:zlib';
import { VERSION } from '#db/archive/version.ts';
import { sha256Of } from '#db/archive/write-archive.ts';
import { StoreRefusal } from '#db/engine/store-refusal.ts';
import { say } from '#shared/words/say.ts';
import {
  ABOUT,
  ABOUT_TEXT,
  type AircraftFacts,
  BACKUP_FORMAT,
  LEFT_OUT,
  MANIFEST,
  type Manifest,
  manifestText,
  rowsMember,
} from './manifest.ts';
import { ChainBroken, type Chunk, Surveyor } from './survey.ts';
import { TAR_END, tarHeader, tarPadding } from './tar.ts';

/** Twice as fast as the usual 6 and a tenth larger: on the embedded database others wait meanwhile. */
const GZIP_LEVEL = 3;

export type BackupReport = {
  readonly path: string;
  readonly bytes: number;
  /** Of the whole file. */
  readonly sha256: string;
  readonly madeAt: string;
  readonly schema: readonly string[];
  readonly rows: Readonly<Record<string, number>>;
  readonly aircraft: readonly AircraftFacts[];
};

export class BackupWriter {
  readonly #path: string;
  readonly #part: string;
  readonly #at: Date;
  readonly #fd: number;
  readonly #hash = createHash('sha256');
  readonly #surveyor = new Surveyor();
  readonly #members: Manifest['members'] = [];
  readonly #counts = new Map<string, number>();
  #bytes = 0;

  /** Throws `StoreRefusal`, as every method does, where the file is there already or cannot be written. */
  constructor(path: string, at: Date) {
    this.#path = resolve(path);
    this.#part = `${this.#path}.part`;
    this.#at = at;
    if (existsSync(this.#path)) throw taken(path);
    this.#fd = this.#trying(() => {
      mkdirSync(dirname(this.#path), { recursive: true, mode: 0o700 });
      rmSync(this.#part, { force: true });
      return openSync(this.#part, 'wx', 0o600);
    });
    this.#trying(() => this.#member(ABOUT, Buffer.from(ABOUT_TEXT)));
  }

  add(chunk: Chunk): void {
    this.#trying(() => {
      this.#surveyor.add(chunk);
      if (chunk.lines.length === 0) return;
      const at = (this.#counts.get(chunk.table) ?? 0) + 1;
      this.#counts.set(chunk.table, at);
      this.#member(rowsMember(chunk.table, at), gzipSync(`${chunk.lines.join('\n')}\n`, { level: GZIP_LEVEL }));
    });
  }

  finish(schema: readonly string[]): BackupReport {
    return this.#trying(() => {
      const survey = this.#surveyor.finish();
      const madeAt = this.#at.toISOString();
      const manifest = {
        format: BACKUP_FORMAT,
        ...{ version: VERSION, schema: [...schema], madeAt, leftOut: LEFT_OUT, members: this.#members },
        ...{ tables: [...survey.tables], aircraft: [...survey.aircraft] },
      } satisfies Omit<Manifest, 'check'>;
      this.#member(MANIFEST, Buffer.from(manifestText(manifest)));
      this.#write(TAR_END);
      fsyncSync(this.#fd);
      closeSync(this.#fd);
      if (existsSync(this.#path)) throw taken(this.#path);
      renameSync(this.#part, this.#path);
      syncFolder(dirname(this.#path));
      return {
        ...{ path: this.#path, bytes: this.#bytes, sha256: this.#hash.digest('hex'), madeAt, schema },
        rows: Object.fromEntries(survey.tables.map(({ name, rows }) => [name, rows])),
        aircraft: survey.aircraft,
      };
    });
  }

  /** Leaves nothing behind. */
  abandon(): void {
    try {
      closeSync(this.#fd);
    } catch {
      // It was closed already.
    }
    rmSync(this.#part, { force: true });
  }

  #member(name: string, bytes: Uint8Array): void {
    if (name !== MANIFEST) this.#members.push({ name, bytes: bytes.length, sha256: sha256Of(bytes) });
    this.#write(tarHeader({ name, bytes: bytes.length, atS: Math.floor(this.#at.getTime() / 1000) }));
    this.#write(bytes);
    this.#write(new Uint8Array(tarPadding(bytes.length)));
  }

  #write(bytes: Uint8Array): void {
    for (let done = 0; done < bytes.length; ) done += writeSync(this.#fd, bytes, done);
    this.#hash.update(bytes);
    this.#bytes += bytes.length;
  }

  #trying<Answer>(work: () => Answer): Answer {
    try {
      return work();
    } catch (error) {
      throw asRefusal(error, this.#path);
    }
  }
}

function asRefusal(error: unknown, path: string): unknown {
  if (error instanceof ChainBroken)
    return new StoreRefusal({
      code: 'backup-chain-broken',
      words: say`No backup was made: the ledger of ${error.aircraft} does not fit at entry ${error.seq}.`,
      remedy: say`Keep a copy of the data as they are, look with the command verify, and restore the last backup elsewhere.`,
    });
  const why = error instanceof Error && 'code' in error && 'syscall' in error ? String(error.code) : undefined;
  if (why === undefined) return error;
  return new StoreRefusal({
    code: 'backup-not-written',
    words: say`The backup ${path} cannot be written (${why}).`,
    remedy: say`Check that its folder is there, that you may write in it, and that the disk has room.`,
  });
}

function taken(path: string): StoreRefusal {
  return new StoreRefusal({
    code: 'backup-place-taken',
    words: say`${path} is there already.`,
    remedy: say`Name another file, or move that one away: nothing is written over.`,
  });
}

/** Brings the file's new name to the disk; Windows cannot open a folder, and needs no sync of one. */
function syncFolder(path: string): void {
  if (process.platform === 'win32') return;
  const fd = openSync(path, 'r');
  try {
    fsyncSync(fd);
  } finally {
    closeSync(fd);
  }
}
