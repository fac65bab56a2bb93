/**
 * Migration 10: many entries of one commit go in as one statement.
 *
 * Who records them must know two things of the ledger before it drafts the second of them: that nobody else adds to it, and when they will have been
 * recorded, since each is told with that. `hold_aircraft` gives both: it keeps the row of the aircraft until the transaction ends, as an append does, and tells
 * where the ledger ends and what time it is. `append_held` is `append_entries` with that time, which it takes only from this very transaction:
 * not before it began, and not later than now, nor before the last entry (but where the clock has been set back since). `p_tells`: with the commit, or the caller does so afterwards (migration 9).
 *
 * Frozen once landed, like migration 1, and untyped for the same reason.
 */
import { type Kysely, sql } from 'kysely';
import { appendEntriesStatements } from '#db/migration/0001-append-entries.ts';

const utc = (moment: string) => `to_char(${moment} at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')`;

const hold = `create function public.hold_aircraft(p_aircraft uuid) returns table (head_seq integer, held_at text)
  language plpgsql volatile security definer set search_path = pg_catalog, pg_temp as $body$
  declare
    v_seq integer;
  begin
    select a.head_seq into v_seq from public.aircraft a where a.id = p_aircraft for no key update;
    if found then
      return query select v_seq, ${utc('clock_timestamp()')};
    end if;
  end
  $body$`;

const CLOCK = `v_now := ${utc('clock_timestamp()')};`;
const HELD = `v_now := ${utc('clock_timestamp()')};
  if p_held_at is null or p_held_at collate "C" < ${utc('now()')} or p_held_at collate "C" > v_now then
    raise exception 'An entry is recorded when its transaction holds the aircraft, not at another time.' using errcode = 'TB005';
  end if;
  select e.recorded_at into v_found_at from public.entry e where e.aircraft_id = p_aircraft and e.seq = v_start_seq;
  if p_held_at <> ${utc('p_held_at::timestamptz')} or (p_held_at collate "C" < v_found_at and v_found_at <= v_now) then
    raise exception 'An entry is recorded after the one before it.' using errcode = 'TB005';
  end if;
  v_now := p_held_at;`;
const TELLS = 'perform pg_notify(';

/** Word for word the function of migration 1 but for these four places, so that the two cannot drift apart. */
function held(): string {
  const places = [
    ['public.append_entries(', 'public.append_held('],
    ['p_contents text[])', 'p_contents text[], p_held_at text, p_tells boolean)'],
    [CLOCK, HELD],
    [
      TELLS,
      "perform case when p_tells then pg_notify('tarebook_entry', concat(p_aircraft::text, ':', v_seq::text)) end;",
    ],
  ] as const;
  let text = appendEntriesStatements.join('\n');
  for (const [from, to] of places) {
    const whole = from === TELLS ? /perform pg_notify\([^;]*;/ : from;
    if (text.split(from).length !== 2) throw new Error('append_entries has changed');
    text = text.replace(whole, () => to);
  }
  return text;
}

const statements = [
  hold,
  held(),
  'revoke all on function public.hold_aircraft(uuid) from public',
  'revoke all on function public.append_held(uuid, integer, text[], text, boolean) from public',
  'grant execute on function public.hold_aircraft(uuid) to tarebook_app',
  'grant execute on function public.append_held(uuid, integer, text[], text, boolean) to tarebook_app',
];

export const recordingTogetherMigration = {
  async up(db: Kysely<unknown>): Promise<void> {
    for (const statement of statements) await sql.raw(statement).execute(db);
  },
};
