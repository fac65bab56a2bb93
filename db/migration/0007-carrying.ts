/**
 * Migration 7: aircraft that were brought in from another store with their whole chain, and photos.
 *
 * Frozen once landed, like migration 1, and untyped for the same reason. Of what was there before, only the functions that stamp proposals
 * and briefs are made anew: they let the moment stand with which one comes that is brought in.
 *
 * A hash covers the moment of recording, so a chain that comes in keeps the moments it was recorded at elsewhere. The app may say such a moment
 * in one transaction alone: the one in which it makes the aircraft and its row in `brought_aircraft`. When that transaction ends, the chain must
 * end as the row says it does. The row stays, and tells up to which entry the moments are another store's.
 */
import { type Kysely, sql } from 'kysely';

const NOW = `to_char(clock_timestamp() at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')`;

const broughtStatements = [
  `create table public.brought_aircraft (
    aircraft_id uuid primary key references public.aircraft (id),
    by_name text collate "C" not null,
    brought_at text collate "C" not null,
    entry_count integer not null,
    head_hash text collate "C" not null,
    began_in text collate "C" not null,
    constraint brought_aircraft_count_range check (entry_count >= 0),
    constraint brought_aircraft_hash_form check (head_hash ~ '^[0-9a-f]{64}$')
  )`,
  `create function public.begin_brought() returns trigger
  language plpgsql set search_path = pg_catalog, pg_temp as $body$
  begin
    if not exists (select from public.aircraft a where a.id = new.aircraft_id and a.head_seq = 0) then
      raise exception 'The ledger is append-only: only an aircraft without entries is brought in.' using errcode = 'TB002';
    end if;
    new.brought_at := ${NOW};
    new.began_in := pg_current_xact_id()::text;
    return new;
  end
  $body$`,
  // Seen at the end of the transaction: the whole chain, or nothing of it.
  `create function public.end_brought() returns trigger
  language plpgsql set search_path = pg_catalog, pg_temp as $body$
  begin
    if not exists (select from public.aircraft a where a.id = new.aircraft_id and a.head_seq = new.entry_count
        and a.head_hash = new.head_hash) then
      raise exception 'The chain that was brought in does not end as it was said to.' using errcode = 'TB005';
    end if;
    return null;
  end
  $body$`,
  `create function public.is_bringing(p_aircraft uuid) returns boolean
  language sql stable security definer set search_path = pg_catalog, pg_temp as $body$
    select exists (select from public.brought_aircraft b
      where b.aircraft_id = p_aircraft and b.began_in = pg_current_xact_id()::text)
  $body$`,
  // The twin of append_entries for a chain that is there already: the same text is hashed, only the moment is given.
  `create function public.bring_entries(p_aircraft uuid, p_contents text[], p_recorded_ats text[]) returns text
  language plpgsql volatile security definer set search_path = pg_catalog, pg_temp
  set enable_seqscan = off set plan_cache_mode = force_generic_plan as $body$
  declare
    v_seq integer;
    v_hash text;
    v_prev_hash text;
    v_json jsonb;
    v_supersedes uuid;
  begin
    if not public.is_bringing(p_aircraft) then
      raise exception 'The ledger is append-only: this aircraft is not being brought in.' using errcode = 'TB002';
    end if;
    select a.head_seq, a.head_hash into v_seq, v_hash
      from public.aircraft a where a.id = p_aircraft for no key update;
    for v_index in 1 .. cardinality(p_contents) loop
      v_json := p_contents[v_index]::jsonb;
      v_supersedes := (v_json ->> 'supersedesId')::uuid;
      if v_supersedes is not null and not exists (
        select from public.entry e where e.id = v_supersedes and e.aircraft_id::text = p_aircraft::text
      ) then
        raise exception 'An entry corrects one that is not there.' using errcode = 'TB005';
      end if;
      v_seq := v_seq + 1;
      v_prev_hash := v_hash;
      v_hash := encode(sha256(convert_to(
        concat_ws(chr(10), p_aircraft::text, v_seq::text, p_recorded_ats[v_index], v_prev_hash, p_contents[v_index]),
        'UTF8')), 'hex');
      insert into public.entry (aircraft_id, seq, id, kind, happened_on, recorded_at, by_name, part_id, supersedes_id,
          mass_kg, prev_hash, hash, content)
        values (p_aircraft, v_seq, (v_json ->> 'id')::uuid, v_json ->> 'kind', (v_json ->> 'happenedOn')::date,
          p_recorded_ats[v_index], v_json ->> 'by', (v_json ->> 'partId')::uuid, v_supersedes,
          coalesce(v_json ->> 'netKg', v_json ->> 'massKg')::double precision, v_prev_hash, v_hash,
          p_contents[v_index]);
    end loop;
    update public.aircraft set head_seq = v_seq, head_hash = v_hash where id = p_aircraft and head_seq < v_seq;
    perform pg_notify('tarebook_entry', concat(p_aircraft::text, ':', v_seq::text));
    return v_hash;
  end
  $body$`,
  `create trigger brought_aircraft_begun before insert on public.brought_aircraft
    for each row execute function public.begin_brought()`,
  `create constraint trigger brought_aircraft_ended after insert on public.brought_aircraft
    deferrable initially deferred for each row execute function public.end_brought()`,
  `create trigger brought_aircraft_kept before update or delete on public.brought_aircraft
    for each row execute function public.refuse_change()`,
  `create trigger brought_aircraft_not_emptied before truncate on public.brought_aircraft
    for each statement execute function public.refuse_change()`,
  // ALWAYS: an ordinary trigger does not fire under session_replication_role = replica.
  'alter table public.brought_aircraft enable always trigger brought_aircraft_begun',
  'alter table public.brought_aircraft enable always trigger brought_aircraft_ended',
  'alter table public.brought_aircraft enable always trigger brought_aircraft_kept',
  'alter table public.brought_aircraft enable always trigger brought_aircraft_not_emptied',
];

