/** What the database refuses: changes of entries to anyone (L1), writes to the app's role (L1), masses that are none (S4). */
import { randomUUID } from 'node:crypto';
import { sql } from 'kysely';
import { describe, expect, it } from 'vitest';
import { appendEntries } from '#db/ledger/append.ts';
import { createAircraft } from '#db/ledger/create-aircraft.ts';
import { findAircraft, listAircraft } from '#db/ledger/list-aircraft.ts';
import { describeOnBothEngines, type TestEngine } from '#tests/support/engines.ts';
import { contentOf, contentsOf } from '#tests/support/entry-content.ts';

async function aircraftWithEntries(engine: TestEngine): Promise<string> {
  const aircraftId = await engine.aircraft();
  const answer = await appendEntries(engine.db(), { aircraftId, contents: contentsOf(3) });
  expect(answer.ok).toBe(true);
  return aircraftId;
}

const changes = {
  'an update of an entry': `update entry set by_name = 'Eve'`,
  'a delete of an entry': 'delete from entry',
  'emptying the entries': 'truncate entry',
  'emptying the aircraft': 'truncate aircraft cascade',
  'a delete of an aircraft': 'delete from aircraft',
  'a new id of an aircraft': 'update aircraft set id = gen_random_uuid()',
  'a new birth of an aircraft': `update aircraft set created_at = '2020-01-01T00:00:00.000Z'`,
  'a head moved back onto an earlier entry': `update aircraft a set head_seq = e.seq, head_hash = e.hash
    from entry e where e.aircraft_id = a.id and e.seq = 1 and a.head_seq > 1`,
  'a head moved onto no entry': 'update aircraft set head_seq = head_seq + 1',
  'another head hash': `update aircraft set head_hash = repeat('a', 64)`,
};

