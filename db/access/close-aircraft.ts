/** Closes an aircraft to all but the named, opens it again, and tells who is named. */
import { type Kysely, sql } from 'kysely';
import type { Database } from '#db/database.ts';
import { listPeople } from '#db/people/person.ts';
import type { AircraftAccess, AircraftAccessRequest } from '#shared/contract/access.ts';

export async function accessTo(db: Kysely<Database>, aircraftId: string): Promise<AircraftAccess> {
  const closed = await db
    .selectFrom('closed_aircraft')
    .select('aircraft_id')
    .where('aircraft_id', '=', aircraftId)
    .executeTakeFirst();
  const named = await db
    .selectFrom('closed_aircraft_person')
    .select(['person_id', 'may_write'])
    .where('aircraft_id', '=', aircraftId)
    .execute();
  const mays = new Map(named.map((row) => [row.person_id, row.may_write ? 'write' : 'see'] as const));
  const people = (await listPeople(db)).filter(({ isActive, id }) => isActive || mays.has(id));
  return {
    isClosed: closed !== undefined,
    people: people.map(({ id, name, initials, role }) => ({
      id,
      name,
      initials,
      role,
      may: mays.get(id) ?? 'nothing',
    })),
  };
}

/** False where somebody is named who has no account. `along` goes into the same transaction. */
export async function changeAccessTo(
  db: Kysely<Database>,
  aircraftId: string,
  { isClosed, people }: AircraftAccessRequest,
  along: (tx: Kysely<Database>) => Promise<void>,
): Promise<boolean> {
  return db.transaction().execute(async (tx) => {
    // Two leads at once come one after the other; the later one's list stands.
    await sql`select pg_advisory_xact_lock(hashtextextended(${`access ${aircraftId}`}, 0))`.execute(tx);
    const mays = new Map(people.map(({ id, may }) => [id.toLowerCase(), may]));
    const ids = [...mays.keys()];
    const known = ids.length === 0 ? [] : await tx.selectFrom('person').select('id').where('id', 'in', ids).execute();
    if (known.length < ids.length) return false;
    await tx.deleteFrom('closed_aircraft').where('aircraft_id', '=', aircraftId).execute();
    if (isClosed) {
      await tx.insertInto('closed_aircraft').values({ aircraft_id: aircraftId }).execute();
      const rows = [...mays].flatMap(([id, may]) =>
        may === 'nothing' ? [] : [{ aircraft_id: aircraftId, person_id: id, may_write: may === 'write' }],
      );
      if (rows.length > 0) await tx.insertInto('closed_aircraft_person').values(rows).execute();
    }
    await along(tx);
    return true;
  });
}
