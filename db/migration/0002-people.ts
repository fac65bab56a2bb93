/**
 * Migration 2: people, what they may see, their sessions, the mark of the first run, and the mark of an invented aircraft.
 *
 * Frozen once landed, like migration 1, and untyped for the same reason. The ledger's tables are left alone: an aircraft is invented
 * by a row beside it.
 *
 * A person is never deleted, since the ledger goes on carrying the initials; who leaves is made inactive.
 */
import { type Kysely, sql } from 'kysely';

const statements = [
  `create table public.person (
    id uuid primary key,
    name text collate "C" not null,
    name_key text collate "C" not null,
    initials text collate "C" not null,
    role text collate "C" not null,
    sees_all boolean not null,
    is_active boolean not null default true,
    password_hash text collate "C" not null,
    created_at timestamptz not null default now(),
    constraint person_name_key_once unique (name_key),
    constraint person_role_known check (role in ('viewer', 'crew', 'engineer', 'lead'))
  )`,
  // No reference to the aircraft: what a person may see is asked by id, and an id that is not there shows nothing.
  `create table public.person_access (
    person_id uuid not null references public.person (id),
    aircraft_id uuid not null,
    primary key (person_id, aircraft_id)
  )`,
  // The token itself is with the browser alone; who reads this table can sign in as nobody.
  `create table public.session (
    token_hash text collate "C" primary key,
    person_id uuid not null references public.person (id),
    started_at timestamptz not null,
    last_seen_at timestamptz not null,
    constraint session_token_hash_form check (token_hash ~ '^[0-9a-f]{64}$')
  )`,
  'create index session_by_person on public.session (person_id)',
  // One row at most: of two first runs at the same moment the second one breaks on the key, whatever the process.
  `create table public.first_run (
    done boolean primary key,
    person_id uuid not null references public.person (id),
    constraint first_run_once check (done)
  )`,
  'create table public.invented_aircraft (aircraft_id uuid primary key references public.aircraft (id))',
  'revoke all on public.person, public.person_access, public.session, public.first_run, public.invented_aircraft from public',
  `grant select, insert on public.person, public.person_access, public.session, public.first_run, public.invented_aircraft
    to tarebook_app`,
  'grant update (role, sees_all, is_active, password_hash) on public.person to tarebook_app',
  'grant update (last_seen_at) on public.session to tarebook_app',
  'grant delete on public.person_access, public.session to tarebook_app',
];

export const peopleMigration = {
  async up(db: Kysely<unknown>): Promise<void> {
    for (const statement of statements) await sql.raw(statement).execute(db);
  },
};
