/** The demonstration aircraft in a store: whole, verified, and there once (G1). */
import { expect, it } from 'vitest';
import { createDemonstration, DEMONSTRATION_ID } from '#db/demo/create-demonstration.ts';
import { listAircraft } from '#db/ledger/list-aircraft.ts';
import { verifyChain } from '#db/ledger/verify.ts';
import { inventedAircraft } from '#db/record/invented-aircraft.ts';
import { loadLedger } from '#db/record/load-ledger.ts';
import { describeOnBothEngines } from '#tests/support/engines.ts';
import { BY, entriesOn, TODAY } from './story.ts';

describeOnBothEngines('the demonstration in a store', (engine) => {
  it('[G1] is recorded as made, tells its progress, and verifies', async () => {
    const told: number[] = [];
    const answer = await createDemonstration(engine.db(), {
      by: BY,
      today: TODAY,
      onProgress: (done, total) => told.push(done / total),
    });
    const made = entriesOn(TODAY);
    expect(answer).toEqual({ ok: true, aircraftId: DEMONSTRATION_ID, recorded: made.length });
    expect(told.at(-1)).toBe(1);
    const ledger = await loadLedger(engine.db(), DEMONSTRATION_ID);
    expect(ledger.entries.map(({ entry }) => entry)).toEqual(made);
    expect(await verifyChain(engine.db(), DEMONSTRATION_ID)).toMatchObject({ ok: true, entryCount: made.length });
  });

  it('[G1] is marked as invented, whoever makes it', async () => {
    const other = await engine.aircraft();
    const marked = await inventedAircraft(engine.db());
    expect([marked.has(DEMONSTRATION_ID), marked.has(other)]).toEqual([true, false]);
  });

  it('[G1] is refused a second time, and the first stays as it was', async () => {
    const before = await listAircraft(engine.db());
    const answer = await createDemonstration(engine.db(), { by: 'bob', today: '2026-07-20' });
    const name = 'Dabchick (invented demonstration)';
    expect(answer).toEqual({ ok: false, refusal: { code: 'aircraft-name-taken', name } });
    expect(await listAircraft(engine.db())).toEqual(before);
  });
});
