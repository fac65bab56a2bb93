/**
 * The embedded engine: PGlite, a whole PostgreSQL in this process, on a folder or in memory.
 *
 * One dialect for both engines: Kysely's PostgresDialect over a node-postgres pool of one, which PGlite's own adapter
 * feeds. So errors, parameters and column values look the same to every query.
 *
 * Durability: as delivered, PGlite starts with fsync off, and its Node file layer has no fsync to call. Here it starts
 * with fsync on, and the file layer gets the operation. `wal_sync_method` must be `fsync`: the layer's fdatasync is a
 * stub that answers "done". Checked at every start.
 */
import { fstatSync, fsyncSync } from 'node:fs';
import { PGlite } from '@electric-sql/pglite';
import { createPgConfig } from '@electric-sql/pglite/node-postgres';
import { NodeFS } from '@electric-sql/pglite/nodefs';
import { Kysely, PostgresDialect, sql } from 'kysely';
import pg from 'pg';
import type { Database } from '#db/database.ts';
import { ensureAppRole, takeOnAppRole } from '#db/engine/app-role.ts';
import { columnParsers } from '#db/engine/column-parsers.ts';
import { ENTRY_CHANNEL, type EntryFeed, embeddedFeed } from '#db/engine/entry-feed.ts';
import { type Opening, readySchema } from '#db/engine/ready-schema.ts';

/** Start parameters of a durable engine; 16 MB of buffers instead of 128 keep the process small. */
const commonParams = ['-c', 'shared_buffers=16MB', '-c', 'max_wal_size=128MB', '-c', 'min_wal_size=32MB'];
const durableParams = ['-c', 'fsync=on', '-c', 'wal_sync_method=fsync', '-c', 'full_page_writes=on'];
/** Collation C: the same order as on PostgreSQL, and none that a library update could change under an index. */
const initParams = ['--locale-provider=libc', '--locale=C', '--encoding=UTF8'];

/** A lone PostgreSQL process has no checkpointer: without this its log would grow until the program stops. */
const checkpointCheckEveryMs = 30_000;
const checkpointAfterWalBytes = 64 * 1024 * 1024;

export type EmbeddedStore = {
  db: Kysely<Database>;
  /** How often a file or folder was brought to the disk since the start; for tests. */
  syncCount(): number;
  feed: EntryFeed;
  /** The backup that was made before the schema was moved forward. */
  backedUpTo: string | undefined;
  close(): Promise<void>;
};

/** Opens PGlite on the folder `path`, or in memory when there is none. The caller holds the folder's lock. */
export async function openEmbedded(path: string | undefined, opening: Opening = {}): Promise<EmbeddedStore> {
  let syncs = 0;
  const onSync = () => {
    syncs += 1;
  };
  const engine = await startEngine(path, onSync);
  let backedUpTo: string | undefined;
  try {
    const ownerDb = new Kysely<unknown>({ dialect: new PostgresDialect({ pool: makePool(engine) }) });
    if (path !== undefined) await assertDurable(ownerDb, () => syncs);
    await ensureAppRole(ownerDb);
    await sql`grant pg_checkpoint to tarebook_app with inherit true`.execute(ownerDb);
    backedUpTo = await readySchema(ownerDb, opening);
    await ownerDb.destroy();
  } catch (error) {
    await engine.close();
    throw error;
  }
  const db = new Kysely<Database>({
    dialect: new PostgresDialect({ pool: makePool(engine), onCreateConnection: takeOnAppRole }),
  });
  const { feed, announce } = embeddedFeed();
  await engine.listen(ENTRY_CHANNEL, announce);
  const stopCheckpoints = path === undefined ? () => undefined : keepLogShort(db);
  return {
    db,
    syncCount: () => syncs,
    feed,
    backedUpTo,
    async close() {
      stopCheckpoints();
      await db.destroy();
      await engine.close();
    },
  };
}

/** The engine itself did not start: its files are damaged, or cannot be read or written. `cause` is its own error. */
export class EngineDidNotStart extends Error {}

