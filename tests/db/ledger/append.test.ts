/** Appending: replays and reuse of ids (L3), corrections (L2), the chain as written (L5), all or nothing (S5). */
import { createHash, randomUUID } from 'node:crypto';
import { sql } from 'kysely';
import { describe, expect, it } from 'vitest';
import { appendEntries } from '#db/ledger/append.ts';
import { readEntries } from '#db/ledger/read.ts';
import { verifyChain } from '#db/ledger/verify.ts';
import { describeOnBothEngines, onServer, type TestEngine } from '#tests/support/engines.ts';
import { contentOf, contentsOf, idOf } from '#tests/support/entry-content.ts';

async function appended(engine: TestEngine, aircraftId: string, contents: readonly string[]) {
  const answer = await appendEntries(engine.db(), { aircraftId, contents });
  if (!answer.ok) throw new Error(JSON.stringify(answer.refusal));
  return answer.entries;
}

async function entryCount(engine: TestEngine, aircraftId: string): Promise<number> {
  const found = await engine.db().selectFrom('entry').select('seq').where('aircraft_id', '=', aircraftId).execute();
  return found.length;
}

async function collect<T>(given: AsyncIterable<T>): Promise<T[]> {
  const all: T[] = [];
  for await (const one of given) all.push(one);
  return all;
}

const sha256 = (text: string) => createHash('sha256').update(text, 'utf8').digest('hex');

