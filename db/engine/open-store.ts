/**
 * Opens a store: the one door to the data. Picks the engine, migrates, and hands out a Kysely that works as the app's
 * role, which may read, add aircraft, and append entries (L1).
 *
 * Knows no command line and prints nothing; a first start of a folder takes some seconds, which the caller should show.
 */
import { resolve } from 'node:path';
import type { Kysely } from 'kysely';
import type { Database } from '#db/database.ts';
import { admitFolder, markReady, prepareFolder } from '#db/engine/data-folder.ts';
import { type EmbeddedStore, EngineDidNotStart, openEmbedded } from '#db/engine/embedded-engine.ts';
import type { EntryFeed } from '#db/engine/entry-feed.ts';
import { lockFolder } from '#db/engine/folder-lock.ts';
import { openPostgres } from '#db/engine/postgres-engine.ts';
import type { Opening } from '#db/engine/ready-schema.ts';
import { StoreRefusal } from '#db/engine/store-refusal.ts';

export type StorePlace = { kind: 'folder'; path: string } | { kind: 'memory' } | { kind: 'postgres'; url: string };

/** Connections to the database at this moment. */
export type PoolUse = { readonly total: number; readonly idle: number; readonly waiting: number };

export type Store = {
  db: Kysely<Database>;
  engine: StorePlace['kind'];
  /** Tells of new entries, whichever process recorded them. */
  feed: EntryFeed;
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
  return { db, engine: where.kind, feed, poolUse, backedUpTo, close: once(close) };
}

/** The folder engine with its sync counter; apart from `openStore` so that a test can read the counter. */
export async function openFolder(path: string, opening: Opening = {}): Promise<EmbeddedStore> {
  await admitFolder(path);
  const lock = await lockFolder(path);
  try {
    // Looked at again under the lock: another process may have begun to write between the two.
    await admitFolder(path);
    const { enginePath, fresh } = await prepareFolder(path);
    const opened = await startEngine(path, enginePath, opening);
    if (fresh) await markReady(path);
    return {
      ...opened,
      async close() {
        await opened.close();
        await lock.release();
      },
    };
  } catch (error) {
    await lock.release();
    throw error;
  }
}

async function startEngine(path: string, enginePath: string, opening: Opening): Promise<EmbeddedStore> {
  try {
    return await openEmbedded(enginePath, opening);
  } catch (error) {
    // The engine aborts without a word that a person could use.
    if (error instanceof EngineDidNotStart) {
      throw new StoreRefusal({
        code: 'folder-damaged',
        words: `The embedded database does not start on the data in ${path}: it is damaged, or its disk is full.`,
        remedy: 'Keep a copy of the folder, and restore the last backup into a new one.',
        cause: error,
      });
    }
    throw error;
  }
}

function once(close: () => Promise<void>): () => Promise<void> {
  let closing: Promise<void> | undefined;
  return () => {
    closing ??= close();
    return closing;
  };
}
