/** The units that an aircraft is told in, as it says itself. */
import { type DisplayUnits, SI_UNITS } from '#shared/quantity/show.ts';
import { inForce, type Ledger } from './fold.ts';

export function displayUnitsOf(ledger: Ledger): DisplayUnits {
  const aircraft = inForce(ledger, 'aircraft');
  return aircraft === undefined ? SI_UNITS : { mass: aircraft.massUnit, length: aircraft.lengthUnit };
}
