/** Who may see, and write to, one aircraft, as it crosses the wire (rule N17). */
import { z } from 'zod';
import { PersonId, Role } from './people.ts';

export const May = z.enum(['nothing', 'see', 'write']);
export type May = z.infer<typeof May>;

/** Everybody with an account, and what they are named for. It counts while the aircraft is closed. */
export const AircraftAccess = z.object({
  isClosed: z.boolean(),
  people: z.array(z.object({ id: PersonId, name: z.string(), initials: z.string(), role: Role, may: May })),
});
export type AircraftAccess = z.infer<typeof AircraftAccess>;

/** Who is left out may do nothing there. */
export const AircraftAccessRequest = z.strictObject({
  isClosed: z.boolean(),
  people: z.array(z.strictObject({ id: PersonId, may: May })).max(1000),
});
export type AircraftAccessRequest = z.infer<typeof AircraftAccessRequest>;
