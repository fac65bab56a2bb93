/**
 * How a door is declared: its role next to its path, in one list of the OpenAPI document and in force before anything else of the
 * request is looked at. A route without a role is a bug that ends the start.
 */
import type { OpenAPIHono } from '@hono/zod-openapi';
import type { Context, MiddlewareHandler } from 'hono';
import type { z } from 'zod';
import { admissionTo } from '#db/access/admission.ts';
import { personWith, type Sight } from '#db/access/sight.ts';
import type { Aircraft } from '#db/ledger/aircraft.ts';
import { ProblemReport } from '#shared/contract/aircraft.ts';
import { mayAs, type Person, type Role } from '#shared/contract/people.ts';
import { sessionHashOf } from './people/session-cookie.ts';
import { Problem } from './problem/problem.ts';
import type { Services } from './services.ts';

export type DoorRole = 'public' | Role;

export type DoorEnv = {
  Variables: {
    services: Services;
    /** A proxy's, or made here; sent back, and beside every fault in the log. */
    requestId: string;
    /** Set where the door asks for a role: with the role they have on the aircraft of the path. */
    person?: Person;
    tokenHash?: string;
    /** Signed in with a PIN, on a shared tablet. */
    byPin?: boolean;
    /** Set where the path names an aircraft: one that the person may see. */
    aircraft?: Aircraft;
    sight?: Sight;
  };
};
export type DoorContext = Context<DoorEnv>;
export type DoorApp = OpenAPIHono<DoorEnv>;

export const ROLE_FIELD = 'x-role';

/** To be spread into a route: who may come in. */
export function needs(role: DoorRole) {
  return { [ROLE_FIELD]: role, middleware: keeper(role) };
}

/** A JSON body that must be there. */
export function jsonBody<Schema extends z.ZodType>(schema: Schema) {
  return { body: { required: true, content: { 'application/json': { schema } } } } as const;
}

/** A JSON answer. */
export function json<Schema extends z.ZodType>(schema: Schema, description: string) {
  return { description, content: { 'application/json': { schema } } } as const;
}

/** The answer of every door that says no. */
export const REFUSED = {
  default: {
    description: 'Refused: what is wrong and what to do about it',
    content: { 'application/problem+json': { schema: ProblemReport } },
  },
} as const;

export function personAt(c: DoorContext): Person {
  const person = c.get('person');
  if (person === undefined) throw new Error('this door is public and has no person');
  return person;
}

/** What a PIN does not open: an account's own keys. */
export function mustHavePassword(c: DoorContext): void {
  if (c.get('byPin') === true) throw new Problem('pin-session');
}

/** Whether the person only reads the aircraft of the path. */
export function readsOnlyAt(c: DoorContext): boolean {
  return c.get('sight') === 'see';
}

export function aircraftAt(c: DoorContext): Aircraft {
  const aircraft = c.get('aircraft');
  if (aircraft === undefined) throw new Error('the path of this door names no aircraft');
  return aircraft;
}

/** The id of the person whom the sender takes to be signed in. May be left out. */
const PERSON_HEADER = 'Tarebook-Person';

function keeper(role: DoorRole): MiddlewareHandler<DoorEnv> {
  return async (c, next) => {
    if (role !== 'public') await admit(c, role);
    await next();
  };
}

async function admit(c: DoorContext, role: Role): Promise<void> {
  const { db, now } = c.get('services');
  const hash = sessionHashOf(c);
  const aircraftId = c.req.param('aircraftId')?.toLowerCase();
  const admission = hash === undefined ? undefined : await admissionTo(db, hash, now(), aircraftId);
  if (hash === undefined || admission === undefined) throw new Problem('not-signed-in');
  const { session, onAircraft } = admission;
  const { person, byPin } = session;
  // What waited on a device goes in under the name of who made it, or not at all: somebody else may have signed in there since.
  const meant = c.req.header(PERSON_HEADER);
  if (meant !== undefined && meant !== person.id) throw new Problem('other-person');
  if (!mayAs(person.role, role)) throw new Problem(byPin ? 'pin-session' : 'not-allowed');
  c.set('person', person);
  c.set('tokenHash', hash);
  c.set('byPin', byPin);
  if (aircraftId === undefined) return;
  // One answer for an aircraft that is not there and for one that this person may not see.
  if (onAircraft === undefined) throw new Problem('not-found');
  const here = personWith(person, onAircraft.sight);
  if (!mayAs(here.role, role)) throw new Problem('not-allowed');
  c.set('person', here);
  c.set('sight', onAircraft.sight);
  c.set('aircraft', onAircraft.aircraft);
}
