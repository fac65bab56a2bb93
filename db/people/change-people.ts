/**
 * Makes and changes people. Holds what must hold whatever the door says: a name is one person's, there is one first run, and an active
 * lead remains. Passwords arrive here hashed.
 */
import { randomUUID } from 'node:crypto';
import type { Kysely, Transaction } from 'kysely';
import type { Database } from '#db/database.ts';
import { sqlState } from '#db/engine/sql-state.ts';
import { nameKey } from '#db/ledger/aircraft.ts';
import { findPerson } from '#db/people/person.ts';
import type { Access, Person, Role } from '#shared/contract/people.ts';

export type NewPerson = {
  readonly name: string;
  readonly initials: string;
  readonly role: Role;
  readonly aircraft: Access;
  readonly passwordHash: string;
};

export type PersonRefusal = 'name-taken' | 'first-run-done' | 'last-lead' | 'no-such-person' | 'password-changed';

/** What is written in the same transaction, once the person is as stated. */
export type Along = (tx: Kysely<Database>, person: Person) => Promise<void>;

export type PersonAnswer = { ok: true; person: Person } | { ok: false; refusal: PersonRefusal };

const brokenUnique = '23505';

export async function isFirstRun(db: Kysely<Database>): Promise<boolean> {
  return (await db.selectFrom('person').select('id').limit(1).executeTakeFirst()) === undefined;
}

/** Makes the first account, a lead who sees everything. Of two at the same moment one is refused. */
export async function makeFirstPerson(
  db: Kysely<Database>,
  given: Omit<NewPerson, 'role' | 'aircraft'>,
  along?: Along,
): Promise<PersonAnswer> {
  try {
    return await db.transaction().execute(async (tx): Promise<PersonAnswer> => {
      if (!(await isFirstRun(tx))) return { ok: false, refusal: 'first-run-done' };
      const person = await insertPerson(tx, { ...given, role: 'lead', aircraft: 'all' });
      await tx.insertInto('first_run').values({ done: true, person_id: person.id }).execute();
      await along?.(tx, person);
      return { ok: true, person };
    });
  } catch (error) {
    if (sqlState(error) === brokenUnique) return { ok: false, refusal: 'first-run-done' };
    throw error;
  }
}

export async function makePerson(db: Kysely<Database>, given: NewPerson, along?: Along): Promise<PersonAnswer> {
  try {
    return await db.transaction().execute(async (tx): Promise<PersonAnswer> => {
      const person = await insertPerson(tx, given);
      await along?.(tx, person);
      return { ok: true, person };
    });
  } catch (error) {
    if (sqlState(error) === brokenUnique) return { ok: false, refusal: 'name-taken' };
    throw error;
  }
}

export type PersonChanges = {
  readonly role?: Role | undefined;
  readonly aircraft?: Access | undefined;
  readonly isActive?: boolean | undefined;
  readonly passwordHash?: string | undefined;
};

/** What a person who changes the own password had: the session that goes on, and the password that was looked at. */
export type Own = { readonly tokenHash: string | undefined; readonly passwordHash: string | undefined };

/**
 * Changes what is given. Who is made inactive or gets another password loses every session, the `own` one excepted. Refused where the
 * own password is no longer the one that was looked at: a lead has set another one in between, and that one holds.
 */
export async function changePerson(
  db: Kysely<Database>,
  personId: string,
  changes: PersonChanges,
  { own, along }: { readonly own?: Own; readonly along?: Along } = {},
): Promise<PersonAnswer> {
  return db.transaction().execute(async (tx): Promise<PersonAnswer> => {
    // Every active lead's row is locked, in one order: two leads who demote each other at once come one after the other.
    const leads = await tx
      .selectFrom('person')
      .select('id')
      .where('role', '=', 'lead')
      .where('is_active', '=', true)
      .orderBy('id')
      .forUpdate()
      .execute();
    if ((await findPerson(tx, personId)) === undefined) return { ok: false, refusal: 'no-such-person' };
    if (own !== undefined && (await lockedPasswordHash(tx, personId)) !== own.passwordHash)
      return { ok: false, refusal: 'password-changed' };
    const leaves = (changes.role !== undefined && changes.role !== 'lead') || changes.isActive === false;
    if (leaves && leads.length === 1 && leads[0]?.id === personId) return { ok: false, refusal: 'last-lead' };
    await writeChanges(tx, personId, changes);
    // A PIN does not outlive the account, nor a password that a lead sets because another is not trusted any more.
    if (changes.isActive === false || (changes.passwordHash !== undefined && own === undefined))
      await tx.updateTable('person').set({ pin_hash: null, pin_wrong: 0 }).where('id', '=', personId).execute();
    if (changes.isActive === false || changes.passwordHash !== undefined) {
      let ended = tx.deleteFrom('session').where('person_id', '=', personId);
      if (own?.tokenHash !== undefined) ended = ended.where('token_hash', '<>', own.tokenHash);
      await ended.execute();
    }
    const person = await personThere(tx, personId);
    await along?.(tx, person);
    return { ok: true, person };
  });
}

/** Lets a person see one more aircraft; of no effect where they see all. */
export async function addAccess(db: Kysely<Database>, personId: string, aircraftId: string): Promise<void> {
  await db
    .insertInto('person_access')
    .values({ person_id: personId, aircraft_id: aircraftId })
    .onConflict((conflict) => conflict.doNothing())
    .execute();
}

async function writeChanges(tx: Transaction<Database>, personId: string, changes: PersonChanges): Promise<void> {
  const { role, aircraft, isActive, passwordHash } = changes;
  const columns = {
    ...(role === undefined ? {} : { role }),
    ...(aircraft === undefined ? {} : { sees_all: aircraft === 'all' }),
    ...(isActive === undefined ? {} : { is_active: isActive }),
    ...(passwordHash === undefined ? {} : { password_hash: passwordHash }),
  };
  if (Object.keys(columns).length > 0) await tx.updateTable('person').set(columns).where('id', '=', personId).execute();
  if (aircraft === undefined) return;
  await tx.deleteFrom('person_access').where('person_id', '=', personId).execute();
  await insertAccess(tx, personId, aircraft);
}

async function insertPerson(tx: Transaction<Database>, given: NewPerson): Promise<Person> {
  const id = randomUUID();
  await tx
    .insertInto('person')
    .values({
      id,
      name: given.name,
      name_key: nameKey(given.name),
      initials: given.initials,
      role: given.role,
      sees_all: given.aircraft === 'all',
      password_hash: given.passwordHash,
    })
    .execute();
  await insertAccess(tx, id, given.aircraft);
  return personThere(tx, id);
}

async function insertAccess(tx: Transaction<Database>, personId: string, aircraft: Access): Promise<void> {
  if (aircraft === 'all' || aircraft.length === 0) return;
  const ids = [...new Set(aircraft.map((id) => id.toLowerCase()))];
  const rows = ids.map((id) => ({ person_id: personId, aircraft_id: id }));
  await tx.insertInto('person_access').values(rows).execute();
}

async function lockedPasswordHash(tx: Transaction<Database>, id: string): Promise<string | undefined> {
  const row = await tx.selectFrom('person').select('password_hash').where('id', '=', id).forUpdate().executeTakeFirst();
  return row?.password_hash;
}

async function personThere(tx: Transaction<Database>, id: string): Promise<Person> {
  const person = await findPerson(tx, id);
  if (person === undefined) throw new Error('A person that was just written is not there.');
  return person;
}
