/** Notes what somebody did through a door, with who is signed in there and the address it came from. */
import type { Kysely } from 'kysely';
import type { DoorContext } from '#api/door.ts';
import { addressOf } from '#api/people/address.ts';
import { type NewAct, noteAct } from '#db/audit/acts.ts';
import type { Database } from '#db/database.ts';

type ActHere = Omit<NewAct, 'byName' | 'address'>;

export async function noteHere(c: DoorContext, act: ActHere, db: Kysely<Database> = c.get('services').db) {
  await noteAct(db, { personId: c.get('person')?.id, address: addressOf(c), ...act });
}
