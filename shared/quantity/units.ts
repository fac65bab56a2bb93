/**
 * The units people type, with their exact factors to SI (rule W2).
 * Source of the factors: NIST SP 811 (2008) appendix B and NIST Handbook 44 appendix C; each is exact by definition.
 */

/** Kilograms in one unit. The ounce is the avoirdupois ounce, lb/16. */
export const MASS_UNIT_KG = { kg: 1, g: 0.001, lb: 0.45359237, oz: 0.45359237 / 16 } as const;

/** Metres in one unit. */
export const LENGTH_UNIT_M = { m: 1, mm: 0.001, cm: 0.01, in: 0.0254, ft: 0.3048 } as const;

/** Cubic metres in one unit. The gallon is the US liquid gallon, 231 cubic inches. */
export const VOLUME_UNIT_M3 = { L: 0.001, 'US gal': 231 * 0.0254 ** 3 } as const;

/** Square metres in one unit. */
export const AREA_UNIT_M2 = {
  'm²': 1,
  'cm²': 1e-4,
  'mm²': 1e-6,
  'in²': 0.0254 ** 2,
  'ft²': 0.3048 ** 2,
} as const;

/** Kilograms per square metre in one unit. The yard is 0.9144 m. */
export const AREAL_WEIGHT_UNIT_KG_PER_M2 = {
  'g/m²': 0.001,
  'kg/m²': 1,
  'oz/yd²': MASS_UNIT_KG.oz / 0.9144 ** 2,
} as const;

/** Kilograms per cubic metre in one unit. */
export const DENSITY_UNIT_KG_PER_M3 = {
  'kg/m³': 1,
  'g/cm³': 1000,
  'kg/L': 1000,
  'lb/ft³': MASS_UNIT_KG.lb / 0.3048 ** 3,
  'lb/US gal': MASS_UNIT_KG.lb / VOLUME_UNIT_M3['US gal'],
} as const;

/** Kilogram metres in one unit of moment. */
export const MOMENT_UNIT_KG_M = { 'kg m': 1, 'lb in': MASS_UNIT_KG.lb * LENGTH_UNIT_M.in } as const;

/** Radians in one unit. */
export const ANGLE_UNIT_RAD = { '°': Math.PI / 180, rad: 1 } as const;

export type MassUnit = keyof typeof MASS_UNIT_KG;
export type LengthUnit = keyof typeof LENGTH_UNIT_M;
export type AreaUnit = keyof typeof AREA_UNIT_M2;
export type ArealWeightUnit = keyof typeof AREAL_WEIGHT_UNIT_KG_PER_M2;
export type DensityUnit = keyof typeof DENSITY_UNIT_KG_PER_M3;
export type VolumeUnit = keyof typeof VOLUME_UNIT_M3;
export type AngleUnit = keyof typeof ANGLE_UNIT_RAD;
export type TemperatureUnit = '°C' | '°F';

export const MASS_UNITS = Object.keys(MASS_UNIT_KG) as readonly MassUnit[];
export const LENGTH_UNITS = Object.keys(LENGTH_UNIT_M) as readonly LengthUnit[];

export const TEMPERATURE_UNITS: readonly TemperatureUnit[] = ['°C', '°F'];

/** Other spellings that leave no doubt. Lower case; a trailing full stop is taken off before the look-up. */
const MASS_SPELLINGS: Readonly<Record<string, MassUnit>> = {
  kg: 'kg',
  kgs: 'kg',
  kilogram: 'kg',
  kilograms: 'kg',
  g: 'g',
  gram: 'g',
  grams: 'g',
  lb: 'lb',
  lbs: 'lb',
  pound: 'lb',
  pounds: 'lb',
  oz: 'oz',
  ounce: 'oz',
  ounces: 'oz',
};
const LENGTH_SPELLINGS: Readonly<Record<string, LengthUnit>> = {
  m: 'm',
  metre: 'm',
  metres: 'm',
  meter: 'm',
  meters: 'm',
  mm: 'mm',
  millimetre: 'mm',
  millimetres: 'mm',
  millimeter: 'mm',
  millimeters: 'mm',
  cm: 'cm',
  centimetre: 'cm',
  centimetres: 'cm',
  centimeter: 'cm',
  centimeters: 'cm',
  in: 'in',
  inch: 'in',
  inches: 'in',
  '"': 'in',
  ft: 'ft',
  foot: 'ft',
  feet: 'ft',
};

