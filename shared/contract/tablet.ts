/** Tablets that several people share, and the PINs to sign in on one, as they cross the wire (rule N15). */
import { z } from 'zod';
import { plainText } from '#shared/ledger/plain-text.ts';
import { PersonId } from './people.ts';

/** Four to eight digits, and not those that everybody tries first. */
export const Pin = z
  .string()
  .regex(/^\d{4,8}$/, 'must have 4 to 8 digits and nothing else')
  .refine((pin) => !isRun(pin), 'must not be one digit over and over, nor digits in a row such as 1234');

function isRun(pin: string): boolean {
  const steps = new Set([...pin].slice(1).map((digit, at) => Number(digit) - Number(pin[at])));
  const [step] = steps;
  return steps.size === 1 && step !== undefined && Math.abs(step) <= 1;
}

/** Minutes without a touch after which a shared tablet locks. */
const IdleMinutes = z
  .int('must be a whole number of minutes')
  .min(1, 'must be at least 1')
  .max(60, 'must not be more than 60');
export const USUAL_IDLE_MINUTES = 5;

export const TabletRequest = z.strictObject({ name: plainText(60), idleMinutes: IdleMinutes });
export const TabletChange = z.strictObject({ name: plainText(60).optional(), idleMinutes: IdleMinutes.optional() });

export const Tablet = z.object({
  id: z.uuid(),
  name: z.string(),
  idleMinutes: z.int(),
  madeBy: z.string(),
  madeAt: z.string(),
  lastUsedAt: z.string(),
  /** The address that it was last used from: two that take turns are two browsers. */
  lastAddress: z.string(),
  /** This very browser. */
  isHere: z.boolean(),
});
export type Tablet = z.infer<typeof Tablet>;
export const TabletList = z.object({ tablets: z.array(Tablet) });

/** Somebody who may sign in with a PIN. */
export const PinPerson = z.object({ id: PersonId, name: z.string(), initials: z.string() });
export type PinPerson = z.infer<typeof PinPerson>;

/** What this browser is: a shared tablet, with the people to choose from, or none. */
export const TabletReport = z.object({
  tablet: z.object({ name: z.string(), idleMinutes: z.int() }).optional(),
  people: z.array(PinPerson),
});
export type TabletReport = z.infer<typeof TabletReport>;

export const PinSignInRequest = z.strictObject({ personId: z.string().max(60), pin: z.string().min(1).max(20) });

/** `pin` null: no PIN any more. */
export const PinRequest = z.strictObject({ password: z.string().min(1).max(200), pin: Pin.nullable() });
