/** Random loading limits, and loadings of them on a grid, for the searches to be held against. */
import fc from 'fast-check';
import { envelopeRefusals } from '#shared/loading/envelope-refusals.ts';
import type { EmptyState, LoadingLimits, LoadingStation, StationOf } from '#shared/loading/limits.ts';
import { baggageOf, envelopeOf, seatOf, tankOf } from './make-limits.ts';

const between = (min: number, max: number) =>
  fc.integer({ min: min * 1000, max: max * 1000 }).map((whole) => whole / 1000);
/** To the kilogram, the litre and the centimetre: equal figures come up, and with them ties. */
const rounded = (min: number, max: number, per = 1) =>
  fc.integer({ min: Math.round(min * per), max: Math.round(max * per) }).map((whole) => whole / per);
const station = () => rounded(0, 4, 100);

const seat = fc
  .record({ xM: station(), leastKg: rounded(0, 60), range: fc.oneof(fc.constant(0), rounded(0, 60)) })
  .map(({ xM, leastKg, range }) => ({ xM, leastKg, mostKg: leastKg + range }));

const arm = fc.oneof(
  station(),
  fc
    .record({
      xM: station(),
      rows: fc.array(fc.record({ stepL: rounded(5, 40), dM: rounded(-0.3, 0.3, 100) }), { minLength: 2, maxLength: 4 }),
    })
    .map(({ xM, rows }) => {
      let [quantityL, atM] = [0, xM];
      return rows.map(({ stepL, dM }, at) => {
        quantityL += at === 0 ? stepL - 5 : stepL;
        atM += dM;
        return { quantityL, xM: atM };
      });
    }),
);

const tank = fc
  .record({
    arm,
    beyondL: rounded(0, 40),
    least: between(0, 1),
    keeps: fc.boolean(),
    densityKgPerL: fc.constantFrom(0.72, 0.8, 1),
  })
  .map(({ arm: at, beyondL, least, keeps, densityKgPerL }) => {
    const usableL = (typeof at === 'number' ? 60 : (at.at(-1)?.quantityL ?? 0)) + beyondL;
    return { arm: at, usableL, densityKgPerL, ...(keeps ? { leastL: Math.floor(least * usableL * 0.3) } : {}) };
  });

const stations = fc
  .record({
    pilot: seat,
    seats: fc.array(seat, { maxLength: 3 }),
    holds: fc.array(fc.record({ xM: station(), mostKg: rounded(0, 50) }), { maxLength: 2 }),
    tanks: fc.array(tank, { maxLength: 2 }),
  })
  .map(({ pilot, seats, holds, tanks }): readonly LoadingStation[] => [
    seatOf('Pilot', pilot.xM, { ...pilot, isPilot: true }),
    ...seats.map((one, at) => seatOf(`Seat ${at}`, one.xM, one)),
    ...holds.map((one, at) => baggageOf(`Hold ${at}`, one.xM, one.mostKg)),
    ...tanks.map((one, at) => tankOf(`Tank ${at}`, one.arm, one)),
  ]);

/** Sloped and dented limits, steps among them. */
const envelope = fc
  .record({
    lightKg: rounded(150, 400),
    forward: fc.array(fc.record({ upKg: rounded(0, 150), xM: rounded(1.2, 1.9, 100) }), { minLength: 2, maxLength: 5 }),
    aft: fc.array(fc.record({ upKg: rounded(0, 150), xM: rounded(2, 2.8, 100) }), { minLength: 2, maxLength: 5 }),
  })
  .map(({ lightKg, forward, aft }) => {
    const chain = (corners: readonly { readonly upKg: number; readonly xM: number }[]) => {
      let massKg = lightKg;
      return corners.map(({ upKg, xM }, at) => {
        if (at > 0) massKg += upKg;
        return [massKg, xM] as [number, number];
      });
    };
    const [left, right] = [chain(forward), chain(aft)];
    const topKg = Math.max(left.at(-1)?.[0] ?? 0, right.at(-1)?.[0] ?? 0, lightKg + 50);
    for (const side of [left, right]) side.push([topKg, side.at(-1)?.[1] ?? 0]);
    return envelopeOf(...withoutRepeats([...left, ...right.reverse()]));
  })
  .filter((one) => envelopeRefusals(one, String).length === 0);

function withoutRepeats(corners: readonly [number, number][]) {
  return corners.filter(([massKg, at], index) => {
    const before = corners[(index + corners.length - 1) % corners.length];
    return before === undefined || before[0] !== massKg || before[1] !== at;
  });
}

export type Drawn = { readonly limits: LoadingLimits; readonly empty: EmptyState };