/** The functions that stamp let a given moment stand while the aircraft is being brought in; only functions of the owner can give one. */
const proposalStatements = [
  `create or replace function public.state_proposal() returns trigger
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
    if new.recorded_at is null or not public.is_bringing(new.aircraft_id) then
      new.recorded_at := ${NOW};
    end if;
    select a.head_seq into v_head from public.aircraft a where a.id = new.aircraft_id;
    perform pg_notify('tarebook_entry', concat(new.aircraft_id::text, ':', coalesce(v_head, 0)::text));
    return new;
  end
  $body$`,
  `create function public.bring_proposal(p_aircraft uuid, p_proposal uuid, p_revision integer, p_id uuid, p_by text,
    p_recorded_at text, p_sent text, p_content text) returns void
  language plpgsql volatile security definer set search_path = pg_catalog, pg_temp as $body$
  begin
    if not public.is_bringing(p_aircraft) then
      raise exception 'This aircraft is not being brought in.' using errcode = 'TB002';
    end if;
    insert into public.proposal_revision (aircraft_id, proposal_id, revision, id, by_name, recorded_at, sent, content)
      values (p_aircraft, p_proposal, p_revision, p_id, p_by, p_recorded_at, p_sent, p_content);
  end
  $body$`,
];

const briefStatements = [
  `create or replace function public.make_brief() returns trigger
  language plpgsql set search_path = pg_catalog, pg_temp as $body$
  declare
    v_head integer;
  begin
    if new.recorded_at is null or not public.is_bringing(new.aircraft_id) then
      new.recorded_at := ${NOW};
    end if;
    select a.head_seq into v_head from public.aircraft a where a.id = new.aircraft_id;
    perform pg_notify('tarebook_entry', concat(new.aircraft_id::text, ':', coalesce(v_head, 0)::text));
    return new;
  end
  $body$`,
  `create or replace function public.state_brief() returns trigger
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
    if new.recorded_at is null or not public.is_bringing(new.aircraft_id) then
      new.recorded_at := ${NOW};
    end if;
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
  `create function public.bring_brief(p_aircraft uuid, p_brief uuid, p_from integer, p_to integer, p_by text,
    p_recorded_at text, p_sent text, p_content text) returns void
  language plpgsql volatile security definer set search_path = pg_catalog, pg_temp as $body$
  begin
    if not public.is_bringing(p_aircraft) then
      raise exception 'This aircraft is not being brought in.' using errcode = 'TB002';
    end if;
    insert into public.brief (aircraft_id, brief_id, from_seq, to_seq, by_name, recorded_at, sent, content)
      values (p_aircraft, p_brief, p_from, p_to, p_by, p_recorded_at, p_sent, p_content);
  end
  $body$`,
  // Its number and its hash are worked out as at any other: in the order in which they were issued they are the same.
  `create function public.bring_brief_statement(p_aircraft uuid, p_brief uuid, p_revision integer, p_id uuid, p_act text,
    p_by text, p_recorded_at text, p_sent text, p_remarks text) returns void
  language plpgsql volatile security definer set search_path = pg_catalog, pg_temp as $body$
  begin
    if not public.is_bringing(p_aircraft) then
      raise exception 'This aircraft is not being brought in.' using errcode = 'TB002';
    end if;
    insert into public.brief_statement (aircraft_id, brief_id, revision, id, act, by_name, recorded_at, sent, remarks)
      values (p_aircraft, p_brief, p_revision, p_id, p_act, p_by, p_recorded_at, p_sent, p_remarks);
  end
  $body$`,
];

/** Photos stand beside the ledger: nothing of them is hashed into it. Their bytes are never changed; who takes one away leaves a mark. */
const photoStatements = [
  `create table public.photo (
    aircraft_id uuid not null references public.aircraft (id),
    id uuid not null,
    part_id uuid,
    entry_id uuid,
    by_name text collate "C" not null,
    recorded_at text collate "C" not null,
    remark text collate "C",
    width_px integer not null,
    height_px integer not null,
    sha256 text collate "C" not null,
    bytes bytea not null,
    small_bytes bytea not null,
    primary key (aircraft_id, id),
    constraint photo_of_something check (part_id is not null or entry_id is not null),
    constraint photo_size check (width_px between 1 and 4096 and height_px between 1 and 4096),
    constraint photo_sha256_fits check (sha256 = encode(sha256(bytes), 'hex')),
    constraint photo_bytes_length check (octet_length(bytes) between 1 and 2097152),
    constraint photo_small_bytes_length check (octet_length(small_bytes) between 1 and 131072),
    constraint photo_remark_length check (char_length(remark) <= 400)
  )`,
  'create index photo_by_part on public.photo (aircraft_id, part_id)',
  `create table public.photo_removal (
    aircraft_id uuid not null,
    photo_id uuid not null,
    by_name text collate "C" not null,
    recorded_at text collate "C" not null,
    reason text collate "C" not null,
    primary key (aircraft_id, photo_id),
    foreign key (aircraft_id, photo_id) references public.photo (aircraft_id, id),
    constraint photo_removal_reason_length check (char_length(reason) between 1 and 400)
  )`,
  `create function public.tell_photo() returns trigger
  language plpgsql set search_path = pg_catalog, pg_temp as $body$
  declare
    v_head integer;
  begin
    if new.recorded_at is null or not public.is_bringing(new.aircraft_id) then
      new.recorded_at := ${NOW};
    end if;
    select a.head_seq into v_head from public.aircraft a where a.id = new.aircraft_id;
    perform pg_notify('tarebook_entry', concat(new.aircraft_id::text, ':', coalesce(v_head, 0)::text));
    return new;
  end
  $body$`,
  `create function public.bring_photo(p_aircraft uuid, p_id uuid, p_part uuid, p_entry uuid, p_by text,
    p_recorded_at text, p_remark text, p_width integer, p_height integer, p_sha256 text, p_bytes bytea, p_small bytea,
    p_removed_by text, p_removed_at text, p_reason text) returns void
  language plpgsql volatile security definer set search_path = pg_catalog, pg_temp as $body$
  begin
    if not public.is_bringing(p_aircraft) then
      raise exception 'This aircraft is not being brought in.' using errcode = 'TB002';
    end if;
    insert into public.photo (aircraft_id, id, part_id, entry_id, by_name, recorded_at, remark, width_px, height_px,
        sha256, bytes, small_bytes)
      values (p_aircraft, p_id, p_part, p_entry, p_by, p_recorded_at, p_remark, p_width, p_height, p_sha256, p_bytes,
        p_small);
    if p_reason is not null then
      insert into public.photo_removal (aircraft_id, photo_id, by_name, recorded_at, reason)
        values (p_aircraft, p_id, p_removed_by, p_removed_at, p_reason);
    end if;
  end
  $body$`,
  ...['photo', 'photo_removal'].flatMap((table) => [
    `create trigger ${table}_told before insert on public.${table}
      for each row execute function public.tell_photo()`,
    `create trigger ${table}_kept before update or delete on public.${table}
      for each row execute function public.refuse_change()`,
    `create trigger ${table}_not_emptied before truncate on public.${table}
      for each statement execute function public.refuse_change()`,
    ...['told', 'kept', 'not_emptied'].map(
      (trigger) => `alter table public.${table} enable always trigger ${table}_${trigger}`,
    ),
  ]),
];

const grantStatements = [
  'revoke all on public.brought_aircraft, public.photo, public.photo_removal from public',
  'revoke all on function public.begin_brought(), public.end_brought(), public.tell_photo() from public',
  'revoke all on function public.is_bringing(uuid), public.bring_entries(uuid, text[], text[]) from public',
  `revoke all on function public.bring_proposal(uuid, uuid, integer, uuid, text, text, text, text),
    public.bring_photo(uuid, uuid, uuid, uuid, text, text, text, integer, integer, text, bytea, bytea, text, text, text)
    from public`,
  `revoke all on function public.bring_brief(uuid, uuid, integer, integer, text, text, text, text),
    public.bring_brief_statement(uuid, uuid, integer, uuid, text, text, text, text, text) from public`,
  `grant execute on function public.bring_brief(uuid, uuid, integer, integer, text, text, text, text),
    public.bring_brief_statement(uuid, uuid, integer, uuid, text, text, text, text, text) to tarebook_app`,
  'grant select on public.brought_aircraft, public.photo, public.photo_removal to tarebook_app',
  'grant insert (aircraft_id, by_name, entry_count, head_hash) on public.brought_aircraft to tarebook_app',
  `grant insert (aircraft_id, id, part_id, entry_id, by_name, remark, width_px, height_px, sha256, bytes, small_bytes)
    on public.photo to tarebook_app`,
  'grant insert (aircraft_id, photo_id, by_name, reason) on public.photo_removal to tarebook_app',
  'grant execute on function public.is_bringing(uuid), public.bring_entries(uuid, text[], text[]) to tarebook_app',
  `grant execute on function public.bring_proposal(uuid, uuid, integer, uuid, text, text, text, text),
    public.bring_photo(uuid, uuid, uuid, uuid, text, text, text, integer, integer, text, bytea, bytea, text, text, text)
    to tarebook_app`,
];

export const carryingMigration = {
  async up(db: Kysely<unknown>): Promise<void> {
    const all = [broughtStatements, proposalStatements, briefStatements, photoStatements, grantStatements];
    for (const statement of all.flat()) await sql.raw(statement).execute(db);
  },
};
