/**
 * Migration 5: briefs. A brief's content is kept as it was made, and is never changed or removed; what is said of it is one row each, and the
 * last row is in force: remarks while it is a draft, then that it is issued, or dropped. After that there is no further row.
 *
 * Frozen once landed, like migration 1, and untyped for the same reason. The ledger's tables are left alone.
 *
 * Issuing takes the remarks as they stand, gives the next number of the aircraft, and hashes content and remarks: none of it is the app's to say.
 * Statements about one aircraft's briefs wait for one another, so that two issued at once have two numbers.
 */
import { type Kysely, sql } from 'kysely';

const statements = [
  `create table public.brief (
    aircraft_id uuid not null references public.aircraft (id),
    brief_id uuid not null,
    from_seq integer not null,
    to_seq integer not null,
    by_name text collate "C" not null,
    recorded_at text collate "C" not null,
    sent text collate "C" not null,
    content text collate "C" not null,
    primary key (aircraft_id, brief_id),
    constraint brief_period check (from_seq >= 0 and to_seq >= 1 and from_seq <= to_seq),
    constraint brief_sent_length check (octet_length(sent) <= 4096),
    constraint brief_content_length check (octet_length(content) <= 8388608)
  )`,
  `create table public.brief_statement (
    aircraft_id uuid not null,
    brief_id uuid not null,
    revision integer not null,
    id uuid not null,
    act text collate "C" not null,
    by_name text collate "C" not null,
    recorded_at text collate "C" not null,
    sent text collate "C" not null,
    remarks text collate "C" not null,
    issue_number integer,
    hash text collate "C",
    primary key (aircraft_id, brief_id, revision),
    constraint brief_statement_of foreign key (aircraft_id, brief_id) references public.brief (aircraft_id, brief_id),
    constraint brief_statement_id_once unique (id, aircraft_id),
    constraint brief_number_once unique (aircraft_id, issue_number),
    constraint brief_statement_range check (revision >= 1),
    constraint brief_statement_act check (act in ('remark', 'issue', 'drop')),
    constraint brief_issued_whole check ((act = 'issue') = (issue_number is not null) and (act = 'issue') = (hash is not null)),
    constraint brief_statement_sent_length check (octet_length(sent) <= 262144),
    constraint brief_remarks_length check (octet_length(remarks) <= 262144)
  )`,
  `create function public.make_brief() returns trigger
  language plpgsql set search_path = pg_catalog, pg_temp as $body$
  declare
    v_head integer;
  begin
    new.recorded_at := to_char(clock_timestamp() at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"');
    select a.head_seq into v_head from public.aircraft a where a.id = new.aircraft_id;
    perform pg_notify('tarebook_entry', concat(new.aircraft_id::text, ':', coalesce(v_head, 0)::text));
    return new;
  end
  $body$`,
  `create function public.state_brief() returns trigger
  language plpgsql set search_path = pg_catalog, pg_temp as $body$
  declare
    v_last public.brief_statement%rowtype;
    v_head integer;
  begin
    perform pg_advisory_xact_lock(hashtextextended(concat('brief ', new.aircraft_id::text), 0));
    if not exists (
      select from public.brief b where b.aircraft_id = new.aircraft_id and b.brief_id = new.brief_id
    ) then
      raise exception 'There is no such brief.' using errcode = '23503';
    end if;
    select * into v_last from public.brief_statement s
      where s.aircraft_id = new.aircraft_id and s.brief_id = new.brief_id
      order by s.revision desc limit 1;
    if v_last.act in ('issue', 'drop') then
      raise exception 'The brief is no draft any more.' using errcode = 'TB004';
    end if;
    if new.revision <> coalesce(v_last.revision, 0) + 1 then
      raise exception 'The brief is at revision %.', coalesce(v_last.revision, 0) using errcode = 'TB003';
    end if;
    new.recorded_at := to_char(clock_timestamp() at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"');
    if new.act <> 'remark' then
      new.remarks := coalesce(v_last.remarks, '{}');
    end if;
    if new.act = 'issue' then
      select coalesce(max(s.issue_number), 0) + 1 into new.issue_number from public.brief_statement s
        where s.aircraft_id = new.aircraft_id;
      select encode(sha256(convert_to(concat(b.content, chr(10), new.remarks), 'UTF8')), 'hex') into new.hash
        from public.brief b where b.aircraft_id = new.aircraft_id and b.brief_id = new.brief_id;
    end if;
    select a.head_seq into v_head from public.aircraft a where a.id = new.aircraft_id;
    perform pg_notify('tarebook_entry', concat(new.aircraft_id::text, ':', coalesce(v_head, 0)::text));
    return new;
  end
  $body$`,
  `create trigger brief_made before insert on public.brief
    for each row execute function public.make_brief()`,
  `create trigger brief_kept before update or delete on public.brief
    for each row execute function public.refuse_change()`,
  `create trigger brief_not_emptied before truncate on public.brief
    for each statement execute function public.refuse_change()`,
  `create trigger brief_stated before insert on public.brief_statement
    for each row execute function public.state_brief()`,
  `create trigger brief_statement_kept before update or delete on public.brief_statement
    for each row execute function public.refuse_change()`,
  `create trigger brief_statement_not_emptied before truncate on public.brief_statement
    for each statement execute function public.refuse_change()`,
  // ALWAYS: an ordinary trigger does not fire under session_replication_role = replica.
  'alter table public.brief enable always trigger brief_made',
  'alter table public.brief enable always trigger brief_kept',
  'alter table public.brief enable always trigger brief_not_emptied',
  'alter table public.brief_statement enable always trigger brief_stated',
  'alter table public.brief_statement enable always trigger brief_statement_kept',
  'alter table public.brief_statement enable always trigger brief_statement_not_emptied',
  'revoke all on public.brief, public.brief_statement from public',
  'revoke all on function public.make_brief(), public.state_brief() from public',
  'grant select on public.brief, public.brief_statement to tarebook_app',
  'grant insert (aircraft_id, brief_id, from_seq, to_seq, by_name, sent, content) on public.brief to tarebook_app',
  `grant insert (aircraft_id, brief_id, revision, id, act, by_name, sent, remarks) on public.brief_statement
    to tarebook_app`,
];

export const briefsMigration = {
  async up(db: Kysely<unknown>): Promise<void> {
    for (const statement of statements) await sql.raw(statement).execute(db);
  },
};
