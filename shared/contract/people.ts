/**
 * People and their sessions as they cross the wire. Roles grow: a lead may do what an engineer may, an engineer what crew
 * may, crew what a viewer may.
 */
import { z } from 'zod';
import { plainText } from '#shared/ledger/plain-text.ts';

export const ROLES = ['viewer', 'crew', 'engineer', 'lead'] as const;
export const Role = z.enum(ROLES);
export type Role = z.infer<typeof Role>;

/** True where `role` may do what `needed` may. */
export function mayAs(role: Role, needed: Role): boolean {
  return ROLES.indexOf(role) >= ROLES.indexOf(needed);
}

export const PersonId = z.uuid().brand<'PersonId'>();
export type PersonId = z.infer<typeof PersonId>;

/** Long enough to be no word of a list; no other rule, as NIST SP 800-63B advises. */
export const Password = z
  .string()
  .min(10, 'must have at least 10 characters')
  .max(200, 'must not be longer than 200 characters');

/** The name to sign in with, and the initials that stand in the ledger. */
const who = { name: plainText(60), initials: plainText(6) };

/** `aircraft`: the ids of the aircraft the person may see; `all` for every one, also those to come. */
export const Access = z.union([z.literal('all'), z.array(z.uuid()).max(1000)]);
export type Access = z.infer<typeof Access>;

export const Person = z.object({
  id: PersonId,
  ...who,
  role: Role,
  aircraft: Access,
  isActive: z.boolean(),
});
export type Person = z.infer<typeof Person>;

export const PeopleList = z.object({ people: z.array(Person) });

export const FirstRunRequest = z.strictObject({ code: z.string().min(1).max(40), ...who, password: Password });
export type FirstRunRequest = z.infer<typeof FirstRunRequest>;

export const SignInRequest = z.strictObject({ name: z.string().min(1).max(60), password: z.string().min(1).max(200) });
export type SignInRequest = z.infer<typeof SignInRequest>;

export const PasswordRequest = z.strictObject({ current: z.string().min(1).max(200), next: Password });

export const PersonRequest = z.strictObject({ ...who, role: Role, aircraft: Access, password: Password });

/** What a lead may change of a person; what is left out stays. */
export const PersonChange = z.strictObject({
  role: Role.optional(),
  aircraft: Access.optional(),
  isActive: z.boolean().optional(),
  password: Password.optional(),
});

/** A browser that several people share. */
const SharedHere = z.object({ name: z.string(), idleMinutes: z.int() });

/**
 * Where the browser stands: nobody has an account yet, nobody is signed in here, or somebody is. `byPin`: with a PIN, so that the role is crew
 * at most whatever the person's own is.
 */
export const SessionReport = z.discriminatedUnion('state', [
  z.object({ state: z.literal('first run') }),
  z.object({ state: z.literal('signed out'), tablet: SharedHere.optional() }),
  z.object({
    state: z.literal('signed in'),
    person: Person,
    hasPin: z.boolean(),
    byPin: z.boolean(),
    tablet: SharedHere.optional(),
  }),
]);
export type SessionReport = z.infer<typeof SessionReport>;
