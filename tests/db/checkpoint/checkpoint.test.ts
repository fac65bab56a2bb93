/**
 * What the chain cannot tell of itself, a checkpoint tells (rule L9): a tail that was cut off together with the head, and a chain that was made
 * anew with right hashes. Done with the owner's rights and all guards off; the chain by itself is whole each time, or the test has no point.
 */
import { type Selectable, sql, type Transaction } from 'kysely';
import { expect, it } from 'vitest';
import { holdAgainst, isGenuine, makeCheckpoint } from '#db/checkpoint/checkpoint.ts';
import type { Checkpoint } from '#db/checkpoint/statement.ts';
import type { Database, EntryTable } from '#db/database.ts';
import { appendEntries } from '#db/ledger/append.ts';
import { entryHash, genesisHash } from '#db/ledger/chain-hash.ts';
import { verifyChain } from '#db/ledger/verify.ts';
import { loadLedger } from '#db/record/load-ledger.ts';
import { foldedOverview } from '#shared/bulk/overview.ts';
import { entryText } from '#shared/ledger/canonical.ts';
import { describeOnBothEngines, type TestEngine } from '#tests/support/engines.ts';
import { aircraftOf, Chain, estimateOf, noteOf, partOf, weighingOf } from '../../shared/ledger/make-entries.ts';
import { newKey, pageRead } from './make-checkpoint.ts';

const KEY = newKey();
const MADE_AT = '2026-06-15T12:00:00.000Z';
type Tx = Transaction<Database>;

const chain = new Chain();
chain.record(aircraftOf());
chain.record(partOf(1, { name: 'Web' }));
chain.record(estimateOf(1, { massKg: 0.5, xM: 2 }));
chain.record(weighingOf(1, 0.52));
for (let number = 1; number <= 8; number += 1) chain.record(noteOf(`note ${number}`));
const CONTENTS = chain.entries.map(({ entry }) => entryText(entry));

async function checkpointOf(engine: TestEngine, aircraftId: string): Promise<Checkpoint> {
  const made = await makeCheckpoint(engine.db(), {
    ...{ aircraft: { id: aircraftId, name: `Aircraft ${aircraftId}` }, by: 'JM', madeAt: MADE_AT, key: KEY },
    overviewAt: async (seq, work) => work(foldedOverview(await loadLedger(engine.db(), aircraftId, seq))),
  });
  if (!made.ok) throw new Error(made.refusal.code);
  const checkpoint = pageRead(made.value.page);
  expect(isGenuine(checkpoint)).toBe(true);
  return checkpoint;
}

async function begun(engine: TestEngine, entries = CONTENTS.length): Promise<string> {
  const aircraftId = await engine.aircraft();
  expect(await appendEntries(engine.db(), { aircraftId, contents: CONTENTS.slice(0, entries) })).toMatchObject({
    ok: true,
  });
  return aircraftId;
}

async function behindTheApp(engine: TestEngine, work: (tx: Tx) => Promise<unknown>): Promise<void> {
  await engine.asOwner(async (tx) => {
    for (const table of ['entry', 'aircraft']) await sql`alter table ${sql.ref(table)} disable trigger all`.execute(tx);
    await work(tx);
    for (const trigger of ['entry_kept', 'entry_not_emptied'])
      await sql`alter table entry enable always trigger ${sql.ref(trigger)}`.execute(tx);
    for (const trigger of ['aircraft_started', 'aircraft_guarded', 'aircraft_kept', 'aircraft_not_emptied'])
      await sql`alter table aircraft enable always trigger ${sql.ref(trigger)}`.execute(tx);
  });
}

