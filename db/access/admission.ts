/**
 * Who asks, and for which aircraft: the session of a request, the aircraft that its path names, and what the person may do there, in one
 * query, since every request to an aircraft begins with it.
 */
import type { Kysely } from 'kysely';
import { z } from 'zod';
import type { Database } from '#db/database.ts';
import { type Aircraft, toAircraft } from '#db/ledger/aircraft.ts';
import { type Session, sessionIn, sessionRow } from '#db/people/session.ts';
import { type Sight, sightWith } from './sight.ts';

export type Admission = {
  readonly session: Session;
  /** Undefined where there is none of that id, or none that exists for this person. */
  readonly onAircraft: { readonly aircraft: Aircraft; readonly sight: Sight } | undefined;
};

/** Undefined where the session has ended. `aircraftId` is as it was asked for: what is no id names no aircraft. */
export async function admissionTo(
  db: Kysely<Database>,
  hash: string,
  now: Date,
  aircraftId: string | undefined,
): Promise<Admission | undefined> {
  const id = z.uuid().safeParse(aircraftId).data ?? null;
  const row = await sessionRow(db, hash, now)
    .leftJoin('aircraft', (join) => join.on('aircraft.id', '=', id))
    .leftJoin('closed_aircraft', 'closed_aircraft.aircraft_id', 'aircraft.id')
    .leftJoin('closed_aircraft_person as named', (join) =>
      join.onRef('named.aircraft_id', '=', 'aircraft.id').onRef('named.person_id', '=', 'person.id'),
    )
    .select(['aircraft.id as aircraft_id', 'aircraft.name as aircraft_name'])
    .select(['aircraft.head_seq', 'aircraft.head_hash', 'aircraft.created_at'])
    .select(['closed_aircraft.aircraft_id as closed_id', 'named.may_write'])
    .executeTakeFirst();
  const session = row && (await sessionIn(db, row, hash, now, true));
  if (row === undefined || session === undefined) return undefined;
  const { aircraft_id, aircraft_name, head_seq, head_hash, created_at } = row;
  if (aircraft_id === null || aircraft_name === null || head_seq === null || head_hash === null || created_at === null)
    return { session, onAircraft: undefined };
  // The account's own role, which a PIN does not change.
  const closing = row.closed_id === null ? undefined : { mayWrite: row.may_write, isLead: row.role === 'lead' };
  const sight = sightWith(session.person, aircraft_id, closing);
  const aircraft = toAircraft({ id: aircraft_id, name: aircraft_name, head_seq, head_hash, created_at });
  return { session, onAircraft: sight && { aircraft, sight } };
}
