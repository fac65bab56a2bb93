/**
 * Brings the schema of a store that is being opened to where it should be (rule Z4). What holds data is backed up before it is moved forward;
 * where that cannot be done, it stays as it is.
 */
import { join } from 'node:path';
import type { Kysely } from 'kysely';
import { backupName } from '#db/backup/folder.ts';
import { makeBackup } from '#db/backup/make-backup.ts';
import { schemaOf } from '#db/backup/read-store.ts';
import { holdsData } from '#db/backup/restore-rows.ts';
import { migrate, refuseNewerSchema, SCHEMA_STEPS } from '#db/migration/migrate.ts';

export type Opening = {
  /** The folder of the backup that is made before data are moved forward. */
  readonly backups?: string | undefined;
  /** Left as it is: to be backed up, or to be restored into. Otherwise the newest. */
  readonly schema?: 'as it is';
  /** A copy of a PostgreSQL server's database that is read in bulk in its stead, and who is told when it is lost. */
  readonly copy?: { readonly url: string; readonly tell: (words: string) => void } | undefined;
};

/** Answers the path of the backup, where one was made. As the owner of the tables. */
export async function readySchema(db: Kysely<unknown>, { backups, schema }: Opening): Promise<string | undefined> {
  if (schema === 'as it is') {
    await refuseNewerSchema(db);
    return undefined;
  }
  const path = backups === undefined ? undefined : await backUpFirst(db, backups);
  await migrate(db);
  return path;
}

async function backUpFirst(db: Kysely<unknown>, backups: string): Promise<string | undefined> {
  await refuseNewerSchema(db);
  const isBehind = (await schemaOf(db)).length < SCHEMA_STEPS.length;
  if (!isBehind || !(await holdsData(db))) return undefined;
  const at = new Date();
  return (await makeBackup(db, join(backups, backupName(at, 'before upgrade')), at)).path;
}
