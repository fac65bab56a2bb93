/** Loading limits for tests. The aircraft and its figures are invented. */
import type { LoadingLimits, LoadingStation, StationOf } from '#shared/loading/limits.ts';
import { refusalsOfLimits } from '#shared/loading/refusals.ts';

export function seatOf(
  name: string,
  xM: number,
  changes: Partial<Omit<StationOf<'seat'>, 'what'>> = {},
): StationOf<'seat'> {
  return { what: 'seat', name, xM, leastKg: 55, mostKg: 110, ...changes };
}

export function baggageOf(name: string, xM: number, mostKg: number): StationOf<'baggage'> {
  return { what: 'baggage', name, xM, mostKg };
}

export function tankOf(
  name: string,
  arm: StationOf<'tank'>['arm'],
  changes: Partial<Omit<StationOf<'tank'>, 'what'>> = {},
): StationOf<'tank'> {
  return { what: 'tank', name, fluid: 'avgas', densityKgPerL: 0.72, usableL: 100, unusableL: 2, arm, ...changes };
}

export const PILOT = seatOf('Pilot', 2, { isPilot: true });

export const STATIONS: readonly LoadingStation[] = [
  PILOT,
  seatOf('Passenger', 2.1),
  baggageOf('Hold', 3, 30),
  tankOf('Wing tanks', 2.3),
];

/** Empty 350 kg at 2.15 m, with a sloped forward limit and an upright aft one. */
export function limitsOf(changes: Partial<LoadingLimits> = {}): LoadingLimits {
  return {
    stations: [...STATIONS],
    maximumKg: 650,
    envelope: {
      by: 'station',
      points: [
        { massKg: 380, at: 2 },
        { massKg: 380, at: 2.4 },
        { massKg: 650, at: 2.4 },
        { massKg: 650, at: 2.1 },
        { massKg: 500, at: 2 },
      ],
    },
    cases: [
      {
        name: 'Two up',
        loads: [
          { station: 'Pilot', massKg: 80 },
          { station: 'passenger', massKg: 75 },
          { station: 'Wing tanks', quantityL: 90 },
        ],
        burn: [{ tank: 'Wing tanks', quantityL: 60 }],
      },
    ],
    ...changes,
  };
}

export function envelopeOf(...points: readonly (readonly [massKg: number, at: number])[]): LoadingLimits['envelope'] {
  return { by: 'station', points: points.map(([massKg, at]) => ({ massKg, at })) };
}

/** The objections to limits of which something is changed, as `path: code`. */
export function saidOf(changes: Partial<LoadingLimits>, emptyKg = 350): readonly string[] {
  const problems = refusalsOfLimits(limitsOf(changes), { emptyKg, hasChord: false });
  return problems.map(({ path, refusal }) => `${path.join('/')}: ${refusal.code}`);
}
