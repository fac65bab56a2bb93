/** Which aircraft are invented, for showing and trying out: a mark beside the ledger, so that none is taken for a real one. */
import type { Kysely } from 'kysely';
import type { Database } from '#db/database.ts';

export async function markInvented(db: Kysely<Database>, aircraftId: string): Promise<void> {
  await db
    .insertInto('invented_aircraft')
    .values({ aircraft_id: aircraftId })
    .onConflict((conflict) => conflict.doNothing())
    .execute();
}

export async function inventedAircraft(db: Kysely<Database>): Promise<ReadonlySet<string>> {
  const rows = await db.selectFrom('invented_aircraft').select('aircraft_id').execute();
  return new Set(rows.map((row) => row.aircraft_id));
}
