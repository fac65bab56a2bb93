/** Loading limits in the words that state them again: what was typed where it still says the same, else the figure in the aircraft's units. */
import { plain } from '#shared/quantity/in-words.ts';
import type { DisplayUnits } from '#shared/quantity/show.ts';
import { readDensity, readLength, readMass, readVolume, type Typed } from '#shared/quantity/typed.ts';
import {
  DENSITY_UNIT_KG_PER_M3,
  type DensityUnit,
  LENGTH_UNIT_M,
  MASS_UNIT_KG,
  VOLUME_UNIT_M3,
  type VolumeUnit,
} from '#shared/quantity/units.ts';
import type { Result } from '#shared/result.ts';
import type { Envelope, LoadingCase, LoadingLimits, LoadingStation } from './limits.ts';

export type Words = Readonly<Record<string, string>>;
export type LimitsWords = {
  readonly [field: string]: string | readonly NestedWords[];
} & {
  readonly stations: readonly NestedWords[];
  readonly envelope: readonly NestedWords[];
  readonly cases: readonly NestedWords[];
};
export type NestedWords = { readonly [field: string]: string | readonly Words[] };

/** Fluids go by the litre beside kilograms, and by the US gallon beside pounds. */
export function fluidUnits({ mass }: Pick<DisplayUnits, 'mass'>): {
  readonly volume: VolumeUnit;
  readonly density: DensityUnit;
} {
  return mass === 'lb' || mass === 'oz' ? { volume: 'US gal', density: 'lb/US gal' } : { volume: 'L', density: 'kg/L' };
}

type Kept = Readonly<Record<string, string>> | undefined;

export function limitsInWords(limits: LoadingLimits, units: DisplayUnits): LimitsWords {
  const { typed, lateral, envelope } = limits;
  const say = sayIn(units);
  return {
    ...filled({
      'maximum weight': say.mass(typed, 'maximum weight', limits.maximumKg),
      'zero-fuel maximum': say.mass(typed, 'zero-fuel maximum', limits.zeroFuelMaximumKg),
      'landing maximum': say.mass(typed, 'landing maximum', limits.landingMaximumKg),
      'envelope by': envelope.by,
      'butt line left': say.length(typed, 'butt line left', lateral?.leftM),
      'butt line right': say.length(typed, 'butt line right', lateral?.rightM),
    }),
    stations: limits.stations.map((station) => stationInWords(station, say)),
    envelope: envelope.points.map((point) => cornerInWords(point, envelope.by, say)),
    cases: limits.cases.map((one) => caseInWords(one, say)),
  };
}

function stationInWords(station: LoadingStation, say: Say): NestedWords {
  const { typed } = station;
  const place = {
    what: station.what,
    name: station.name,
    y: say.length(typed, 'y', station.yM),
    z: say.length(typed, 'z', station.zM),
  };
  switch (station.what) {
    case 'seat':
      return filled({
        ...place,
        x: say.length(typed, 'x', station.xM),
        least: say.mass(typed, 'least', station.leastKg || undefined),
        most: say.mass(typed, 'most', station.mostKg),
        pilot: station.isPilot === true ? 'yes' : undefined,
      });
    case 'baggage':
      return filled({
        ...place,
        x: say.length(typed, 'x', station.xM),
        most: say.mass(typed, 'most', station.mostKg),
      });
    case 'tank': {
      const { arm } = station;
      return {
        ...filled({
          ...place,
          x: typeof arm === 'number' ? say.length(typed, 'x', arm) : undefined,
          fluid: station.fluid,
          density: say.density(typed, 'density', station.densityKgPerL),
          usable: say.volume(typed, 'usable', station.usableL),
          unusable: say.volume(typed, 'unusable', station.unusableL || undefined),
          least: say.volume(typed, 'least', station.leastL),
        }),
        ...(typeof arm === 'number'
          ? {}
          : {
              arms: arm.map(({ quantityL, xM }, at) =>
                filled({
                  quantity: say.volume(typed, `quantity ${at + 1}`, quantityL),
                  x: say.length(typed, `x ${at + 1}`, xM),
                }),
              ),
            }),
      };
    }
  }
}

function cornerInWords({ massKg, at, typed }: Envelope['points'][number], by: Envelope['by'], say: Say): Words {
  return filled({
    mass: say.mass(typed, 'mass', massKg),
    at: by === 'station' ? say.length(typed, 'at', at) : `${plain(at)} % MAC`,
  });
}

function caseInWords({ name, loads, burn }: LoadingCase, say: Say): NestedWords {
  return {
    name,
    loads: loads.map((load) =>
      filled({
        station: load.station,
        load:
          'massKg' in load ? say.mass(load.typed, 'load', load.massKg) : say.volume(load.typed, 'load', load.quantityL),
      }),
    ),
    burn: burn.map(({ tank, quantityL, typed }) =>
      filled({ tank, quantity: say.volume(typed, 'quantity', quantityL) }),
    ),
  };
}

type Say = ReturnType<typeof sayIn>;

/** A figure of an entry: stored in `storedSi` of the SI unit, told in `unit`, which is `unitSi` of it. */
type Measure = {
  readonly read: (text: string) => Result<Typed, unknown>;
  readonly storedSi: number;
  readonly unit: string;
  readonly unitSi: number;
};

function sayIn(units: DisplayUnits) {
  const { volume, density } = fluidUnits(units);
  return {
    mass: said({ read: readMass, storedSi: 1, unit: units.mass, unitSi: MASS_UNIT_KG[units.mass] }),
    length: said({ read: readLength, storedSi: 1, unit: units.length, unitSi: LENGTH_UNIT_M[units.length] }),
    volume: said({ read: readVolume, storedSi: 0.001, unit: volume, unitSi: VOLUME_UNIT_M3[volume] }),
    density: said({ read: readDensity, storedSi: 1000, unit: density, unitSi: DENSITY_UNIT_KG_PER_M3[density] }),
  };
}

function said({ read, storedSi, unit, unitSi }: Measure) {
  return (typed: Kept, field: string, stored: number | undefined): string | undefined => {
    if (stored === undefined) return undefined;
    const text = typed?.[field];
    const back = text === undefined ? undefined : read(text);
    const isSame = back?.ok === true && Number((back.value.si / storedSi).toPrecision(15)) === stored;
    return isSame ? text : `${plain((stored * storedSi) / unitSi)} ${unit}`;
  };
}

function filled(words: Readonly<Record<string, string | undefined>>): Words {
  return Object.fromEntries(
    Object.entries(words).flatMap(([field, text]) => (text === undefined ? [] : [[field, text]])),
  );
}
