/** Reads an aircraft's entries in the order of the ledger, page by page. Reads only. */
import type { Kysely } from 'kysely';
import type { Database } from '#db/database.ts';

export type ReadEntry = {
  seq: number;
  /** ISO 8601, UTC, milliseconds. */
  recordedAt: string;
  hash: string;
  /** The canonical text, exactly as it was appended. */
  content: string;
};

const pageEntries = 1_000;

/**
 * Yields the entries after `afterSeq` (default 0) up to and including `upToSeq` (default: the last). Each page is a query
 * of its own, so a slow reader holds nothing up; the ledger only grows, so pages cannot contradict each other.
 */
export async function* readEntries(
  db: Kysely<Database>,
  range: { aircraftId: string; afterSeq?: number; upToSeq?: number },
): AsyncGenerator<ReadEntry, void, void> {
  let after = range.afterSeq ?? 0;
  for (;;) {
    let query = db
      .selectFrom('entry')
      .select(['seq', 'recorded_at', 'hash', 'content'])
      .where('aircraft_id', '=', range.aircraftId)
      .where('seq', '>', after)
      .orderBy('seq')
      .limit(pageEntries);
    if (range.upToSeq !== undefined) query = query.where('seq', '<=', range.upToSeq);
    const page = await query.execute();
    for (const row of page) {
      yield { seq: row.seq, recordedAt: row.recorded_at, hash: row.hash, content: row.content };
      after = row.seq;
    }
    if (page.length < pageEntries) return;
  }
}
