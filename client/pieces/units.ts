/** Figures in the aircraft's own units, with the unit beside them. */
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import { type DisplayUnits, showLength, showMass } from '#shared/quantity/show.ts';

export type Shown = {
  readonly units: DisplayUnits;
  readonly mass: (massKg: number | undefined, options?: { readonly sign?: boolean }) => string;
  readonly length: (lengthM: number | undefined, options?: { readonly sign?: boolean }) => string;
};

const NOT_KNOWN = '–';

export function shownIn(aircraft: Pick<AircraftReport, 'massUnit' | 'lengthUnit'>): Shown {
  const units: DisplayUnits = { mass: aircraft.massUnit, length: aircraft.lengthUnit };
  return {
    units,
    mass: (massKg, options) => (massKg === undefined ? NOT_KNOWN : showMass(massKg, units.mass, options)),
    length: (lengthM, options) => (lengthM === undefined ? NOT_KNOWN : showLength(lengthM, units.length, options)),
  };
}
