/** Many entries in one statement of a transaction that holds their aircraft: when they are recorded, and who must wait (L1, L5, S5). */
import { randomUUID } from 'node:crypto';
import { setTimeout as sleep } from 'node:timers/promises';
import { type Kysely, sql } from 'kysely';
import { expect, it } from 'vitest';
import type { Database } from '#db/database.ts';
import { isDatabaseAway } from '#db/engine/database-away.ts';
import { appendEntries, holdAircraft } from '#db/ledger/append.ts';
import { readEntries } from '#db/ledger/read.ts';
import { verifyChain } from '#db/ledger/verify.ts';
import { describeOnBothEngines } from '#tests/support/engines.ts';
import { contentsOf } from '#tests/support/entry-content.ts';

describeOnBothEngines('entries of a transaction that holds their aircraft', (engine) => {
  const holding = <Answer>(
    aircraftId: string,
    work: (tx: Kysely<Database>, held: { headSeq: number; heldAt: string }) => Promise<Answer>,
  ) =>
    engine
      .db()
      .transaction()
      .execute(async (tx) => {
        const held = await holdAircraft(tx, aircraftId);
        if (held === undefined) throw new Error('no such aircraft');
        return work(tx, held);
      });

  it('[L5] all of them are recorded at the moment it was held, and the chain is whole', async () => {
    const aircraftId = await engine.aircraft();
    await appendEntries(engine.db(), { aircraftId, contents: contentsOf(2) });
    const before = new Date().toISOString();
    const answer = await holding(aircraftId, async (tx, { headSeq, heldAt }) => {
      expect(headSeq).toBe(2);
      expect(heldAt >= before).toBe(true);
      await sleep(5);
      const given = { aircraftId, expectedSeq: headSeq, heldAt };
      const entries = await appendEntries(tx, { ...given, contents: contentsOf(300) });
      expect(entries.ok && entries.entries[0]).toMatchObject({ seq: 3, recordedAt: heldAt, replayed: false });
      return { heldAt };
    });
    const recordedAt: string[] = [];
    for await (const entry of readEntries(engine.db(), { aircraftId, afterSeq: 2 })) recordedAt.push(entry.recordedAt);
    expect(recordedAt).toEqual(Array.from({ length: 300 }, () => answer.heldAt));
    expect(await verifyChain(engine.db(), aircraftId)).toMatchObject({ ok: true, entryCount: 302 });
  });

  it('[L1] no other moment is taken: not one before the transaction began, not one to come, and not none', async () => {
    const aircraftId = await engine.aircraft();
    const contents = contentsOf(1);
    const shifted = (heldAt: string, ms: number) => new Date(Date.parse(heldAt) + ms).toISOString();
    const { heldAt: earlier } = await holding(aircraftId, async (_, held) => held);
    await sleep(20);
    const moments = [() => earlier, (now: string) => shifted(now, 60_000), () => '', () => 'yesterday'];
    for (const moment of moments)
      await expect(
        holding(aircraftId, (tx, { heldAt }) => appendEntries(tx, { aircraftId, contents, heldAt: moment(heldAt) })),
      ).rejects.toMatchObject({ code: 'TB005' });
    const none = sql`select * from append_held(${aircraftId}::uuid, null, ${contents}::text[], null, true)`;
    await expect(none.execute(engine.db())).rejects.toMatchObject({ code: 'TB005' });
    expect(await verifyChain(engine.db(), aircraftId)).toMatchObject({ ok: true, entryCount: 0 });
    // What is no time, also where it sorts between two that are.
    const later = async (tx: Kysely<Database>, heldAt: string) => {
      await sleep(3);
      return appendEntries(tx, { aircraftId, contents, heldAt });
    };
    await expect(holding(aircraftId, (tx, { heldAt }) => later(tx, `${heldAt}?`))).rejects.toThrow();
    const untimely = ({ heldAt }: { heldAt: string }) => `${heldAt.slice(0, 17)}99.999Z`;
    await expect(holding(aircraftId, (tx, held) => later(tx, untimely(held)))).rejects.toThrow();
    expect(await verifyChain(engine.db(), aircraftId)).toMatchObject({ ok: true, entryCount: 0 });
  });

  it('[L1] nor is a moment before the last entry, unless that one is of a time to come', async () => {
    const aircraftId = await engine.aircraft();
    const [first = '', second = '', third = ''] = contentsOf(3);
    const early = holding(aircraftId, async (tx, { heldAt }) => {
      await sleep(5);
      await appendEntries(tx, { aircraftId, contents: [first] });
      return appendEntries(tx, { aircraftId, contents: [second], heldAt });
    });
    await expect(early).rejects.toMatchObject({ code: 'TB005' });
    expect(await appendEntries(engine.db(), { aircraftId, contents: [first] })).toMatchObject({ ok: true });
    // As after a clock that was set back.
    await engine.asOwner(async (tx) => {
      await sql`set local session_replication_role = replica`.execute(tx);
      await sql`alter table public.entry disable trigger entry_kept`.execute(tx);
      await sql`update public.entry set recorded_at = '2099-01-01T00:00:00.000Z' where aircraft_id = ${aircraftId}`.execute(
        tx,
      );
      await sql`alter table public.entry enable always trigger entry_kept`.execute(tx);
    });
    const late = await holding(aircraftId, (tx, { heldAt }) =>
      appendEntries(tx, { aircraftId, contents: [third], heldAt }),
    );
    expect(late).toMatchObject({ ok: true, entries: [{ seq: 2 }] });
  });

  it('[L1] refusals are those of every other way in', async () => {
    const aircraftId = await engine.aircraft();
    const [first = '', second = ''] = contentsOf(2);
    await holding(aircraftId, async (tx, { heldAt }) => {
      const append = (contents: string[], expectedSeq?: number) =>
        appendEntries(tx, { aircraftId, contents, heldAt, ...(expectedSeq === undefined ? {} : { expectedSeq }) });
      expect(await append([first])).toMatchObject({ ok: true, entries: [{ seq: 1 }] });
      expect(await append([first])).toMatchObject({ ok: true, entries: [{ seq: 1, replayed: true }] });
      expect(await append([second], 0)).toEqual({ ok: false, refusal: { code: 'ledger-moved-on', headSeq: 1 } });
    });
    expect(
      await engine
        .db()
        .transaction()
        .execute((tx) => holdAircraft(tx, randomUUID())),
    ).toBeUndefined();
  });

  it('[N9] who listens is told of them with the commit, or not at all where the caller does that', async () => {
    const [told, untold, last] = [await engine.aircraft(), await engine.aircraft(), await engine.aircraft()];
    const heard: string[] = [];
    const hangUp = engine.store().feed.subscribe((notice) => {
      if (notice !== undefined) heard.push(`${notice.aircraftId}:${notice.seq}`);
    });
    const append = (aircraftId: string, isUntold: boolean) =>
      holding(aircraftId, (tx, { heldAt }) =>
        appendEntries(tx, { aircraftId, contents: contentsOf(2), heldAt, isUntold }),
      );
    // The line of the feed may be a moment old.
    while (!heard.some((notice) => notice.startsWith(told))) {
      await append(told, false);
      await sleep(20);
    }
    await append(untold, true);
    await append(last, false);
    while (!heard.includes(`${last}:2`)) await sleep(5);
    hangUp();
    expect(heard.filter((notice) => notice.startsWith(untold))).toEqual([]);
  });

  if (engine.kind === 'postgres')
    it('[S5] whoever else records on the aircraft waits until the transaction ends', async () => {
      const aircraftId = await engine.aircraft();
      const order: string[] = [];
      let beside: Promise<unknown> = Promise.resolve();
      await holding(aircraftId, async (tx, { heldAt }) => {
        beside = appendEntries(engine.db(), { aircraftId, contents: contentsOf(1) }).then((answer) => {
          order.push('beside');
          expect(answer).toMatchObject({ ok: true, entries: [{ seq: 3 }] });
        });
        await sleep(100);
        expect(await appendEntries(tx, { aircraftId, contents: contentsOf(2), expectedSeq: 0, heldAt })).toMatchObject({
          ok: true,
        });
        order.push('held');
      });
      await beside;
      expect(order).toEqual(['held', 'beside']);
    });

  if (engine.kind === 'postgres')
    it('[S7] who holds an aircraft and does not go on is cut off after a time, and the others go on', async () => {
      const aircraftId = await engine.aircraft();
      const { rows } = await sql`show idle_in_transaction_session_timeout`.execute(engine.db());
      expect(rows).toEqual([{ idle_in_transaction_session_timeout: '30s' }]);
      const stood = holding(aircraftId, async (tx, { heldAt }) => {
        await sql`set local idle_in_transaction_session_timeout = '200ms'`.execute(tx);
        const beside = appendEntries(engine.db(), { aircraftId, contents: contentsOf(1) });
        expect(await beside).toMatchObject({ ok: true, entries: [{ seq: 1 }] });
        return appendEntries(tx, { aircraftId, contents: contentsOf(2), heldAt });
      }).catch((error: unknown) => error);
      expect(isDatabaseAway(await stood)).toBe(true);
      expect(await verifyChain(engine.db(), aircraftId)).toMatchObject({ ok: true, entryCount: 1 });
    });
});
