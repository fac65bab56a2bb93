/**
 * Migration 9: an append that does not tell of itself, and two indexes less.
 *
 * PostgreSQL lets one transaction with a NOTIFY commit at a time, whichever aircraft it is about, and each holds the others up for as long as
 * its own log takes to reach the disk. `append_untold` is `append_entries` without that: its caller tells what it recorded once that is committed.
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

const statements = [
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
