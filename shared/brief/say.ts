/** Figures as the sentences of a brief tell them, in the aircraft's units, with plain spaces: whoever shows them may tie them. */

import {
  type DisplayUnits,
  decimalsFor,
  MASS_DECIMALS,
  showFixed,
  showLength,
  showLengthWithStd,
  showMassWithStd,
} from '#shared/quantity/show.ts';
import { LENGTH_UNIT_M, MASS_UNIT_KG } from '#shared/quantity/units.ts';
import { say } from '#shared/words/say.ts';

export type Say = {
  /** `368.4 ± 2.1 kg` (rule U3). */
  readonly massWithStd: (massKg: number, stdKg: number) => string;
  /** A mass to the decimals of a figure that is that uncertain; never nothing where it is something. */
  readonly massAlike: (massKg: number, stdKg: number) => string;
  /** The size of a change. */
  readonly change: (massKg: number) => string;
  readonly station: (stationM: number | undefined) => string;
  readonly stationWithStd: (stationM: number, stdM: number | undefined) => string;
  /** The size of a distance along the aircraft. */
  readonly distance: (lengthM: number) => string;
};

/** A change needs no more decimals of a kilogram than this to be talked about. */
const MOST_CHANGE_DECIMALS = 2;

export function sayIn(units: DisplayUnits): Say {
  const { mass, length } = units;
  const usual = MASS_DECIMALS[mass];
  const sized = (massKg: number, decimals: number) => {
    const size = Math.abs(massKg) / MASS_UNIT_KG[mass];
    const shown = showFixed(size, decimals);
    return size > 0 && !/[1-9]/.test(shown)
      ? say`less than ${showFixed(10 ** -decimals, decimals)} ${mass}`
      : `${shown} ${mass}`;
  };
  return {
    massWithStd: (massKg, stdKg) => withUnit(showMassWithStd(massKg, stdKg, mass), mass),
    massAlike: (massKg, stdKg) => sized(massKg, decimalsFor(stdKg / MASS_UNIT_KG[mass], usual)),
    change: (massKg) => sized(massKg, Math.min(usual, MOST_CHANGE_DECIMALS)),
    station: (stationM) => (stationM === undefined ? '' : `${showLength(stationM, length)} ${length}`),
    stationWithStd: (stationM, stdM) => withUnit(showLengthWithStd(stationM, stdM, length), length),
    distance: (lengthM) => {
      const isInches = length === 'in' || length === 'ft';
      return isInches
        ? say`${showFixed(Math.abs(lengthM) / LENGTH_UNIT_M.in, 2)} in`
        : say`${showFixed(Math.abs(lengthM) / LENGTH_UNIT_M.mm, 1)} mm`;
    },
  };
}

function withUnit({ value, std }: { readonly value: string; readonly std: string | undefined }, unit: string): string {
  return `${value}${std === undefined ? '' : ` ± ${std}`} ${unit}`;
}
