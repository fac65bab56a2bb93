/**
 * Reads a quantity as a person types it: a number and its unit (rules W2, L4). A unit is never guessed: without one in
 * the text, the caller names the one that stands above the column or beside the box, or the text is refused.
 */

import { accept, type Result, refuse } from '#shared/result.ts';
import { HAS_DECIMAL_COMMA } from '#shared/words/say.ts';
import {
  ANGLE_UNIT_RAD,
  type AngleUnit,
  AREA_UNIT_M2,
  AREAL_WEIGHT_UNIT_KG_PER_M2,
  type ArealWeightUnit,
  type AreaUnit,
  angleUnitOf,
  arealWeightUnitOf,
  areaUnitOf,
  DENSITY_UNIT_KG_PER_M3,
  type DensityUnit,
  densityUnitOf,
  LENGTH_UNIT_M,
  type LengthUnit,
  lengthUnitOf,
  MASS_UNIT_KG,
  type MassUnit,
  massUnitOf,
  TEMPERATURE_UNITS,
  type TemperatureUnit,
  temperatureUnitOf,
  VOLUME_UNIT_M3,
  type VolumeUnit,
  volumeUnitOf,
} from './units.ts';

export type QuantityRefusal =
  | { readonly code: 'number-too-long'; readonly text: string; readonly most: number }
  | { readonly code: 'not-a-number'; readonly text: string }
  | { readonly code: 'ambiguous-comma'; readonly text: string }
  | { readonly code: 'unit-missing'; readonly text: string; readonly known: readonly string[] }
  | { readonly code: 'unit-unknown'; readonly text: string; readonly unit: string; readonly known: readonly string[] }
  | { readonly code: 'out-of-range'; readonly text: string; readonly least: string; readonly most: string }
  | { readonly code: 'ambiguous-share'; readonly text: string };

/**
 * A typed quantity: the SI value, one unit of its last typed digit in SI (what the display could tell apart), and the
 * text with its unit, to be kept beside the SI value.
 */
export type Typed = { readonly si: number; readonly lastDigitSi: number; readonly typed: string };

/** How the file or the box writes numbers, and the unit that stands above it (undefined: each text brings its own). */
export type Reading<Unit> = { readonly unit?: Unit | undefined; readonly decimalComma?: boolean | undefined };

/** No mass in this trade is heavier; it keeps every sum exact and turns a slip of the keyboard into a message. */
export const MOST_MASS_KG = 1e6;
export const MOST_LENGTH_M = 1e3;
/** A part of more than a thousand square metres, a layer of more than a hundred kilograms on one, and what no material is as dense as. */
export const MOST_AREA_M2 = 1e3;
export const MOST_AREAL_KG_PER_M2 = 100;
export const MOST_DENSITY_KG_PER_M3 = 25_000;
/** No tank of this trade holds more than a hundred cubic metres. */
export const MOST_VOLUME_M3 = 100;

/** No quantity takes more characters; what is longer is not looked at, since looking takes longer with the square of it. */
const MOST_CHARACTERS = 80;

function tooLong(text: string) {
  return refuse({ code: 'number-too-long' as const, text: `${text.slice(0, 40)}…`, most: MOST_CHARACTERS });
}

/** A mass, 0 to 1,000 t, in kilograms. Pounds and ounces may stand together: `12 lb 3.5 oz`. */
export function readMass(text: string, reading: Reading<MassUnit> = {}): Result<Typed, QuantityRefusal> {
  if (text.length > MOST_CHARACTERS) return tooLong(text);
  const both = /^\s*(\S+)\s*(?:lbs?|pounds?)\.?\s*,?\s*(\S+)\s*(?:oz|ounces?)\.?\s*$/i.exec(text);
  if (both?.[1] !== undefined && both[2] !== undefined) return readPoundsAndOunces(text, both[1], both[2], reading);
  const read = readNumberAndUnit(text, reading, massUnitOf, MASS_UNIT_KG);
  if (!read.ok) return read;
  return within(read.value, text, { least: 0, most: MOST_MASS_KG, words: ['0 kg', '1,000,000 kg'] });
}

/** A length or station, within 1 km of the datum either way, in metres. */
export function readLength(text: string, reading: Reading<LengthUnit> = {}): Result<Typed, QuantityRefusal> {
  if (text.length > MOST_CHARACTERS) return tooLong(text);
  const read = readNumberAndUnit(text, reading, lengthUnitOf, LENGTH_UNIT_M);
  if (!read.ok) return read;
  return within(read.value, text, { least: -MOST_LENGTH_M, most: MOST_LENGTH_M, words: ['-1,000 m', '1,000 m'] });
}

