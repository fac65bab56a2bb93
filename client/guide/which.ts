/** Which pages there are to hang up; their words come only when one is opened. */
export const GUIDES = [
  { of: 'crew', name: 'One page for the crew' },
  { of: 'lead', name: 'One page for the lead' },
] as const;
export type GuideFor = (typeof GUIDES)[number]['of'];
