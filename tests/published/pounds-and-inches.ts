/** For published examples in pounds and inches: a tally of masses at arms, and its CG in inches. */
import { addTally, EMPTY_TALLY, type Tally, tallyOf, toLengthNm, toMassNg } from '#shared/quantity/exact.ts';
import { LENGTH_UNIT_M, MASS_UNIT_KG, MOMENT_UNIT_KG_M } from '#shared/quantity/units.ts';
import { centreOfGravityM } from '#shared/rollup/centre-of-gravity.ts';

export type PoundsAt = readonly [massLb: number, armIn: number];

/** Masses taken off are given below zero. */
export function tallyOfPounds(masses: readonly PoundsAt[]): Tally {
  return masses
    .map(([massLb, armIn]) =>
      tallyOf(toMassNg(massLb * MASS_UNIT_KG.lb), {
        x: toLengthNm(armIn * LENGTH_UNIT_M.in),
        y: undefined,
        z: undefined,
      }),
    )
    .reduce(addTally, EMPTY_TALLY);
}

export function cgIn(tally: Tally): number {
  const cg = centreOfGravityM(tally, 'x');
  if (!cg.ok) throw new Error(cg.refusal.code);
  return cg.value / LENGTH_UNIT_M.in;
}

export function massLb(tally: Tally): number {
  return Number(tally.massNg) / 1e12 / MASS_UNIT_KG.lb;
}

export function momentLbIn(tally: Tally): number {
  return Number(tally.x.momentNgNm) / 1e21 / MOMENT_UNIT_KG_M['lb in'];
}
