/** What can have been done to a piece when it stands on the scale. */
import { Condition } from '#shared/ledger/entry.ts';

export const CONDITIONS = Condition.options.map((value) => ({ value, words: value }));
