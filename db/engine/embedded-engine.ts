/**
 * The embedded engine: PGlite, a whole PostgreSQL in this process, on a folder or in memory.
 *
 * One dialect for both engines: Kysely's PostgresDialect over a node-postgres pool of one, which PGlite's own adapter
 * feeds. So errors, parameters and column values look the same to every query.
 *
 * Durability: as delivered, PGlite starts with fsync off, and its Node file layer has no fsync to call. Here it starts
 * with fsync on, and the file layer gets the operation. `wal_sync_method` must be `fsync`: the layer's fdatasync is a
 * stub that answers "done". Checked at every start.
 *
 * Where the engine cannot write its log (a full disk), PostgreSQL ends itself rather than go on, and comes back by its recovery. PGlite then
 * never answers again; so that end is watched for, told, and the engine is started anew on the same folder with the next query.
 */
import { closeSync, fstatSync, fsyncSync } from 'node:fs';
import { PGlite } from '@electric-sql/pglite';
import { createPgConfig } from '@electric-sql/pglite/node-postgres';
import { NodeFS } from '@electric-sql/pglite/nodefs';
import { Kysely, PostgresDialect, type PostgresPool, type PostgresPoolClient, sql } from 'kysely';
import pg from 'pg';
import type { Database } from '#db/database.ts';
import { ensureAppRole, takeOnAppRole } from '#db/engine/app-role.ts';
import { columnParsers } from '#db/engine/column-parsers.ts';
import { ENTRY_CHANNEL, type EntryFeed, type EntryNotice, embeddedFeed } from '#db/engine/entry-feed.ts';
import { outliveErrors } from '#db/engine/outlive-errors.ts';
import { type Opening, readySchema } from '#db/engine/ready-schema.ts';
import { EngineStopped } from '#db/engine/store-trouble.ts';
import { type WatchedEngine, watched } from '#db/engine/watched-engine.ts';

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

/** What whoever keeps the engine's folder wants to be asked and told. */
export type Keeper = {
  /** Looks at the data before anything is done with them; throws where they must not be used. As the owner of the tables. */
  readonly look?: (db: Kysely<Database>) => Promise<void>;
  /** An aircraft's ledger has moved on; called before whoever recorded is answered. */
  readonly noteHead?: (notice: EntryNotice) => void;
  /** The engine was shut down in order: nothing is left to recover. */
  readonly onClosed?: () => Promise<void>;
};

/** Opens PGlite on the folder `path`, or in memory when there is none. The caller holds the folder's lock. */
export async function openEmbedded(
  path: string | undefined,
  opening: Opening = {},
  keeper: Keeper = {},
): Promise<EmbeddedStore> {
  let syncs = 0;
  const onSync = () => {
    syncs += 1;
  };
  const start = () => startEngine(path, onSync);
  const engine = await start();
  let backedUpTo: string | undefined;
  try {
    if (keeper.look !== undefined) await lookWith(keeper.look, engine);
    const ownerDb = new Kysely<unknown>({ dialect: new PostgresDialect({ pool: makePool(engine) }) });
    if (path !== undefined) await assertDurable(ownerDb, () => syncs);
    await ensureAppRole(ownerDb);
    await sql`grant pg_checkpoint to tarebook_app with inherit true`.execute(ownerDb);
    backedUpTo = await readySchema(ownerDb, opening);
    await ownerDb.destroy();
  } catch (error) {
    // What is damaged may not let itself be shut down either.
    if (engine.stopped === undefined) await engine.close().catch(() => undefined);
    throw error;
  }
  const { feed, announce } = embeddedFeed();
  if (keeper.noteHead !== undefined) feed.subscribe(keeper.noteHead);
  const listen = (to: WatchedEngine) => to.listen(ENTRY_CHANNEL, announce);
  await listen(engine);
  const pool = new RevivingPool(engine, async () => {
    // What is in memory is gone with the engine.
    if (path === undefined) throw engine.stopped;
    const revived = await start();
    await listen(revived);
    announce(undefined);
    return revived;
  });
  const db = new Kysely<Database>({ dialect: new PostgresDialect({ pool }) });
  const stopCheckpoints = path === undefined ? () => undefined : keepLogShort(db);
  return {
    db,
    syncCount: () => syncs,
    feed,
    backedUpTo,
    async close() {
      stopCheckpoints();
      await db.destroy();
      if (await pool.closeEngine()) await keeper.onClosed?.();
    },
  };
}

/** The engine itself did not start: its files are damaged, or cannot be read or written. `cause` is its own error. */
export class EngineDidNotStart extends Error {}

