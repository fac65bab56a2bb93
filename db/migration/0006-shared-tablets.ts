/**
 * Migration 6: tablets that several people share, the PIN that a person may have for them, and which sessions were begun on one.
 *
 * Frozen once landed, like migration 1, and untyped for the same reason. The ledger's tables are left alone.
 *
 * A tablet that is taken away is deleted, and every session that was begun on it with it.
 */
import { type Kysely, sql } from 'kysely';

const statements = [
  // The token itself is with the browser alone, as that of a session.
  `create table public.shared_tablet (
    id uuid primary key,
    name text collate "C" not null,
    token_hash text collate "C" not null,
    idle_minutes integer not null,
    made_by uuid not null references public.person (id),
    made_at timestamptz not null,
    last_used_at timestamptz not null,
    last_address text collate "C" not null,
    constraint shared_tablet_token_once unique (token_hash),
    constraint shared_tablet_token_form check (token_hash ~ '^[0-9a-f]{64}$'),
    constraint shared_tablet_idle_range check (idle_minutes between 1 and 60)
  )`,
  'alter table public.session add column tablet_id uuid references public.shared_tablet (id) on delete cascade',
  'alter table public.session add column by_pin boolean not null default false',
  'alter table public.session add constraint session_pin_on_tablet check (not by_pin or tablet_id is not null)',
  'create index session_by_tablet on public.session (tablet_id)',
  'alter table public.person add column pin_hash text collate "C"',
  // Wrong ones in a row, whatever the tablet and the process.
  'alter table public.person add column pin_wrong integer not null default 0',
  'revoke all on public.shared_tablet from public',
  'grant select, insert, delete on public.shared_tablet to tarebook_app',
  'grant update (name, idle_minutes, last_used_at, last_address) on public.shared_tablet to tarebook_app',
  'grant update (tablet_id) on public.session to tarebook_app',
  'grant update (pin_hash, pin_wrong) on public.person to tarebook_app',
];

export const sharedTabletsMigration = {
  async up(db: Kysely<unknown>): Promise<void> {
    for (const statement of statements) await sql.raw(statement).execute(db);
  },
};
