/** Makes a backup of a whole store while others work on it (rule Z1). */
import type { Kysely } from 'kysely';
import { readStore } from './read-store.ts';
import { type BackupReport, BackupWriter } from './write-backup.ts';

/** Writes the file `to`. Throws `StoreRefusal` where that cannot be done; then there is no file. */
export async function makeBackup<Db>(db: Kysely<Db>, to: string, at: Date): Promise<BackupReport> {
  const writer = new BackupWriter(to, at);
  try {
    const schema = await readStore(db, (chunk) => writer.add(chunk));
    return writer.finish(schema);
  } catch (error) {
    writer.abandon();
    throw error;
  }
}
