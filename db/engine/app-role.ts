/**
 * The role the app works as: `tarebook_app`, without login, owner of nothing (L1). Whoever opens the database makes the
 * role if it can, and then takes it on in every connection.
 *
 * What this does not promise: a login that owns the tables can go back to its own rights. It keeps the app's own code,
 * and a statement smuggled into it by accident, away from UPDATE and DELETE; what an owner does is made evident by the
 * hash chain (L5).
 */
import { type Kysely, sql } from 'kysely';
import type { ClientBase } from 'pg';
import { sqlState } from '#db/engine/sql-state.ts';
import { StoreRefusal } from '#db/engine/store-refusal.ts';
import { say } from '#shared/words/say.ts';

const appRole = 'tarebook_app';

/** Duplicate role, or the same seen as a broken unique index when two processes create it in the same instant. */
const alreadyThere = new Set(['42710', '23505']);
const notPermitted = '42501';
/** "tuple concurrently updated": two grants of the same membership at once. Roles are shared by all databases. */
const concurrentUpdate = 'XX000';

const SETTINGS = [
  'search_path = public',
  // Whatever the server's own is: writers of one aircraft wait for one another, and would fail under a stricter one.
  "default_transaction_isolation = 'read committed'",
  // A process that is lost or stands still while it holds an aircraft keeps everybody else from it: for so long and not until its connection is given up.
  "idle_in_transaction_session_timeout = '30s'",
  `role ${appRole}`,
];

/** Makes sure that the role exists and that the current user may take it on. Throws `StoreRefusal` when it cannot. */
export async function ensureAppRole(db: Kysely<unknown>): Promise<void> {
  const state = await roleState(db);
  if (!state.exists) await createRole(db, state.user);
  if (!(await roleState(db)).takeable) await grantRole(db, state.user);
}

/**
 * For a pool's `onConnect`: every connection works as the app's role, in the schema of the tables. Not for Kysely's `onCreateConnection`,
 * which keeps a connection for good where this fails, as it does while a server goes down.
 */
export async function takeOnAppRole(client: ClientBase): Promise<void> {
  await client.query(SETTINGS.map((setting) => `set ${setting}`).join('; '));
}

type RoleState = { user: string; exists: boolean; takeable: boolean };

async function roleState(db: Kysely<unknown>): Promise<RoleState> {
  // From PostgreSQL 16 on a role's maker is a member of it without the right to SET ROLE: ask for that very right.
  const found = await sql<RoleState>`
    select current_user::text as "user",
      exists (select from pg_roles where rolname = ${appRole}) as "exists",
      exists (
        select from pg_roles where rolname = ${appRole} and pg_has_role(current_user, oid,
          case when current_setting('server_version_num')::integer >= 160000 then 'SET' else 'MEMBER' end)
      ) as "takeable"`.execute(db);
  const state = found.rows[0];
  if (state === undefined) throw new Error('The server did not say who is connected.');
  return state;
}

async function createRole(db: Kysely<unknown>, user: string): Promise<void> {
  try {
    await sql.raw(`create role ${appRole} nologin noinherit`).execute(db);
  } catch (error) {
    if (alreadyThere.has(sqlState(error))) return;
    if (sqlState(error) === notPermitted) throw roleMissing(user);
    throw error;
  }
}

async function grantRole(db: Kysely<unknown>, user: string): Promise<void> {
  for (let attempt = 1; ; attempt += 1) {
    try {
      await sql`grant ${sql.id(appRole)} to ${sql.id(user)}`.execute(db);
      return;
    } catch (error) {
      if (sqlState(error) === notPermitted) throw roleMissing(user);
      if (sqlState(error) !== concurrentUpdate || attempt === 5) throw error;
    }
  }
}

function roleMissing(user: string): StoreRefusal {
  const quotedUser = `"${user.replaceAll('"', '""')}"`;
  return new StoreRefusal({
    code: 'postgres-role-missing',
    words: say`The database user ${user} may not create the role ${appRole}, or may not work as it.`,
    remedy: say`As an administrator of the server run: CREATE ROLE ${appRole} NOLOGIN NOINHERIT; GRANT ${appRole} TO ${quotedUser}; (leave out the first if the role exists), then start again.`,
  });
}
