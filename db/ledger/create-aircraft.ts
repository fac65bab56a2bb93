/** Adds an aircraft with an empty ledger. Its head hash is the genesis hash, set by the database (L5). */
import type { Kysely } from 'kysely';
import type { Database } from '#db/database.ts';
import { type Aircraft, aircraftColumns, nameKey, toAircraft } from '#db/ledger/aircraft.ts';

export type CreateAircraftAnswer =
  | { ok: true; aircraft: Aircraft; replayed: boolean }
  | { ok: false; refusal: { code: 'aircraft-name-taken'; name: string; takenById: string } }
  | { ok: false; refusal: { code: 'aircraft-id-taken'; id: string } };

/**
 * Adds the aircraft `id` (a UUID that the client makes) with a name of 1 to 200 characters; outer blanks are dropped.
 * The same id and name again answers the first aircraft, `replayed`. Safe inside a transaction: a refusal leaves it usable.
 */
export async function createAircraft(
  db: Kysely<Database>,
  given: { id: string; name: string },
): Promise<CreateAircraftAnswer> {
  const name = given.name.trim();
  const key = nameKey(name);
  const made = await db
    .insertInto('aircraft')
    .values({ id: given.id, name, name_key: key })
    .onConflict((conflict) => conflict.doNothing())
    .returning(aircraftColumns)
    .executeTakeFirst();
  if (made !== undefined) return { ok: true, aircraft: toAircraft(made), replayed: false };

  const there = await db
    .selectFrom('aircraft')
    .select([...aircraftColumns, 'name_key'])
    .where((where) => where.or([where('id', '=', given.id), where('name_key', '=', key)]))
    .execute();
  const same = there.find((row) => row.id === given.id && row.name === name);
  if (same !== undefined) return { ok: true, aircraft: toAircraft(same), replayed: true };
  const named = there.find((row) => row.name_key === key);
  if (named !== undefined) {
    return { ok: false, refusal: { code: 'aircraft-name-taken', name: named.name, takenById: named.id } };
  }
  return { ok: false, refusal: { code: 'aircraft-id-taken', id: given.id } };
}