describeOnBothEngines('protection', (engine) => {
  for (const [name, statement] of Object.entries(changes)) {
    it(`[L1] ${name} is refused, to the tables' owner too`, async () => {
      await aircraftWithEntries(engine);
      await expect(engine.asOwner((tx) => sql.raw(statement).execute(tx))).rejects.toThrow('The ledger is append-only');
    });

    it(`[L1] ${name} is refused under session_replication_role = replica`, async () => {
      await aircraftWithEntries(engine);
      const refused = engine.asOwner(async (tx) => {
        await sql`set local session_replication_role = replica`.execute(tx);
        await sql.raw(statement).execute(tx);
      });
      await expect(refused).rejects.toThrow('The ledger is append-only');
    });
  }

  describe('the role of the app', () => {
    const beyondTheApp = {
      ...changes,
      'an entry of its own making': `insert into entry (aircraft_id, seq) values (gen_random_uuid(), 1)`,
      'an aircraft that begins elsewhere': `insert into aircraft (id, name, name_key, head_seq) values (gen_random_uuid(), 'x', 'x', 4)`,
      'renaming an aircraft': `update aircraft set name = 'x'`,
      'dropping a trigger': 'drop trigger entry_kept on entry',
      'disabling a trigger': 'alter table entry disable trigger entry_kept',
      'replacing the function': `create or replace function append_entries(uuid, integer, text[]) returns void language sql as 'select'`,
      'a table of its own': 'create table mine (x integer)',
      'reading the list of migrations': 'select * from kysely_migration',
    };
    for (const [name, statement] of Object.entries(beyondTheApp)) {
      it(`[L1] ${name} is refused to the app`, async () => {
        await aircraftWithEntries(engine);
        await expect(sql.raw(statement).execute(engine.db())).rejects.toThrow(/permission denied|must be owner/);
      });
    }

    it('[L1] every connection works as the app and never as the owner', async () => {
      const said = await Promise.all(
        Array.from({ length: 12 }, () => sql<{ who: string }>`select current_user as who`.execute(engine.db())),
      );
      expect(new Set(said.map((answer) => answer.rows[0]?.who))).toEqual(new Set(['tarebook_app']));
    });
  });

  describe('checks', () => {
    const insert = (aircraftId: string, given: { mass?: string; hash?: string; seq?: number; day?: string }) =>
      engine.asOwner((tx) =>
        sql`insert into entry (aircraft_id, seq, id, kind, happened_on, recorded_at, by_name, mass_kg, prev_hash, hash, content)
          values (${aircraftId}, ${given.seq ?? 1}, ${randomUUID()}, 'weighing', ${given.day ?? '2026-05-03'}::date,
            '2026-05-03T00:00:00.000Z', 'Ann', ${given.mass ?? '1'}::text::double precision, ${'b'.repeat(64)},
            ${given.hash ?? 'a'.repeat(64)}, '{}')`.execute(tx),
      );

    it.each(['NaN', 'Infinity', '-Infinity', '-0.001'])('[S4] a mass of %s is refused by the table', async (mass) => {
      await expect(insert(await engine.aircraft(), { mass })).rejects.toThrow('entry_mass_kg_range');
    });

    it('[S4] a mass of 0 and the smallest and largest numbers are taken', async () => {
      for (const mass of ['0', '5e-324', '1.7976931348623157e308']) await insert(await engine.aircraft(), { mass });
    });

    it('[S4] a malformed hash, an entry 0 and an endless day are refused by the table', async () => {
      const aircraftId = await engine.aircraft();
      await expect(insert(aircraftId, { hash: 'A'.repeat(64) })).rejects.toThrow('entry_hash_form');
      await expect(insert(aircraftId, { hash: 'a'.repeat(63) })).rejects.toThrow('entry_hash_form');
      await expect(insert(aircraftId, { seq: 0 })).rejects.toThrow('entry_seq_range');
      await expect(insert(aircraftId, { day: 'infinity' })).rejects.toThrow('entry_happened_on_finite');
    });

    it('[L5] a second entry after the same one is refused by the table', async () => {
      const aircraftId = await engine.aircraft();
      await insert(aircraftId, { seq: 1 });
      await expect(insert(aircraftId, { seq: 2 })).rejects.toThrow('entry_prev_hash_once');
    });
  });

  describe('aircraft', () => {
    it('[L3] the same aircraft again is answered again', async () => {
      const given = { id: randomUUID(), name: `  Rev ${randomUUID()} ` };
      const first = await createAircraft(engine.db(), given);
      const again = await createAircraft(engine.db(), given);
      expect(first).toMatchObject({ ok: true, replayed: false, aircraft: { headSeq: 0, name: given.name.trim() } });
      expect(again).toEqual({ ...first, replayed: true });
    });

    it('[L3] a name that is taken in other letters is refused, and an id that is taken too', async () => {
      const given = { id: randomUUID(), name: `Öre ${randomUUID()}` };
      await createAircraft(engine.db(), given);
      expect(await createAircraft(engine.db(), { id: randomUUID(), name: ` ${given.name.toUpperCase()}` })).toEqual({
        ok: false,
        refusal: { code: 'aircraft-name-taken', name: given.name, takenById: given.id },
      });
      expect(await createAircraft(engine.db(), { id: given.id, name: 'Another' })).toEqual({
        ok: false,
        refusal: { code: 'aircraft-id-taken', id: given.id },
      });
    });

    it('[L1] an aircraft is found by name and by id, and listed by name', async () => {
      const given = { id: randomUUID(), name: `Äva ${randomUUID()}` };
      await createAircraft(engine.db(), given);
      expect((await findAircraft(engine.db(), given.name.toUpperCase()))?.id).toBe(given.id);
      expect((await findAircraft(engine.db(), given.id.toUpperCase()))?.name).toBe(given.name);
      expect(await findAircraft(engine.db(), 'nothing\0')).toBeUndefined();
      const keys = (await listAircraft(engine.db())).map((aircraft) => Buffer.from(aircraft.name.toLowerCase()));
      expect(keys).toEqual([...keys].sort(Buffer.compare));
    });
  });

  it('[L1] a text that the TypeScript lets through is checked by the function again', async () => {
    const aircraftId = await engine.aircraft();
    for (const content of ['[]', '{}', '{', contentOf({ happenedOn: '2026-02-30' })]) {
      const call = sql`select * from append_entries(${aircraftId}::uuid, null, ${[content]}::text[])`;
      await expect(call.execute(engine.db())).rejects.toThrow();
    }
  });
});
