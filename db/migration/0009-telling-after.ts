/**
 * Migration 9: an append that does not tell of itself, a guard that reads one row, and two indexes less.
 *
 * PostgreSQL lets one transaction with a NOTIFY commit at a time, whichever aircraft it is about, and each holds the others up for as long as
 * its own log takes to reach the disk. `append_untold` is `append_entries` without that: its caller tells what it recorded once that is committed.
 *
 * `guard_aircraft` looked for the entry of a new head by three columns. Its plan is made once a session, and one that was made while the ledger was
 * empty went through all of it from then on: by the order asked for now, only the primary key will do.
 *
 * `entry_by_part` and `entry_by_day` served nobody, since what is asked by part or day is answered from the folded ledger, and each cost a page
 * written for every entry.
 *
 * Frozen once landed, like migration 1, and untyped for the same reason.
 */
import { type Kysely, sql } from 'kysely';
import { appendEntriesStatements } from '#db/migration/0001-append-entries.ts';

const TELLS = /\n\s*-- Ids only[^\n]*\n\s*perform pg_notify\([^;]*\);/;

/** Word for word the function of migration 1, so that the two cannot drift apart. */
function untold(): string {
  const told = appendEntriesStatements.join('\n');
  const quiet = told.replace(TELLS, '').replace('public.append_entries(', 'public.append_untold(');
  if (quiet.includes('pg_notify') || quiet.includes('append_entries')) throw new Error('append_entries has changed');
  return quiet;
}

const guard = `create or replace function public.guard_aircraft() returns trigger
  language plpgsql set search_path = pg_catalog, pg_temp
  set enable_seqscan = off set plan_cache_mode = force_generic_plan as $body$
  declare
    v_seq integer;
    v_hash text;
  begin
    if new.id <> old.id or new.created_at <> old.created_at then
      raise exception 'The ledger is append-only: the id and birth of an aircraft stay.' using errcode = 'TB002';
    end if;
    if new.head_seq <> old.head_seq or new.head_hash <> old.head_hash then
      select e.seq, e.hash into v_seq, v_hash from public.entry e
        where e.aircraft_id = new.id and e.seq >= new.head_seq order by e.seq limit 1;
      if new.head_seq <= old.head_seq or v_seq is distinct from new.head_seq or v_hash is distinct from new.head_hash then
        raise exception 'The ledger is append-only: the head moves forward, onto an entry.' using errcode = 'TB002';
      end if;
    end if;
    return new;
  end
  $body$`;

const statements = [
  guard,
  untold(),
  'revoke all on function public.append_untold(uuid, integer, text[]) from public',
  'grant execute on function public.append_untold(uuid, integer, text[]) to tarebook_app',
  'drop index public.entry_by_part',
  'drop index public.entry_by_day',
];

export const tellingAfterMigration = {
  async up(db: Kysely<unknown>): Promise<void> {
    for (const statement of statements) await sql.raw(statement).execute(db);
  },
};
