/**
 * What moved the predicted mass or the CG (rule L6). Every entry's effect is split over these, and over nothing else.
 * An entry changes the basic mass, the allowance, or both; each of the two has one cause.
 */
import {
  addTally,
  EMPTY_TALLY,
  isEmptyTally,
  type LengthNm,
  type MassNg,
  seenFrom,
  subtractTally,
  type Tally,
} from '#shared/quantity/exact.ts';
import type { Sums } from './books.ts';
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

/** The sums at one moment, the datum they are told from, and target less reserve. */
export type Moment = { readonly sums: Sums; readonly datumNm: LengthNm; readonly aimNg: MassNg | undefined };

/** What came between two moments, split over the causes of the entry that came between them. */
export function effectsBetween(
  before: Moment,
  after: Moment,
  causes: CausePair,
  isCorrection: boolean,
): readonly Effect[] {
  const effects = (['basic', 'allowance'] as const).map((component): Effect => {
    const change = subtractTally(
      seenFrom(after.sums[component], after.datumNm),
      seenFrom(before.sums[component], before.datumNm),
    );
    return { cause: causes[component], isCorrection, change, marginNg: -change.massNg as MassNg };
  });
  if (before.aimNg !== undefined && after.aimNg !== undefined) {
    const marginNg = (after.aimNg - before.aimNg) as MassNg;
    effects.push({ cause: 'target revised', isCorrection, change: EMPTY_TALLY, marginNg });
  }
  return mergeEffects(effects);
}

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
