/**
 * Opens a store: the one door to the data. Picks the engine, migrates, and hands out a Kysely that works as the app's
 * role, which may read, add aircraft, and append entries (L1).
 *
 * Knows no command line and prints nothing; a first start of a folder takes some seconds, which the caller should show.
 */
import { existsSync, statfsSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type { Kysely } from 'kysely';
import type { Database } from '#db/database.ts';
import { AcknowledgedHeads } from '#db/engine/acknowledged-heads.ts';
import { admitFolder, markReady, mustBeWritable, prepareFolder } from '#db/engine/data-folder.ts';
import { type EmbeddedStore, EngineDidNotStart, type Keeper, openEmbedded } from '#db/engine/embedded-engine.ts';
import type { EntryFeed } from '#db/engine/entry-feed.ts';
import { lockFolder } from '#db/engine/folder-lock.ts';
import { recheck } from '#db/engine/folder-recheck.ts';
import { breakSeal, sealFolder } from '#db/engine/folder-seal.ts';
import { openPostgres } from '#db/engine/postgres-engine.ts';
import type { ReadCopy } from '#db/engine/read-copy.ts';
import type { Opening } from '#db/engine/ready-schema.ts';
import { sqlState } from '#db/engine/sql-state.ts';
import { StoreRefusal } from '#db/engine/store-refusal.ts';
import { storeTrouble } from '#db/engine/store-trouble.ts';
import { say } from '#shared/words/say.ts';

export type StorePlace = { kind: 'folder'; path: string } | { kind: 'memory' } | { kind: 'postgres'; url: string };

/** Connections to the database at this moment. */
export type PoolUse = { readonly total: number; readonly idle: number; readonly waiting: number };

export type Store = {
  db: Kysely<Database>;
  engine: StorePlace['kind'];
  /** Tells of new entries, whichever process recorded them. */
  feed: EntryFeed;
  /** To be read in bulk in the database's stead, where there is one. */
  copy?: ReadCopy | undefined;
  /** Undefined with the embedded engine, which has one connection and never another. */
  poolUse: (() => PoolUse) | undefined;
  /** The backup that was made before the data were moved forward to this version's schema, where they were. */
  backedUpTo: string | undefined;
  /** Waits for running queries, stops the engine, frees the folder. May be called more than once. */
  close(): Promise<void>;
};

/**
 * Where backups of a store are kept, unless it is said: beside the data folder, never in it. With a PostgreSQL server, here.
 * None in memory.
 */
export function usualBackupFolder(where: StorePlace): string | undefined {
  if (where.kind === 'folder') return `${resolve(where.path)}-backups`;
  return where.kind === 'postgres' ? 'tarebook-backups' : undefined;
}

/**
 * Opens the store at `where`, moved forward to the newest schema unless `opening` says otherwise; of data that are moved forward a backup is
 * made first. Throws `StoreRefusal` when the person who started the program has to do something.
 */
export async function openStore(where: StorePlace, opening: Opening = {}): Promise<Store> {
  const whole = { backups: usualBackupFolder(where), ...opening };
  const opened =
    where.kind === 'postgres'
      ? await openPostgres(where.url, whole)
      : where.kind === 'folder'
        ? await openFolder(where.path, whole)
        : await openEmbedded(undefined, whole);
  const { db, feed, backedUpTo, close } = opened;
  const poolUse = 'poolUse' in opened ? opened.poolUse : undefined;
  const copy = 'copy' in opened ? opened.copy : undefined;
  return { db, engine: where.kind, feed, copy, poolUse, backedUpTo, close: once(close) };
}

/** The folder engine with its sync counter; apart from `openStore` so that a test can read the counter. */
export async function openFolder(path: string, opening: Opening = {}): Promise<EmbeddedStore> {
  try {
    return await openLocked(path, opening);
  } catch (error) {
    throw storeTrouble(error) === 'disk full' ? diskFull(path, error) : error;
  }
}

async function openLocked(path: string, opening: Opening): Promise<EmbeddedStore> {
  await admitFolder(path);
  const lock = await lockFolder(path);
  const acknowledged = new AcknowledgedHeads(path);
  const letGo = async () => {
    acknowledged.close();
    await lock.release();
  };
  try {
    // Looked at again under the lock: another process may have begun to write between the two.
    await admitFolder(path);
    const { enginePath, fresh } = await prepareFolder(path);
    if (!fresh) {
      mustBeWritable(path);
      mustHaveEngine(path, enginePath);
    }
    const seal = fresh ? 'whole' : await breakSeal(path, enginePath);
    if (typeof seal === 'object') throw damaged(path, seal.fault);
    const opened = await startEngine(path, enginePath, opening, {
      noteHead: acknowledged.note,
      onClosed: () => sealFolder(path, enginePath),
      ...(seal === 'whole' ? {} : { look: (db) => lookThrough(db, path, acknowledged.heads) }),
    });
    if (fresh) await markReady(path);
    return {
      ...opened,
      async close() {
        await opened.close().finally(letGo);
      },
    };
  } catch (error) {
    await letGo();
    throw error;
  }
}

/** The engine would set itself up anew, and empty, where its files are gone. */
function mustHaveEngine(path: string, enginePath: string): void {
  for (const name of ['PG_VERSION', 'global/pg_control'])
    if (!existsSync(join(enginePath, name))) throw damaged(path, say`the file ${name} is missing`);
}

async function lookThrough(db: Kysely<Database>, path: string, heads: ReadonlyMap<string, number>): Promise<void> {
  const fault = await recheck(db, heads);
  if (fault !== undefined) throw damaged(path, fault);
}

async function startEngine(path: string, enginePath: string, opening: Opening, keeper: Keeper): Promise<EmbeddedStore> {
  try {
    return await openEmbedded(enginePath, opening, keeper);
  } catch (error) {
    // Said already, as of a backup that could not be made before an upgrade.
    if (error instanceof StoreRefusal) throw error;
    // The engine aborts without a word that a person could use.
    if (error instanceof EngineDidNotStart) {
      if (freeBytes(path) < neededBytes) throw diskFull(path, error);
      throw new StoreRefusal({
        code: 'folder-damaged',
        words: say`The embedded database does not start on the data in ${path}: they are damaged.`,
        remedy: howToRestore,
        cause: error,
      });
    }
    if (storeTrouble(error) === undefined && error instanceof Error && sqlState(error) !== '')
      throw damaged(path, error.message, error);
    throw error;
  }
}

/** Two files of the engine's log. */
const neededBytes = 32 * 1024 * 1024;

function freeBytes(path: string): number {
  const { bavail, bsize } = statfsSync(path);
  return bavail * bsize;
}

const howToRestore = say`Keep a copy of the folder as it is. Then restore the last backup into a new one: tarebook restore --help says how.`;

function damaged(path: string, fault: string, cause?: unknown): StoreRefusal {
  return new StoreRefusal({
    code: 'folder-damaged',
    words: say`The data in ${path} are damaged: ${fault}.`,
    remedy: howToRestore,
    cause,
  });
}

function diskFull(path: string, cause: unknown): StoreRefusal {
  return new StoreRefusal({
    code: 'disk-full',
    words: say`The disk of ${path} is full.`,
    remedy: say`Make room on it, then start again. Nothing that was acknowledged is lost.`,
    cause,
  });
}

function once(close: () => Promise<void>): () => Promise<void> {
  let closing: Promise<void> | undefined;
  return () => {
    closing ??= close();
    return closing;
  };
}