async function startEngine(path: string | undefined, onSync: () => void): Promise<PGlite> {
  const started = PGlite.defaultStartParams;
  try {
    return await PGlite.create(
      path === undefined
        ? { dataDir: 'memory://', startParams: [...started, ...commonParams], initDbStartParams: initParams }
        : {
            fs: new SyncingNodeFs(path, onSync),
            startParams: [...started.filter((param) => param !== '-F'), ...commonParams, ...durableParams],
            initDbStartParams: initParams,
          },
    );
  } catch (error) {
    throw new EngineDidNotStart('The embedded database did not start.', { cause: error });
  }
}

/**
 * The engine is one session, so the pool has one client, and that client is never dropped for being idle: a new one
 * would be the same session again.
 */
function makePool(engine: PGlite): pg.Pool {
  const pool = new pg.Pool({ ...createPgConfig(engine), max: 1, idleTimeoutMillis: 0, types: columnParsers });
  pool.on('error', () => undefined);
  return pool;
}

/** A bug if it fails: a new version of the engine would have changed how it is started or how it reaches the disk. */
async function assertDurable(db: Kysely<unknown>, syncCount: () => number): Promise<void> {
  const found = await sql<{ fsync: string; method: string; commit: string }>`
    select current_setting('fsync') as fsync, current_setting('wal_sync_method') as method,
      current_setting('synchronous_commit') as commit`.execute(db);
  const setting = found.rows[0];
  if (setting?.fsync !== 'on' || setting.method !== 'fsync' || setting.commit !== 'on') {
    throw new Error(`The embedded engine would not keep commits through a power cut: ${JSON.stringify(setting)}`);
  }
  // A start writes the control file, so a wired fsync has been called by now.
  if (syncCount() === 0) throw new Error('The embedded engine started without bringing anything to the disk.');
}

function keepLogShort(db: Kysely<Database>): () => void {
  const timer = setInterval(() => {
    // Closing, or out of disk: the next query of the app reports it, with someone there to be told.
    checkpointIfDue(db, checkpointAfterWalBytes).catch(() => undefined);
  }, checkpointCheckEveryMs);
  timer.unref();
  return () => clearInterval(timer);
}

/** Checkpoints when the log has grown by more than `afterBytes` since the last one; answers whether it did. */
export async function checkpointIfDue(db: Kysely<Database>, afterBytes: number): Promise<boolean> {
  const grown = await sql<{ bytes: number }>`
    select (pg_current_wal_lsn() - redo_lsn)::double precision as bytes from pg_control_checkpoint()`.execute(db);
  if ((grown.rows[0]?.bytes ?? 0) <= afterBytes) return false;
  await sql`checkpoint`.execute(db);
  return true;
}

type NodeStream = { nfd: number };
type NodeFileLayer = { stream_ops: { fsync?: (stream: NodeStream) => number } };

/** Error numbers of the engine's C library. */
const errnoIo = 29;
const errnoInvalid = 28;

/** PGlite's Node file layer with the fsync it lacks. */
class SyncingNodeFs extends NodeFS {
  readonly #onSync: () => void;

  constructor(path: string, onSync: () => void) {
    super(path);
    this.#onSync = onSync;
  }

  override async init(...args: Parameters<NodeFS['init']>): ReturnType<NodeFS['init']> {
    const prepared = await super.init(...args);
    const addFsync = (module: { NODEFS: NodeFileLayer }) => {
      module.NODEFS.stream_ops.fsync = (stream) => this.#sync(stream);
    };
    return {
      emscriptenOpts: { ...prepared.emscriptenOpts, preRun: [...(prepared.emscriptenOpts.preRun ?? []), addFsync] },
    };
  }

  #sync(stream: NodeStream): number {
    try {
      fsyncSync(stream.nfd);
      this.#onSync();
      return 0;
    } catch (error) {
      // Some systems cannot sync a folder; the engine expects "invalid" for that. Anything else must stop it.
      const folder = isFolder(stream.nfd);
      if (folder && error instanceof Error && 'code' in error && error.code === 'EINVAL') return errnoInvalid;
      return errnoIo;
    }
  }
}

function isFolder(descriptor: number): boolean {
  try {
    return fstatSync(descriptor).isDirectory();
  } catch {
    return false;
  }
}
