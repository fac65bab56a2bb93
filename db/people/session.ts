/**
 * Sessions: a random token with the browser, its SHA-256 here. A session ends after 12 hours without use, after 30 days, at sign-out, at a
 * change of the password, and at once when its person is made inactive. The caller gives the time, so that one clock rules; where that
 * clock is set back by more than an hour, the sessions begun before end (rule S10).
 *
 * One that was begun on a shared tablet ends after that tablet's few minutes without a touch (`noteTouch`): what a page asks by itself is no
 * use there. One that was begun with a PIN weighs and reads: its person has the role of crew at most.
 */
import { createHash, randomBytes } from 'node:crypto';
import type { InferResult, Kysely } from 'kysely';
import type { Database } from '#db/database.ts';
import { accessColumn, personColumns, toPerson } from '#db/people/person.ts';
import { mayAs, type Person } from '#shared/contract/people.ts';

export const IDLE_MS = 12 * 60 * 60 * 1000;
export const LONGEST_MS = 30 * 24 * 60 * 60 * 1000;
/** A clock that is put right moves back by less; what lies further ahead was written by one that was wrong, and would never end. */
const AHEAD_MS = 60 * 60 * 1000;
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
  tabletId?: string,
): Promise<string | undefined> {
  return db.transaction().execute(async (tx) => {
    // Locked, so that who changes the password at this moment comes before, and is seen, or after, and ends this session too.
    const row = await tx
      .selectFrom('person')
      .select('id')
      .where('id', '=', id)
      .where('password_hash', '=', passwordHash)
      .where('is_active', '=', true)
      .forUpdate()
      .executeTakeFirst();
    if (row === undefined) return undefined;
    // Who knows the password may use the PIN again, however often others have tried it.
    await tx.updateTable('person').set({ pin_wrong: 0 }).where('id', '=', id).where('pin_wrong', '>', 0).execute();
    return startSession(tx, id, now, { tabletId });
  });
}

/** Where a session was begun, and whether with a PIN. */
export type Begun = { readonly tabletId?: string | undefined; readonly byPin?: boolean };

/** A new session of a person; answers its token, which is nowhere else. Takes away what has expired by then. */
export async function startSession(
  db: Kysely<Database>,
  personId: string,
  now: Date,
  { tabletId, byPin = false }: Begun = {},
): Promise<string> {
  const token = randomBytes(32).toString('base64url');
  await db
    .insertInto('session')
    .values({
      token_hash: tokenHash(token),
      person_id: personId,
      started_at: now,
      last_seen_at: now,
      tablet_id: tabletId ?? null,
      by_pin: byPin,
    })
    .execute();
  await db
    .deleteFrom('session')
    .where((where) =>
      where.or([
        where('last_seen_at', '<', new Date(now.getTime() - IDLE_MS)),
        where('started_at', '<', new Date(now.getTime() - LONGEST_MS)),
        where('last_seen_at', '>', new Date(now.getTime() + AHEAD_MS)),
      ]),
    )
    .execute();
  return token;
}

export type Session = {
  /** With the role that this session has. */
  readonly person: Person;
  readonly hasPin: boolean;
  readonly byPin: boolean;
  /** Where it was begun on a shared tablet. */
  readonly tablet: { readonly id: string; readonly name: string; readonly idleMinutes: number } | undefined;
};

/** The active person whose session this is, or undefined. */
export async function personOfSession(
  db: Kysely<Database>,
  hash: string,
  now: Date,
  isUse: boolean,
): Promise<Person | undefined> {
  return (await sessionOf(db, hash, now, isUse))?.person;
}

/** The session that has not ended, or undefined. With `isUse` the idle time begins anew, but on a shared tablet. */
export async function sessionOf(
  db: Kysely<Database>,
  hash: string,
  now: Date,
  isUse: boolean,
): Promise<Session | undefined> {
  const row = await sessionRow(db, hash, now).executeTakeFirst();
  return row && sessionIn(db, row, hash, now, isUse);
}

/** Sessions whose time is not over, with their person and tablet. */
export function sessionRow(db: Kysely<Database>, hash: string, now: Date) {
  return db
    .selectFrom('session')
    .innerJoin('person', 'person.id', 'session.person_id')
    .leftJoin('shared_tablet', 'shared_tablet.id', 'session.tablet_id')
    .select([...personColumns, accessColumn, 'session.last_seen_at', 'session.by_pin', 'session.tablet_id'])
    .select(['person.pin_hash', 'shared_tablet.name as tablet_name', 'shared_tablet.idle_minutes'])
    .where('session.token_hash', '=', hash)
    .where('session.last_seen_at', '>', new Date(now.getTime() - IDLE_MS))
    .where('session.started_at', '>', new Date(now.getTime() - LONGEST_MS))
    .where('session.last_seen_at', '<=', new Date(now.getTime() + AHEAD_MS))
    .where('person.is_active', '=', true);
}

export type SessionRow = InferResult<ReturnType<typeof sessionRow>>[number];

/** The session of a row, or undefined where its tablet has been left alone for too long. */
export async function sessionIn(
  db: Kysely<Database>,
  row: SessionRow,
  hash: string,
  now: Date,
  isUse: boolean,
): Promise<Session | undefined> {
  const person = toPerson(row);
  const hasPin = row.pin_hash !== null;
  const idleMs = now.getTime() - row.last_seen_at.getTime();
  if (row.tablet_id === null) {
    if (isUse && idleMs > NOTE_USE_MS)
      await db.updateTable('session').set({ last_seen_at: now }).where('token_hash', '=', hash).execute();
    return { person, hasPin, byPin: false, tablet: undefined };
  }
  const idleMinutes = row.idle_minutes ?? 0;
  if (Math.abs(idleMs) >= idleMinutes * 60_000) {
    // Gone, so that a longer time for this tablet does not bring it back.
    await endSession(db, hash);
    return undefined;
  }
  return {
    person: row.by_pin && mayAs(person.role, 'crew') ? { ...person, role: 'crew' } : person,
    hasPin,
    byPin: row.by_pin,
    tablet: { id: row.tablet_id, name: row.tablet_name ?? '', idleMinutes },
  };
}

/** Somebody has touched the shared tablet: the idle time of its session, which has not ended, begins anew. */
export async function noteTouch(db: Kysely<Database>, hash: string, now: Date): Promise<void> {
  await db.updateTable('session').set({ last_seen_at: now }).where('token_hash', '=', hash).execute();
}

export async function endSession(db: Kysely<Database>, hash: string): Promise<void> {
  await db.deleteFrom('session').where('token_hash', '=', hash).execute();
}