/** As somebody does who knows how the chain is made: text and columns changed, every hash from there on made anew, the head with them. */
async function rewrite(
  tx: Tx,
  aircraftId: string,
  change: (row: Selectable<EntryTable>) => Selectable<EntryTable> | undefined,
) {
  const rows = await tx.selectFrom('entry').selectAll().where('aircraft_id', '=', aircraftId).orderBy('seq').execute();
  await sql`delete from entry where aircraft_id = ${aircraftId}`.execute(tx);
  let [seq, prevHash] = [0, genesisHash(aircraftId)];
  for (const row of rows) {
    const changed = change(row);
    if (changed === undefined) continue;
    seq += 1;
    const { recorded_at: recordedAt, content } = changed;
    const hash = entryHash({ aircraftId, seq, recordedAt, prevHash, content });
    await tx
      .insertInto('entry')
      .values({ ...changed, seq, prev_hash: prevHash, hash })
      .execute();
    prevHash = hash;
  }
  await sql`update aircraft set head_seq = ${seq}, head_hash = ${prevHash} where id = ${aircraftId}`.execute(tx);
}

async function held(engine: TestEngine, checkpoint: Checkpoint) {
  const answer = await verifyChain(engine.db(), checkpoint.aircraftId);
  return { whole: answer.ok, held: await holdAgainst(engine.db(), checkpoint, answer) };
}

