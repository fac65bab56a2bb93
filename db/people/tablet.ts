/**
 * Tablets that several people share: a browser that a lead has made one carries a random token, its SHA-256 is here. Who takes a tablet away
 * ends every session that was begun on it.
 */
import { randomBytes, randomUUID } from 'node:crypto';
import type { Kysely } from 'kysely';
import type { Database } from '#db/database.ts';
import { tokenHash } from '#db/people/session.ts';
import type { PersonId } from '#shared/contract/people.ts';
import type { PinPerson, Tablet } from '#shared/contract/tablet.ts';

/** What the token of a browser stands for. */
export type TabletHere = { readonly id: string; readonly name: string; readonly idleMinutes: number };

/**
 * Makes the browser of a lead's session a shared tablet; answers its token, which is nowhere else. The session stays and ends as every one on it
 * does. What the browser was before (`before`) is taken away.
 */
export async function makeTablet(
  db: Kysely<Database>,
  given: {
    readonly name: string;
    readonly idleMinutes: number;
    readonly madeBy: string;
    readonly sessionHash: string;
    readonly address: string;
    readonly before: string | undefined;
  },
  now: Date,
): Promise<string> {
  const token = randomBytes(32).toString('base64url');
  const id = randomUUID();
  await db.transaction().execute(async (tx) => {
    await tx
      .insertInto('shared_tablet')
      .values({
        id,
        name: given.name,
        token_hash: tokenHash(token),
        idle_minutes: given.idleMinutes,
        made_by: given.madeBy,
        made_at: now,
        last_used_at: now,
        last_address: given.address,
      })
      .execute();
    await tx.updateTable('session').set({ tablet_id: id }).where('token_hash', '=', given.sessionHash).execute();
    if (given.before !== undefined)
      await tx.deleteFrom('shared_tablet').where('token_hash', '=', given.before).execute();
  });
  return token;
}

/** The tablet with this token, or undefined. Its use is written down. */
export async function tabletOf(
  db: Kysely<Database>,
  hash: string,
  { now, address }: { readonly now: Date; readonly address: string },
): Promise<TabletHere | undefined> {
  const row = await db
    .updateTable('shared_tablet')
    .set({ last_used_at: now, last_address: address })
    .where('token_hash', '=', hash)
    .returning(['id', 'name', 'idle_minutes'])
    .executeTakeFirst();
  return row === undefined ? undefined : { id: row.id, name: row.name, idleMinutes: row.idle_minutes };
}

export async function listTablets(db: Kysely<Database>, hashHere: string | undefined): Promise<Tablet[]> {
  const rows = await db
    .selectFrom('shared_tablet')
    .innerJoin('person', 'person.id', 'shared_tablet.made_by')
    .selectAll('shared_tablet')
    .select('person.name as maker')
    .orderBy('shared_tablet.name')
    .orderBy('shared_tablet.made_at')
    .execute();
  return rows.map((row) => ({
    id: row.id,
    name: row.name,
    idleMinutes: row.idle_minutes,
    madeBy: row.maker,
    madeAt: row.made_at.toISOString(),
    lastUsedAt: row.last_used_at.toISOString(),
    lastAddress: row.last_address,
    isHere: row.token_hash === hashHere,
  }));
}

/** Changes name or idle time; false where there is no such tablet. A longer time brings back no session that had ended. */
export async function changeTablet(
  db: Kysely<Database>,
  id: string,
  changes: { readonly name?: string | undefined; readonly idleMinutes?: number | undefined },
  now: Date,
): Promise<boolean> {
  return db.transaction().execute(async (tx) => {
    const row = await tx
      .selectFrom('shared_tablet')
      .select(['name', 'idle_minutes'])
      .where('id', '=', id)
      .forUpdate()
      .executeTakeFirst();
    if (row === undefined) return false;
    await tx
      .deleteFrom('session')
      .where('tablet_id', '=', id)
      .where('last_seen_at', '<=', new Date(now.getTime() - row.idle_minutes * 60_000))
      .execute();
    await tx
      .updateTable('shared_tablet')
      .set({ name: changes.name ?? row.name, idle_minutes: changes.idleMinutes ?? row.idle_minutes })
      .where('id', '=', id)
      .execute();
    return true;
  });
}

/** Takes a tablet away, with every session begun on it; answers its name, undefined where there is none. */
export async function takeTabletAway(db: Kysely<Database>, id: string): Promise<string | undefined> {
  const row = await db.deleteFrom('shared_tablet').where('id', '=', id).returning('name').executeTakeFirst();
  return row?.name;
}

/** Who can sign in with a PIN, by name. */
export async function peopleWithPin(db: Kysely<Database>): Promise<PinPerson[]> {
  const rows = await db
    .selectFrom('person')
    .select(['id', 'name', 'initials'])
    .where('is_active', '=', true)
    .where('pin_hash', 'is not', null)
    .orderBy('name_key')
    .execute();
  return rows.map(({ id, ...row }) => ({ ...row, id: id as PersonId }));
}
