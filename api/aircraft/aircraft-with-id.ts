/** One aircraft by its id alone: a door's path names an id, and a name in its place is no address. */
import type { Kysely } from 'kysely';
import { z } from 'zod';
import type { Database } from '#db/database.ts';
import { type Aircraft, aircraftColumns, toAircraft } from '#db/ledger/aircraft.ts';

export async function aircraftWithId(db: Kysely<Database>, id: string): Promise<Aircraft | undefined> {
  if (!z.uuid().safeParse(id).success) return undefined;
  const row = await db.selectFrom('aircraft').select(aircraftColumns).where('id', '=', id).executeTakeFirst();
  return row === undefined ? undefined : toAircraft(row);
}
