/** The slips of the hand that a target looks like, held against what is predicted (as rule W4 does for a weighing). */

import { MASS_UNIT_KG } from '#shared/quantity/units.ts';
import { say } from '#shared/words/say.ts';
import { inUnit } from '../pieces/typed-units.ts';
import { UNIT_MEANT } from '../words/slips.ts';

export type Slip = { readonly slip: string; readonly words: string };

/** A figure this near to what a slip would give is taken for one. */
const NEAR = 0.15;

const SLIPS: readonly (Slip & { readonly factor: number })[] = [
  {
    slip: 'kg for lb',
    words: say`It fits if the figure was in pounds and kilograms were typed.`,
    factor: MASS_UNIT_KG.lb,
  },
  {
    slip: 'lb for kg',
    words: say`It fits if the figure was in kilograms and pounds were typed.`,
    factor: 1 / MASS_UNIT_KG.lb,
  },
  {
    slip: 'g for kg',
    words: say`It fits if the figure was in kilograms and grams were typed.`,
    factor: 1000,
  },
  {
    slip: 'kg for g',
    words: say`It fits if the figure was in grams and kilograms were typed.`,
    factor: 1 / 1000,
  },
];

/** `measures`: what the figure may be held against, the predicted mass and the target before. Near to either, it is taken as meant. */
export function slipOf(targetKg: number, measures: readonly (number | undefined)[]): Slip | undefined {
  const known = measures.filter((massKg): massKg is number => massKg !== undefined && massKg > 0);
  const isNear = (massKg: number) => known.some((measure) => Math.abs(massKg / measure - 1) <= NEAR);
  if (targetKg <= 0 || isNear(targetKg)) return undefined;
  return SLIPS.find(({ factor }) => isNear(targetKg * factor));
}

/** What was typed, as the slip says it was meant: the same number in the unit that fits. */
export function asMeant(typed: string, { slip }: Slip): string {
  return inUnit(typed, UNIT_MEANT[slip] ?? 'kg');
}
