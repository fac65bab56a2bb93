/**
 * Brings a database to the newest schema. Run by `openStore` as the database's owner, before the app's role is taken on.
 *
 * The list is written out and not read from a folder, so that what runs is what was reviewed. Two processes may call
 * this at once: the migrator locks the database, and the second waits and then finds nothing to do.
 */
import type { Kysely } from 'kysely';
import { type Migration, Migrator } from 'kysely/migration';
import { schemaOf } from '#db/backup/read-store.ts';
import { StoreRefusal } from '#db/engine/store-refusal.ts';
import { ledgerMigration } from '#db/migration/0001-ledger.ts';
import { peopleMigration } from '#db/migration/0002-people.ts';
import { proposalsMigration } from '#db/migration/0003-proposals.ts';
import { aircraftWeighingMigration } from '#db/migration/0004-aircraft-weighing.ts';
import { briefsMigration } from '#db/migration/0005-briefs.ts';
import { sharedTabletsMigration } from '#db/migration/0006-shared-tablets.ts';
import { carryingMigration } from '#db/migration/0007-carrying.ts';
import { accessAndActsMigration } from '#db/migration/0008-access-and-acts.ts';
import { tellingAfterMigration } from '#db/migration/0009-telling-after.ts';
import { recordingTogetherMigration } from '#db/migration/0010-recording-together.ts';
import { say } from '#shared/words/say.ts';

const migrations = {
  '0001-ledger': ledgerMigration,
  '0002-people': peopleMigration,
  '0003-proposals': proposalsMigration,
  '0004-aircraft-weighing': aircraftWeighingMigration,
  '0005-briefs': briefsMigration,
  '0006-shared-tablets': sharedTabletsMigration,
  '0007-carrying': carryingMigration,
  '0008-access-and-acts': accessAndActsMigration,
  '0009-telling-after': tellingAfterMigration,
  '0010-recording-together': recordingTogetherMigration,
} satisfies Record<string, Migration>;

/** The steps of the newest schema, in order. */
export const SCHEMA_STEPS: readonly string[] = Object.keys(migrations);

/**
 * Migrates `db` to the newest schema, or up to and with the step `upTo`. Inside a transaction it is part of it.
 * Throws `StoreRefusal` `schema-newer` when the database knows a migration that this program does not.
 */
export async function migrate<Db>(db: Kysely<Db>, upTo?: string): Promise<void> {
  await refuseNewerSchema(db);
  const migrator = new Migrator({
    db,
    provider: { getMigrations: async () => migrations },
    migrationTableSchema: 'public',
  });
  const { error } = await (upTo === undefined ? migrator.migrateToLatest() : migrator.migrateTo(upTo));
  // The migrator reports instead of throwing; a store that is half migrated must not be handed out.
  if (error !== undefined) throw error;
}

/** Throws `StoreRefusal` `schema-newer` as above. */
export async function refuseNewerSchema<Db>(db: Kysely<Db>): Promise<void> {
  const unknown = (await schemaOf(db)).filter((name) => !(name in migrations));
  if (unknown.length === 0) return;
  throw new StoreRefusal({
    code: 'schema-newer',
    words: say`The data was written by a newer Tarebook: this one does not know its schema step ${unknown.join(', ')}.`,
    remedy: say`Start the newer version, or give this one other data.`,
  });
}
