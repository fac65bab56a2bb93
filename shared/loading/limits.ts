/**
 * The loading limits of an aircraft (rule C1): where it is loaded and how much, its maximum weights, its envelope, and named cases. Masses in
 * kilograms, stations in metres from one datum, fuel in litres of usable fuel. `refusals.ts` says what makes no sense in them as a whole.
 */
import { z } from 'zod';
import { plainText } from '#shared/ledger/plain-text.ts';
import { MOST_LENGTH_M, MOST_MASS_KG } from '#shared/quantity/typed.ts';

/** Bounds that keep the search over all loadings (`best-moments.ts`) short; measured in its tests. */
export const MOST_STATIONS = 30;
export const MOST_SEATS = 12;
export const MOST_ARM_ROWS = 12;
export const MOST_ENVELOPE_POINTS = 40;
export const MOST_CASES = 40;
export const MOST_QUANTITY_L = 100_000;

const name = plainText(80);
const massKg = z.number().min(0).max(MOST_MASS_KG);
const quantityL = z.number().min(0).max(MOST_QUANTITY_L);
const stationM = z.number().min(-MOST_LENGTH_M).max(MOST_LENGTH_M);
/** What was typed, by field. */
const typed = z.record(z.string(), z.string().max(80)).optional();
const across = { yM: stationM.optional(), zM: stationM.optional() };

/** Empty, or between least and most. The pilot's is never empty. */
const Seat = z.strictObject({
  what: z.literal('seat'),
  name,
  xM: stationM,
  ...across,
  leastKg: massKg,
  mostKg: massKg,
  isPilot: z.literal(true).optional(),
  typed,
});

/** From nothing to `mostKg`. */
const Baggage = z.strictObject({ what: z.literal('baggage'), name, xM: stationM, ...across, mostKg: massKg, typed });

/** The arm of the usable fluid when there is so much of it: linear from row to row, and beyond the rows as in the last of them. */
const ArmRow = z.strictObject({ quantityL, xM: stationM });
export type ArmRow = z.infer<typeof ArmRow>;

/** From `leastL` (0 where it is not given) to `usableL`. What is unusable is in the empty weight. */
const Tank = z.strictObject({
  what: z.literal('tank'),
  name,
  ...across,
  fluid: name,
  densityKgPerL: z.number().positive().max(25),
  usableL: quantityL,
  unusableL: quantityL,
  leastL: quantityL.optional(),
  arm: z.union([stationM, z.array(ArmRow).min(2).max(MOST_ARM_ROWS)]),
  typed,
});

export const LoadingStation = z.discriminatedUnion('what', [Seat, Baggage, Tank]);
export type LoadingStation = z.infer<typeof LoadingStation>;
export type StationKind = LoadingStation['what'];
export type StationOf<Kind extends StationKind> = Extract<LoadingStation, { what: Kind }>;
export type Tank = StationOf<'tank'>;

/** What lies at a station: a mass in a seat or as baggage, litres in a tank. A station that is not named is empty. */
export const Load = z.union([
  z.strictObject({ station: name, massKg, typed }),
  z.strictObject({ station: name, quantityL, typed }),
]);
export type Load = z.infer<typeof Load>;

/** Tanks are drawn from in this order, one after the other; a tank may come up more than once. */
const BurnStep = z.strictObject({ tank: name, quantityL, typed });
export type BurnStep = z.infer<typeof BurnStep>;

export const LoadingCase = z.strictObject({
  name,
  loads: z.array(Load).max(MOST_STATIONS),
  burn: z.array(BurnStep).max(MOST_STATIONS),
});
export type LoadingCase = z.infer<typeof LoadingCase>;

/**
 * Corners in order; the last joins the first. Its sides are straight lines of station (or per cent MAC) against mass. `at` is a station in
 * metres or a number of per cent. The edge itself is inside.
 */
const Envelope = z.strictObject({
  by: z.enum(['station', 'per cent MAC']),
  points: z.array(z.strictObject({ massKg, at: z.number().min(-1e6).max(1e6), typed })).max(MOST_ENVELOPE_POINTS),
});
export type Envelope = z.infer<typeof Envelope>;

export const LoadingLimits = z.strictObject({
  stations: z.array(LoadingStation).max(MOST_STATIONS),
  maximumKg: massKg,
  /** Of the aircraft without usable fuel. */
  zeroFuelMaximumKg: massKg.optional(),
  /** At the end of a case. */
  landingMaximumKg: massKg.optional(),
  envelope: Envelope,
  /** Between which butt lines the CG lies; every station then needs one. */
  lateral: z.strictObject({ leftM: stationM, rightM: stationM, typed }).optional(),
  cases: z.array(LoadingCase).max(MOST_CASES),
  typed,
});
export type LoadingLimits = z.infer<typeof LoadingLimits>;

/** The mean aerodynamic chord: its length and the station of its leading edge. */
export type Chord = { readonly macM: number; readonly lemacM: number };

/** The empty aircraft, its stations from the datum of the limits. */
export type EmptyState = {
  readonly massKg: number;
  readonly xM: number;
  readonly yM?: number | undefined;
  readonly zM?: number | undefined;
};

/** Names are one whatever their case and the blanks around them. */
export function stationKey(name: string): string {
  return name.trim().toLowerCase();
}
