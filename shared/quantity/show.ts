/**
 * Numbers as people read them: fixed decimals, ties to even (NIST SP 811, B.7.1), a true minus sign never mistaken for
 * a dash in a file. Rounding is done on the decimal digits of the value, not on its binary neighbour.
 */
import { HAS_DECIMAL_COMMA, LOCALE } from '#shared/words/say.ts';
import { LENGTH_UNIT_M, type LengthUnit, MASS_UNIT_KG, type MassUnit } from './units.ts';

/** Decimals that suit a shop's scales and tape: grams, hundredths of a pound, millimetres. */
export const MASS_DECIMALS: Readonly<Record<MassUnit, number>> = { kg: 3, g: 0, lb: 2, oz: 1 };
export const LENGTH_DECIMALS: Readonly<Record<LengthUnit, number>> = { m: 3, cm: 1, mm: 0, in: 2, ft: 3 };
/** What a part does to the CG is small: a tenth of a millimetre, a thousandth of an inch. */
export const CG_CHANGE_DECIMALS: Readonly<Record<LengthUnit, number>> = { m: 4, cm: 2, mm: 1, in: 3, ft: 4 };

export type DisplayUnits = { readonly mass: MassUnit; readonly length: LengthUnit };

/** Where nobody has said which units the aircraft is told in. */
export const SI_UNITS: DisplayUnits = { mass: 'kg', length: 'm' };

const formats = new Map<string, Intl.NumberFormat>();

/**
 * Where one and a half is 1,5, thousands are parted by a space (ISO 80000-1, 7.3.2, from memory) and never by a point: 1.234 that was read off a screen and
 * typed elsewhere would be another figure. It is the one space of figures that the letters of the printed brief have.
 */
function inGroups(shown: string): string {
  return HAS_DECIMAL_COMMA ? shown.replace(/[.\u202f]/g, '\u00a0') : shown;
}

/** `value` (finite) with a fixed number of decimals, ties to even; a plus sign on request; never `-0`. */
export function showFixed(value: number, decimals: number, options: { readonly sign?: boolean } = {}): string {
  const key = `${decimals}${options.sign === true ? '+' : ''}`;
  let format = formats.get(key);
  if (format === undefined) {
    format = new Intl.NumberFormat(LOCALE, {
      minimumFractionDigits: decimals,
      maximumFractionDigits: decimals,
      roundingMode: 'halfEven',
      signDisplay: options.sign === true ? 'exceptZero' : 'negative',
    });
    formats.set(key, format);
  }
  // 21.5 g is 0.0215 kg / 0.001, which binary makes 21.499999999999996: the dust must not decide a tie.
  return inGroups(format.format(String(Number(value.toPrecision(15))) as `${number}`));
}

/**
 * The ends of a range of masses in the display unit, each moved inwards to the last digit shown: whoever keeps between what is shown keeps between
 * what is meant.
 */
export function showMassBetween(
  { lowKg, highKg }: { readonly lowKg: number; readonly highKg: number },
  unit: MassUnit,
): { readonly low: string; readonly high: string } {
  const shown = (massKg: number, roundingMode: 'ceil' | 'floor') =>
    inGroups(
      new Intl.NumberFormat(LOCALE, {
        minimumFractionDigits: MASS_DECIMALS[unit],
        maximumFractionDigits: MASS_DECIMALS[unit],
        roundingMode,
        signDisplay: 'negative',
      }).format(String(Number((massKg / MASS_UNIT_KG[unit]).toPrecision(12))) as `${number}`),
    );
  return { low: shown(lowKg, 'ceil'), high: shown(highKg, 'floor') };
}

/** A mass in the display unit, without the unit's name. */
export function showMass(massKg: number, unit: MassUnit, options: { readonly sign?: boolean } = {}): string {
  return showFixed(massKg / MASS_UNIT_KG[unit], MASS_DECIMALS[unit], options);
}

/** A length or arm in the display unit, without the unit's name. */
export function showLength(lengthM: number, unit: LengthUnit, options: { readonly sign?: boolean } = {}): string {
  return showFixed(lengthM / LENGTH_UNIT_M[unit], LENGTH_DECIMALS[unit], options);
}

export function showPercent(fraction: number, options: { readonly sign?: boolean } = {}): string {
  return showFixed(fraction * 100, 1, options);
}

/** Most decimals that a figure with an uncertainty is shown with. */
const MOST_DECIMALS = 6;

/**
 * Rule U3: how many decimals suit a figure whose standard uncertainty is `std`, in the unit of both: two digits of the uncertainty (JCGM 100,
 * 7.2.6). `usual` where nothing is uncertain.
 */
export function decimalsFor(std: number, usual: number): number {
  if (!(std > 0)) return usual;
  // 0.0996 is 0.10 with two digits: what rounding makes of it decides.
  const rounded = Number(std.toPrecision(2));
  return Math.min(MOST_DECIMALS, Math.max(0, 1 - Math.floor(Math.log10(rounded))));
}

export type WithStd = { readonly value: string; readonly std: string | undefined };

/** A mass and its standard uncertainty in the display unit, both to the decimal of the uncertainty's second digit. */
export function showMassWithStd(
  massKg: number,
  stdKg: number,
  unit: MassUnit,
  options: { readonly sign?: boolean } = {},
): WithStd {
  return withStd(massKg / MASS_UNIT_KG[unit], stdKg / MASS_UNIT_KG[unit], MASS_DECIMALS[unit], options);
}

/** A station and its standard uncertainty in the display unit. */
export function showLengthWithStd(lengthM: number, stdM: number | undefined, unit: LengthUnit): WithStd {
  return withStd(lengthM / LENGTH_UNIT_M[unit], (stdM ?? 0) / LENGTH_UNIT_M[unit], LENGTH_DECIMALS[unit], {});
}

function withStd(value: number, std: number, usual: number, options: { readonly sign?: boolean }): WithStd {
  const decimals = decimalsFor(std, usual);
  return { value: showFixed(value, decimals, options), std: std > 0 ? showFixed(std, decimals) : undefined };
}
