/**
 * Brings a database to the newest schema. Run by `openStore` as the database's owner, before the app's role is taken on.
 *
 * The list is written out and not read from a folder, so that what runs is what was reviewed. Two processes may call
 * this at once: the migrator locks the database, and the second waits and then finds nothing to do.
 */
import { type Kysely, sql } from 'kysely';
import { type Migration, Migrator } from 'kysely/migration';
import { StoreRefusal } from '#db/engine/store-refusal.ts';
import { ledgerMigration } from '#db/migration/0001-ledger.ts';
import { peopleMigration } from '#db/migration/0002-people.ts';
import { proposalsMigration } from '#db/migration/0003-proposals.ts';
import { aircraftWeighingMigration } from '#db/migration/0004-aircraft-weighing.ts';
import { briefsMigration } from '#db/migration/0005-briefs.ts';
import { sharedTabletsMigration } from '#db/migration/0006-shared-tablets.ts';
import { carryingMigration } from '#db/migration/0007-carrying.ts';

const migrations = {
  '0001-ledger': ledgerMigration,
  '0002-people': peopleMigration,
  '0003-proposals': proposalsMigration,
  '0004-aircraft-weighing': aircraftWeighingMigration,
  '0005-briefs': briefsMigration,
  '0006-shared-tablets': sharedTabletsMigration,
  '0007-carrying': carryingMigration,
} satisfies Record<string, Migration>;

/**
 * Migrates `db` to the newest schema.
 * Throws `StoreRefusal` `schema-newer` when the database knows a migration that this program does not.
 */
export async function migrateToLatest(db: Kysely<unknown>): Promise<void> {
  await refuseNewerSchema(db);
  const migrator = new Migrator({
    db,
    provider: { getMigrations: async () => migrations },
    migrationTableSchema: 'public',
  });
  const { error } = await migrator.migrateToLatest();
  // The migrator reports instead of throwing; a store that is half migrated must not be handed out.
  if (error !== undefined) throw error;
}

async function refuseNewerSchema(db: Kysely<unknown>): Promise<void> {
  const table = await sql<{
    known: boolean;
  }>`select to_regclass('public.kysely_migration') is not null as known`.execute(db);
  if (table.rows[0]?.known !== true) return;
  const applied = await sql<{ name: string }>`select name from public.kysely_migration order by name`.execute(db);
  const unknown = applied.rows.map((row) => row.name).filter((name) => !(name in migrations));
  if (unknown.length === 0) return;
  throw new StoreRefusal({
    code: 'schema-newer',
    words: `The data was written by a newer Tarebook: this one does not know its schema step ${unknown.join(', ')}.`,
    remedy: 'Start the newer version, or give this one other data.',
  });
}