async function startEngine(path: string | undefined, onSync: () => void): Promise<WatchedEngine> {
  const started = PGlite.defaultStartParams;
  const fs = path === undefined ? undefined : new SyncingNodeFs(path, onSync);
  try {
    const engine = await PGlite.create(
      fs === undefined
        ? { dataDir: 'memory://', startParams: [...started, ...commonParams], initDbStartParams: initParams }
        : {
            fs,
            startParams: [...started.filter((param) => param !== '-F'), ...commonParams, ...durableParams],
            initDbStartParams: initParams,
          },
    );
    return watched(engine, () => fs?.letGo());
  } catch (error) {
    fs?.letGo();
    throw new EngineDidNotStart('The embedded database did not start.', { cause: error });
  }
}

/**
 * The engine is one session, so the pool has one client, and that client is never dropped for being idle: a new one
 * would be the same session again.
 */
function makePool(engine: WatchedEngine, ready?: (client: pg.ClientBase) => Promise<void>): pg.Pool {
  const pool = new pg.Pool({
    ...createPgConfig(engine.pglite),
    max: 1,
    idleTimeoutMillis: 0,
    types: columnParsers,
    ...(ready === undefined ? {} : { onConnect: ready }),
  });
  outliveErrors(pool);
  return pool;
}

/** Of a start that failed, the next one is tried after so long: those who ask meanwhile are told at once. */
const reviveAgainAfterMs = 2_000;

/** The pool that Kysely works on. Where the engine has stopped, the next who wants a connection has it started again. */
class RevivingPool implements PostgresPool {
  #engine: WatchedEngine;
  #pool: pg.Pool;
  readonly #start: () => Promise<WatchedEngine>;
  #starting: Promise<void> | undefined;
  #failed: { readonly atMs: number; readonly error: unknown } | undefined;

  constructor(engine: WatchedEngine, start: () => Promise<WatchedEngine>) {
    this.#engine = engine;
    this.#pool = makePool(engine, takeOnAppRole);
    this.#start = start;
  }

  get options() {
    return this.#pool.options;
  }

  async connect(): Promise<PostgresPoolClient> {
    if (this.#engine.stopped !== undefined) {
      this.#starting ??= this.#revive().finally(() => {
        this.#starting = undefined;
      });
      await this.#starting;
    }
    return (await this.#pool.connect()) as PostgresPoolClient;
  }

  async #revive(): Promise<void> {
    if (this.#failed !== undefined && performance.now() - this.#failed.atMs < reviveAgainAfterMs)
      throw this.#failed.error;
    try {
      this.#engine = await this.#start();
      this.#pool = makePool(this.#engine, takeOnAppRole);
      this.#failed = undefined;
    } catch {
      this.#failed = { atMs: performance.now(), error: new EngineStopped(this.#engine.stopped) };
      throw this.#failed.error;
    }
  }

  async end(): Promise<void> {
    await this.#starting?.catch(() => undefined);
    await this.#pool.end();
  }

  /** False where the engine has stopped before it could be shut down in order. */
  async closeEngine(): Promise<boolean> {
    if (this.#engine.stopped === undefined) await this.#engine.close();
    return this.#engine.stopped === undefined;
  }
}

async function lookWith(look: (db: Kysely<Database>) => Promise<void>, engine: WatchedEngine): Promise<void> {
  const db = new Kysely<Database>({ dialect: new PostgresDialect({ pool: makePool(engine) }) });
  await look(db);
  await db.destroy();
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
type EngineModule = { NODEFS: NodeFileLayer; FS: { streams: readonly (Partial<NodeStream> | null)[] } };
type NodeFileLayer = { stream_ops: { fsync?: (stream: NodeStream) => number } };

/** Error numbers of the engine's C library. */
const errnoIo = 29;
const errnoInvalid = 28;

/** PGlite's Node file layer with the fsync it lacks. */
class SyncingNodeFs extends NodeFS {
  readonly #onSync: () => void;
  #module: EngineModule | undefined;

  constructor(path: string, onSync: () => void) {
    super(path);
    this.#onSync = onSync;
  }

  override async init(...args: Parameters<NodeFS['init']>): ReturnType<NodeFS['init']> {
    const prepared = await super.init(...args);
    const addFsync = (module: EngineModule) => {
      this.#module = module;
      module.NODEFS.stream_ops.fsync = (stream) => this.#sync(stream);
    };
    return {
      emscriptenOpts: { ...prepared.emscriptenOpts, preRun: [...(prepared.emscriptenOpts.preRun ?? []), addFsync] },
    };
  }

  /** Closes the files of an engine that has ended without doing so. */
  letGo(): void {
    for (const stream of this.#module?.FS.streams ?? []) {
      if (stream?.nfd === undefined) continue;
      try {
        closeSync(stream.nfd);
      } catch {
        // Closed already.
      }
    }
    this.#module = undefined;
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
