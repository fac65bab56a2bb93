/** Which pages there are to hang up; their words come only when one is opened. */
import { say } from '#shared/words/say.ts';

export const GUIDES = [
  { of: 'crew', name: say`One page for the crew` },
  { of: 'lead', name: say`One page for the lead` },
] as const;
export type GuideFor = (typeof GUIDES)[number]['of'];
