/** The drill of rules Z1 and Z2: a whole store, backed up while it is written to, into a store of the other engine. */
import { mkdtemp, readdir, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { sql } from 'kysely';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { makeBackup } from '#db/backup/make-backup.ts';
import { asOwner, readStore, tablesOf } from '#db/backup/read-store.ts';
import { checkBackup, restoreBackup } from '#db/backup/restore-backup.ts';
import { BackupWriter } from '#db/backup/write-backup.ts';
import { createDemonstration } from '#db/demo/create-demonstration.ts';
import { openStore, type StorePlace } from '#db/engine/open-store.ts';
import { appendEntries } from '#db/ledger/append.ts';
import { readEntries } from '#db/ledger/read.ts';
import { verifyChain } from '#db/ledger/verify.ts';
import { loadLedger } from '#db/record/load-ledger.ts';
import { entryText } from '#shared/ledger/canonical.ts';
import { headlineReport } from '#shared/rollup/report.ts';
import { noteOf } from '#tests/shared/ledger/make-entries.ts';
import {
  describeOnBothEngines,
  makeAircraft,
  makeDatabase,
  makeFolder,
  removePlace,
  type TestEngine,
} from '#tests/support/engines.ts';
import { contentOf } from '#tests/support/entry-content.ts';
import { schemaText } from '#tests/support/schema-text.ts';
import { contentsOf } from './contents.ts';
import { fillStore } from './fill-store.ts';

const TODAY = '2026-06-30';

describeOnBothEngines('drill', (engine) => {
  let folder = '';
  let demonstration = '';
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'tarebook-drill-'));
    const made = await createDemonstration(engine.db(), { by: 'Ann', today: TODAY });
    if (!made.ok) throw new Error(made.refusal.code);
    demonstration = made.aircraftId;
    await engine.asOwner((tx) => fillStore(tx));
    await engine.aircraft();
  });
  afterAll(() => rm(folder, { recursive: true, force: true }));

  it('[Z2] every row of every table comes into the other engine, with triggers, chains and headlines as they were', async () => {
    const file = join(folder, 'whole.tar');
    const report = await makeBackup(engine.db(), file, new Date());
    const was = await contentsOf(engine.db());
    for (const [table, rows] of was) expect({ table, any: rows.length > 0 }).toEqual({ table, any: true });
    const place = await otherPlace(engine);
    try {
      const { manifest, otherwise } = await restoreBackup(place, file);
      expect(otherwise).toEqual([]);
      expect(manifest.aircraft).toEqual(report.aircraft);
      const restored = await openStore(place);
      try {
        expect(await contentsOf(restored.db)).toEqual(was);
        expect(await schemaText(restored.db)).toBe(await schemaText(engine.db()));
        for (const { id, entryCount, headHash, headline } of report.aircraft) {
          expect(await verifyChain(restored.db, id)).toEqual({ ok: true, entryCount, headHash });
          const now = headlineReport(await loadLedger(restored.db, id));
          expect(now).toEqual(headlineReport(await loadLedger(engine.db(), id)));
          expect(now).toMatchObject({ predictedKg: headline?.predictedKg });
        }
        await mustGoOn(restored, demonstration);
        expect(await restored.db.selectFrom('session').selectAll().execute()).toEqual([]);
      } finally {
        await restored.close();
      }
      // It is empty no longer.
      await expect(restoreBackup(place, file)).rejects.toMatchObject({ code: 'store-not-empty' });
    } finally {
      await removePlace(place);
    }
  });

  it('[Z1] it holds one instant: what is recorded while it is made is not in it, nor torn by it', async () => {
    const aircraftId = await makeAircraft(engine.db());
    await appendEntries(engine.db(), { aircraftId, contents: [noteText()] });
    const headBefore = await headsOf(engine);
    const file = join(folder, 'meanwhile.tar');
    const writer = new BackupWriter(file, new Date());
    let written: Promise<unknown> = Promise.resolve();
    let met = 0;
    const schema = await readStore(engine.db(), async (chunk) => {
      writer.add(chunk);
      // After the head of the aircraft has been read, and before its entries are.
      if (chunk.table !== 'aircraft' || met++ > 0) return;
      written = appendEntries(engine.db(), { aircraftId, contents: [noteText(), noteText()] });
      // The embedded engine has one session, so there it waits for the backup; elsewhere it is recorded now.
      if (engine.kind === 'postgres') await written;
    });
    const report = writer.finish(schema);
    expect(await written).toMatchObject({ ok: true });
    expect(new Map(report.aircraft.map(({ id, entryCount }) => [id, entryCount]))).toEqual(headBefore);
    expect((await headsOf(engine)).get(aircraftId)).toBe(3);
    expect(checkBackup(file).manifest.aircraft).toEqual(report.aircraft);
  });

  it('[Z1] it is made while four writers go on, and every ledger in it is the beginning of one that is there', async () => {
    const aircraftId = await makeAircraft(engine.db());
    let isOver = false;
    const write = async () => {
      while (!isOver) {
        expect(await appendEntries(engine.db(), { aircraftId, contents: [noteText(), noteText()] })).toMatchObject({
          ok: true,
        });
        await new Promise((resolve) => setImmediate(resolve));
      }
    };
    const writers = [write(), write(), write(), write()];
    const place = await otherPlace(engine);
    try {
      const file = join(folder, 'busy.tar');
      await makeBackup(engine.db(), file, new Date());
      isOver = true;
      await Promise.all(writers);
      await restoreBackup(place, file);
      const restored = await openStore(place);
      try {
        const there = await entriesOf(engine.db(), aircraftId);
        const here = await entriesOf(restored.db, aircraftId);
        expect(here).toEqual(there.slice(0, here.length));
        // Batches of two are whole.
        expect(here.length % 2).toBe(0);
        expect(await verifyChain(restored.db, aircraftId)).toMatchObject({ ok: true, entryCount: here.length });
      } finally {
        await restored.close();
      }
    } finally {
      isOver = true;
      await removePlace(place);
    }
  });

  it('[Z1] every table but that of sessions is in it, and the database numbers nothing by itself that a backup would forget', async () => {
    await engine.asOwner(async (tx) => {
      const all = await sql<{ name: string }>`select tablename::text as name from pg_tables
        where schemaname = 'public' and tablename not like 'kysely_%'`.execute(tx);
      const held = (await tablesOf(tx)).map(({ name }) => name);
      expect([...held, 'session'].sort()).toEqual(all.rows.map(({ name }) => name).sort());
      const numbered = await sql`select 1 from pg_class c join pg_namespace n on n.oid = c.relnamespace
        where n.nspname = 'public' and c.relkind in ('S', 'v', 'm', 'p')`.execute(tx);
      const generated = await sql`select 1 from pg_attribute a join pg_class c on c.oid = a.attrelid
        join pg_namespace n on n.oid = c.relnamespace where n.nspname = 'public' and (a.attgenerated <> '' or a.attidentity <> '')`.execute(
        tx,
      );
      expect([numbered.rows, generated.rows]).toEqual([[], []]);
    });
  });

  it('[Z1] a file that is there is not written over, and a ledger that does not fit itself is told instead of backed up', async () => {
    const place = await samePlace(engine);
    try {
      const store = await openStore(place);
      const taken = join(folder, 'taken.tar');
      await makeBackup(store.db, taken, new Date());
      await expect(makeBackup(store.db, taken, new Date())).rejects.toMatchObject({ code: 'backup-place-taken' });
      const aircraftId = await makeAircraft(store.db);
      await appendEntries(store.db, { aircraftId, contents: [noteText(), noteText(), noteText()] });
      await store.db.transaction().execute(async (tx) => {
        await asOwner(tx);
        await sql`alter table entry disable trigger entry_kept`.execute(tx);
        await sql`update entry set content = replace(content, 'note', 'Note') where seq = 2`.execute(tx);
        await sql`alter table entry enable always trigger entry_kept`.execute(tx);
      });
      const torn = makeBackup(store.db, join(folder, 'torn.tar'), new Date());
      await expect(torn).rejects.toMatchObject({
        code: 'backup-chain-broken',
        message: expect.stringContaining('at entry 2'),
      });
      expect((await readdir(folder)).filter((name) => name.startsWith('torn'))).toEqual([]);
      await store.close();
    } finally {
      await removePlace(place);
    }
  });
});

