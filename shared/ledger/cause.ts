/**
 * What moved the predicted mass or the CG (rule L6). Every entry's effect is split over these, and over nothing else.
 * An entry changes the basic mass, the allowance, what weighed assemblies add, or several of these; each has one cause.
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
  'assembly residual',
  'aircraft weighed',
  'datum moved',
  'target revised',
] as const;
export type Cause = (typeof CAUSES)[number];

/**
 * The causes of an entry's change of basic mass, of its change of allowance, and of its change of what weighed assemblies, and a weighing of the
 * whole aircraft, have beyond their parts.
 */
export type Causes = {
  readonly basic: Cause;
  readonly allowance: Cause;
  readonly residual: Cause;
  readonly whole: Cause;
};

/** `isNewMass`: the entry brings mass nobody had counted yet (`bringsNewMass`). */
export function causesOf(kind: Statement['kind'], isNewMass: boolean): Causes {
  switch (kind) {
    case 'part added':
    case 'part removed':
      return { ...all('scope'), whole: 'aircraft weighed' };
    case 'estimate':
      return isNewMass
        ? { ...BEYOND_PARTS, basic: 'scope', allowance: 'scope' }
        : { ...BEYOND_PARTS, basic: 'estimate revised', allowance: 'allowance' };
    case 'weighing':
      return { ...BEYOND_PARTS, basic: isNewMass ? 'scope' : 'weighed against estimate', allowance: 'allowance' };
    case 'assembly weighing':
      return { ...BEYOND_PARTS, basic: 'assembly residual', allowance: 'allowance' };
    case 'aircraft weighing':
      return { ...BEYOND_PARTS, basic: 'aircraft weighed', allowance: 'allowance' };
    case 'arm measured':
      return { ...BEYOND_PARTS, basic: 'arm measured', allowance: 'arm measured' };
    case 'piece withdrawn':
    case 'disposition':
      return { ...all('piece withdrawn'), whole: 'aircraft weighed' };
    case 'datum moved':
      return all('datum moved');
    case 'targets':
    case 'allowances':
    case 'loading':
    case 'aircraft':
    case 'scale':
    case 'material':
    case 'process cause':
    case 'check weight':
    case 'note':
    case 'piece installed':
      return all('target revised');
  }
}

const BEYOND_PARTS = { residual: 'assembly residual', whole: 'aircraft weighed' } as const;

function all(cause: Cause): Causes {
  return { basic: cause, allowance: cause, residual: cause, whole: cause };
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
  causes: Causes,
  isCorrection: boolean,
): readonly Effect[] {
  const components: readonly (readonly [Cause, (sums: Sums) => Tally])[] = [
    [causes.basic, (sums) => sums.basic],
    [causes.residual, (sums) => sums.residual.basic],
    [causes.whole, (sums) => sums.whole.basic],
    [causes.allowance, (sums) => addTally(addTally(sums.allowance, sums.residual.allowance), sums.whole.allowance)],
  ];
  const effects = components.map(([cause, tallyIn]): Effect => {
    const change = subtractTally(
      seenFrom(tallyIn(after.sums), after.datumNm),
      seenFrom(tallyIn(before.sums), before.datumNm),
    );
    return { cause, isCorrection, change, marginNg: -change.massNg as MassNg };
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
