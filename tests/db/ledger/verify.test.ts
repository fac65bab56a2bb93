/** Verification names the first entry that does not fit after someone went behind the app's back (L5). */
import { type RawBuilder, sql } from 'kysely';
import { expect, it } from 'vitest';
import { appendEntries } from '#db/ledger/append.ts';
import { verifyChain } from '#db/ledger/verify.ts';
import { describeOnBothEngines } from '#tests/support/engines.ts';
import { contentsOf } from '#tests/support/entry-content.ts';

const entries = 1_100;
const rehash = sql`encode(sha256(convert_to(concat_ws(chr(10), aircraft_id::text, seq::text, recorded_at, prev_hash, content), 'UTF8')), 'hex')`;

type Tampering = { does: (aircraftId: string) => RawBuilder<unknown>[]; expected: object };

const tamperings: Record<string, Tampering> = {
  'a changed text': {
    does: (id) => [
      sql`update entry set content = replace(content, 'Ann', 'Eve') where aircraft_id = ${id} and seq = 1050`,
    ],
    expected: { seq: 1050, fault: 'hash' },
  },
  'a changed time': {
    does: (id) => [
      sql`update entry set recorded_at = '2020-01-01T00:00:00.000Z' where aircraft_id = ${id} and seq = 7`,
    ],
    expected: { seq: 7, fault: 'hash' },
  },
  'a changed hash': {
    does: (id) => [sql`update entry set hash = repeat('c', 64) where aircraft_id = ${id} and seq = 9`],
    expected: { seq: 9, fault: 'hash' },
  },
  'a changed text with a new hash': {
    does: (id) => [
      sql`update entry set content = replace(content, 'Ann', 'Eve'), by_name = 'Eve' where aircraft_id = ${id} and seq = 5`,
      sql`update entry set hash = ${rehash} where aircraft_id = ${id} and seq = 5`,
    ],
    expected: { seq: 6, fault: 'link' },
  },
  'a text that is no entry, with a new hash': {
    does: (id) => [
      sql`update entry set content = '{}' where aircraft_id = ${id} and seq = 4`,
      sql`update entry set hash = ${rehash} where aircraft_id = ${id} and seq = 4`,
    ],
    expected: { seq: 4, fault: 'text' },
  },
  'a missing middle entry': {
    does: (id) => [sql`delete from entry where aircraft_id = ${id} and seq = 500`],
    expected: { seq: 500, fault: 'gap' },
  },
  'a missing first entry': {
    does: (id) => [sql`delete from entry where aircraft_id = ${id} and seq = 1`],
    expected: { seq: 1, fault: 'gap' },
  },
  'a cut tail': {
    does: (id) => [sql`delete from entry where aircraft_id = ${id} and seq > 1090`],
    expected: { seq: 1091, fault: 'head' },
  },
  'a head moved back': {
    does: (id) => [
      sql`update aircraft a set head_seq = 1000, head_hash = e.hash from entry e
        where a.id = ${id} and e.aircraft_id = a.id and e.seq = 1000`,
    ],
    expected: { seq: 1001, fault: 'head' },
  },
  'another head hash': {
    does: (id) => [sql`update aircraft set head_hash = repeat('d', 64) where id = ${id}`],
    expected: { seq: entries, fault: 'head' },
  },
};

const columns = {
  id: `gen_random_uuid()`,
  kind: `'estimate'`,
  happened_on: `'2020-01-01'`,
  by_name: `'Eve'`,
  part_id: `gen_random_uuid()`,
  supersedes_id: `gen_random_uuid()`,
  mass_kg: `mass_kg + 1e-12`,
};
for (const [column, value] of Object.entries(columns)) {
  tamperings[`a changed column ${column}`] = {
    does: (id) => [sql`update entry set ${sql.ref(column)} = ${sql.raw(value)} where aircraft_id = ${id} and seq = 3`],
    expected: { seq: 3, fault: 'projection', column },
  };
}

describeOnBothEngines('verify', (engine) => {
  for (const [name, tampering] of Object.entries(tamperings)) {
    it(`[L5] ${name} is found and the first entry that does not fit is named`, async () => {
      const aircraftId = await engine.aircraft();
      const answer = await appendEntries(engine.db(), { aircraftId, contents: contentsOf(entries) });
      expect(answer.ok).toBe(true);
      expect(await verifyChain(engine.db(), aircraftId)).toMatchObject({ ok: true, entryCount: entries });
      await engine.asOwner(async (tx) => {
        await sql`alter table entry disable trigger entry_kept`.execute(tx);
        await sql`alter table aircraft disable trigger aircraft_guarded`.execute(tx);
        for (const statement of tampering.does(aircraftId)) {
          const done = await statement.execute(tx);
          expect(done.numAffectedRows ?? 0n).toBeGreaterThan(0n);
        }
        await sql`alter table entry enable always trigger entry_kept`.execute(tx);
        await sql`alter table aircraft enable always trigger aircraft_guarded`.execute(tx);
      });
      expect(await verifyChain(engine.db(), aircraftId)).toMatchObject({ ok: false, ...tampering.expected });
    });
  }

  it("[L5] an unknown aircraft is the caller's mistake", async () => {
    await expect(verifyChain(engine.db(), '00000000-0000-4000-8000-000000000000')).rejects.toThrow('does not exist');
  });

  it('[L5] verification goes on while entries are appended, and ends clean', async () => {
    const aircraftId = await engine.aircraft();
    const writing = (async () => {
      for (let round = 0; round < 30; round += 1)
        await appendEntries(engine.db(), { aircraftId, contents: contentsOf(40) });
    })();
    for (let round = 0; round < 15; round += 1) {
      expect(await verifyChain(engine.db(), aircraftId)).toMatchObject({ ok: true });
    }
    await writing;
    expect(await verifyChain(engine.db(), aircraftId)).toMatchObject({ ok: true, entryCount: 1_200 });
  });
});
