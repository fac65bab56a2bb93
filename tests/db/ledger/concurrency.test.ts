/** Many writers on one aircraft queue: no entry is lost, no number left out, no fork (L5). */
import { expect, it } from 'vitest';
import { openStore } from '#db/engine/open-store.ts';
import { appendEntries } from '#db/ledger/append.ts';
import { verifyChain } from '#db/ledger/verify.ts';
import { describeOnBothEngines } from '#tests/support/engines.ts';
import { contentOf, contentsOf } from '#tests/support/entry-content.ts';

const writers = 8;
const entriesEach = 50;

describeOnBothEngines('concurrency', (engine) => {
  it('[L5] 8 writers of 50 entries each leave one whole chain', async () => {
    const aircraftId = await engine.aircraft();
    // On PostgreSQL each writer is a store of its own, as in another process; the embedded engine has only the one.
    const stores = await Promise.all(
      Array.from({ length: writers }, () => (engine.kind === 'postgres' ? openStore(engine.place()) : engine.store())),
    );
    const seqs: number[] = [];
    await Promise.all(
      stores.map(async (store) => {
        for (let count = 0; count < entriesEach; count += 1) {
          const answer = await appendEntries(store.db, { aircraftId, contents: [contentOf()] });
          if (!answer.ok) throw new Error(answer.refusal.code);
          seqs.push(...answer.entries.map((entry) => entry.seq));
        }
      }),
    );
    if (engine.kind === 'postgres') await Promise.all(stores.map((store) => store.close()));
    expect(seqs.sort((a, b) => a - b)).toEqual(Array.from({ length: writers * entriesEach }, (_, index) => index + 1));
    expect(await verifyChain(engine.db(), aircraftId)).toMatchObject({ ok: true, entryCount: writers * entriesEach });
  });

  it('[S5] batches of many writers stay together', async () => {
    const aircraftId = await engine.aircraft();
    const answers = await Promise.all(
      Array.from({ length: 4 }, () => appendEntries(engine.db(), { aircraftId, contents: contentsOf(600) })),
    );
    for (const answer of answers) {
      if (!answer.ok) throw new Error(answer.refusal.code);
      const first = answer.entries[0]?.seq ?? 0;
      expect(answer.entries.map((entry) => entry.seq)).toEqual(
        Array.from({ length: 600 }, (_, index) => first + index),
      );
    }
    expect(await verifyChain(engine.db(), aircraftId)).toMatchObject({ ok: true, entryCount: 2_400 });
  });

  it('[L5] of many writers that expect the same head one is taken', async () => {
    const aircraftId = await engine.aircraft();
    const answers = await Promise.all(
      Array.from({ length: 8 }, () =>
        appendEntries(engine.db(), { aircraftId, contents: [contentOf()], expectedSeq: 0 }),
      ),
    );
    expect(answers.filter((answer) => answer.ok)).toHaveLength(1);
    for (const answer of answers)
      if (!answer.ok) expect(answer.refusal).toEqual({ code: 'ledger-moved-on', headSeq: 1 });
  });
});
