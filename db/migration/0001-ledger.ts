/**
 * Migration 1: aircraft, entries, the triggers that keep entries as they are (L1), and what the app's role may do.
 * The function that appends is in `0001-append-entries.ts`; both belong to this one migration.
 *
 * Frozen once landed: a later change is a new migration. Untyped on purpose, so that later types cannot break it.
 * Text columns are collated "C", so that order and equality are the same on every server, whatever its locale.
 */
import { type Kysely, sql } from 'kysely';
import { appendEntriesStatements } from '#db/migration/0001-append-entries.ts';

const tableStatements = [
  `create table public.aircraft (
    id uuid primary key,
    name text collate "C" not null,
    name_key text collate "C" not null,
    head_seq integer not null default 0,
    head_hash text collate "C" not null,
    created_at text collate "C" not null,
    constraint aircraft_name_key_once unique (name_key),
    constraint aircraft_name_length check (char_length(name) between 1 and 200),
    constraint aircraft_head_seq_range check (head_seq >= 0),
    constraint aircraft_head_hash_form check (head_hash ~ '^[0-9a-f]{64}$')
  )`,
  // PostgreSQL sorts NaN above every number, so "x >= 0" alone lets NaN and Infinity in: they are named.
  `create table public.entry (
    aircraft_id uuid not null references public.aircraft (id),
    seq integer not null,
    id uuid not null,
    kind text collate "C" not null,
    happened_on date not null,
    recorded_at text collate "C" not null,
    by_name text collate "C" not null,
    part_id uuid,
    supersedes_id uuid,
    mass_kg double precision,
    prev_hash text collate "C" not null,
    hash text collate "C" not null,
    content text collate "C" not null,
    primary key (aircraft_id, seq),
    constraint entry_id_once unique (id, aircraft_id),
    constraint entry_prev_hash_once unique (aircraft_id, prev_hash),
    constraint entry_seq_range check (seq >= 1),
    constraint entry_hash_form check (hash ~ '^[0-9a-f]{64}$'),
    constraint entry_prev_hash_form check (prev_hash ~ '^[0-9a-f]{64}$'),
    constraint entry_recorded_at_form check (recorded_at ~ '^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}[.][0-9]{3}Z$'),
    constraint entry_happened_on_finite check (isfinite(happened_on)),
    constraint entry_mass_kg_range check (
      mass_kg >= 0
      and mass_kg <> 'NaN'::double precision
      and mass_kg <> 'Infinity'::double precision
      and mass_kg <> '-Infinity'::double precision
    ),
    constraint entry_content_length check (octet_length(content) <= 1048576)
  )`,
  // L2, second wall: the function refuses first and says which entry already corrects this one.
  'create unique index entry_supersedes_once on public.entry (supersedes_id, aircraft_id) where supersedes_id is not null',
  'create index entry_by_part on public.entry (aircraft_id, part_id, seq)',
  'create index entry_by_day on public.entry (aircraft_id, happened_on, seq)',
];

const guardStatements = [
  `create function public.refuse_change() returns trigger
  language plpgsql set search_path = pg_catalog, pg_temp as $body$
  begin
    raise exception 'The ledger is append-only: % on % is refused.', tg_op, tg_table_name using errcode = 'TB002';
  end
  $body$`,
  // An aircraft begins with an empty ledger whatever the caller says.
  `create function public.start_aircraft() returns trigger
  language plpgsql set search_path = pg_catalog, pg_temp as $body$
  begin
    new.head_seq := 0;
    new.head_hash := encode(sha256(convert_to(concat('tarebook', chr(10), new.id::text), 'UTF8')), 'hex');
    new.created_at := to_char(clock_timestamp() at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"');
    return new;
  end
  $body$`,
  // The head only moves forward, and only onto an entry that is there.
  `create function public.guard_aircraft() returns trigger
  language plpgsql set search_path = pg_catalog, pg_temp as $body$
  begin
    if new.id <> old.id or new.created_at <> old.created_at then
      raise exception 'The ledger is append-only: the id and birth of an aircraft stay.' using errcode = 'TB002';
    end if;
    if (new.head_seq <> old.head_seq or new.head_hash <> old.head_hash) and not (
      new.head_seq > old.head_seq and exists (
        select from public.entry e
        where e.aircraft_id = new.id and e.seq = new.head_seq and e.hash = new.head_hash
      )
    ) then
      raise exception 'The ledger is append-only: the head moves forward, onto an entry.' using errcode = 'TB002';
    end if;
    return new;
  end
  $body$`,
  `create trigger entry_kept before update or delete on public.entry
    for each row execute function public.refuse_change()`,
  `create trigger entry_not_emptied before truncate on public.entry
    for each statement execute function public.refuse_change()`,
  `create trigger aircraft_started before insert on public.aircraft
    for each row execute function public.start_aircraft()`,
  `create trigger aircraft_guarded before update on public.aircraft
    for each row execute function public.guard_aircraft()`,
  `create trigger aircraft_kept before delete on public.aircraft
    for each row execute function public.refuse_change()`,
  `create trigger aircraft_not_emptied before truncate on public.aircraft
    for each statement execute function public.refuse_change()`,
  // ALWAYS: an ordinary trigger does not fire under session_replication_role = replica.
  'alter table public.entry enable always trigger entry_kept',
  'alter table public.entry enable always trigger entry_not_emptied',
  'alter table public.aircraft enable always trigger aircraft_started',
  'alter table public.aircraft enable always trigger aircraft_guarded',
  'alter table public.aircraft enable always trigger aircraft_kept',
  'alter table public.aircraft enable always trigger aircraft_not_emptied',
];

/** The app reads, adds an aircraft, and appends through the function. It owns nothing and changes nothing. */
const grantStatements = [
  'revoke all on public.aircraft, public.entry from public',
  'revoke all on function public.append_entries(uuid, integer, text[]) from public',
  'revoke all on function public.refuse_change(), public.start_aircraft(), public.guard_aircraft() from public',
  'grant usage on schema public to tarebook_app',
  'grant select on public.aircraft, public.entry to tarebook_app',
  'grant insert (id, name, name_key) on public.aircraft to tarebook_app',
  'grant execute on function public.append_entries(uuid, integer, text[]) to tarebook_app',
];

export const ledgerMigration = {
  async up(db: Kysely<unknown>): Promise<void> {
    for (const statement of [...tableStatements, ...guardStatements, ...appendEntriesStatements, ...grantStatements]) {
      await sql.raw(statement).execute(db);
    }
  },
};
