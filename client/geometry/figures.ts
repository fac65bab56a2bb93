/** Areas and volumes in units that go with the aircraft's lengths. */
import { showFixed } from '#shared/quantity/show.ts';
import { LENGTH_UNIT_M, type LengthUnit } from '#shared/quantity/units.ts';

/** Inches and feet go with square feet and cubic inches, metres with square metres and litres. */
function isImperial(unit: LengthUnit): boolean {
  return unit === 'in' || unit === 'ft';
}

export function areaWithUnit(areaM2: number, unit: LengthUnit): string {
  return isImperial(unit) ? `${rounded(areaM2 / LENGTH_UNIT_M.ft ** 2)}\u00a0ft²` : `${rounded(areaM2)}\u00a0m²`;
}

export function volumeWithUnit(volumeM3: number, unit: LengthUnit): string {
  return isImperial(unit)
    ? `${rounded(volumeM3 / LENGTH_UNIT_M.in ** 3)}\u00a0in³`
    : `${rounded(volumeM3 * 1000)}\u00a0L`;
}

/** Four digits that mean something, and none that a large figure does not need. */
function rounded(value: number): string {
  const whole = Math.floor(Math.log10(Math.max(value, 1e-9))) + 1;
  return showFixed(value, Math.min(7, Math.max(0, 4 - whole)));
}
