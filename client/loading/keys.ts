/** The keys of the corners of an envelope, for the list of all keys; `corners-card.tsx` has what they do. */
import { say } from '#shared/words/say.ts';

export const CORNER_KEYS = [
  [say`Enter`, say`on to the next field, and from the last one to a new corner`],
  [say`Alt and Up or Down`, say`move the corner`],
  [say`Alt and Delete`, say`take the corner away`],
] as const;
