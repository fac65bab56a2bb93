/**
 * The same tests on both engines: `describeOnBothEngines` runs a block once on the embedded engine in a folder of its
 * own and once on a database of its own on the test server. Migrated once per block; a test makes its own aircraft.
 */
import { randomBytes, randomUUID } from 'node:crypto';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { type Kysely, sql, type Transaction } from 'kysely';
import pg from 'pg';
import { afterAll, beforeAll, describe, inject } from 'vitest';
import type { Database } from '#db/database.ts';
import { openStore, type Store, type StorePlace } from '#db/engine/open-store.ts';
import { createAircraft } from '#db/ledger/create-aircraft.ts';
import { readyFolder } from './ready-folder.ts';

export type TestEngine = {
  kind: 'folder' | 'postgres';
  /** The opened store; only inside tests and hooks. */
  store(): Store;
  db(): Kysely<Database>;
  place(): StorePlace;
  /** A new aircraft with an empty ledger; answers its id. */
  aircraft(): Promise<string>;
  /** Runs `work` with the rights of the tables' owner, as someone behind the app's back would. */
  asOwner<T>(work: (tx: Transaction<Database>) => Promise<T>): Promise<T>;
};

export function describeOnBothEngines(name: string, body: (engine: TestEngine) => void): void {
  for (const kind of ['folder', 'postgres'] as const) {
    describe(`${name} (${kind})`, () => {
      let place: StorePlace | undefined;
      let store: Store | undefined;
      beforeAll(async () => {
        place = kind === 'folder' ? { kind, path: await startedFolder() } : { kind, url: await makeDatabase() };
        store = await openStore(place);
      });
      afterAll(async () => {
        await store?.close();
        if (place !== undefined) await removePlace(place);
      });
      const opened = () => given(store);
      body({
        kind,
        store: opened,
        db: () => opened().db,
        place: () => given(place),
        aircraft: () => makeAircraft(opened().db),
        asOwner: (work) => asOwner(opened().db, work),
      });
    });
  }
}

/** A folder that does not exist yet, inside a temporary one. Remove with `removePlace`. */
export async function makeFolder(): Promise<string> {
  return join(await mkdtemp(join(tmpdir(), 'tarebook-test-')), 'data');
}

/** A folder in which the program was started once before. Remove with `removePlace`. */
export async function startedFolder(): Promise<string> {
  return readyFolder(await makeFolder());
}

/** A new, empty database on the test server; answers its URL. */
export async function makeDatabase(): Promise<string> {
  const name = `tarebook_test_${randomBytes(6).toString('hex')}`;
  await onServer((client) =>
    client.query(`create database ${name} template template0 encoding 'UTF8' lc_collate 'C' lc_ctype 'C'`),
  );
  const url = new URL(inject('postgresUrl'));
  url.pathname = `/${name}`;
  return url.href;
}

export async function removePlace(place: StorePlace): Promise<void> {
  if (place.kind === 'folder') await rm(join(place.path, '..'), { recursive: true, force: true });
  if (place.kind === 'postgres') {
    const name = new URL(place.url).pathname.slice(1);
    await onServer((client) => client.query(`drop database if exists ${name} with (force)`));
  }
}

export async function onServer<T>(work: (client: pg.Client) => Promise<T>, url?: string): Promise<T> {
  const client = new pg.Client({ connectionString: url ?? inject('postgresUrl') });
  await client.connect();
  try {
    return await work(client);
  } finally {
    await client.end();
  }
}

/** The server of a killed client goes on for a moment; this waits until nobody is connected to the database any more. */
export async function nobodyLeft(place: StorePlace): Promise<void> {
  if (place.kind !== 'postgres') return;
  const name = new URL(place.url).pathname.slice(1);
  await onServer(async (client) => {
    while ((await client.query('select 1 from pg_stat_activity where datname = $1', [name])).rowCount !== 0)
      await sleep(5);
  });
}

export async function makeAircraft(db: Kysely<Database>): Promise<string> {
  const id = randomUUID();
  const answer = await createAircraft(db, { id, name: `Aircraft ${id}` });
  if (!answer.ok) throw new Error(answer.refusal.code);
  return id;
}

/** Both test engines log in as the owner and then take on the app's role; this goes back for one transaction. */
function asOwner<T>(db: Kysely<Database>, work: (tx: Transaction<Database>) => Promise<T>): Promise<T> {
  return db.transaction().execute(async (tx) => {
    await sql`set local role none`.execute(tx);
    return work(tx);
  });
}

function given<T>(value: T | undefined): T {
  if (value === undefined) throw new Error('The engine is opened in beforeAll; use it inside tests.');
  return value;
}