describeOnBothEngines('a checkpoint', (engine) => {
  it('[L9] says how the ledger stands, in the units of the aircraft, and the ledger holds against it', async () => {
    const aircraftId = await begun(engine);
    const checkpoint = await checkpointOf(engine, aircraftId);
    const { hash, recorded_at: recorded } = await engine
      .db()
      .selectFrom('entry')
      .selectAll()
      .where('aircraft_id', '=', aircraftId)
      .where('seq', '=', CONTENTS.length)
      .executeTakeFirstOrThrow();
    expect(checkpoint.statement).toEqual({
      ...{
        aircraft: `Aircraft ${aircraftId}`,
        'aircraft id': aircraftId,
        entry: String(CONTENTS.length),
        recorded,
        hash,
      },
      ...{
        'empty weight': 'predicted 0.52000 ± 0.00029 kg',
        'empty CG': 'predicted x 2.000 m',
      },
      ...{ made: MADE_AT, by: 'JM' },
    });
    expect(await held(engine, checkpoint)).toEqual({ whole: true, held: { ok: true, entriesSince: 0 } });
  });

  it('[L9] an older one holds after the ledger has grown, and tells by how much', async () => {
    const aircraftId = await begun(engine, 5);
    const checkpoint = await checkpointOf(engine, aircraftId);
    await appendEntries(engine.db(), { aircraftId, contents: CONTENTS });
    expect(await held(engine, checkpoint)).toEqual({
      whole: true,
      held: { ok: true, entriesSince: CONTENTS.length - 5 },
    });
  });

  it('[L9] a tail that was cut off with the head moved back is found, and the first missing entry is named', async () => {
    const aircraftId = await begun(engine);
    const checkpoint = await checkpointOf(engine, aircraftId);
    await behindTheApp(engine, async (tx) => {
      await sql`delete from entry where aircraft_id = ${aircraftId} and seq > 7`.execute(tx);
      await sql`update aircraft a set head_seq = 7, head_hash = e.hash from entry e
        where a.id = ${aircraftId} and e.aircraft_id = a.id and e.seq = 7`.execute(tx);
    });
    const cut = { ok: false, seq: 8, fault: 'cut', words: expect.stringContaining('ends with entry 7') };
    expect(await held(engine, checkpoint)).toEqual({ whole: true, held: cut });
  });

  it('[L9] a tail that was cut off and grown over again is found', async () => {
    const aircraftId = await begun(engine);
    const checkpoint = await checkpointOf(engine, aircraftId);
    await behindTheApp(engine, (tx) => rewrite(tx, aircraftId, (row) => (row.seq > 7 ? undefined : row)));
    const others = Array.from({ length: 9 }, (_, index) => noteOf(`other ${index}`));
    const grown = new Chain();
    for (const other of others) grown.record(other, { id: crypto.randomUUID() });
    const contents = grown.entries.map(({ entry }) => entryText(entry));
    expect(await appendEntries(engine.db(), { aircraftId, contents })).toMatchObject({ ok: true });
    expect(await held(engine, checkpoint)).toMatchObject({ whole: true, held: { ok: false, fault: 'rewritten' } });
  });

  const REWRITES: Readonly<Record<string, (row: Selectable<EntryTable>) => Selectable<EntryTable> | undefined>> = {
    'another text': (row) =>
      row.seq === 4 ? { ...row, content: row.content.replace('0.52', '0.42'), mass_kg: 0.42 } : row,
    'another moment of recording': (row) =>
      row.seq === 6 ? { ...row, recorded_at: row.recorded_at.replace(/^..../, '2020') } : row,
    'an entry taken out': (row) => (row.seq === 5 ? undefined : row),
  };
  for (const [name, change] of Object.entries(REWRITES))
    it(`[L9] a whole chain made anew with right hashes is found: ${name}`, async () => {
      const aircraftId = await begun(engine);
      // Of the middle, so that the end is there in any case.
      const first = await begun(engine, 8);
      const checkpoint = await checkpointOf(engine, first);
      await appendEntries(engine.db(), { aircraftId: first, contents: CONTENTS });
      await behindTheApp(engine, (tx) => rewrite(tx, first, change));
      const rewritten = {
        ok: false,
        seq: 8,
        fault: 'rewritten',
        words: expect.stringContaining('it, or one before it'),
      };
      expect(await held(engine, checkpoint)).toEqual({ whole: true, held: rewritten });
      expect((await verifyChain(engine.db(), aircraftId)).ok).toBe(true);
    });

  it('[L9] what was rewritten after it leaves it standing: it speaks of what came before', async () => {
    const aircraftId = await begun(engine, 5);
    const checkpoint = await checkpointOf(engine, aircraftId);
    await appendEntries(engine.db(), { aircraftId, contents: CONTENTS });
    await behindTheApp(engine, (tx) => rewrite(tx, aircraftId, (row) => (row.seq === 9 ? undefined : row)));
    expect(await held(engine, checkpoint)).toMatchObject({ whole: true, held: { ok: true } });
  });

  it('[L9] with a chain that does not fit, it still tells that all before the fault is as it was, or that it cannot', async () => {
    const aircraftId = await begun(engine, 5);
    const early = await checkpointOf(engine, aircraftId);
    await appendEntries(engine.db(), { aircraftId, contents: CONTENTS });
    const late = await checkpointOf(engine, aircraftId);
    await behindTheApp(engine, (tx) =>
      sql`update entry set by_name = 'Eve' where aircraft_id = ${aircraftId} and seq = 8`.execute(tx),
    );
    expect(await held(engine, early)).toEqual({ whole: false, held: { ok: true, entriesSince: 2 } });
    expect(await held(engine, late)).toEqual({ whole: false, held: { ok: 'unknown' } });
  });

  it('[L9] none is signed of a ledger that is not whole, or that is empty', async () => {
    const asked = (aircraftId: string) =>
      makeCheckpoint(engine.db(), {
        ...{ aircraft: { id: aircraftId, name: 'x' }, by: 'JM', madeAt: MADE_AT, key: KEY },
        overviewAt: () => Promise.reject(new Error('nothing is read of it')),
      });
    expect(await asked(await engine.aircraft())).toMatchObject({ ok: false, refusal: { code: 'no-such-entry' } });
    const aircraftId = await begun(engine);
    await behindTheApp(engine, (tx) =>
      sql`update entry set by_name = 'Eve' where aircraft_id = ${aircraftId} and seq = 8`.execute(tx),
    );
    expect(await asked(aircraftId)).toMatchObject({ ok: false, refusal: { code: 'ledger-not-whole', seq: 8 } });
  });
});
