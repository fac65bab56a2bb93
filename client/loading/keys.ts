/** The keys of the corners of an envelope, for the list of all keys; `corners-card.tsx` has what they do. */
export const CORNER_KEYS = [
  ['Enter', 'on to the next field, and from the last one to a new corner'],
  ['Alt and Up or Down', 'move the corner'],
  ['Alt and Delete', 'take the corner away'],
] as const;
