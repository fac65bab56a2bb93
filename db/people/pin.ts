/**
 * PINs: kept as passwords are, good for a session on a shared tablet and for nothing else. Ten wrong ones in a row, on whatever tablet, and the
 * PIN is off until its person signs in with the password: four digits bear no more guessing.
 */
import type { Kysely } from 'kysely';
import type { Database } from '#db/database.ts';
import { sqlState } from '#db/engine/sql-state.ts';
import { startSession } from '#db/people/session.ts';

export const MOST_WRONG_PINS = 10;

const brokenReference = '23503';

/**
 * Sets the PIN of a person, or with null takes it away, and ends every session begun with the one before. False where the password is no longer
 * the one that was looked at.
 */
export async function setPin(
  db: Kysely<Database>,
  personId: string,
  { passwordHash, pinHash }: { readonly passwordHash: string; readonly pinHash: string | null },
): Promise<boolean> {
  return db.transaction().execute(async (tx) => {
    const row = await tx
      .updateTable('person')
      .set({ pin_hash: pinHash, pin_wrong: 0 })
      .where('id', '=', personId)
      .where('password_hash', '=', passwordHash)
      .where('is_active', '=', true)
      .returning('id')
      .executeTakeFirst();
    if (row === undefined) return false;
    await tx.deleteFrom('session').where('person_id', '=', personId).where('by_pin', '=', true).execute();
    return true;
  });
}

/**
 * Counts a try of a person's PIN and gives the kept hash to judge it by: counted before it is judged, so that many at the same moment, on many
 * tablets, are no more than ten. `off` after ten wrong ones; undefined where nobody active has a PIN under this id.
 */
export async function takePinTry(db: Kysely<Database>, personId: string): Promise<string | 'off' | undefined> {
  const taken = await db
    .updateTable('person')
    .set((column) => ({ pin_wrong: column('pin_wrong', '+', 1) }))
    .where('id', '=', personId)
    .where('is_active', '=', true)
    .where('pin_hash', 'is not', null)
    .where('pin_wrong', '<', MOST_WRONG_PINS)
    .returning('pin_hash')
    .executeTakeFirst();
  if (typeof taken?.pin_hash === 'string') return taken.pin_hash;
  const row = await db
    .selectFrom('person')
    .select('id')
    .where('id', '=', personId)
    .where('is_active', '=', true)
    .where('pin_hash', 'is not', null)
    .executeTakeFirst();
  return row === undefined ? undefined : 'off';
}

/**
 * A new session of who has signed in with the PIN kept as `pinHash`, on this tablet; undefined where one of the two has been taken away, or the
 * account closed, since it was looked at.
 */
export async function startPinSession(
  db: Kysely<Database>,
  { personId, pinHash, tabletId }: { readonly personId: string; readonly pinHash: string; readonly tabletId: string },
  now: Date,
): Promise<string | undefined> {
  try {
    return await db.transaction().execute(async (tx) => {
      const row = await tx
        .updateTable('person')
        .set({ pin_wrong: 0 })
        .where('id', '=', personId)
        .where('pin_hash', '=', pinHash)
        .where('is_active', '=', true)
        .returning('id')
        .executeTakeFirst();
      return row === undefined ? undefined : startSession(tx, personId, now, { tabletId, byPin: true });
    });
  } catch (error) {
    if (sqlState(error) === brokenReference) return undefined;
    throw error;
  }
}
