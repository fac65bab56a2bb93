/**
 * What moved the predicted mass or the CG (rule L6). Every entry's effect is split over these, and over nothing else.
 * An entry changes the basic mass, the allowance, or both; each of the two has one cause.
 */
import { addTally, isEmptyTally, type MassNg, type Tally } from '#shared/quantity/exact.ts';
import type { Statement } from './entry.ts';

export const CAUSES = [
  'scope',
  'estimate revised',
  'allowance',
  'weighed against estimate',
  'arm measured',
  'piece withdrawn',
  'datum moved',
  'target revised',
] as const;
export type Cause = (typeof CAUSES)[number];

/** The causes of an entry's change of basic mass and of its change of allowance. */
export type CausePair = { readonly basic: Cause; readonly allowance: Cause };

/** `firstKnown`: the part had no estimate before this entry, so that it brings mass nobody had counted yet. */
export function causesOf(kind: Statement['kind'], firstKnown: boolean): CausePair {
  switch (kind) {
    case 'part added':
    case 'part removed':
      return { basic: 'scope', allowance: 'scope' };
    case 'estimate':
      return firstKnown
        ? { basic: 'scope', allowance: 'scope' }
        : { basic: 'estimate revised', allowance: 'allowance' };
    case 'weighing':
      return { basic: firstKnown ? 'scope' : 'weighed against estimate', allowance: 'allowance' };
    case 'arm measured':
      return { basic: 'arm measured', allowance: 'arm measured' };
    case 'piece withdrawn':
      return { basic: 'piece withdrawn', allowance: 'piece withdrawn' };
    case 'datum moved':
      return { basic: 'datum moved', allowance: 'datum moved' };
    case 'targets':
    case 'aircraft':
    case 'note':
    case 'piece installed':
      return { basic: 'target revised', allowance: 'target revised' };
  }
}

/** A change of predicted mass and moment, about the datum in force after the entry, and of the margin. */
export type Effect = {
  readonly cause: Cause;
  readonly isCorrection: boolean;
  readonly change: Tally;
  readonly marginNg: MassNg;
};

/** One effect a cause: what shares its cause is added, what changes nothing is left out. */
export function mergeEffects(effects: readonly Effect[]): readonly Effect[] {
  const merged = new Map<string, Effect>();
  for (const effect of effects) {
    const key = `${effect.cause}${effect.isCorrection}`;
    const before = merged.get(key);
    merged.set(
      key,
      before === undefined
        ? effect
        : {
            ...effect,
            change: addTally(before.change, effect.change),
            marginNg: (before.marginNg + effect.marginNg) as MassNg,
          },
    );
  }
  return [...merged.values()].filter((effect) => !isEmptyTally(effect.change) || effect.marginNg !== 0n);
}
