/**
 * The ledger of an aircraft as it stands in the database, folded in the process: reading back a chain and building its state are
 * one thing, so that there is no second copy of a total that could go stale.
 */
import type { Kysely } from 'kysely';
import type { Database } from '#db/database.ts';
import { readEntries } from '#db/ledger/read.ts';
import { entryFromText } from '#shared/ledger/canonical.ts';
import { applyEntry, type Ledger, openLedger } from '#shared/ledger/fold.ts';

/** The ledger up to entry `upToSeq`, or whole: as known then (rule L7). */
export async function loadLedger(db: Kysely<Database>, aircraftId: string, upToSeq?: number): Promise<Ledger> {
  const ledger = openLedger();
  const pages = readEntries(db, upToSeq === undefined ? { aircraftId } : { aircraftId, upToSeq });
  for await (const { seq, recordedAt, content } of pages)
    applyEntry(ledger, { seq, recordedAt, entry: entryFromText(content) });
  return ledger;
}

/** The number of the last entry, 0 for an empty ledger. */
export function headSeqOf(ledger: Ledger): number {
  return ledger.entries.at(-1)?.seq ?? 0;
}
