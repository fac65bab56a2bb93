/**
 * Restores a backup into an empty store of either engine (rule Z2), in one transaction: the schema that the backup had, its rows, what is found
 * then held against what the backup says, every chain walked, and then forward to the newest schema, after which chain and headline are
 * worked out once more.
 */
import { isDeepStrictEqual } from 'node:util';
import type { Kysely, Transaction } from 'kysely';
import type { Database } from '#db/database.ts';
import { openStore, type StorePlace } from '#db/engine/open-store.ts';
import { StoreRefusal } from '#db/engine/store-refusal.ts';
import { verifyChain } from '#db/ledger/verify.ts';
import { migrate, SCHEMA_STEPS } from '#db/migration/migrate.ts';
import { say } from '#shared/words/say.ts';
import type { Manifest } from './manifest.ts';
import { damaged, differingHeadlines, newer, type OpenBackup, openBackup } from './read-backup.ts';
import { asOwner, rowsOf, schemaOf } from './read-store.ts';
import { restoreRows } from './restore-rows.ts';
import { type Survey, Surveyor } from './survey.ts';
import { TarFault } from './tar.ts';

export type RestoreAnswer = { readonly manifest: Manifest; readonly otherwise: readonly string[] };

/** Looks whether a file could be restored, and restores nothing. Throws `StoreRefusal`. */
export function checkBackup(from: string): RestoreAnswer {
  const backup = opened(from);
  backup.close();
  return { manifest: backup.manifest, otherwise: backup.otherwise };
}

/**
 * Restores the file `from` into the store at `where`, which is made where it is not there. `upTo: 'as it was'` leaves the schema at that of the
 * backup. Throws `StoreRefusal`; then nothing was restored.
 */
export async function restoreBackup(
  where: StorePlace,
  from: string,
  upTo: 'newest' | 'as it was' = 'newest',
): Promise<RestoreAnswer> {
  const backup = opened(from);
  try {
    const store = await openStore(where, { schema: 'as it is' });
    try {
      await restoreInto(store.db, backup, from, upTo);
    } finally {
      await store.close();
    }
    return { manifest: backup.manifest, otherwise: backup.otherwise };
  } finally {
    backup.close();
  }
}

function opened(from: string): OpenBackup {
  const backup = openBackup(from);
  const { schema } = backup.manifest;
  const unknown = schema.filter((step) => !SCHEMA_STEPS.includes(step));
  if (unknown.length === 0 && isDeepStrictEqual(schema, SCHEMA_STEPS.slice(0, schema.length))) return backup;
  backup.close();
  throw newer(from, say`schema step ${unknown.join(', ')}`);
}

async function restoreInto(
  db: Kysely<Database>,
  backup: OpenBackup,
  from: string,
  upTo: 'newest' | 'as it was',
): Promise<void> {
  const { manifest } = backup;
  try {
    await db.transaction().execute(async (tx) => {
      await asOwner(tx);
      if ((await schemaOf(tx)).length > manifest.schema.length) throw movedOn();
      await migrate(tx, manifest.schema.at(-1));
      await restoreRows(tx, backup.chunks());
      const restored = await surveyed(tx);
      if (!isDeepStrictEqual(restored.tables, manifest.tables)) throw new TarFault(say`it changed while it was read`);
      await mustStand(tx, manifest, restored);
      if (upTo === 'as it was' || manifest.schema.length === SCHEMA_STEPS.length) return;
      await migrate(tx);
      await mustStand(tx, manifest, await surveyed(tx));
    });
  } catch (error) {
    throw error instanceof TarFault ? damaged(from, error.message) : error;
  }
}

async function surveyed(tx: Transaction<Database>): Promise<Survey> {
  const surveyor = new Surveyor();
  for await (const chunk of rowsOf(tx)) surveyor.add(chunk);
  return surveyor.finish();
}

async function mustStand(tx: Transaction<Database>, manifest: Manifest, { aircraft }: Survey): Promise<void> {
  differingHeadlines(manifest, aircraft);
  for (const { id } of aircraft) {
    const chain = await verifyChain(tx, id);
    if (!chain.ok) throw new TarFault(chain.words);
  }
}

function movedOn(): StoreRefusal {
  return new StoreRefusal({
    code: 'store-moved-on',
    words: say`The backup is of an earlier version, and this store has been opened by a later one. Nothing was restored.`,
    remedy: say`Give a new folder with --data, or a new database in DATABASE_URL, that Tarebook has not opened yet.`,
  });
}
