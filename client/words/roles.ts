/** The roles (rule N4) as people read them: what each is called, and what each may do beyond the one before it. */

import type { Role } from '#shared/contract/people.ts';
import { say } from '#shared/words/say.ts';

export const ROLE_WORDS: Readonly<
  Record<Role, { readonly name: string; readonly inShort: string; readonly may: string }>
> = {
  viewer: { name: say`Viewer`, inShort: say`reads`, may: say`reads everything of the aircraft that are open to them` },
  crew: {
    name: say`Crew`,
    inShort: say`weighs and notes`,
    may: say`also weighs, records check weights, and writes notes`,
  },
  engineer: {
    name: say`Engineer`,
    inShort: say`parts, estimates, corrections`,
    may: say`also adds parts, estimates, measures arms, corrects entries, and decides on pieces`,
  },
  lead: {
    name: say`Lead`,
    inShort: say`everything, also targets and people`,
    may: say`also sets targets, describes the aircraft and its scales, moves the datum, and lets people in`,
  },
};
