/**
 * Whatever one changes in an entry behind the app's back is found, and the entry is named (L5): any byte of its text, any of its columns, the
 * aircraft's head and id, rows exchanged, doubled and taken out. Each change is made with the owner's rights and all guards off, inside a
 * transaction that is rolled back: as somebody with the database's own password would, and yet leaving the chain whole for the next.
 */
import { randomUUID } from 'node:crypto';
import fc from 'fast-check';
import { type Selectable, sql, type Transaction } from 'kysely';
import { beforeAll, expect, it } from 'vitest';
import type { Database, EntryTable } from '#db/database.ts';
import { makeEntries } from '#db/demo/make-entries.ts';
import { appendEntries } from '#db/ledger/append.ts';
import { type ChainAnswer, verifyChain } from '#db/ledger/verify.ts';
import { entryText } from '#shared/ledger/canonical.ts';
import type { AircraftId } from '#shared/ledger/entry.ts';
import { describeOnBothEngines, type TestEngine } from '#tests/support/engines.ts';
import { contentsOf } from '#tests/support/entry-content.ts';

const RUNS = { numRuns: 80, seed: 20260615 } as const;
type Tx = Transaction<Database>;
type Row = Selectable<EntryTable>;

class RolledBack extends Error {}

/** What verification says after `work` has changed something; the change is taken back. */
async function verified(engine: TestEngine, aircraftId: string, work: (tx: Tx) => Promise<unknown>) {
  let answer: ChainAnswer | undefined;
  const done = engine.asOwner(async (tx) => {
    // Off go the guards of rows, and the foreign keys with them.
    for (const table of ['entry', 'aircraft']) await sql`alter table ${sql.ref(table)} disable trigger all`.execute(tx);
    await work(tx);
    answer = await verifyChain(tx, aircraftId);
    throw new RolledBack();
  });
  await expect(done).rejects.toThrow(RolledBack);
  return answer;
}

const hex = fc.constantFrom(...'0123456789abcdef');
const digit = fc.constantFrom(...'0123456789');
const name = fc.string({ minLength: 1, maxLength: 12, unit: 'grapheme' }).filter((text) => !text.includes('\0'));
const uuid = fc.uuid().map((text) => text.toLowerCase());

/** For every column of an entry another value than it has; `at` says where in it, for those that are changed in one place. */
const COLUMNS: Readonly<Record<keyof EntryTable, (row: Row) => fc.Arbitrary<unknown>>> = {
  aircraft_id: () => uuid,
  seq: () => fc.integer({ min: 100_000, max: 200_000 }),
  id: () => uuid,
  kind: () => name,
  happened_on: () =>
    fc.date({ min: new Date('1990-01-01'), max: new Date('2090-01-01'), noInvalidDate: true }).map(dayOf),
  recorded_at: ({ recorded_at: at }) =>
    fc.tuple(fc.constantFrom(20, 21, 22, 18, 8), digit).map(([to, one]) => swapped(at, to, one)),
  by_name: () => name,
  part_id: ({ part_id: id }) => fc.oneof(uuid, ...(id === null ? [] : [fc.constant(null)])),
  supersedes_id: ({ supersedes_id: id }) => fc.oneof(uuid, ...(id === null ? [] : [fc.constant(null)])),
  mass_kg: ({ mass_kg: massKg }) =>
    fc.oneof(
      fc.double({ min: 0, noNaN: true, noDefaultInfinity: true }),
      fc.constant(null),
      fc.constant(massKg === 0 ? -0 : 0),
    ),
  prev_hash: ({ prev_hash: hash }) => fc.tuple(fc.nat(63), hex).map(([to, one]) => swapped(hash, to, one)),
  hash: ({ hash }) => fc.tuple(fc.nat(63), hex).map(([to, one]) => swapped(hash, to, one)),
  content: ({ content }) =>
    fc.tuple(fc.nat(), fc.integer({ min: 1, max: 255 })).map(([at, to]) => byteChanged(content, at, to)),
};

