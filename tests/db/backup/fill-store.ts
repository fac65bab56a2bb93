/**
 * Invented rows for every table that a store of a schema step has, as its owner, in plain SQL: the app's own code knows the newest schema alone.
 */
import { createHash, randomUUID } from 'node:crypto';
import { type Kysely, sql } from 'kysely';
import { genesisHash } from '#db/ledger/chain-hash.ts';
import { entryText } from '#shared/ledger/canonical.ts';
import { everyKind } from '#tests/shared/archive/every-kind.ts';

const HASH = 'a'.repeat(64);

/** `step`: how many steps the schema has, if not all. Answers the id of the aircraft that has an entry of every kind. */
export async function fillStore<Db>(db: Kysely<Db>, step = Number.POSITIVE_INFINITY): Promise<string> {
  const ids = { aircraft: randomUUID(), person: randomUUID(), other: randomUUID() };
  const run = (query: ReturnType<typeof sql>) => query.execute(db);
  await run(sql`insert into public.aircraft (id, name, name_key)
    values (${ids.aircraft}, 'Dabchick fixture (invented)', ${`fixture ${ids.aircraft}`})`);
  const contents = everyKind().entries.map(({ entry }) => entryText(entry));
  const appended = await sql<{ refusal: unknown }>`
    select refusal from public.append_entries(${ids.aircraft}::uuid, 0, ${contents}::text[])`.execute(db);
  if (appended.rows.some(({ refusal }) => refusal !== null)) throw new Error(JSON.stringify(appended.rows[0]));
  const byStep = [undefined, fillPeople, fillProposal, fillDraft, fillBrief, fillTablet, fillPhoto, fillAccess];
  for (const fill of byStep.slice(0, step)) await fill?.(run, ids);
  return ids.aircraft;
}

type Run = (query: ReturnType<typeof sql>) => Promise<unknown>;
type Ids = { readonly aircraft: string; readonly person: string; readonly other: string };

async function fillPeople(run: Run, { aircraft, person, other }: Ids): Promise<void> {
  for (const [id, role, seesAll] of [
    [person, 'lead', true],
    [other, 'crew', false],
  ] as const)
    await run(sql`insert into public.person (id, name, name_key, initials, role, sees_all, password_hash, created_at)
      values (${id}, ${`Ann “${role}” ünïcode`}, ${id}, 'AN', ${role}, ${seesAll}, 'argon2id of nothing',
        '2026-03-01 12:00:00.123456+00')`);
  await run(sql`insert into public.person_access (person_id, aircraft_id) values (${other}, ${aircraft})`);
  await run(sql`insert into public.session (token_hash, person_id, started_at, last_seen_at)
    values (${createHash('sha256').update(person).digest('hex')}, ${person}, now(), now())`);
  await run(sql`insert into public.first_run (done, person_id) values (true, ${person}) on conflict do nothing`);
  await run(sql`insert into public.invented_aircraft (aircraft_id) values (${aircraft})`);
}

async function fillProposal(run: Run, { aircraft }: Ids): Promise<void> {
  const id = randomUUID();
  for (const revision of [1, 2])
    await run(sql`insert into public.proposal_revision (aircraft_id, proposal_id, revision, id, by_name, sent, content)
      values (${aircraft}, ${id}, ${revision}, ${revision === 1 ? id : randomUUID()}, 'AN', '{}', '{"title":"lighter"}')`);
}

async function fillDraft(run: Run, { aircraft }: Ids): Promise<void> {
  await run(sql`insert into public.aircraft_weighing_draft (aircraft_id, id, version, by_name, content)
    values (${aircraft}, ${randomUUID()}, 3, 'AN', '{"fields":{}}')`);
}

async function fillBrief(run: Run, { aircraft }: Ids): Promise<void> {
  const id = randomUUID();
  await run(sql`insert into public.brief (aircraft_id, brief_id, from_seq, to_seq, by_name, sent, content)
    values (${aircraft}, ${id}, 0, 3, 'AN', '{}', '{"headline":"none"}')`);
  for (const [revision, act] of ['remark', 'issue'].entries())
    await run(sql`insert into public.brief_statement (aircraft_id, brief_id, revision, id, act, by_name, sent, remarks)
      values (${aircraft}, ${id}, ${revision + 1}, ${randomUUID()}, ${act}, 'AN', '{}', '{"a":"b"}')`);
}

async function fillTablet(run: Run, { person, other }: Ids): Promise<void> {
  const token = createHash('sha256').update(other).digest('hex');
  await run(sql`insert into public.shared_tablet (id, name, token_hash, idle_minutes, made_by, made_at, last_used_at, last_address)
    values (${randomUUID()}, 'Bench', ${token}, 5, ${person}, now(), now(), '192.0.2.1')`);
  await run(sql`update public.person set pin_hash = 'argon2id of a PIN', pin_wrong = 2 where id = ${other}`);
}

async function fillAccess(run: Run, { aircraft, person, other }: Ids): Promise<void> {
  await run(sql`insert into public.closed_aircraft (aircraft_id) values (${aircraft})`);
  await run(sql`insert into public.closed_aircraft_person (aircraft_id, person_id, may_write)
    values (${aircraft}, ${other}, false)`);
  await run(sql`insert into public.act (id, kind, person_id, about_person_id, aircraft_id, address, detail)
    values (${randomUUID()}, 'aircraft closed', ${person}, ${other}, ${aircraft}, '192.0.2.1', '{"readers":"Ann"}')`);
  await run(
    sql`insert into public.act (id, kind, by_name, detail) values (${randomUUID()}, 'backup made', 'AN', '{}')`,
  );
}

/** Also an aircraft that was brought in. */
async function fillPhoto(run: Run, { aircraft }: Ids): Promise<void> {
  const brought = randomUUID();
  await run(
    sql`insert into public.aircraft (id, name, name_key) values (${brought}, 'Brought (invented)', ${brought})`,
  );
  await run(sql`insert into public.brought_aircraft (aircraft_id, by_name, entry_count, head_hash)
    values (${brought}, 'AN', 0, ${genesisHash(brought)})`);
  for (const length of [1, 300_000]) {
    const id = randomUUID();
    const bytes = Buffer.from(Array.from({ length }, (_, at) => (at * 7919) % 256));
    await run(sql`insert into public.photo (aircraft_id, id, part_id, by_name, width_px, height_px, sha256, bytes, small_bytes)
      values (${aircraft}, ${id}, ${randomUUID()}, 'AN', 4, 3, ${createHash('sha256').update(bytes).digest('hex')}, ${bytes},
        ${bytes.subarray(0, 100)})`);
    if (length === 1)
      await run(sql`insert into public.photo_removal (aircraft_id, photo_id, by_name, reason)
        values (${aircraft}, ${id}, 'AN', ${HASH.slice(0, 10)})`);
  }
}
