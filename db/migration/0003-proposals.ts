/**
 * Migration 3: proposals, what is thought of and not in the ledger. Each row is one statement of a proposal; the latest is in force, and
 * none is ever changed or removed.
 *
 * Frozen once landed, like migration 1, and untyped for the same reason. The ledger's tables are left alone.
 *
 * Revisions follow one another without a gap: who states the next one has seen the last one. Of two at once, the primary key refuses one.
 */
import { type Kysely, sql } from 'kysely';

const statements = [
  `create table public.proposal_revision (
    aircraft_id uuid not null references public.aircraft (id),
    proposal_id uuid not null,
    revision integer not null,
    id uuid not null,
    by_name text collate "C" not null,
    recorded_at text collate "C" not null,
    sent text collate "C" not null,
    content text collate "C" not null,
    primary key (aircraft_id, proposal_id, revision),
    constraint proposal_revision_id_once unique (id, aircraft_id),
    constraint proposal_revision_first check (revision > 1 or id = proposal_id),
    constraint proposal_revision_range check (revision >= 1),
    constraint proposal_revision_sent_length check (octet_length(sent) <= 1048576),
    constraint proposal_revision_content_length check (octet_length(content) <= 1048576)
  )`,
  // Stamps the row, keeps the revisions in one line, and tells who listens on the channel of the entries that there is news.
  `create function public.state_proposal() returns trigger
  language plpgsql set search_path = pg_catalog, pg_temp as $body$
  declare
    v_last integer;
    v_head integer;
  begin
    select coalesce(max(p.revision), 0) into v_last from public.proposal_revision p
      where p.aircraft_id = new.aircraft_id and p.proposal_id = new.proposal_id;
    if new.revision <> v_last + 1 then
      raise exception 'The proposal is at revision %.', v_last using errcode = 'TB003';
    end if;
    new.recorded_at := to_char(clock_timestamp() at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"');
    select a.head_seq into v_head from public.aircraft a where a.id = new.aircraft_id;
    perform pg_notify('tarebook_entry', concat(new.aircraft_id::text, ':', coalesce(v_head, 0)::text));
    return new;
  end
  $body$`,
  `create trigger proposal_stated before insert on public.proposal_revision
    for each row execute function public.state_proposal()`,
  `create trigger proposal_kept before update or delete on public.proposal_revision
    for each row execute function public.refuse_change()`,
  `create trigger proposal_not_emptied before truncate on public.proposal_revision
    for each statement execute function public.refuse_change()`,
  // ALWAYS: an ordinary trigger does not fire under session_replication_role = replica.
  'alter table public.proposal_revision enable always trigger proposal_stated',
  'alter table public.proposal_revision enable always trigger proposal_kept',
  'alter table public.proposal_revision enable always trigger proposal_not_emptied',
  'revoke all on public.proposal_revision from public',
  'revoke all on function public.state_proposal() from public',
  'grant select on public.proposal_revision to tarebook_app',
  `grant insert (aircraft_id, proposal_id, revision, id, by_name, sent, content) on public.proposal_revision
    to tarebook_app`,
];

export const proposalsMigration = {
  async up(db: Kysely<unknown>): Promise<void> {
    for (const statement of statements) await sql.raw(statement).execute(db);
  },
};
