/**
 * Opens a store: the one door to the data. Picks the engine, migrates, and hands out a Kysely that works as the app's
 * role, which may read, add aircraft, and append entries (L1).
 *
 * Knows no command line and prints nothing; a first start of a folder takes some seconds, which the caller should show.
 */
import type { Kysely } from 'kysely';
import type { Database } from '#db/database.ts';
import { admitFolder, markReady, prepareFolder } from '#db/engine/data-folder.ts';
import { type EmbeddedStore, EngineDidNotStart, openEmbedded } from '#db/engine/embedded-engine.ts';
import type { EntryFeed } from '#db/engine/entry-feed.ts';
import { lockFolder } from '#db/engine/folder-lock.ts';
import { openPostgres } from '#db/engine/postgres-engine.ts';
import { StoreRefusal } from '#db/engine/store-refusal.ts';

export type StorePlace = { kind: 'folder'; path: string } | { kind: 'memory' } | { kind: 'postgres'; url: string };

export type Store = {
  db: Kysely<Database>;
  engine: StorePlace['kind'];
  /** Tells of new entries, whichever process recorded them. */
  feed: EntryFeed;
  /** Waits for running queries, stops the engine, frees the folder. May be called more than once. */
  close(): Promise<void>;
};

/** Opens the store at `where`. Throws `StoreRefusal` when the person who started the program has to do something. */
export async function openStore(where: StorePlace): Promise<Store> {
  switch (where.kind) {
    case 'folder': {
      const opened = await openFolder(where.path);
      return { db: opened.db, engine: 'folder', feed: opened.feed, close: once(opened.close) };
    }
    case 'memory': {
      const opened = await openEmbedded(undefined);
      return { db: opened.db, engine: 'memory', feed: opened.feed, close: once(opened.close) };
    }
    case 'postgres': {
      const opened = await openPostgres(where.url);
      return { db: opened.db, engine: 'postgres', feed: opened.feed, close: once(opened.close) };
    }
  }
}

/** The folder engine with its sync counter; apart from `openStore` so that a test can read the counter. */
export async function openFolder(path: string): Promise<EmbeddedStore> {
  await admitFolder(path);
  const lock = await lockFolder(path);
  try {
    // Looked at again under the lock: another process may have begun to write between the two.
    await admitFolder(path);
    const { enginePath, fresh } = await prepareFolder(path);
    const opened = await startEngine(path, enginePath);
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

async function startEngine(path: string, enginePath: string): Promise<EmbeddedStore> {
  try {
    return await openEmbedded(enginePath);
  } catch (error) {
    // The engine aborts without a word that a person could use.
    if (error instanceof EngineDidNotStart) {
      throw new StoreRefusal({
        code: 'folder-damaged',
        words: `The embedded database does not start on the data in ${path}: it is damaged, or its disk is full.`,
        remedy: 'Keep a copy of the folder, and restore the last export into a new one.',
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
