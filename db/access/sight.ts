/**
 * Which aircraft a person may see, and write to: the one place where it is decided.
 *
 * An open aircraft is for everybody whose account says `all`, or lists it. One that is closed is for the named, each to write or to see only,
 * and for leads as before. Who sees only is a viewer there, whatever the role. The role asked here is the account's own: a lead who has
 * signed in with a PIN stays one of those who may come in.
 */
import type { Kysely } from 'kysely';
import type { Database } from '#db/database.ts';
import type { Person } from '#shared/contract/people.ts';

export type Sight = 'write' | 'see';

/** What a closed aircraft is to a person: `mayWrite` is null where they are not named on it. */
export type Closing = { readonly mayWrite: boolean | null; readonly isLead: boolean };

/** Undefined of an aircraft that does not exist for this person. */
export type SightOf = (aircraftId: string) => Sight | undefined;

/** What the person may do with each of these aircraft, or with all there are. */
export async function sightsOf(
  db: Kysely<Database>,
  person: Pick<Person, 'id' | 'aircraft'>,
  aircraftIds?: readonly string[],
): Promise<SightOf> {
  const closings = await closingsFor(db, person.id, aircraftIds);
  return (id) => sightWith(person, id, closings.get(id));
}

/** `closing` is undefined of an aircraft that is open. */
export function sightWith(
  person: Pick<Person, 'aircraft'>,
  aircraftId: string,
  closing: Closing | undefined,
): Sight | undefined {
  const isListed = person.aircraft === 'all' || person.aircraft.includes(aircraftId);
  if (closing === undefined) return isListed ? 'write' : undefined;
  if (closing.isLead && isListed) return 'write';
  if (closing.mayWrite === null) return undefined;
  return closing.mayWrite ? 'write' : 'see';
}

export async function sightOf(
  db: Kysely<Database>,
  person: Pick<Person, 'id' | 'aircraft'>,
  aircraftId: string,
): Promise<Sight | undefined> {
  return (await sightsOf(db, person, [aircraftId]))(aircraftId);
}

/** The person as they are on an aircraft of which they have this sight. */
export function personWith(person: Person, sight: Sight): Person {
  return sight === 'write' ? person : { ...person, role: 'viewer' };
}

async function closingsFor(
  db: Kysely<Database>,
  personId: string,
  aircraftIds: readonly string[] | undefined,
): Promise<ReadonlyMap<string, Closing>> {
  let closed = db
    .selectFrom('closed_aircraft')
    .innerJoin('person', (join) => join.on('person.id', '=', personId))
    .leftJoin('closed_aircraft_person as named', (join) =>
      join.onRef('named.aircraft_id', '=', 'closed_aircraft.aircraft_id').on('named.person_id', '=', personId),
    )
    .select(['closed_aircraft.aircraft_id', 'named.may_write', 'person.role']);
  if (aircraftIds !== undefined) closed = closed.where('closed_aircraft.aircraft_id', 'in', aircraftIds);
  const rows = await closed.execute();
  return new Map(rows.map((row) => [row.aircraft_id, { mayWrite: row.may_write, isLead: row.role === 'lead' }]));
}