async function otherPlace({ kind }: TestEngine): Promise<StorePlace> {
  return kind === 'folder'
    ? { kind: 'postgres', url: await makeDatabase() }
    : { kind: 'folder', path: await makeFolder() };
}

async function samePlace({ kind }: TestEngine): Promise<StorePlace> {
  return kind === 'folder' ? { kind, path: await makeFolder() } : { kind, url: await makeDatabase() };
}

/** What was restored is a store like any other: it takes entries, and refuses what it refused. */
async function mustGoOn({ db }: Awaited<ReturnType<typeof openStore>>, aircraftId: string): Promise<void> {
  const count = (await entriesOf(db, aircraftId)).length;
  expect(await appendEntries(db, { aircraftId, contents: [noteText()] })).toMatchObject({ ok: true });
  expect(await verifyChain(db, aircraftId)).toMatchObject({ ok: true, entryCount: count + 1 });
  const asOwnerOf = (statement: string) =>
    db.transaction().execute(async (tx) => {
      await asOwner(tx);
      await sql.raw(statement).execute(tx);
    });
  for (const table of ['entry', 'photo', 'brief', 'brought_aircraft'])
    await expect(asOwnerOf(`delete from ${table}`)).rejects.toMatchObject({ code: 'TB002' });
  // No aircraft is being brought in, whatever the number of the transaction.
  expect((await sql`select 1 from brought_aircraft where began_in <> ''`.execute(db)).rows).toEqual([]);
}

async function headsOf(engine: TestEngine): Promise<Map<string, number>> {
  const rows = await engine.db().selectFrom('aircraft').select(['id', 'head_seq']).execute();
  return new Map(rows.map(({ id, head_seq: seq }) => [id, seq]));
}

async function entriesOf(db: Parameters<typeof readEntries>[0], aircraftId: string) {
  const entries = [];
  for await (const entry of readEntries(db, { aircraftId })) entries.push(entry);
  return entries;
}

function noteText(): string {
  const { id } = JSON.parse(contentOf()) as { id: string };
  return entryText({ ...noteOf('a note'), id, happenedOn: '2026-05-03', by: 'Ann' } as never);
}
