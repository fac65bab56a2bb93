/** Reads aircraft: all of them by name, or one by name or id. */
import type { Kysely } from 'kysely';
import type { Database } from '#db/database.ts';
import { type Aircraft, aircraftColumns, nameKey, toAircraft } from '#db/ledger/aircraft.ts';

const uuidForm = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/i;

/** All aircraft, ordered by their folded names. */
export async function listAircraft(db: Kysely<Database>): Promise<Aircraft[]> {
  const rows = await db.selectFrom('aircraft').select(aircraftColumns).orderBy('name_key').execute();
  return rows.map(toAircraft);
}

/** The aircraft with this name (whatever its case and outer blanks) or, failing that, this id; undefined if none. */
export async function findAircraft(db: Kysely<Database>, nameOrId: string): Promise<Aircraft | undefined> {
  // No name holds a NUL, and asking with one would be an error instead of a "no".
  if (nameOrId.includes('\0')) return undefined;
  const select = db.selectFrom('aircraft').select(aircraftColumns);
  const named = await select.where('name_key', '=', nameKey(nameOrId)).executeTakeFirst();
  if (named !== undefined) return toAircraft(named);
  if (!uuidForm.test(nameOrId)) return undefined;
  const found = await select.where('id', '=', nameOrId).executeTakeFirst();
  return found === undefined ? undefined : toAircraft(found);
}
