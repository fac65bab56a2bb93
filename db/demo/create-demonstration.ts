/** Puts the invented demonstration aircraft into a store, once (rules G1, S5). */
import type { Kysely } from 'kysely';
import type { Database } from '#db/database.ts';
import { createAircraft } from '#db/ledger/create-aircraft.ts';
import { markInvented } from '#db/record/invented-aircraft.ts';
import { recordEntries } from '#db/record/record-entries.ts';
import type { AircraftId } from '#shared/ledger/entry.ts';
import type { Refusal } from '#shared/problem/registry.ts';
import { keepBeside } from './keep-beside.ts';
import { makeEntries } from './make-entries.ts';
import { DEMONSTRATION_NAME } from './story.ts';

export type CreateDemonstrationRequest = {
  /** Who asked for it. */
  readonly by: string;
  /** The shop's day, YYYY-MM-DD. */
  readonly today: string;
  readonly onProgress?: (done: number, total: number) => void;
};

export type CreateDemonstrationAnswer =
  | { readonly ok: true; readonly aircraftId: AircraftId; readonly recorded: number }
  | { readonly ok: false; readonly refusal: Refusal };

/** The same in every store, so that the ids of its entries are the same as well. */
export const DEMONSTRATION_ID = '0a7d1b4e-6c52-4f0e-9b8a-2f6d3c5e9a71' as AircraftId;

/** All or nothing. Refused where it is here already; throws only on what is a bug or a failure of the database. */
export async function createDemonstration(
  db: Kysely<Database>,
  request: CreateDemonstrationRequest,
): Promise<CreateDemonstrationAnswer> {
  const { by, today, onProgress } = request;
  const aircraftId = DEMONSTRATION_ID;
  const entries = makeEntries({ aircraftId, today, by });
  return db.transaction().execute(async (tx): Promise<CreateDemonstrationAnswer> => {
    const created = await createAircraft(tx, { id: aircraftId, name: DEMONSTRATION_NAME });
    if (!created.ok || created.replayed)
      return { ok: false, refusal: { code: 'aircraft-name-taken', name: DEMONSTRATION_NAME } };
    const progress = onProgress === undefined ? {} : { onProgress };
    const recorded = await recordEntries<never>(tx, { aircraftId, ...progress }, () => ({ ok: true, entries }));
    if (recorded.ok) {
      await markInvented(tx, aircraftId);
      await keepBeside(tx, { aircraftId, today }, entries);
      return { ok: true, aircraftId, recorded: recorded.entries.length };
    }
    throw new Error(`the demonstration is refused: ${JSON.stringify('refusal' in recorded ? recorded.refusal : {})}`);
  });
}
