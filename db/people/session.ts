/**
 * Sessions: a random token with the browser, its SHA-256 here. A session ends after 12 hours without use, after 30 days, at sign-out, at a
 * change of the password, and at once when its person is made inactive. The caller gives the time, so that one clock rules.
 */
import { createHash, randomBytes } from 'node:crypto';
import type { Kysely } from 'kysely';
import type { Database } from '#db/database.ts';
import { accessColumn, personColumns, toPerson } from '#db/people/person.ts';
import type { Person } from '#shared/contract/people.ts';

export const IDLE_MS = 12 * 60 * 60 * 1000;
export const LONGEST_MS = 30 * 24 * 60 * 60 * 1000;
/** Use is written down this often at most, so that reading costs no write. */
const NOTE_USE_MS = 60_000;

export function tokenHash(token: string): string {
  return createHash('sha256').update(token, 'utf8').digest('hex');
}

/**
 * A new session of whoever has signed in with the password kept as `passwordHash`; undefined where another one has been set, or the person
 * made inactive, since it was looked at: a password that is taken away opens nothing, not even where it was typed just before.
 */
export async function startSessionOf(
  db: Kysely<Database>,
  { id, passwordHash }: { readonly id: string; readonly passwordHash: string },
  now: Date,
): Promise<string | undefined> {
  return db.transaction().execute(async (tx) => {
    // Locked, so that who changes the password at this moment comes before, and is seen, or after, and ends this session too.
    const row = await tx
      .selectFrom('person')
      .select('id')
      .where('id', '=', id)
      .where('password_hash', '=', passwordHash)
      .where('is_active', '=', true)
      .forShare()
      .executeTakeFirst();
    return row === undefined ? undefined : startSession(tx, id, now);
  });
}

/** A new session of a person; answers its token, which is nowhere else. Takes away what has expired by then. */
export async function startSession(db: Kysely<Database>, personId: string, now: Date): Promise<string> {
  const token = randomBytes(32).toString('base64url');
  await db
    .insertInto('session')
    .values({ token_hash: tokenHash(token), person_id: personId, started_at: now, last_seen_at: now })
    .execute();
  await db
    .deleteFrom('session')
    .where((where) =>
      where.or([
        where('last_seen_at', '<', new Date(now.getTime() - IDLE_MS)),
        where('started_at', '<', new Date(now.getTime() - LONGEST_MS)),
      ]),
    )
    .execute();
  return token;
}

/** The active person whose session this is, or undefined. With `isUse` the idle time begins anew. */
export async function personOfSession(
  db: Kysely<Database>,
  hash: string,
  now: Date,
  isUse: boolean,
): Promise<Person | undefined> {
  const row = await db
    .selectFrom('session')
    .innerJoin('person', 'person.id', 'session.person_id')
    .select([...personColumns, accessColumn, 'session.last_seen_at'])
    .where('session.token_hash', '=', hash)
    .where('session.last_seen_at', '>', new Date(now.getTime() - IDLE_MS))
    .where('session.started_at', '>', new Date(now.getTime() - LONGEST_MS))
    .where('person.is_active', '=', true)
    .executeTakeFirst();
  if (row === undefined) return undefined;
  if (isUse && now.getTime() - row.last_seen_at.getTime() > NOTE_USE_MS)
    await db.updateTable('session').set({ last_seen_at: now }).where('token_hash', '=', hash).execute();
  return toPerson(row);
}

export async function endSession(db: Kysely<Database>, hash: string): Promise<void> {
  await db.deleteFrom('session').where('token_hash', '=', hash).execute();
}
