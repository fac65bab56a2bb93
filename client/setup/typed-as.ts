/**
 * A value as it goes back into its field: as it was typed, where that still says the same, or else in the unit that is shown, with every
 * digit. Recording a form that nobody touched must not round anything.
 */
import { readLength, readMass } from '#shared/quantity/typed.ts';
import { LENGTH_UNIT_M, type LengthUnit, MASS_UNIT_KG, type MassUnit } from '#shared/quantity/units.ts';
import { typedWith } from '../pieces/typed-units.ts';

export function massTyped(massKg: number | undefined, unit: MassUnit, typed?: string): string {
  if (massKg === undefined) return '';
  const read = typed === undefined ? undefined : readMass(typed);
  if (typed !== undefined && read?.ok === true && read.value.si === massKg) return typed;
  return `${plain(massKg / MASS_UNIT_KG[unit])} ${unit}`;
}

export function lengthTyped(lengthM: number | undefined, unit: LengthUnit, typed?: string): string {
  if (lengthM === undefined) return '';
  const read = typed === undefined ? undefined : readLength(typed);
  if (typed !== undefined && read?.ok === true && read.value.si === lengthM) return typed;
  return `${plain(lengthM / LENGTH_UNIT_M[unit])} ${unit}`;
}

export function shareTyped(fraction: number): string {
  return `${plain(fraction * 100)} %`;
}

/** What a field says so far, a bare number in the unit that stands in it; undefined while it says nothing that can be read. */
export function massIn(text: string, unit: MassUnit): number | undefined {
  const read = readMass(typedWith(text, unit));
  return read.ok ? read.value.si : undefined;
}

export function lengthIn(text: string, unit: LengthUnit): number | undefined {
  const read = readLength(typedWith(text, unit));
  return read.ok ? read.value.si : undefined;
}

function plain(value: number): string {
  return String(Number(value.toPrecision(12)));
}
