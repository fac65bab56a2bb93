/** An aircraft out of one store and into another (rules X1, X3): chain, headline and the text of every entry, on both engines. */
import { randomUUID } from 'node:crypto';
import { mkdtemp, readdir, readFile, rm, symlink, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { sql } from 'kysely';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { bringAircraft } from '#db/archive/bring-aircraft.ts';
import { aircraftToCarry } from '#db/archive/carry-out.ts';
import { readFromPlace, writeToPlace } from '#db/archive/place.ts';
import { readArchive } from '#db/archive/read-archive.ts';
import { writeArchive } from '#db/archive/write-archive.ts';
import { keepBrief, stateBrief } from '#db/brief/briefs.ts';
import { createDemonstration } from '#db/demo/create-demonstration.ts';
import { openStore, type Store } from '#db/engine/open-store.ts';
import { appendEntries } from '#db/ledger/append.ts';
import { findAircraft } from '#db/ledger/list-aircraft.ts';
import { verifyChain } from '#db/ledger/verify.ts';
import { keepRevision } from '#db/proposal/proposals.ts';
import { inventedAircraft } from '#db/record/invented-aircraft.ts';
import { loadLedger } from '#db/record/load-ledger.ts';
import { entryText } from '#shared/ledger/canonical.ts';
import type { RecordedEntry } from '#shared/ledger/entry.ts';
import { headlineReport } from '#shared/rollup/report.ts';
import { everyKind } from '#tests/shared/archive/every-kind.ts';
import { briefOf } from '#tests/shared/brief/make-brief.ts';
import { chainFrom, randomSteps } from '#tests/shared/ledger/random-chain.ts';
import {
  describeOnBothEngines,
  makeDatabase,
  makeFolder,
  removePlace,
  type TestEngine,
} from '#tests/support/engines.ts';
import { told } from './carried.ts';

const STAMP = { exportedAt: '2026-06-30T12:00:00.000Z', exportedBy: 'Ann' };
const TODAY = '2026-06-30';

describeOnBothEngines('carrying', (engine) => {
  let other: Store;
  let place: Parameters<typeof removePlace>[0];
  let folder = '';
  beforeAll(async () => {
    place =
      engine.kind === 'folder'
        ? { kind: 'folder', path: await makeFolder() }
        : { kind: 'postgres', url: await makeDatabase() };
    other = await openStore(place);
    folder = await mkdtemp(join(tmpdir(), 'tarebook-carry-'));
  });
  afterAll(async () => {
    await other.close();
    await removePlace(place);
    await rm(folder, { recursive: true, force: true });
  });

  it('[X3] the demonstration aircraft comes into another store as it was, mark and all', async () => {
    const made = await createDemonstration(engine.db(), { by: 'Ann', today: TODAY });
    if (!made.ok) throw new Error(made.refusal.code);
    await mustComeAsItWas(engine, other, made.aircraftId);
    expect(await inventedAircraft(other.db)).toEqual(new Set([made.aircraftId]));
  });

  it('[X3] an aircraft with an entry of every kind comes as it was, through a folder and through a ZIP', async () => {
    const id = await recorded(engine, everyKind().entries);
    const files = await filesOf(engine, id);
    for (const name of ['folder', 'packed.zip']) {
      const at = join(folder, name);
      expect(await writeToPlace(at, files, new Date(STAMP.exportedAt))).toEqual({ ok: true, value: undefined });
      const back = await readFromPlace(at);
      if (!back.ok) throw new Error(back.problems.map(told).join());
      expect(new Map([...back.value].map(([file, bytes]) => [file, [...bytes]]))).toEqual(
        new Map([...files].map(([file, bytes]) => [file, [...bytes]])),
      );
    }
    await mustComeAsItWas(engine, other, id);
    // What is recorded there afterwards goes on with the chain.
    const note = {
      kind: 'note',
      text: 'goes on',
      id: '00000000-0000-4000-8000-0000000000ff',
      happenedOn: TODAY,
      by: 'Bea',
    };
    const text = JSON.stringify(Object.fromEntries(Object.entries(note).sort(([a], [b]) => (a < b ? -1 : 1))));
    expect((await appendEntries(other.db, { aircraftId: id, contents: [text] })).ok).toBe(true);
    expect((await verifyChain(other.db, id)).ok).toBe(true);
  });

  it('[X3] random chains come as they were', async () => {
    for (const drawn of fc.sample(randomSteps(40), { seed: 3, numRuns: 12 }))
      await mustComeAsItWas(engine, other, await recorded(engine, chainFrom(drawn).entries));
  });

  it('[X3] an aircraft without an entry comes as it was', async () => {
    await mustComeAsItWas(engine, other, await engine.aircraft());
  });

  it('[X3] proposals come with every revision and with the moments at which they were stated', async () => {
    const id = await recorded(engine, everyKind().entries);
    const proposalId = '00000000-0000-4000-8000-00000000aaaa';
    const content = {
      ...{ title: 'Thin the filler', owner: 'Ann', likelihood: 0.5, due: '2026-08-01', state: 'open' },
      ...{ changes: [], savingKg: 0.4, datumM: 0, seq: 3, typed: {} },
    };
    const first = { aircraftId: id, proposalId, by: 'Ann', sent: '{"a":1}', content: content as never };
    expect((await keepRevision(engine.db(), { ...first, id: proposalId, after: 0 })).ok).toBe(true);
    const next = '00000000-0000-4000-8000-00000000aaab';
    expect((await keepRevision(engine.db(), { ...first, id: next, after: 1, sent: '{"a":2}' })).ok).toBe(true);
    await mustComeAsItWas(engine, other, id);
    const rows = (store: Store) =>
      store.db.selectFrom('proposal_revision').selectAll().where('aircraft_id', '=', id).orderBy('revision').execute();
    expect(await rows(other)).toEqual(await rows(engine.store()));
    expect(await rows(other)).toHaveLength(2);
  });

  it('[X3] briefs of a clock that was set back between what was said of them come as they were', async () => {
    const id = await recorded(engine, everyKind().entries);
    const content = briefOf(everyKind(), { from: 1 });
    for (let made = 0; made < 3; made += 1) {
      const brief = { aircraftId: id, briefId: randomUUID(), by: 'Ann' };
      await keepBrief(engine.db(), { ...brief, sent: '{}', content });
      const say = (after: number, act: 'remark' | 'issue') =>
        stateBrief(engine.db(), { ...brief, id: randomUUID(), after, act, remarks: {} });
      for (const [after, act] of [[0, 'remark'] as const, [1, 'issue'] as const])
        expect((await say(after, act)).ok).toBe(true);
    }
    const archive = await archiveOf(engine, id);
    const briefStatements = archive.briefStatements.map((statement, index) => ({
      ...statement,
      recordedAt: `2026-06-30T12:00:0${9 - index}.000Z`,
    }));
    const answer = await bringAircraft(other.db, { archive: { ...archive, briefStatements }, by: 'Bea' });
    if (!answer.ok) throw new Error(answer.refusal.code);
    const brought = await findAircraft(other.db, id);
    if (brought === undefined) throw new Error('it is not there');
    const written = writeArchive(await aircraftToCarry(other.db, brought, STAMP));
    if (!written.ok) throw new Error(written.problems.map(told).join());
    const again = readArchive(written.value, { today: TODAY });
    if (!again.ok) throw new Error(again.problems.map(told).join());
    expect(again.value.briefStatements).toEqual(briefStatements);
  });

  it('[X3] briefs come with all that was said of them, issued ones with their number and their hash', async () => {
    const id = await recorded(engine, everyKind().entries);
    const content = briefOf(everyKind(), { from: 1 });
    for (const act of ['issue', 'drop', 'remark', 'issue'] as const) {
      const briefId = randomUUID();
      const brief = { aircraftId: id, briefId, by: 'Ann' };
      expect((await keepBrief(engine.db(), { ...brief, sent: '{}', content })).ok).toBe(true);
      const say = (after: number, said: 'remark' | 'issue' | 'drop') =>
        stateBrief(engine.db(), { ...brief, id: randomUUID(), after, act: said, remarks: { all: '=1+1, "first"' } });
      expect((await say(0, 'remark')).ok).toBe(true);
      expect((await say(1, act)).ok).toBe(true);
    }
    await mustComeAsItWas(engine, other, id);
    const said = (store: Store) =>
      store.db.selectFrom('brief_statement').selectAll().where('aircraft_id', '=', id).orderBy('id').execute();
    const briefs = (store: Store) =>
      store.db.selectFrom('brief').selectAll().where('aircraft_id', '=', id).orderBy('brief_id').execute();
    expect(await said(other)).toEqual(await said(engine.store()));
    expect(await briefs(other)).toEqual(await briefs(engine.store()));
    expect((await said(other)).flatMap(({ issue_number }) => issue_number ?? []).sort()).toEqual([1, 2]);
  });

  it('[X3] one that is here already, and one whose name is taken, are refused, and nothing of them is left', async () => {
    const id = await recorded(engine, everyKind().entries);
    const archive = await archiveOf(engine, id);
    const again = await bringAircraft(engine.db(), { archive, by: 'Bea' });
    expect(again).toEqual({ ok: false, refusal: { code: 'aircraft-here-already' } });
    const { name } = archive.aircraft;
    const elsewhere = await other.db
      .insertInto('aircraft')
      .values({ id: '00000000-0000-4000-8000-00000000bbbb', name, name_key: name.toLowerCase() })
      .execute();
    expect(elsewhere).toHaveLength(1);
    expect(await bringAircraft(other.db, { archive, by: 'Bea' })).toEqual({
      ok: false,
      refusal: { code: 'aircraft-name-taken', name },
    });
    const under = await bringAircraft(other.db, { archive, by: 'Bea', name: `${name} again` });
    expect(under).toMatchObject({ ok: true, name: `${name} again`, entryCount: archive.entries.length });
    const brought = await other.db.selectFrom('brought_aircraft').selectAll().where('aircraft_id', '=', id).execute();
    expect(brought).toMatchObject([
      { by_name: 'Bea', entry_count: archive.entries.length, head_hash: archive.headHash },
    ]);
  });

  it('[X3] one that ends otherwise than it says, or breaks off, leaves nothing', async () => {
    const id = await recorded(engine, everyKind().entries);
    const archive = await archiveOf(engine, id);
    const short = { ...archive, entries: archive.entries.slice(0, -1) };
    await expect(bringAircraft(other.db, { archive: short, by: 'Bea' })).rejects.toThrow();
    const broken = { ...archive, entries: archive.entries.with(9, { ...archive.entries[9], content: '{}' } as never) };
    await expect(bringAircraft(other.db, { archive: broken, by: 'Bea' })).rejects.toThrow();
    expect(await findAircraft(other.db, id)).toBeUndefined();
    expect(await other.db.selectFrom('entry').select('seq').where('aircraft_id', '=', id).execute()).toEqual([]);
  });

  it('[X3] the app can say a moment of recording in no other transaction than the one that brings the aircraft', async () => {
    const db = engine.db();
    const id = await engine.aircraft();
    const bring = (on: typeof db) =>
      sql`select public.bring_entries(${id}::uuid, ${['{}']}::text[], ${['2020-01-01T00:00:00.000Z']}::text[])`.execute(
        on,
      );
    await expect(bring(db)).rejects.toThrow('not being brought in');
    const values = {
      aircraft_id: id,
      by_name: 'Eve',
      entry_count: 0,
      head_hash: (await aircraftOf(engine, id)).headHash,
    };
    await db.insertInto('brought_aircraft').values(values).execute();
    await expect(bring(db)).rejects.toThrow('not being brought in');
    await expect(db.insertInto('brought_aircraft').values(values).execute()).rejects.toThrow();
    const full = await recorded(engine, everyKind().entries);
    await expect(
      db
        .insertInto('brought_aircraft')
        .values({ ...values, aircraft_id: full })
        .execute(),
    ).rejects.toThrow('without entries');
    const lying = await engine.aircraft();
    await expect(
      db
        .insertInto('brought_aircraft')
        .values({ ...values, aircraft_id: lying, entry_count: 5 })
        .execute(),
    ).rejects.toThrow('does not end as it was said');
    for (const change of ["update public.brought_aircraft set by_name = 'x'", 'delete from public.brought_aircraft'])
      await expect(engine.asOwner((tx) => sql.raw(change).execute(tx))).rejects.toThrow('append-only');
  });

  it('[X1] a ledger that somebody has changed behind its back is not carried out', async () => {
    const id = await recorded(engine, everyKind().entries);
    await engine.asOwner(async (tx) => {
      await sql`alter table public.entry disable trigger entry_kept`.execute(tx);
      await sql`update public.entry set content = replace(content, 'Ann', 'Eve') where aircraft_id = ${id} and seq = 5`.execute(
        tx,
      );
      await sql`alter table public.entry enable always trigger entry_kept`.execute(tx);
    });
    const written = writeArchive(await aircraftToCarry(engine.db(), await aircraftOf(engine, id), STAMP));
    expect(written.ok ? [] : written.problems.map(told)).toEqual([':0:0 ledger-not-whole 5 its hash does not fit.']);
  });

  it('[X4] nothing is written over, and no link is followed', async () => {
    const id = await recorded(engine, everyKind().entries);
    const files = await filesOf(engine, id);
    const at = join(folder, 'there');
    await writeFile(at, 'mine');
    const refused = await writeToPlace(at, files, new Date());
    expect(refused.ok ? [] : refused.problems.map(({ refusal }) => refusal.code)).toEqual(['archive-place-taken']);
    expect(await readFile(at, 'utf8')).toBe('mine');
    expect((await readdir(folder)).filter((name) => name.includes('.part'))).toEqual([]);
    const linked = join(folder, 'linked');
    await writeToPlace(linked, files, new Date());
    await rm(join(linked, 'note.csv'));
    await symlink(at, join(linked, 'note.csv'));
    const back = await readFromPlace(linked);
    if (!back.ok) throw new Error(back.problems.map(told).join());
    const read = readArchive(back.value, { today: TODAY });
    expect(read.ok ? [] : read.problems.map(told)).toEqual(['note.csv:0:0 archive-file-missing']);
  });
});

async function recorded(engine: TestEngine, entries: readonly RecordedEntry[]): Promise<string> {
  const aircraftId = await engine.aircraft();
  const answer = await appendEntries(engine.db(), {
    aircraftId,
    contents: entries.map(({ entry }) => entryText(entry)),
  });
  if (!answer.ok) throw new Error(answer.refusal.code);
  return aircraftId;
}

async function aircraftOf(engine: TestEngine, id: string) {
  const aircraft = await findAircraft(engine.db(), id);
  if (aircraft === undefined) throw new Error('it is not there');
  return aircraft;
}

async function filesOf(engine: TestEngine, id: string) {
  const written = writeArchive(await aircraftToCarry(engine.db(), await aircraftOf(engine, id), STAMP));
  if (!written.ok) throw new Error(written.problems.map(told).join());
  return written.value;
}

async function archiveOf(engine: TestEngine, id: string) {
  const archive = readArchive(await filesOf(engine, id), { today: TODAY });
  if (!archive.ok) throw new Error(archive.problems.map(told).join());
  return archive.value;
}

/** Out, in, and compared: the rows of both tables, and the headlines of both ledgers. */
async function mustComeAsItWas(engine: TestEngine, other: Store, id: string): Promise<void> {
  const archive = await archiveOf(engine, id);
  expect(archive.isHeadlineOtherwise).toBe(false);
  const answer = await bringAircraft(other.db, { archive, by: 'Bea' });
  if (!answer.ok) throw new Error(answer.refusal.code);
  const rows = (store: Store) =>
    store.db.selectFrom('entry').selectAll().where('aircraft_id', '=', id).orderBy('seq').execute();
  expect(await rows(other)).toEqual(await rows(engine.store()));
  expect(await verifyChain(other.db, id)).toEqual(await verifyChain(engine.db(), id));
  expect(headlineReport(await loadLedger(other.db, id))).toEqual(headlineReport(await loadLedger(engine.db(), id)));
}
