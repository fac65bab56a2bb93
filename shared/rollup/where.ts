/**
 * Where the mass is (rule R5): every part's predicted mass at its arm, and what weighed assemblies have beyond their parts at the arm of that;
 * together they are the predicted mass. Along the fuselage they are gathered in stretches of a round length.
 */
import type { PlacedMass, WhereReport } from '#shared/contract/where.ts';
import { allPartDrifts } from '#shared/drift/part-drift.ts';
import { worstFlags } from '#shared/drift/report.ts';
import { type Ledger, presentParts, residualOf } from '#shared/ledger/fold.ts';
import { oncePerEntry } from '#shared/ledger/once.ts';
import { type Axis, addTally, type MassNg, seenFrom, type Tally, toKg } from '#shared/quantity/exact.ts';
import { BEYOND_PARTS } from './breakdown.ts';
import { centreOfGravityM } from './centre-of-gravity.ts';
import { headlineOf } from './headline.ts';

export const whereReport: (ledger: Ledger) => WhereReport = oncePerEntry((ledger) => {
  const { seq, predictedKg, cg, targets } = headlineOf(ledger);
  const { xM, xStdM, zM } = cg;
  const flags = worstFlags(allPartDrifts(ledger));
  return {
    seq,
    predictedKg,
    cg: { xM, xStdM, zM },
    cgForwardM: targets?.cgForwardM,
    cgAftM: targets?.cgAftM,
    masses: [
      ...presentParts(ledger).flatMap((part): PlacedMass[] => {
        const { partId, definition } = part;
        const { number, name, group } = definition;
        const residual = residualOf(ledger, partId);
        // Allowance that an assembly's weighing did away with is the part's; mass that it found is the assembly's.
        const own = [part.allowance, residual.allowance].reduce(addTally, part.basic);
        const at = (tally: Tally, isBeyondParts: boolean): PlacedMass[] => {
          if (tally.massNg === 0n) return [];
          const about = { partId, number, name, group, flag: flags.get(number), isBeyondParts };
          return [...placesOf(seenFrom(tally, ledger.datumNm))].map((place) => ({ ...about, ...place }));
        };
        return [...at(own, false), ...at(residual.basic, true)];
      }),
      ...beyondAll(ledger),
    ],
  };
});

/** What the aircraft weighed beyond its parts (rule A4), which is no part's. */
function beyondAll({ books, datumNm }: Ledger): readonly PlacedMass[] {
  const { basic } = books.sums.whole;
  if (basic.massNg === 0n) return [];
  const about = { number: '', name: 'aircraft', group: BEYOND_PARTS, isBeyondParts: true };
  return placesOf(seenFrom(basic, datumNm)).map((place) => ({ ...about, ...place }));
}

/** One mass at its CG; what of it has no station along x is a mass of its own. */
function placesOf(tally: Tally): readonly Pick<PlacedMass, 'massKg' | 'xM' | 'zM'>[] {
  const { massNg } = tally;
  const { placedNg } = tally.x;
  const restNg = (massNg - placedNg) as MassNg;
  const zM = stationM(tally, 'z');
  return [
    ...(placedNg === 0n ? [] : [{ massKg: toKg(placedNg), xM: stationM(tally, 'x'), zM }]),
    ...(restNg === 0n ? [] : [{ massKg: toKg(restNg), xM: undefined, zM }]),
  ];
}

function stationM(tally: Tally, axis: Axis): number | undefined {
  const cg = centreOfGravityM(tally, axis);
  return cg.ok ? cg.value : undefined;
}

/** Of so many stretches at most is a picture made: each is still told from the next on a phone. */
const MOST_STRETCHES = 24;
/** Stations are not told apart closer than about this. */
const LEAST_STRETCH_M = 0.01;

export type Stretch = { readonly fromM: number; readonly toM: number; readonly byGroup: ReadonlyMap<string, number> };
export type Stretches = {
  readonly lengthM: number;
  readonly stretches: readonly Stretch[];
  /** Largest first. */
  readonly groups: readonly string[];
  /** Mass whose station is not known. */
  readonly elsewhereKg: number;
};

/**
 * The masses along x in stretches of one length: the least of 1, 2 and 5 times a power of ten (of `unitM`, the unit that stations are told
 * in) that makes no more than 24 of them. From a whole stretch's foot, counted in, to its head, counted out.
 */
export function stretchesOf(
  masses: readonly Pick<PlacedMass, 'group' | 'massKg' | 'xM'>[],
  { unitM }: { readonly unitM: number },
): Stretches {
  const stations = masses.flatMap(({ xM }) => (xM === undefined ? [] : [xM / unitM]));
  const low = stations.reduce((least, one) => Math.min(least, one), Number.POSITIVE_INFINITY);
  const high = stations.reduce((most, one) => Math.max(most, one), Number.NEGATIVE_INFINITY);
  const length = stations.length === 0 ? 1 : roundLength({ low, high, least: LEAST_STRETCH_M / unitM });
  const numberOf = (station: number) => Math.floor(Number((station / length).toPrecision(12)));
  const [first, last] = stations.length === 0 ? [0, -1] : [numberOf(low), numberOf(high)];
  const sums = Array.from({ length: last - first + 1 }, () => new Map<string, number>());
  const groupKg = new Map<string, number>();
  let elsewhereKg = 0;
  for (const { group, massKg, xM } of masses) {
    const sum = xM === undefined ? undefined : sums[numberOf(xM / unitM) - first];
    if (sum === undefined) elsewhereKg += massKg;
    else {
      sum.set(group, (sum.get(group) ?? 0) + massKg);
      groupKg.set(group, (groupKg.get(group) ?? 0) + massKg);
    }
  }
  const edgeM = (at: number) => Number((at * length * unitM).toPrecision(12));
  return {
    lengthM: Number((length * unitM).toPrecision(12)),
    stretches: sums.map((byGroup, at) => ({ fromM: edgeM(first + at), toM: edgeM(first + at + 1), byGroup })),
    groups: [...groupKg].sort(([, a], [, b]) => b - a).map(([group]) => group),
    elsewhereKg,
  };
}

function roundLength({ low, high, least }: { readonly low: number; readonly high: number; readonly least: number }) {
  const count = (length: number) =>
    Math.floor(Number((high / length).toPrecision(12))) - Math.floor(Number((low / length).toPrecision(12))) + 1;
  let power = 10 ** Math.floor(Math.log10(Math.max((high - low) / MOST_STRETCHES, least)));
  for (;;) {
    for (const times of [1, 2, 5]) if (count(times * power) <= MOST_STRETCHES) return times * power;
    power *= 10;
  }
}