/** An area, 0 to 1,000 m², in square metres. */
export function readArea(text: string, reading: Reading<AreaUnit> = {}): Result<Typed, QuantityRefusal> {
  if (text.length > MOST_CHARACTERS) return tooLong(text);
  const read = readNumberAndUnit(text, reading, areaUnitOf, AREA_UNIT_M2);
  if (!read.ok) return read;
  return within(read.value, text, { least: 0, most: MOST_AREA_M2, words: ['0 m²', '1,000 m²'] });
}

/** A mass per area, 0 to 100 kg/m², in kilograms per square metre. */
export function readArealWeight(text: string, reading: Reading<ArealWeightUnit> = {}): Result<Typed, QuantityRefusal> {
  if (text.length > MOST_CHARACTERS) return tooLong(text);
  const read = readNumberAndUnit(text, reading, arealWeightUnitOf, AREAL_WEIGHT_UNIT_KG_PER_M2);
  if (!read.ok) return read;
  return within(read.value, text, { least: 0, most: MOST_AREAL_KG_PER_M2, words: ['0 g/m²', '100 kg/m²'] });
}

/** A density, 0 to 25,000 kg/m³, in kilograms per cubic metre. */
export function readDensity(text: string, reading: Reading<DensityUnit> = {}): Result<Typed, QuantityRefusal> {
  if (text.length > MOST_CHARACTERS) return tooLong(text);
  const read = readNumberAndUnit(text, reading, densityUnitOf, DENSITY_UNIT_KG_PER_M3);
  if (!read.ok) return read;
  return within(read.value, text, { least: 0, most: MOST_DENSITY_KG_PER_M3, words: ['0 kg/m³', '25,000 kg/m³'] });
}

/** A volume of a fluid, 0 to 100 m³, in cubic metres. The gallon is the US one, and is only read where that is said. */
export function readVolume(text: string, reading: Reading<VolumeUnit> = {}): Result<Typed, QuantityRefusal> {
  if (text.length > MOST_CHARACTERS) return tooLong(text);
  const read = readNumberAndUnit(text, reading, volumeUnitOf, VOLUME_UNIT_M3);
  if (!read.ok) return read;
  return within(read.value, text, { least: 0, most: MOST_VOLUME_M3, words: ['0 L', '100,000 L'] });
}

/** An angle, -45° to 45°, in radians: an airframe is not tilted further. */
export function readAngle(text: string, reading: Reading<AngleUnit> = {}): Result<Typed, QuantityRefusal> {
  if (text.length > MOST_CHARACTERS) return tooLong(text);
  const read = readNumberAndUnit(text, reading, angleUnitOf, ANGLE_UNIT_RAD);
  if (!read.ok) return read;
  return within(read.value, text, { least: -Math.PI / 4, most: Math.PI / 4, words: ['-45°', '45°'] });
}

/**
 * A share, typed in per cent (`24 %`, or `24` under a heading that says per cent), given back as a fraction. A bare
 * number between 0 and 1 could mean either and is refused.
 */
export function readShare(text: string, reading: Reading<'%'> = {}): Result<Typed, QuantityRefusal> {
  if (text.length > MOST_CHARACTERS) return tooLong(text);
  const bare = text.trim().replace(/\s*%$/, '');
  const hasSign = bare !== text.trim();
  const read = readNumber(bare, reading.decimalComma === true);
  if (!read.ok) return refuse({ ...read.refusal, text });
  if (!hasSign && reading.unit !== '%' && read.value.number > 0 && read.value.number < 1)
    return refuse({ code: 'ambiguous-share', text });
  const typed = `${bare.trim()} %`;
  const si = { si: read.value.number / 100, lastDigitSi: read.value.lastDigit / 100, typed };
  return within(si, text, { least: 0, most: 5, words: ['0 %', '500 %'] });
}

/** A temperature in degrees Celsius or Fahrenheit, given back in Celsius (NIST SP 811: t/C = (t/F - 32)/1.8). The unit is not guessed. */
export function readTemperature(text: string, reading: Reading<TemperatureUnit> = {}): Result<Typed, QuantityRefusal> {
  if (text.length > MOST_CHARACTERS) return tooLong(text);
  const parts = /^(.*?\d[.,]?)\s*([^\d\s.,][^\d]*)?$/.exec(text.trim());
  if (parts?.[1] === undefined) return refuse({ code: 'not-a-number', text });
  const [, digits, word] = parts;
  const read = readNumber(digits, reading.decimalComma === true);
  if (!read.ok) return refuse({ ...read.refusal, text });
  const unit = word === undefined ? reading.unit : temperatureUnitOf(word);
  if (unit === undefined)
    return refuse(
      word === undefined
        ? { code: 'unit-missing', text, known: TEMPERATURE_UNITS }
        : { code: 'unit-unknown', text, unit: word, known: TEMPERATURE_UNITS },
    );
  const { number, lastDigit } = read.value;
  const perDegree = unit === '°F' ? 1.8 : 1;
  const celsius = unit === '°F' ? tidy((number - 32) / 1.8) : number;
  const typed: Typed = { si: celsius, lastDigitSi: lastDigit / perDegree, typed: `${digits} ${unit}` };
  return within(typed, text, { least: -90, most: 400, words: ['-90 °C', '400 °C'] });
}

