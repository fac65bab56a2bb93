/** The slips of the hand that a target looks like, held against what is predicted (as rule W4 does for a weighing). */
import { MASS_UNIT_KG, type MassUnit } from '#shared/quantity/units.ts';

export type Slip = {
  readonly slip: string;
  readonly words: string;
  /** The unit in which the same number fits. */
  readonly meant: MassUnit;
};

/** A figure this near to what a slip would give is taken for one. */
const NEAR = 0.15;

const SLIPS: readonly (Slip & { readonly factor: number })[] = [
  {
    slip: 'kg for lb',
    meant: 'lb',
    words: 'It fits if the figure was in pounds and kilograms were typed.',
    factor: MASS_UNIT_KG.lb,
  },
  {
    slip: 'lb for kg',
    meant: 'kg',
    words: 'It fits if the figure was in kilograms and pounds were typed.',
    factor: 1 / MASS_UNIT_KG.lb,
  },
  {
    slip: 'g for kg',
    meant: 'kg',
    words: 'It fits if the figure was in kilograms and grams were typed.',
    factor: 1000,
  },
  {
    slip: 'kg for g',
    meant: 'g',
    words: 'It fits if the figure was in grams and kilograms were typed.',
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