describeOnBothEngines('append', (engine) => {
  describe('the chain as written', () => {
    it('[L5] each entry carries the SHA-256 of aircraft, seq, time, hash before and text', async () => {
      const aircraftId = await engine.aircraft();
      const contents = [contentOf({ note: 'größer – 翼 🛩' }), contentOf({ massKg: 1e-7 }), contentOf({ massKg: 1e21 })];
      const answered = await appended(engine, aircraftId, contents);
      let before = sha256(`tarebook\n${aircraftId}`);
      const rows = await engine
        .db()
        .selectFrom('entry')
        .selectAll()
        .where('aircraft_id', '=', aircraftId)
        .orderBy('seq')
        .execute();
      expect(rows.map((row) => row.content)).toEqual(contents);
      for (const [index, row] of rows.entries()) {
        expect(row.seq).toBe(index + 1);
        expect(row.prev_hash).toBe(before);
        expect(row.recorded_at).toMatch(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z$/);
        expect(Math.abs(Date.parse(row.recorded_at) - Date.now())).toBeLessThan(60_000);
        before = sha256(`${aircraftId}\n${row.seq}\n${row.recorded_at}\n${before}\n${contents[index]}`);
        expect(row.hash).toBe(before);
        expect(answered[index]).toEqual({ seq: row.seq, recordedAt: row.recorded_at, hash: row.hash, replayed: false });
      }
      const head = await engine
        .db()
        .selectFrom('aircraft')
        .selectAll()
        .where('id', '=', aircraftId)
        .executeTakeFirstOrThrow();
      expect([head.head_seq, head.head_hash]).toEqual([3, before]);
      expect(await verifyChain(engine.db(), aircraftId)).toEqual({ ok: true, entryCount: 3, headHash: before });
    });

    it('[L5] an aircraft without entries verifies with its genesis hash', async () => {
      const aircraftId = await engine.aircraft();
      expect(await verifyChain(engine.db(), aircraftId)).toEqual({
        ok: true,
        entryCount: 0,
        headHash: sha256(`tarebook\n${aircraftId}`),
      });
    });

    it('[L4] the columns beside the text say what the text says', async () => {
      const aircraftId = await engine.aircraft();
      const [first, partId] = [contentOf({ massKg: 3, netKg: 0.1, happenedOn: '2024-02-29' }), randomUUID()];
      await appended(engine, aircraftId, [
        first,
        contentOf({ supersedesId: idOf(first), partId, kind: 'correction', massKg: null }),
      ]);
      const rows = await engine
        .db()
        .selectFrom('entry')
        .selectAll()
        .where('aircraft_id', '=', aircraftId)
        .orderBy('seq')
        .execute();
      const common = { by_name: 'Ann', aircraft_id: aircraftId };
      expect(rows[0]).toMatchObject({
        ...common,
        kind: 'weighing',
        happened_on: '2024-02-29',
        mass_kg: 0.1,
        part_id: null,
        supersedes_id: null,
      });
      expect(rows[1]).toMatchObject({
        ...common,
        kind: 'correction',
        mass_kg: null,
        part_id: partId,
        supersedes_id: idOf(first),
      });
    });

    it('[L1] entries are read in order, in pages and in part', async () => {
      const aircraftId = await engine.aircraft();
      const contents = contentsOf(2_345);
      const progress: number[] = [];
      const answer = await appendEntries(engine.db(), {
        aircraftId,
        contents,
        onProgress: (done) => progress.push(done),
      });
      expect(answer.ok).toBe(true);
      expect(progress.at(-1)).toBe(2_345);
      expect(progress.length).toBeGreaterThan(5);
      const read = await collect(readEntries(engine.db(), { aircraftId }));
      expect(read.map((entry) => entry.content)).toEqual(contents);
      const part = await collect(readEntries(engine.db(), { aircraftId, afterSeq: 10, upToSeq: 2_000 }));
      expect([part[0]?.seq, part.at(-1)?.seq, part.length]).toEqual([11, 2_000, 1_990]);
    });
  });

  describe('replays', () => {
    it('[L3] the same id and content again gives the first answer again and adds nothing', async () => {
      const aircraftId = await engine.aircraft();
      const contents = contentsOf(3);
      const first = await appended(engine, aircraftId, contents);
      await appended(engine, aircraftId, contentsOf(1));
      const again = await appended(engine, aircraftId, contents);
      expect(again).toEqual(first.map((entry) => ({ ...entry, replayed: true })));
      expect(await entryCount(engine, aircraftId)).toBe(4);
    });

    it('[L3] a replay in the middle of a batch and twice within one batch adds nothing', async () => {
      const aircraftId = await engine.aircraft();
      const [a, b, c] = [contentOf(), contentOf(), contentOf()];
      await appended(engine, aircraftId, [b]);
      const answer = await appended(engine, aircraftId, [a, b, c, a]);
      expect(answer.map((entry) => [entry.seq, entry.replayed])).toEqual([
        [2, false],
        [1, true],
        [3, false],
        [2, true],
      ]);
      expect(answer[3]?.hash).toBe(answer[0]?.hash);
      expect(await verifyChain(engine.db(), aircraftId)).toMatchObject({ ok: true, entryCount: 3 });
    });

    it('[L3] the same id with other content is refused with the place and text of the first, and nothing is added', async () => {
      const aircraftId = await engine.aircraft();
      const kept = contentOf({ massKg: 1 });
      await appended(engine, aircraftId, [contentOf(), kept]);
      const other = contentOf({ id: idOf(kept), massKg: 2 });
      const answer = await appendEntries(engine.db(), { aircraftId, contents: [contentOf(), other, contentOf()] });
      expect(answer).toEqual({
        ok: false,
        refusal: { code: 'entry-id-reused', index: 1, entryId: idOf(kept), seq: 2, content: kept },
      });
      expect(await entryCount(engine, aircraftId)).toBe(2);
    });

    it('[L3] an id used on another aircraft is free here, and nothing of that aircraft shows', async () => {
      const [here, there] = [await engine.aircraft(), await engine.aircraft()];
      const content = contentOf({ note: 'secret' });
      await appended(engine, there, [contentOf(), content]);
      const answer = await appendEntries(engine.db(), {
        aircraftId: here,
        contents: [contentOf({ id: idOf(content) })],
      });
      expect(answer).toMatchObject({ ok: true, entries: [{ seq: 1, replayed: false }] });
    });

    it('[L3] the same entry sent many times at once is added once', async () => {
      const aircraftId = await engine.aircraft();
      const content = contentOf();
      const answers = await Promise.all(
        Array.from({ length: 12 }, () => appendEntries(engine.db(), { aircraftId, contents: [content] })),
      );
      const entries = answers.flatMap((answer) => (answer.ok ? answer.entries : []));
      expect(entries).toHaveLength(12);
      expect(entries.filter((entry) => !entry.replayed)).toHaveLength(1);
      expect(new Set(entries.map((entry) => entry.hash)).size).toBe(1);
      expect(await entryCount(engine, aircraftId)).toBe(1);
    });
  });

  describe('corrections', () => {
    it('[L2] a correction is taken, and a correction of the correction too', async () => {
      const aircraftId = await engine.aircraft();
      const first = contentOf();
      const second = contentOf({ supersedesId: idOf(first) });
      const third = contentOf({ supersedesId: idOf(second) });
      expect((await appended(engine, aircraftId, [first, second, third])).map((entry) => entry.seq)).toEqual([1, 2, 3]);
    });

    it('[L2] a second correction of one entry is refused and names the first', async () => {
      const aircraftId = await engine.aircraft();
      const first = contentOf();
      await appended(engine, aircraftId, [contentOf(), first, contentOf({ supersedesId: idOf(first) })]);
      const late = contentOf({ supersedesId: idOf(first) });
      const answer = await appendEntries(engine.db(), { aircraftId, contents: [late] });
      expect(answer).toEqual({
        ok: false,
        refusal: {
          code: 'already-corrected',
          index: 0,
          entryId: idOf(late),
          supersedesId: idOf(first),
          correctedBySeq: 3,
        },
      });
      expect(await entryCount(engine, aircraftId)).toBe(3);
    });

    it('[L2] the table itself refuses a second correction', async () => {
      const aircraftId = await engine.aircraft();
      const first = contentOf();
      await appended(engine, aircraftId, [first, contentOf({ supersedesId: idOf(first) })]);
      const copied = engine.asOwner((tx) =>
        sql`insert into entry select aircraft_id, 3, gen_random_uuid(), kind, happened_on, recorded_at, by_name, part_id,
        supersedes_id, mass_kg, hash, repeat('a', 64), content from entry
        where aircraft_id = ${aircraftId} and seq = 2`.execute(tx),
      );
      await expect(copied).rejects.toThrow('entry_supersedes_once');
    });

    it('[L2] a correction of nothing, of itself and of another aircraft is refused', async () => {
      const [aircraftId, other] = [await engine.aircraft(), await engine.aircraft()];
      const elsewhere = contentOf();
      await appended(engine, other, [elsewhere]);
      const ownId = randomUUID();
      for (const content of [
        contentOf({ supersedesId: randomUUID() }),
        contentOf({ supersedesId: idOf(elsewhere) }),
        contentOf({ id: ownId, supersedesId: ownId }),
      ]) {
        const answer = await appendEntries(engine.db(), { aircraftId, contents: [content] });
        expect(answer).toMatchObject({
          ok: false,
          refusal: { code: 'nothing-to-correct', index: 0, entryId: idOf(content) },
        });
      }
      expect(await entryCount(engine, aircraftId)).toBe(0);
    });
  });

  describe('refusals of a batch', () => {
    it('[L5] an expected head that has moved on is refused, a replay is answered all the same', async () => {
      const aircraftId = await engine.aircraft();
      const [first, second] = [contentOf(), contentOf()];
      expect(await appendEntries(engine.db(), { aircraftId, contents: [first], expectedSeq: 0 })).toMatchObject({
        ok: true,
      });
      const late = await appendEntries(engine.db(), { aircraftId, contents: [second], expectedSeq: 0 });
      expect(late).toEqual({ ok: false, refusal: { code: 'ledger-moved-on', headSeq: 1 } });
      const mixed = await appendEntries(engine.db(), { aircraftId, contents: [first, second], expectedSeq: 0 });
      expect(mixed).toEqual({ ok: false, refusal: { code: 'ledger-moved-on', headSeq: 1 } });
      const replay = await appendEntries(engine.db(), { aircraftId, contents: [first], expectedSeq: 0 });
      expect(replay).toMatchObject({ ok: true, entries: [{ seq: 1, replayed: true }] });
      const many = await appendEntries(engine.db(), { aircraftId, contents: contentsOf(600), expectedSeq: 1 });
      expect(many).toMatchObject({ ok: true });
    });

    it('[S5] a bad last item of many takes all batches back', async () => {
      const aircraftId = await engine.aircraft();
      const contents = [...contentsOf(700), contentOf({ supersedesId: randomUUID() })];
      const answer = await appendEntries(engine.db(), { aircraftId, contents });
      expect(answer).toMatchObject({ ok: false, refusal: { code: 'nothing-to-correct', index: 700 } });
      expect(await entryCount(engine, aircraftId)).toBe(0);
    });

    it('[S5] inside a transaction a refusal takes back its own entries only and leaves the transaction usable', async () => {
      const aircraftId = await engine.aircraft();
      const kept = contentOf();
      await engine
        .db()
        .transaction()
        .execute(async (tx) => {
          await appendEntries(tx, { aircraftId, contents: [kept] });
          const bad = contentOf({ supersedesId: randomUUID() });
          const one = await appendEntries(tx, { aircraftId, contents: [contentOf(), bad] });
          expect(one).toMatchObject({ ok: false, refusal: { index: 1 } });
          const many = await appendEntries(tx, { aircraftId, contents: [...contentsOf(700), bad] });
          expect(many).toMatchObject({ ok: false, refusal: { index: 700 } });
          expect(await appendEntries(tx, { aircraftId, contents: contentsOf(600) })).toMatchObject({ ok: true });
        });
      expect(await entryCount(engine, aircraftId)).toBe(601);
      expect(await verifyChain(engine.db(), aircraftId)).toMatchObject({ ok: true, entryCount: 601 });
    });

    it('[L5] an unknown aircraft is refused', async () => {
      const answer = await appendEntries(engine.db(), { aircraftId: randomUUID(), contents: [contentOf()] });
      expect(answer).toEqual({ ok: false, refusal: { code: 'unknown-aircraft' } });
    });

    it('[L5] text that could not be stored as it is, is refused', async () => {
      const aircraftId = await engine.aircraft();
      const bad: Record<string, string> = {
        'not JSON': '{',
        'not a JSON object': '[1]',
        'NUL character': contentOf({ note: 'a\0b' }),
        'half a surrogate': contentOf({ note: 'a\ud800b' }),
        'surrogate pair': contentOf().replace('Ann', 'A\ud800'),
        // The second `by` hides the first from a parser.
        'which cannot be stored': contentOf().replace('{', '{"by":"A\ud800",'),
        'longer than': contentOf({ note: 'x'.repeat(1_048_576) }),
        'id is not': contentOf({ id: randomUUID().toUpperCase() }),
        'kind is missing': contentOf({ kind: '' }),
        'happenedOn is not': contentOf({ happenedOn: '2026-02-30' }),
        'by is missing': contentOf({ by: 7 }),
        'partId is not': contentOf({ partId: 'x' }),
        'supersedesId is not': contentOf({ supersedesId: 'x' }),
        'not a number from 0 up': contentOf({ massKg: -1 }),
      };
      for (const [words, content] of Object.entries(bad)) {
        const answer = await appendEntries(engine.db(), { aircraftId, contents: [contentOf(), content] });
        expect(answer).toMatchObject({ ok: false, refusal: { code: 'content-unstorable', index: 1 } });
        expect(JSON.stringify(answer)).toContain(words);
      }
      expect(await entryCount(engine, aircraftId)).toBe(0);
    });

    it('[L5] an append tells listeners the aircraft and its head, and a replay tells nothing', async () => {
      if (engine.kind !== 'postgres') return;
      const place = engine.place();
      if (place.kind !== 'postgres') throw new Error('unreachable');
      const aircraftId = await engine.aircraft();
      const heard: (string | undefined)[] = [];
      await onServer(async (client) => {
        client.on('notification', (message) => heard.push(message.payload));
        await client.query('listen tarebook_entry');
        const contents = contentsOf(2);
        await appended(engine, aircraftId, contents);
        await appended(engine, aircraftId, contents);
        await client.query('select 1');
      }, place.url);
      expect(heard).toEqual([`${aircraftId}:2`]);
    });
  });
});
