/**
 * Migration 4: the weighing of an aircraft while it is being made, which the tablet at the scales and the office share. One for each aircraft,
 * written over with every change: what is signed is an entry, and this is none.
 *
 * Frozen once landed, like migration 1, and untyped for the same reason. The ledger's tables are left alone.
 *
 * Versions follow one another without a gap: who writes the next one has seen the last one.
 */
import { type Kysely, sql } from 'kysely';

const statements = [
  `create table public.aircraft_weighing_draft (
    aircraft_id uuid not null references public.aircraft (id),
    id uuid not null,
    version integer not null,
    by_name text collate "C" not null,
    changed_at text collate "C" not null,
    content text collate "C" not null,
    primary key (aircraft_id),
    constraint aircraft_weighing_draft_range check (version >= 1),
    constraint aircraft_weighing_draft_length check (octet_length(content) <= 262144)
  )`,
  // Stamps the row and tells who listens on the channel of the entries that there is news.
  `create function public.tell_weighing_draft() returns trigger
  language plpgsql set search_path = pg_catalog, pg_temp as $body$
  declare
    v_aircraft uuid;
    v_head integer;
  begin
    v_aircraft := case when tg_op = 'DELETE' then old.aircraft_id else new.aircraft_id end;
    select a.head_seq into v_head from public.aircraft a where a.id = v_aircraft;
    perform pg_notify('tarebook_entry', concat(v_aircraft::text, ':', coalesce(v_head, 0)::text));
    if tg_op = 'DELETE' then
      return old;
    end if;
    new.changed_at := to_char(clock_timestamp() at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"');
    return new;
  end
  $body$`,
  `create trigger aircraft_weighing_draft_told before insert or update or delete on public.aircraft_weighing_draft
    for each row execute function public.tell_weighing_draft()`,
  'alter table public.aircraft_weighing_draft enable always trigger aircraft_weighing_draft_told',
  'revoke all on public.aircraft_weighing_draft from public',
  'revoke all on function public.tell_weighing_draft() from public',
  'grant select, delete on public.aircraft_weighing_draft to tarebook_app',
  `grant insert (aircraft_id, id, version, by_name, content) on public.aircraft_weighing_draft to tarebook_app`,
  `grant update (version, by_name, content) on public.aircraft_weighing_draft to tarebook_app`,
];

export const aircraftWeighingMigration = {
  async up(db: Kysely<unknown>): Promise<void> {
    for (const statement of statements) await sql.raw(statement).execute(db);
  },
};
