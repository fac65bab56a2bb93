/**
 * Numbers as people read them: fixed decimals, ties to even (NIST SP 811, B.7.1), a true minus sign never mistaken for
 * a dash in a file. Rounding is done on the decimal digits of the value, not on its binary neighbour.
 */
import { LENGTH_UNIT_M, type LengthUnit, MASS_UNIT_KG, type MassUnit } from './units.ts';

/** Decimals that suit a shop's scales and tape: grams, hundredths of a pound, millimetres. */
const MASS_DECIMALS: Readonly<Record<MassUnit, number>> = { kg: 3, g: 0, lb: 2, oz: 1 };
const LENGTH_DECIMALS: Readonly<Record<LengthUnit, number>> = { m: 3, cm: 1, mm: 0, in: 2, ft: 3 };

export type DisplayUnits = { readonly mass: MassUnit; readonly length: LengthUnit };

const formats = new Map<string, Intl.NumberFormat>();

/** `value` (finite) with a fixed number of decimals, ties to even; a plus sign on request; never `-0`. */
export function showFixed(value: number, decimals: number, options: { readonly sign?: boolean } = {}): string {
  const key = `${decimals}${options.sign === true ? '+' : ''}`;
  let format = formats.get(key);
  if (format === undefined) {
    format = new Intl.NumberFormat('en-GB', {
      minimumFractionDigits: decimals,
      maximumFractionDigits: decimals,
      roundingMode: 'halfEven',
      signDisplay: options.sign === true ? 'exceptZero' : 'negative',
    });
    formats.set(key, format);
  }
  // 21.5 g is 0.0215 kg / 0.001, which binary makes 21.499999999999996: the dust must not decide a tie.
  return format.format(String(Number(value.toPrecision(15))) as `${number}`);
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
