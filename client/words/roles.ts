/** The roles (rule N4) as people read them: what each is called, and what each may do beyond the one before it. */
import type { Role } from '#shared/contract/people.ts';

export const ROLE_WORDS: Readonly<
  Record<Role, { readonly name: string; readonly inShort: string; readonly may: string }>
> = {
  viewer: { name: 'Viewer', inShort: 'reads', may: 'reads everything of the aircraft that are open to them' },
  crew: { name: 'Crew', inShort: 'weighs and notes', may: 'also weighs, records check weights, and writes notes' },
  engineer: {
    name: 'Engineer',
    inShort: 'parts, estimates, corrections',
    may: 'also adds parts, estimates, measures arms, corrects entries, and decides on pieces',
  },
  lead: {
    name: 'Lead',
    inShort: 'everything, also targets and people',
    may: 'also sets targets, describes the aircraft and its scales, moves the datum, and lets people in',
  },
};
