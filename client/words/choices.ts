/** Values of the ledger as a list to choose from. They are words of the trade already and stand for themselves, each in the language of the shop. */

import { Condition, DriftCause } from '#shared/ledger/entry.ts';
import { term } from '#shared/words/say.ts';

export function alike<Value extends string>(
  values: readonly Value[],
): readonly { readonly value: Value; readonly words: string }[] {
  return values.map((value) => ({ value, words: term(value) }));
}

/** `words`: what it is called when none is chosen. */
export function orNone<Value extends string>(values: readonly Value[], words: string) {
  return [{ value: '' as const, words }, ...alike(values)];
}

/** What can have been done to a piece when it stands on the scale. */
export const CONDITIONS = alike(Condition.options);

/** Why a piece drifts (rule W5); `words`: what it is called while nobody has said it. */
export const driftCausesOr = (words: string) => orNone(DriftCause.options, words);
