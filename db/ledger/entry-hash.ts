/** The hash that an entry is kept with. */
import type { Kysely } from 'kysely';
import type { Database } from '#db/database.ts';

/** Undefined where the aircraft has no entry of that number. */
export async function entryHash(db: Kysely<Database>, aircraftId: string, seq: number): Promise<string | undefined> {
  const entry = await db
    .selectFrom('entry')
    .select('hash')
    .where('aircraft_id', '=', aircraftId)
    .where('seq', '=', seq)
    .executeTakeFirst();
  return entry?.hash;
}