const TEMPERATURE_SPELLINGS: Readonly<Record<string, TemperatureUnit>> = {
  c: '°C',
  celsius: '°C',
  f: '°F',
  fahrenheit: '°F',
};

/** The temperature unit that a word stands for, with or without a sign or a word for degrees before it, or undefined. */
export function temperatureUnitOf(word: string): TemperatureUnit | undefined {
  return spelled(TEMPERATURE_SPELLINGS, word.replace(/^\s*(?:°|deg(?:rees?)?\b)\s*/i, ''));
}

/** The mass unit that a word stands for, or undefined. */
export function massUnitOf(word: string): MassUnit | undefined {
  return spelled(MASS_SPELLINGS, word);
}

/** The length unit that a word stands for, or undefined. */
export function lengthUnitOf(word: string): LengthUnit | undefined {
  return spelled(LENGTH_SPELLINGS, word);
}

const AREA_SPELLINGS: Readonly<Record<string, AreaUnit>> = {
  m2: 'm²',
  sqm: 'm²',
  cm2: 'cm²',
  sqcm: 'cm²',
  mm2: 'mm²',
  sqmm: 'mm²',
  in2: 'in²',
  sqin: 'in²',
  ft2: 'ft²',
  sqft: 'ft²',
};
const AREAL_WEIGHT_SPELLINGS: Readonly<Record<string, ArealWeightUnit>> = {
  'g/m2': 'g/m²',
  gm2: 'g/m²',
  gsm: 'g/m²',
  'kg/m2': 'kg/m²',
  'oz/yd2': 'oz/yd²',
  'oz/sqyd': 'oz/yd²',
};
const DENSITY_SPELLINGS: Readonly<Record<string, DensityUnit>> = {
  'kg/m3': 'kg/m³',
  'g/cm3': 'g/cm³',
  'g/cc': 'g/cm³',
  'kg/l': 'kg/L',
  'lb/ft3': 'lb/ft³',
  'lb/cuft': 'lb/ft³',
  pcf: 'lb/ft³',
  'lb/usgal': 'lb/US gal',
};

/** A bare gallon is none: the imperial one is a fifth larger. */
const VOLUME_SPELLINGS: Readonly<Record<string, VolumeUnit>> = {
  l: 'L',
  litre: 'L',
  litres: 'L',
  liter: 'L',
  liters: 'L',
  'us gal': 'US gal',
  usgal: 'US gal',
  'u.s. gal': 'US gal',
  'us gallon': 'US gal',
  'us gallons': 'US gal',
  usg: 'US gal',
};

/** The unit of volume that a word stands for, or undefined. */
export function volumeUnitOf(word: string): VolumeUnit | undefined {
  return spelled(VOLUME_SPELLINGS, word.replace(/\s+/g, ' '));
}

const ANGLE_SPELLINGS: Readonly<Record<string, AngleUnit>> = {
  '°': '°',
  deg: '°',
  degree: '°',
  degrees: '°',
  rad: 'rad',
};

export function angleUnitOf(word: string): AngleUnit | undefined {
  return spelled(ANGLE_SPELLINGS, word);
}

/** The area unit that a word stands for (`m²`, `m2`, `m^2`, `sq m`), or undefined. */
export function areaUnitOf(word: string): AreaUnit | undefined {
  return spelled(AREA_SPELLINGS, withPowers(word));
}

/** The unit of mass per area that a word stands for, or undefined. */
export function arealWeightUnitOf(word: string): ArealWeightUnit | undefined {
  return spelled(AREAL_WEIGHT_SPELLINGS, withPowers(word));
}

/** The unit of density that a word stands for, or undefined. */
export function densityUnitOf(word: string): DensityUnit | undefined {
  return spelled(DENSITY_SPELLINGS, withPowers(word));
}

/** `kg / m^3`, `kg/m³` and `kg per m3` are one word. */
function withPowers(word: string): string {
  return word
    .replace(/\bper\b/i, '/')
    .replaceAll('²', '2')
    .replaceAll('³', '3')
    .replace(/[\s^]+/g, '');
}

function spelled<Unit>(spellings: Readonly<Record<string, Unit>>, word: string): Unit | undefined {
  const key = word.trim().toLowerCase().replace(/\.$/, '');
  return Object.hasOwn(spellings, key) ? spellings[key] : undefined;
}