const dayOf = (date: Date) => date.toISOString().slice(0, 10);
const swapped = (text: string, at: number, one: string) => `${text.slice(0, at)}${one}${text.slice(at + 1)}`;

/** One byte of its UTF-8 is another; undefined where that is no text any more, which the database takes from nobody. */
function byteChanged(text: string, at: number, to: number): string | undefined {
  const bytes = Buffer.from(text, 'utf8');
  bytes[at % bytes.length] = to;
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    return undefined;
  }
}

describeOnBothEngines('tampering', (engine) => {
  const chains: { aircraftId: string; rows: Row[] }[] = [];
  beforeAll(async () => {
    for (const seed of [11, 12]) {
      const aircraftId = await engine.aircraft();
      const entries = makeEntries({ aircraftId: aircraftId as AircraftId, today: '2026-06-15', by: 'Åsa', seed });
      await append(aircraftId, entries.map(entryText));
    }
    // Zeros, which have a sign, and letters of several bytes.
    await append(await engine.aircraft(), contentsOf(12, { massKg: 0, by: 'Zoë Ω', partId: randomUUID() }));
  });

  async function append(aircraftId: string, contents: readonly string[]): Promise<void> {
    expect(await appendEntries(engine.db(), { aircraftId, contents })).toMatchObject({ ok: true });
    expect(await verifyChain(engine.db(), aircraftId)).toMatchObject({ ok: true, entryCount: contents.length });
    const rows = await engine
      .db()
      .selectFrom('entry')
      .selectAll()
      .where('aircraft_id', '=', aircraftId)
      .orderBy('seq')
      .execute();
    chains.push({ aircraftId, rows });
  }

  /** A chain, and the row at a place in it; drawn as numbers, since the chains are not there yet when tests are told. */
  function rowAt([chain, place]: readonly [number, number]): { aircraftId: string; row: Row; rows: Row[] } {
    const found = chains[chain % chains.length];
    const row = found?.rows[place % found.rows.length];
    if (found === undefined || row === undefined) throw new Error('there is no chain');
    return { ...found, row };
  }

  const place = fc.tuple(fc.nat(2), fc.nat());

  it('[L5] no column of an entry is left out of what follows', async () => {
    const { rows } = await engine.asOwner((tx) =>
      sql<{ name: string }>`select column_name::text as name from information_schema.columns
        where table_schema = 'public' and table_name = 'entry'`.execute(tx),
    );
    expect(rows.map((row) => row.name).sort()).toEqual(Object.keys(COLUMNS).sort());
  });

  for (const [column, other] of Object.entries(COLUMNS))
    it(`[L5] ${column === 'content' ? 'any byte of the text' : `another ${column}`} of any entry is found and the entry is named`, {
      timeout: 120_000,
    }, async () => {
      let tried = 0;
      await fc.assert(
        fc.asyncProperty(place, fc.gen(), async (at, gen) => {
          const { aircraftId, row } = rowAt(at);
          const value = gen(other, row);
          const before = row[column as keyof EntryTable];
          if (value === undefined || Object.is(value, before)) return;
          tried += 1;
          // A sign of zero does not come through as a number.
          const given = Object.is(value, -0) ? sql`'-0'::double precision` : sql`${value}`;
          const answer = await verified(engine, aircraftId, (tx) =>
            sql`update entry set ${sql.ref(column)} = ${given} where aircraft_id = ${aircraftId} and seq = ${row.seq}`.execute(
              tx,
            ),
          );
          expect(answer).toMatchObject({ ok: false, seq: row.seq });
        }),
        RUNS,
      );
      expect(tried).toBeGreaterThan(30);
    });

  it('[L5] an entry taken out of the middle is named, wherever it stood', async () => {
    await fc.assert(
      fc.asyncProperty(place, async (at) => {
        const { aircraftId, row } = rowAt(at);
        const answer = await verified(engine, aircraftId, (tx) =>
          sql`delete from entry where aircraft_id = ${aircraftId} and seq = ${row.seq}`.execute(tx),
        );
        expect(answer).toMatchObject({ ok: false, seq: row.seq });
      }),
      { ...RUNS, numRuns: 40 },
    );
  });

  it('[L5] two entries that have exchanged places are named by the first of the two', async () => {
    await fc.assert(
      fc.asyncProperty(place, fc.nat(), async (at, to) => {
        const { aircraftId, row, rows } = rowAt(at);
        const other = rows[to % rows.length]?.seq ?? 1;
        fc.pre(other !== row.seq);
        const answer = await verified(engine, aircraftId, async (tx) => {
          const move = (from: number, into: number) =>
            sql`update entry set seq = ${into} where aircraft_id = ${aircraftId} and seq = ${from}`.execute(tx);
          await move(row.seq, 1_000_000);
          await move(other, row.seq);
          await move(1_000_000, other);
        });
        expect(answer).toMatchObject({ ok: false, seq: Math.min(row.seq, other) });
      }),
      { ...RUNS, numRuns: 40 },
    );
  });

  it('[L5] an entry put in twice is named, also where a page of the walk ends, and so is one before the first', async () => {
    const aircraftId = await engine.aircraft();
    expect(await appendEntries(engine.db(), { aircraftId, contents: contentsOf(1_003) })).toMatchObject({ ok: true });
    const copied = (from: number, into: number) =>
      verified(engine, aircraftId, async (tx) => {
        const uniques = ['entry_pkey', 'entry_id_once', 'entry_prev_hash_once', 'entry_seq_range'];
        for (const one of uniques) await sql`alter table entry drop constraint ${sql.ref(one)}`.execute(tx);
        await sql`insert into entry select aircraft_id, ${into}::integer, id, kind, happened_on, recorded_at, by_name, part_id,
          supersedes_id, mass_kg, prev_hash, hash, content from entry
          where aircraft_id = ${aircraftId} and seq = ${from}`.execute(tx);
      });
    for (const seq of [1, 7, 999, 1_000, 1_001, 1_003])
      expect(await copied(seq, seq)).toMatchObject({ ok: false, seq, fault: 'twice' });
    expect(await copied(7, 0)).toMatchObject({ ok: false, seq: 0, fault: 'twice' });
    expect(await copied(7, -3)).toMatchObject({ ok: false, seq: -3, fault: 'twice' });
  });

  it('[L5] another head of the aircraft is found, and its entry is named', async () => {
    await fc.assert(
      fc.asyncProperty(place, fc.nat(63), hex, async (at, to, one) => {
        const { aircraftId, row, rows } = rowAt(at);
        const head = rows.length;
        const setHead = (seq: number, hash: string) =>
          verified(engine, aircraftId, (tx) =>
            sql`update aircraft set head_seq = ${seq}, head_hash = ${hash} where id = ${aircraftId}`.execute(tx),
          );
        const { hash } = rows[head - 1] ?? row;
        if (row.seq < head) expect(await setHead(row.seq, row.hash)).toMatchObject({ ok: false, seq: row.seq + 1 });
        expect(await setHead(head + 1 + row.seq, hash)).toMatchObject({ ok: false, seq: head + 1 });
        const otherHash = swapped(hash, to, one);
        if (otherHash !== hash) expect(await setHead(head, otherHash)).toMatchObject({ ok: false, seq: head });
      }),
      { ...RUNS, numRuns: 20 },
    );
  });

  it('[L5] a chain under another id of its aircraft does not begin there', async () => {
    const { aircraftId, rows } = rowAt([0, 0]);
    const other = randomUUID();
    const moved = (withEntries: boolean) =>
      verified(engine, other, async (tx) => {
        await sql`update aircraft set id = ${other} where id = ${aircraftId}`.execute(tx);
        if (withEntries)
          await sql`update entry set aircraft_id = ${other} where aircraft_id = ${aircraftId}`.execute(tx);
      });
    expect(rows.length).toBeGreaterThan(100);
    expect(await moved(true)).toMatchObject({ ok: false, seq: 1, fault: 'link' });
    expect(await moved(false)).toMatchObject({ ok: false, seq: 1, fault: 'head' });
  });
});
