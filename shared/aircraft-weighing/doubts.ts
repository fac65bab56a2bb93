/**
 * What looks like a slip in a weighing of the aircraft (rules A2, W4): told while it is typed and on the report, never refused. Common
 * practice, no source.
 */
import { MASS_UNIT_KG } from '#shared/quantity/units.ts';
import type { WeighedResult } from './compute.ts';
import { countedRuns } from './model.ts';
import { supportKey, type Weighed } from './weighing.ts';

export type WeighingDoubt =
  /** Some supports have a tare and this one has none. */
  | { readonly doubt: 'tare forgotten'; readonly support: string }
  /** Pounds typed as kilograms, or the other way. */
  | { readonly doubt: 'unit'; readonly times: 'pounds as kilograms' | 'kilograms as pounds' }
  /** A support reads far from itself in another run. */
  | { readonly doubt: 'run apart'; readonly support: string }
  /** Left and right carry very different loads. */
  | { readonly doubt: 'sides apart'; readonly support: string; readonly other: string }
  | { readonly doubt: 'CG out of range' }
  /** The scales and the parts that count as aboard are far from each other: a part is ticked that was on, or none is that was not. */
  | { readonly doubt: 'far from the parts'; readonly isMore: boolean }
  /** The ledger has parts, and none of them was aboard on that day: all of them count beside what was weighed. */
  | { readonly doubt: 'no part aboard' }
  /** A tilted weighing gives a height, and what was taken off or put on has none. */
  | { readonly doubt: 'height left out'; readonly names: readonly string[] }
  | { readonly doubt: 'one run' }
  | { readonly doubt: 'calibration out of date'; readonly scale: string; readonly dueOn: string }
  | { readonly doubt: 'scale not described'; readonly supports: readonly string[] }
  /** A fluid's density is not that of any that there is. */
  | { readonly doubt: 'density'; readonly name: string };

export type DoubtContext = {
  /** What the ledger predicts or has, where it has anything. */
  readonly expectedKg?: number | undefined;
  /** What the ledger has of the parts that were aboard. */
  readonly aboardKg?: number | undefined;
  readonly cgForwardM?: number | undefined;
  readonly cgAftM?: number | undefined;
  readonly happenedOn: string;
  readonly dueOf: (scale: string) => string | undefined;
};

/** Within this of a slip of the unit it is asked about; kilograms and pounds differ by 2.2. */
const NEAR_SLIP = 0.15;
const RUN_APART = 0.02;
const SIDES_APART = 0.15;
const FAR_FROM_PARTS = 0.1;

export function doubtsOf(weighed: Weighed, result: WeighedResult, context: DoubtContext): readonly WeighingDoubt[] {
  return [
    ...taresForgotten(weighed),
    ...unitSlip(result.empty.massKg, context.expectedKg),
    ...runsApart(weighed),
    ...sidesApart(weighed, result),
    ...outOfRange(result, context),
    ...farFromParts(result.empty.massKg, context),
    ...heightLeftOut(weighed, result),
    ...(countedRuns(weighed.level).length === 1 ? [{ doubt: 'one run' } as const] : []),
    ...ofScales(weighed, context),
    ...weighed.corrections.flatMap((one): WeighingDoubt[] =>
      one.is === 'fluid' && (one.densityKgM3 < 600 || one.densityKgM3 > 1300)
        ? [{ doubt: 'density', name: one.name }]
        : [],
    ),
  ];
}

function taresForgotten({ supports, level, tilted }: Weighed): readonly WeighingDoubt[] {
  const runs = [...level, ...(tilted?.runs ?? [])];
  const hasTare = (at: number) => runs.some(({ readings }) => (readings[at]?.tareKg ?? 0) > 0);
  if (!supports.some((_, at) => hasTare(at))) return [];
  return supports.flatMap(({ name }, at) => (hasTare(at) ? [] : [{ doubt: 'tare forgotten', support: name } as const]));
}

function unitSlip(massKg: number, expectedKg: number | undefined): readonly WeighingDoubt[] {
  if (expectedKg === undefined || !(expectedKg > 0)) return [];
  const ratio = massKg / expectedKg;
  const isNear = (slip: number) => Math.abs(ratio / slip - 1) < NEAR_SLIP;
  if (isNear(1 / MASS_UNIT_KG.lb)) return [{ doubt: 'unit', times: 'pounds as kilograms' }];
  return isNear(MASS_UNIT_KG.lb) ? [{ doubt: 'unit', times: 'kilograms as pounds' }] : [];
}

function runsApart({ supports, level }: Weighed): readonly WeighingDoubt[] {
  const runs = countedRuns(level);
  return supports.flatMap(({ name }, at): WeighingDoubt[] => {
    const nets = runs.map(({ readings }) => (readings[at]?.grossKg ?? 0) - (readings[at]?.tareKg ?? 0));
    const [least, most] = [Math.min(...nets), Math.max(...nets)];
    return most - least > RUN_APART * most ? [{ doubt: 'run apart', support: name }] : [];
  });
}

/** Two mains at about one station. */
function sidesApart({ supports }: Weighed, { netsKg }: WeighedResult): readonly WeighingDoubt[] {
  const mains = supports.map((one, at) => ({ ...one, netKg: netsKg[at] ?? 0 })).filter(({ is }) => is === 'main');
  const [a, b] = mains;
  if (a === undefined || b === undefined || mains.length !== 2) return [];
  const isApart = Math.abs(a.netKg - b.netKg) > SIDES_APART * Math.max(a.netKg, b.netKg);
  return isApart ? [{ doubt: 'sides apart', support: a.name, other: b.name }] : [];
}

function outOfRange({ empty }: WeighedResult, { cgForwardM, cgAftM }: DoubtContext): readonly WeighingDoubt[] {
  const isOut = (cgForwardM !== undefined && empty.xM < cgForwardM) || (cgAftM !== undefined && empty.xM > cgAftM);
  return isOut ? [{ doubt: 'CG out of range' }] : [];
}

function farFromParts(massKg: number, { aboardKg, expectedKg }: DoubtContext): readonly WeighingDoubt[] {
  if (aboardKg === 0) return expectedKg === undefined ? [] : [{ doubt: 'no part aboard' }];
  if (aboardKg === undefined || Math.abs(massKg - aboardKg) <= FAR_FROM_PARTS * massKg) return [];
  return [{ doubt: 'far from the parts', isMore: massKg > aboardKg }];
}

function heightLeftOut({ corrections }: Weighed, { asWeighed, empty }: WeighedResult): readonly WeighingDoubt[] {
  if (asWeighed.zM === undefined || empty.zM !== undefined) return [];
  return [{ doubt: 'height left out', names: corrections.flatMap(({ name, zM }) => (zM === undefined ? [name] : [])) }];
}

function ofScales({ supports }: Weighed, { happenedOn, dueOf }: DoubtContext): readonly WeighingDoubt[] {
  const unknown = supports.flatMap(({ name, gainStd }) => (gainStd === 0 ? [name] : []));
  const scales = new Map(
    supports.flatMap(({ scale }) => (scale === undefined ? [] : [[supportKey(scale), scale] as const])),
  );
  return [
    ...[...scales.values()].flatMap((scale): WeighingDoubt[] => {
      const dueOn = dueOf(scale);
      return dueOn !== undefined && dueOn < happenedOn ? [{ doubt: 'calibration out of date', scale, dueOn }] : [];
    }),
    ...(unknown.length === 0 ? [] : [{ doubt: 'scale not described', supports: unknown } as const]),
  ];
}
