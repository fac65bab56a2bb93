/**
 * Records what a draft makes of the ledger as it stands (rules L3, S5, I3). The draft is made against the last entry; where somebody
 * else recorded in the meantime it is made again, so that no entry is admitted against a ledger that no longer is.
 */
import type { Kysely } from 'kysely';
import type { Database } from '#db/database.ts';
import { type AppendedEntry, type AppendRefusal, appendEntries, holdAircraft } from '#db/ledger/append.ts';
import { differingFields, entryFromText, entryText } from '#shared/ledger/canonical.ts';
import type { Entry } from '#shared/ledger/entry.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import type { Refusal } from '#shared/problem/registry.ts';
import { headSeqOf, loadLedger } from './load-ledger.ts';

/** What a draft makes of a ledger: entries to record, or its own reasons not to. It may write into the ledger it is given. */
export type Draft<Refused> = (
  ledger: Ledger,
) => { ok: true; entries: readonly Entry[] } | { ok: false; refused: Refused };

export type Recorded<Refused> =
  | { ok: true; entries: readonly AppendedEntry[] }
  | { ok: false; refused: Refused }
  | { ok: false; entry: Entry | undefined; refusal: Refusal };

type Request = { readonly aircraftId: string; readonly onProgress?: (done: number, total: number) => void };

/** Records a draft for one aircraft, all or nothing. Works inside a given transaction. */
export async function recordEntries<Refused>(
  db: Kysely<Database>,
  request: Request,
  draft: Draft<Refused>,
): Promise<Recorded<Refused>> {
  const recorded = await tryToRecord(db, request, draft);
  if (recorded !== 'moved on') return recorded;
  // Beside a server that records without a pause it would be so each time: now nobody else adds to the ledger.
  const recordHeld = async (tx: Kysely<Database>) => {
    await holdAircraft(tx, request.aircraftId);
    return tryToRecord(tx, request, draft);
  };
  const held = await (db.isTransaction ? recordHeld(db) : db.transaction().execute(recordHeld));
  if (held === 'moved on') throw new Error('the ledger moved on while its aircraft was held');
  return held;
}

async function tryToRecord<Refused>(
  db: Kysely<Database>,
  request: Request,
  draft: Draft<Refused>,
): Promise<Recorded<Refused> | 'moved on'> {
  const ledger = await loadLedger(db, request.aircraftId);
  const expectedSeq = headSeqOf(ledger);
  const drafted = draft(ledger);
  if (!drafted.ok) return drafted;
  const answer = await appendEntries(db, { ...request, contents: drafted.entries.map(entryText), expectedSeq });
  if (answer.ok) return answer;
  return answer.refusal.code === 'ledger-moved-on' ? 'moved on' : toRefusal(answer.refusal, drafted.entries);
}

export function toRefusal(
  refusal: AppendRefusal,
  entries: readonly Entry[],
): { ok: false; entry: Entry | undefined; refusal: Refusal } {
  const entry = 'index' in refusal ? entries[refusal.index] : undefined;
  switch (refusal.code) {
    case 'entry-id-reused': {
      const fields = entry === undefined ? [] : differingFields(entryFromText(refusal.content), entry);
      return { ok: false, entry, refusal: { code: 'entry-id-reused', seq: refusal.seq, fields } };
    }
    case 'already-corrected':
      return { ok: false, entry, refusal: { code: 'already-corrected', bySeq: refusal.correctedBySeq } };
    case 'nothing-to-correct':
      return { ok: false, entry, refusal: { code: 'nothing-to-correct' } };
    case 'content-unstorable':
      return { ok: false, entry, refusal: { code: 'shape-refused', why: refusal.words } };
    case 'unknown-aircraft':
    case 'ledger-moved-on':
      throw new Error(`the ledger cannot be written: ${refusal.code}`);
  }
}
