/** The keys of a lay-up, for the list of all keys; `use-line-keys.ts` has what they do. */
export const LAY_UP_KEYS = [
  ['Enter in a line', 'add the next line of its kind'],
  ['Enter in a region', 'on to its first line'],
  ['Alt and Up or Down', 'move the line, also into the next region'],
  ['Alt and Delete', 'take the line away'],
] as const;