function readPoundsAndOunces(
  text: string,
  poundsText: string,
  ouncesText: string,
  reading: Reading<MassUnit>,
): Result<Typed, QuantityRefusal> {
  const pounds = readNumber(poundsText, reading.decimalComma === true);
  if (!pounds.ok) return refuse({ ...pounds.refusal, text });
  const ounces = readNumber(ouncesText, reading.decimalComma === true);
  if (!ounces.ok) return refuse({ ...ounces.refusal, text });
  const si = tidy(pounds.value.number * MASS_UNIT_KG.lb + ounces.value.number * MASS_UNIT_KG.oz);
  const lastDigitSi = ounces.value.lastDigit * MASS_UNIT_KG.oz;
  if (pounds.value.number < 0 || ounces.value.number < 0 || ounces.value.number >= 16)
    return refuse({ code: 'out-of-range', text, least: '0 oz', most: 'less than 16 oz beside the pounds' });
  return within({ si, lastDigitSi, typed: text.trim() }, text, {
    least: 0,
    most: MOST_MASS_KG,
    words: ['0 kg', '1,000,000 kg'],
  });
}

function readNumberAndUnit<Unit extends string>(
  text: string,
  reading: Reading<Unit>,
  unitOf: (word: string) => Unit | undefined,
  factors: Readonly<Record<Unit, number>>,
): Result<Typed, QuantityRefusal> {
  const known = Object.keys(factors);
  const parts = /^\s*([+\-−]?[\d.,'\u00a0\u202f ]*\d[.,]?(?:[eE][+-]?\d+)?)\s*([^\d\s].*?)?\s*$/u.exec(text);
  if (parts?.[1] === undefined) return refuse({ code: 'not-a-number', text });
  const read = readNumber(parts[1], reading.decimalComma === true);
  if (!read.ok) return refuse({ ...read.refusal, text });
  const word = parts[2];
  const unit = word === undefined ? reading.unit : unitOf(word);
  if (unit === undefined)
    return word === undefined
      ? refuse({ code: 'unit-missing', text, known })
      : refuse({ code: 'unit-unknown', text, unit: word, known });
  const factor = factors[unit];
  const typed = `${parts[1].trim()} ${unit}`;
  return accept({ si: tidy(read.value.number * factor), lastDigitSi: read.value.lastDigit * factor, typed });
}

/** 6.35 mm is 0.00635 m, and not 0.006350000000000001: the binary dust of the product is dropped at the 15th digit. */
function tidy(si: number): number {
  return Number(si.toPrecision(15));
}

/**
 * A plain decimal number. Neither `NaN` nor `Infinity` is one, and there is no thousands separator to guess at: a
 * comma is the decimal sign where the caller says so or the shop's language writes it so, else only where it cannot be read two ways (`12,5`, not
 * `1,234`).
 */
export function readNumber(
  text: string,
  decimalComma: boolean,
): Result<{ readonly number: number; readonly lastDigit: number }, QuantityRefusal> {
  if (text.length > MOST_CHARACTERS) return tooLong(text);
  let plain = text.trim().replace('−', '-');
  if (plain.includes(',')) {
    if (!/^[+-]?\d*,\d+$/.test(plain)) return refuse({ code: 'not-a-number', text });
    if (!(decimalComma || HAS_DECIMAL_COMMA) && /^[+-]?[1-9]\d{0,2},\d{3}$/.test(plain))
      return refuse({ code: 'ambiguous-comma', text });
    plain = plain.replace(',', '.');
  }
  const digits = /^[+-]?(?:\d+\.?(\d*)|\.(\d+))(?:[eE]([+-]?\d+))?$/.exec(plain);
  const number = Number(plain);
  if (digits === null || !Number.isFinite(number)) return refuse({ code: 'not-a-number', text });
  const stated = (digits[1] ?? digits[2] ?? '').length;
  // A zero has no leading digit to hold its exponent back: 0e400 would be resolved to infinity.
  if (number === 0) return accept({ number: 0, lastDigit: 10 ** -stated });
  return accept({ number, lastDigit: 10 ** (Number(digits[3] ?? 0) - stated) });
}

function within(
  typed: Typed,
  text: string,
  range: { readonly least: number; readonly most: number; readonly words: readonly [string, string] },
): Result<Typed, QuantityRefusal> {
  if (typed.si >= range.least && typed.si <= range.most) return accept(typed);
  return refuse({ code: 'out-of-range', text, least: range.words[0], most: range.words[1] });
}