export const drawn: fc.Arbitrary<Drawn> = fc
  .record({
    stations,
    envelope,
    emptyKg: rounded(150, 400),
    xM: rounded(1.2, 2.8, 100),
    roomKg: rounded(40, 350),
    dry: fc.option(between(0.2, 1), { nil: undefined }),
  })
  .map(({ emptyKg, xM, roomKg, dry, ...rest }) => ({
    empty: { massKg: emptyKg, xM },
    limits: {
      ...rest,
      stations: [...rest.stations],
      maximumKg: emptyKg + roomKg,
      ...(dry === undefined ? {} : { zeroFuelMaximumKg: emptyKg + roomKg * dry }),
      cases: [],
    },
  }));

/** What is at each station, mass and moment of each loading, in plain arithmetic. */
export type GridLoading = { readonly amounts: readonly number[]; readonly massKg: number; readonly xM: number };

/** Every permitted loading with `steps` amounts at each station and an empty seat where it may be, and those that just fill the maximum weight. */
export function* gridOf({ limits, empty }: Drawn, steps: number): Generator<GridLoading> {
  const choices = limits.stations.map((one) => amountsOf(one, steps));
  yield* (function* next(at: number, amounts: readonly number[]): Generator<GridLoading> {
    const loading = plainly({ limits, empty }, amounts);
    if (at < choices.length) {
      for (const amount of choices[at] ?? []) yield* next(at + 1, [...amounts, amount]);
    } else if (isPermitted({ limits, empty }, amounts)) yield loading;
  })(0, []);
}

function amountsOf(one: LoadingStation, steps: number): readonly number[] {
  const [least, most] =
    one.what === 'tank' ? [one.leastL ?? 0, one.usableL] : [one.what === 'seat' ? one.leastKg : 0, one.mostKg];
  const amounts = Array.from({ length: steps }, (_, at) => least + ((most - least) * at) / (steps - 1));
  const isEmptyToo = one.what === 'seat' && one.isPilot !== true;
  return [...new Set(isEmptyToo ? [0, ...amounts] : amounts)];
}

/** By the words of the rule, apart from the code under test: bounds, maximum weight, zero-fuel maximum. */
export function isPermitted({ limits, empty }: Drawn, amounts: readonly number[], slack = 1e-6): boolean {
  let dryKg = empty.massKg;
  let fuelKg = 0;
  for (const [at, one] of limits.stations.entries()) {
    const amount = amounts[at] ?? 0;
    if (one.what === 'tank') {
      if (amount < (one.leastL ?? 0) - slack || amount > one.usableL + slack) return false;
      fuelKg += amount * one.densityKgPerL;
    } else {
      const leastKg = one.what === 'seat' ? one.leastKg : 0;
      const isEmptySeat = one.what === 'seat' && one.isPilot !== true && amount === 0;
      if (!isEmptySeat && (amount < leastKg - slack || amount > one.mostKg + slack)) return false;
      dryKg += amount;
    }
  }
  return dryKg <= (limits.zeroFuelMaximumKg ?? limits.maximumKg) + slack && dryKg + fuelKg <= limits.maximumKg + slack;
}

export function plainly({ limits, empty }: Drawn, amounts: readonly number[]): GridLoading {
  let massKg = empty.massKg;
  let momentKgM = empty.massKg * empty.xM;
  for (const [at, amount] of amounts.entries()) {
    const one = limits.stations[at];
    if (one === undefined) throw new Error('more amounts than stations');
    const kg = one.what === 'tank' ? amount * one.densityKgPerL : amount;
    massKg += kg;
    momentKgM += kg * (one.what === 'tank' ? armPlainly(one.arm, amount) : one.xM);
  }
  return { amounts, massKg, xM: momentKgM / massKg };
}

function armPlainly(at: StationOf<'tank'>['arm'], quantityL: number): number {
  if (typeof at === 'number') return at;
  const below = at.filter((row) => row.quantityL <= quantityL).at(-1);
  const above = at.find((row) => row.quantityL > quantityL);
  if (below === undefined || above === undefined) return (below ?? above)?.xM ?? 0;
  const share = (quantityL - below.quantityL) / (above.quantityL - below.quantityL);
  return below.xM * (1 - share) + above.xM * share;
}

/** The limits of an envelope at a mass by walking around it; undefined above and below it. Where a limit steps, the wider one. */
export function limitsPlainly(
  { points }: LoadingLimits['envelope'],
  massKg: number,
): readonly [number, number] | undefined {
  const stations = points.flatMap((from, at) => {
    const to = points[(at + 1) % points.length] ?? from;
    if (massKg < Math.min(from.massKg, to.massKg) || massKg > Math.max(from.massKg, to.massKg)) return [];
    if (from.massKg === to.massKg) return [from.at, to.at];
    return [from.at + ((to.at - from.at) * (massKg - from.massKg)) / (to.massKg - from.massKg)];
  });
  return stations.length === 0 ? undefined : [Math.min(...stations), Math.max(...stations)];
}
