/** A person as the queries of this folder give one, with the aircraft they may see. Never carries the password's hash. */
import { type Kysely, type Selectable, sql } from 'kysely';
import type { Database, PersonTable } from '#db/database.ts';
import type { Person, PersonId } from '#shared/contract/people.ts';

export const personColumns = [
  'person.id',
  'person.name',
  'person.initials',
  'person.role',
  'person.sees_all',
  'person.is_active',
] as const;

/** The ids of the aircraft a person may see, as one column beside `personColumns`. */
export const accessColumn = sql<string[]>`array(
  select a.aircraft_id::text from public.person_access a where a.person_id = person.id order by a.aircraft_id)`.as(
  'access',
);

type PersonRow = Pick<Selectable<PersonTable>, 'id' | 'name' | 'initials' | 'role' | 'sees_all' | 'is_active'> & {
  access: string[];
};

export function toPerson(row: PersonRow): Person {
  return {
    id: row.id as PersonId,
    name: row.name,
    initials: row.initials,
    role: row.role,
    aircraft: row.sees_all ? 'all' : row.access,
    isActive: row.is_active,
  };
}

export async function listPeople(db: Kysely<Database>): Promise<Person[]> {
  const rows = await db
    .selectFrom('person')
    .select([...personColumns, accessColumn])
    .orderBy('name_key')
    .execute();
  return rows.map(toPerson);
}

export async function findPerson(db: Kysely<Database>, id: string): Promise<Person | undefined> {
  const row = await db
    .selectFrom('person')
    .select([...personColumns, accessColumn])
    .where('id', '=', id)
    .executeTakeFirst();
  return row === undefined ? undefined : toPerson(row);
}

/** The person to be signed in under a name, with the kept hash. Who is inactive is nobody. */
export async function findToSignIn(
  db: Kysely<Database>,
  nameKey: string,
): Promise<{ id: string; passwordHash: string } | undefined> {
  const row = await db
    .selectFrom('person')
    .select(['id', 'password_hash'])
    .where('name_key', '=', nameKey)
    .where('is_active', '=', true)
    .executeTakeFirst();
  return row === undefined ? undefined : { id: row.id, passwordHash: row.password_hash };
}

export async function passwordHashOf(db: Kysely<Database>, personId: string): Promise<string | undefined> {
  const row = await db.selectFrom('person').select('password_hash').where('id', '=', personId).executeTakeFirst();
  return row?.password_hash;
}
