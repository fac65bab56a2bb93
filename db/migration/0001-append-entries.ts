/**
 * Part of migration 1: the one way into the ledger (L1, L2, L3, L5). Frozen once landed, like the migration.
 *
 * The function locks the aircraft's head row, so that writers of one aircraft queue instead of failing, and appends
 * the texts in order. What is hashed and kept is the text itself; jsonb only serves to derive columns, because it
 * rewrites numbers (1e-7, -0). The hash is SHA-256 over the UTF-8 of
 * `aircraft_id \n seq \n recorded_at \n prev_hash \n content`.
 *
 * A refusal comes back as data: one row whose `refusal` is set. Inside, it is raised with SQLSTATE TB001 and caught
 * around the loop, so the block's subtransaction takes back every insert of this call and yet the caller's transaction
 * stays usable. Any other error (text that is no JSON object, a broken check) is the caller's bug and goes through.
 *
 * Its plans are made once a session and kept, and the embedded engine never gathers statistics. A plan made while the
 * table is empty may walk a whole aircraft for each later entry, since every index that begins with the aircraft looks
 * alike then (20,000 entries took 40 s instead of 2.5 s). So scanning is off, the two look-ups by id have indexes that
 * begin with that id, and they compare the aircraft as text, which no index can serve.
 *
 * It runs with the owner's rights and therefore pins its search_path and names every table with its schema.
 */

const appendEntries = `create function public.append_entries(p_aircraft uuid, p_expected_seq integer, p_contents text[])
returns table (ordinal bigint, seq integer, recorded_at text, hash text, replayed boolean, refusal jsonb)
language plpgsql volatile security definer set search_path = pg_catalog, pg_temp
set enable_seqscan = off set plan_cache_mode = force_generic_plan as $body$
#variable_conflict use_column
declare
  v_start_seq integer;
  v_seq integer;
  v_hash text;
  v_prev_hash text;
  v_now text;
  v_index integer := -1;
  v_content text;
  v_json jsonb;
  v_id uuid;
  v_supersedes uuid;
  v_found_seq integer;
  v_found_at text;
  v_found_hash text;
  v_found_content text;
  v_seqs integer[] := '{}';
  v_ats text[] := '{}';
  v_hashes text[] := '{}';
  v_replays boolean[] := '{}';
  v_detail text;
begin
  select a.head_seq, a.head_hash into v_start_seq, v_hash
    from public.aircraft a where a.id = p_aircraft for no key update;
  if not found then
    return query select null::bigint, null::integer, null::text, null::text, null::boolean,
      jsonb_build_object('code', 'unknown-aircraft');
    return;
  end if;
  v_seq := v_start_seq;
  -- Read after the lock, so that the time of recording follows the order of the ledger as far as the clock does.
  v_now := to_char(clock_timestamp() at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"');
  begin
    foreach v_content in array p_contents loop
      v_index := v_index + 1;
      v_json := v_content::jsonb;
      v_id := (v_json ->> 'id')::uuid;

      -- L3: looked up within this aircraft only, so that nothing of another one can show.
      select e.seq, e.recorded_at, e.hash, e.content into v_found_seq, v_found_at, v_found_hash, v_found_content
        from public.entry e where e.id = v_id and e.aircraft_id::text = p_aircraft::text;
      if found then
        if v_found_content collate "C" <> v_content collate "C" then
          raise exception 'refused' using errcode = 'TB001', detail = jsonb_build_object('code', 'entry-id-reused',
            'index', v_index, 'entryId', v_id, 'seq', v_found_seq, 'content', v_found_content);
        end if;
        v_seqs := v_seqs || v_found_seq;
        v_ats := v_ats || v_found_at;
        v_hashes := v_hashes || v_found_hash;
        v_replays := v_replays || true;
        continue;
      end if;

      if v_start_seq <> p_expected_seq then
        raise exception 'refused' using errcode = 'TB001',
          detail = jsonb_build_object('code', 'ledger-moved-on', 'headSeq', v_start_seq);
      end if;

      v_supersedes := (v_json ->> 'supersedesId')::uuid;
      if v_supersedes is not null then
        if not exists (
          select from public.entry e where e.id = v_supersedes and e.aircraft_id::text = p_aircraft::text
        ) then
          raise exception 'refused' using errcode = 'TB001', detail = jsonb_build_object('code', 'nothing-to-correct',
            'index', v_index, 'entryId', v_id, 'supersedesId', v_supersedes);
        end if;
        select e.seq into v_found_seq
          from public.entry e where e.supersedes_id = v_supersedes and e.aircraft_id::text = p_aircraft::text;
        if found then
          raise exception 'refused' using errcode = 'TB001', detail = jsonb_build_object('code', 'already-corrected',
            'index', v_index, 'entryId', v_id, 'supersedesId', v_supersedes, 'correctedBySeq', v_found_seq);
        end if;
      end if;

      v_seq := v_seq + 1;
      v_prev_hash := v_hash;
      v_hash := encode(sha256(convert_to(
        concat_ws(chr(10), p_aircraft::text, v_seq::text, v_now, v_prev_hash, v_content), 'UTF8')), 'hex');
      insert into public.entry (aircraft_id, seq, id, kind, happened_on, recorded_at, by_name, part_id, supersedes_id,
          mass_kg, prev_hash, hash, content)
        values (p_aircraft, v_seq, v_id, v_json ->> 'kind', (v_json ->> 'happenedOn')::date, v_now, v_json ->> 'by',
          (v_json ->> 'partId')::uuid, v_supersedes,
          coalesce(v_json ->> 'netKg', v_json ->> 'massKg')::double precision, v_prev_hash, v_hash, v_content);
      v_seqs := v_seqs || v_seq;
      v_ats := v_ats || v_now;
      v_hashes := v_hashes || v_hash;
      v_replays := v_replays || false;
    end loop;

    if v_seq > v_start_seq then
      update public.aircraft set head_seq = v_seq, head_hash = v_hash where id = p_aircraft;
      -- Ids only: whoever listens reads the entries with its own rights.
      perform pg_notify('tarebook_entry', concat(p_aircraft::text, ':', v_seq::text));
    end if;
  exception when sqlstate 'TB001' then
    get stacked diagnostics v_detail = pg_exception_detail;
    return query select null::bigint, null::integer, null::text, null::text, null::boolean, v_detail::jsonb;
    return;
  end;
  return query
    select r.ordinal, r.seq, r.recorded_at, r.hash, r.replayed, null::jsonb
      from unnest(v_seqs, v_ats, v_hashes, v_replays) with ordinality as r (seq, recorded_at, hash, replayed, ordinal)
      order by r.ordinal;
end
$body$`;

export const appendEntriesStatements: readonly string[] = [appendEntries];
