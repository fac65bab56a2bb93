/** How much goes in with full tanks, and how much fuel with full seats, and what stops it (rule C1). */
import type { EmptyState, LoadingLimits } from './limits.ts';

/**
 * What is left. Below 0 the aircraft is too heavy by that much already. `stoppedBy` is the limit that is met first: a maximum, or the
 * stations that can take no more.
 */
export type Left = {
  readonly massKg: number;
  readonly stoppedBy: 'maximum weight' | 'zero-fuel maximum' | 'stations' | 'tanks';
};

/** Litres are told where all tanks hold fluids of one density. */
export type FuelLeft = Left & { readonly quantityL: number | undefined; readonly seatsKg: number };

export type PayloadReport = {
  /** People, the pilot among them, and baggage, with all tanks full. */
  readonly withFullTanks: Left & { readonly fuelKg: number };
  /** Usable fuel with somebody on every seat and no baggage. */
  readonly withFullSeats: FuelLeft;
  /** The same with all the baggage that may be. */
  readonly withFullSeatsAndBaggage: FuelLeft;
};

/** `seatKg` is what a person on each seat has, kept within the bounds of the seat; without it each has the most. */
export function payloadReport(
  limits: LoadingLimits,
  { massKg: emptyKg }: Pick<EmptyState, 'massKg'>,
  { seatKg = Number.POSITIVE_INFINITY }: { readonly seatKg?: number | undefined } = {},
): PayloadReport {
  const seats = limits.stations.flatMap((one) => (one.what === 'seat' ? [one] : []));
  const baggageKg = total(limits.stations.flatMap((one) => (one.what === 'baggage' ? [one.mostKg] : [])));
  const fuelKg = total(
    limits.stations.flatMap((one) => (one.what === 'tank' ? [one.usableL * one.densityKgPerL] : [])),
  );
  const seatsKg = total(seats.map(({ leastKg, mostKg }) => Math.min(mostKg, Math.max(leastKg, seatKg))));
  const mostAboardKg = total(seats.map(({ mostKg }) => mostKg)) + baggageKg;
  const dryMaximumKg = limits.zeroFuelMaximumKg ?? Number.POSITIVE_INFINITY;
  const fuelLeft = (aboardKg: number): FuelLeft => {
    const aboveDryKg = emptyKg + aboardKg - dryMaximumKg;
    const left: Left =
      aboveDryKg > 0
        ? { massKg: -aboveDryKg, stoppedBy: 'zero-fuel maximum' }
        : leastOf([
            { massKg: limits.maximumKg - emptyKg - aboardKg, stoppedBy: 'maximum weight' },
            { massKg: fuelKg, stoppedBy: 'tanks' },
          ]);
    const density = oneDensity(limits);
    return { ...left, seatsKg, quantityL: density === undefined ? undefined : left.massKg / density };
  };
  return {
    withFullTanks: {
      fuelKg,
      ...leastOf([
        { massKg: limits.maximumKg - emptyKg - fuelKg, stoppedBy: 'maximum weight' },
        { massKg: dryMaximumKg - emptyKg, stoppedBy: 'zero-fuel maximum' },
        { massKg: mostAboardKg, stoppedBy: 'stations' },
      ]),
    },
    withFullSeats: fuelLeft(seatsKg),
    withFullSeatsAndBaggage: fuelLeft(seatsKg + baggageKg),
  };
}

function leastOf(all: readonly [Left, ...Left[]]): Left {
  return all.reduce((least, one) => (one.massKg < least.massKg ? one : least));
}

function total(masses: readonly number[]): number {
  return masses.reduce((sum, one) => sum + one, 0);
}

function oneDensity({ stations }: LoadingLimits): number | undefined {
  const densities = new Set(stations.flatMap((one) => (one.what === 'tank' ? [one.densityKgPerL] : [])));
  const [first] = densities;
  return densities.size === 1 ? first : undefined;
}
