/** A new aircraft with the first entry of its ledger, which says what it is: both or neither. */
import type { Kysely } from 'kysely';
import type { z } from 'zod';
import { refusedInput } from '#api/problem/problem.ts';
import type { Database } from '#db/database.ts';
import { createAircraft } from '#db/ledger/create-aircraft.ts';
import { recordEntries } from '#db/record/record-entries.ts';
import { stableId } from '#db/record/stable-id.ts';
import type { AircraftRequest } from '#shared/contract/aircraft.ts';
import type { EntryId } from '#shared/ledger/entry.ts';
import { FieldReader } from '#shared/words/field-reader.ts';
import { aircraftFromWords } from '#shared/words/plain-statements.ts';

export async function beginAircraft(
  db: Kysely<Database>,
  sent: z.infer<typeof AircraftRequest>,
  stamp: { readonly aircraftId: string; readonly by: string; readonly day: string },
): Promise<void> {
  const { massUnit, lengthUnit, ...words } = sent;
  const reader = new FieldReader({ ...words, 'mass unit': massUnit, 'length unit': lengthUnit });
  const statement = aircraftFromWords(reader);
  if (statement === undefined) {
    const sentAs: Readonly<Record<string, string>> = { 'mass unit': 'massUnit', 'length unit': 'lengthUnit' };
    throw refusedInput(reader.problems.map(({ field, refusal }) => ({ path: [sentAs[field] ?? field], refusal })));
  }
  const { aircraftId, by, day } = stamp;
  await db.transaction().execute(async (tx) => {
    const created = await createAircraft(tx, { id: aircraftId, name: statement.name });
    if (!created.ok)
      throw refusedInput([{ path: ['name'], refusal: { code: 'aircraft-name-taken', name: statement.name } }]);
    const id = stableId(aircraftId, 'aircraft') as EntryId;
    const answer = await recordEntries<never>(tx, { aircraftId }, () => ({
      ok: true,
      entries: [{ ...statement, id, happenedOn: day, by }],
    }));
    if (!answer.ok) throw new Error('the first entry of a new ledger is taken');
  });
}
