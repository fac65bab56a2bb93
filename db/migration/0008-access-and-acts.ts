/**
 * Migration 8: aircraft that are closed to all but the named, and the list of who did what beside the ledgers.
 *
 * Frozen once landed, like migration 1, and untyped for the same reason. The ledger's tables are left alone.
 *
 * An aircraft without a row in `closed_aircraft` is open as before. What was done is written once: the moment is the database's own, and
 * nobody changes or takes away a row.
 */
import { type Kysely, sql } from 'kysely';

const accessStatements = [
  'create table public.closed_aircraft (aircraft_id uuid primary key references public.aircraft (id))',
  `create table public.closed_aircraft_person (
    aircraft_id uuid not null references public.closed_aircraft (aircraft_id) on delete cascade,
    person_id uuid not null references public.person (id),
    may_write boolean not null,
    primary key (aircraft_id, person_id)
  )`,
  'create index closed_aircraft_person_by_person on public.closed_aircraft_person (person_id)',
  'revoke all on public.closed_aircraft, public.closed_aircraft_person from public',
  'grant select, insert, delete on public.closed_aircraft, public.closed_aircraft_person to tarebook_app',
];

const actStatements = [
  // Microseconds: acts that follow one another within a millisecond stand in their order.
  `create table public.act (
    id uuid primary key,
    done_at text collate "C" not null,
    kind text collate "C" not null,
    person_id uuid references public.person (id),
    by_name text collate "C",
    about_person_id uuid references public.person (id),
    aircraft_id uuid references public.aircraft (id),
    address text collate "C",
    detail text collate "C" not null,
    constraint act_by_one check (person_id is null or by_name is null),
    constraint act_kind_length check (char_length(kind) between 1 and 60),
    constraint act_detail_length check (char_length(detail) <= 4000)
  )`,
  'create index act_by_moment on public.act (done_at, id)',
  `create function public.stamp_act() returns trigger
  language plpgsql set search_path = pg_catalog, pg_temp as $body$
  begin
    new.done_at := to_char(clock_timestamp() at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.US"Z"');
    return new;
  end
  $body$`,
  `create trigger act_stamped before insert on public.act
    for each row execute function public.stamp_act()`,
  `create trigger act_kept before update or delete on public.act
    for each row execute function public.refuse_change()`,
  `create trigger act_not_emptied before truncate on public.act
    for each statement execute function public.refuse_change()`,
  // ALWAYS: an ordinary trigger does not fire under session_replication_role = replica.
  ...['stamped', 'kept', 'not_emptied'].map((name) => `alter table public.act enable always trigger act_${name}`),
  'revoke all on public.act from public',
  'revoke all on function public.stamp_act() from public',
  'grant select on public.act to tarebook_app',
  `grant insert (id, kind, person_id, by_name, about_person_id, aircraft_id, address, detail) on public.act
    to tarebook_app`,
];

export const accessAndActsMigration = {
  async up(db: Kysely<unknown>): Promise<void> {
    for (const statement of [...accessStatements, ...actStatements]) await sql.raw(statement).execute(db);
  },
};
