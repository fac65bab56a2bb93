/** What one more entry reads, in a session whose plans were made while the ledger was empty (L1): rows of its own, however long the ledger is. */
import { sql } from 'kysely';
import { expect, it } from 'vitest';
import { appendEntries } from '#db/ledger/append.ts';
import { describeOnBothEngines } from '#tests/support/engines.ts';
import { contentsOf } from '#tests/support/entry-content.ts';

const LONG = 3_000;

describeOnBothEngines('the cost of one more entry', (engine) => {
  it.each([false, true])('[L1] does not grow with the ledger (told after its commit: %s)', async (isUntold) => {
    const aircraftId = await engine.aircraft();
    await engine
      .db()
      .connection()
      .execute(async (session) => {
        const append = async (count: number) =>
          expect(await appendEntries(session, { aircraftId, contents: contentsOf(count), isUntold })).toMatchObject({
            ok: true,
          });
        // A few by themselves: plans are kept after some calls.
        for (let count = 0; count < 8; count += 1) await append(1);
        await append(LONG);
        const rows = await session.transaction().execute(async (tx) => {
          const read = async () => {
            const found = await sql<{ rows: number }>`
            select (seq_tup_read + idx_tup_fetch)::integer as rows from pg_stat_xact_all_tables
              where schemaname = 'public' and relname = 'entry'`.execute(tx);
            return found.rows[0]?.rows ?? Number.NaN;
          };
          const before = await read();
          expect(await appendEntries(tx, { aircraftId, contents: contentsOf(1), isUntold })).toMatchObject({
            ok: true,
          });
          return (await read()) - before;
        });
        expect(rows).toBeLessThanOrEqual(4);
      });
  });
});
