/** The units that an aircraft is told in, as it says itself. */
import type { Refusal } from '#shared/problem/registry.ts';
import { type DisplayUnits, SI_UNITS } from '#shared/quantity/show.ts';
import { inForce, type Ledger } from './fold.ts';

export function displayUnitsOf(ledger: Ledger): DisplayUnits {
  const aircraft = inForce(ledger, 'aircraft');
  return aircraft === undefined ? SI_UNITS : { mass: aircraft.massUnit, length: aircraft.lengthUnit };
}

/** A refusal that tells figures tells them in these units. */
export function inUnitsOf(ledger: Ledger, refusal: Refusal): Refusal {
  switch (refusal.code) {
    case 'change-takes-too-much':
    case 'ballast-on-wrong-side':
      return { ...refusal, units: displayUnitsOf(ledger) };
    default:
      return refusal;
  }
}
