/** What one more entry reads, in a session whose plans were made while the ledger was empty (L1): rows of its own, however long the ledger is. */
import { type Kysely, sql } from 'kysely';
import { expect, it } from 'vitest';
import type { Database } from '#db/database.ts';
import { appendEntries } from '#db/ledger/append.ts';
import { describeOnBothEngines } from '#tests/support/engines.ts';
import { contentsOf } from '#tests/support/entry-content.ts';

const LONG = 3_000;
const MOST_READ = 4;

describeOnBothEngines('the cost of one more entry', (engine) => {
  it.each([false, true])('[L1] does not grow with the ledger (told after its commit: %s)', async (isUntold) => {
    const aircraftId = await engine.aircraft();
    await engine
      .db()
      .connection()
      .execute(async (session) => {
        const append = async (count: number, db: Kysely<Database> = session) =>
          expect(await appendEntries(db, { aircraftId, contents: contentsOf(count), isUntold })).toMatchObject({
            ok: true,
          });
        /** Rows of the ledger that are read, of the table or by an index. */
        const readBy = (count: number) =>
          session.transaction().execute(async (tx) => {
            const read = async () => {
              const found = await sql<{ rows: number }>`
                select (seq_tup_read + idx_tup_fetch)::integer as rows from pg_stat_xact_all_tables
                  where schemaname = 'public' and relname = 'entry'`.execute(tx);
              return found.rows[0]?.rows ?? Number.NaN;
            };
            const before = await read();
            await append(count, tx);
            return (await read()) - before;
          });
        // A few by themselves: plans are kept after some calls.
        for (let count = 0; count < 8; count += 1) await append(1);
        expect(await readBy(LONG)).toBeLessThanOrEqual(MOST_READ * LONG);
        expect(await readBy(1)).toBeLessThanOrEqual(MOST_READ);
      });
  });
});
