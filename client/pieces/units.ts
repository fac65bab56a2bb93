/** Figures in the aircraft's own units. On a screen a minus is as wide as a plus, and no figure is parted from its sign or its unit. */

import type { AircraftReport } from '#shared/contract/aircraft.ts';
import {
  CG_CHANGE_DECIMALS,
  type DisplayUnits,
  showFixed,
  showLength,
  showLengthWithStd,
  showMass,
  showMassWithStd,
  showPercent,
  type WithStd,
} from '#shared/quantity/show.ts';
import { LENGTH_UNIT_M } from '#shared/quantity/units.ts';
import { say } from '#shared/words/say.ts';

type Options = { readonly sign?: boolean };

export type Shown = {
  readonly units: DisplayUnits;
  /** The figure alone, for a column whose heading has the unit. */
  readonly mass: (massKg: number | undefined, options?: Options) => string;
  readonly length: (lengthM: number | undefined, options?: Options) => string;
  /** The figure with its unit. */
  readonly massWithUnit: (massKg: number | undefined, options?: Options) => string;
  readonly lengthWithUnit: (lengthM: number | undefined, options?: Options) => string;
  /** The figure and its standard uncertainty, both to the decimal that the uncertainty leaves (rule U3). */
  readonly massWithStd: (massKg: number, stdKg: number, options?: Options) => WithStd;
  /** What one thing does to the CG, to a tenth of what stations are told to. */
  readonly cgEffect: (lengthM: number | undefined) => string;
  readonly lengthWithStd: (lengthM: number | undefined, stdM: number | undefined) => WithStd;
};

const NOT_KNOWN = '–';
/** The space that never ends a line. */
const TIE = '\u00a0';

export function shownIn(aircraft: Pick<AircraftReport, 'massUnit' | 'lengthUnit'>): Shown {
  const units: DisplayUnits = { mass: aircraft.massUnit, length: aircraft.lengthUnit };
  const mass: Shown['mass'] = (massKg, options) =>
    massKg === undefined ? NOT_KNOWN : minus(showMass(massKg, units.mass, options));
  const length: Shown['length'] = (lengthM, options) =>
    lengthM === undefined ? NOT_KNOWN : minus(showLength(lengthM, units.length, options));
  return {
    units,
    mass,
    length,
    massWithUnit: (massKg, options) =>
      massKg === undefined ? NOT_KNOWN : `${mass(massKg, options)}${TIE}${units.mass}`,
    lengthWithUnit: (lengthM, options) =>
      lengthM === undefined ? NOT_KNOWN : `${length(lengthM, options)}${TIE}${units.length}`,
    massWithStd: (massKg, stdKg, options) => signed(showMassWithStd(massKg, stdKg, units.mass, options)),
    cgEffect: (lengthM) =>
      lengthM === undefined
        ? say`no station`
        : `${minus(showFixed(lengthM / LENGTH_UNIT_M[units.length], CG_CHANGE_DECIMALS[units.length], { sign: true }))}${TIE}${units.length}`,
    lengthWithStd: (lengthM, stdM) =>
      lengthM === undefined
        ? { value: NOT_KNOWN, std: undefined }
        : signed(showLengthWithStd(lengthM, stdM, units.length)),
  };
}

function signed({ value, std }: WithStd): WithStd {
  return { value: minus(value), std };
}

/** `372.4 ± 1.2 kg` on one line. */
export function plusMinus({ value, std }: WithStd, unit: string): string {
  return `${value}${std === undefined ? '' : `${TIE}±${TIE}${std}`}${TIE}${unit}`;
}

export function percent(fraction: number, options?: Options): string {
  return `${minus(showPercent(fraction, options))}${TIE}%`;
}

/** The sign as printers set it, for a number that begins with a hyphen. */
export function minus(figure: string): string {
  return figure.replace(/^-/, '\u2212');
}

/** Words that others put together: each number is tied to its unit, and a lone hyphen between figures becomes a minus. */
export function tied(words: string): string {
  return words
    .replace(/(\d) (kg|g|lb|oz|m|mm|cm|in|ft|%)(?![\w-])/g, `$1${TIE}$2`)
    .replace(/(\d) ± (?=\d)/g, `$1${TIE}±${TIE}`)
    .replace(/ - (?=\d)/g, ` \u2212${TIE}`)
    .replace(/ = (?=\d)/g, ` =${TIE}`);
}
