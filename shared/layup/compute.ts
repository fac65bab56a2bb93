/**
 * A lay-up schedule into masses (rules E3, E4, U2): line by line, by what they are of, and by when they go on. What shares a source of error is
 * added before it is squared. Masses in kilograms, lengths in metres. Whether the schedule makes sense is `refusals.ts`.
 */
import type { LayUp, LineKind, On } from './schedule.ts';
import { type LineNote, type LineShares, lineShares, SHARE_KINDS, type Share, type ShareKind } from './shares.ts';

export type MassWithStd = { readonly massKg: number; readonly stdKg: number };
export type ByShareKind = { readonly [kind in ShareKind]: number };

export type ComputedLine = MassWithStd & {
  /** Where it stands in the schedule, both counted from 0. */
  readonly region: number;
  readonly line: number;
  readonly is: LineKind;
  readonly material: string;
  readonly on: On;
  /** Of the whole, 0 to 1. */
  readonly share: number;
  readonly byKindKg: ByShareKind;
  /** Of cured plies. */
  readonly thicknessM?: number;
  readonly notes: readonly LineNote[];
};

export type ComputedRegion = MassWithStd & {
  readonly name: string;
  readonly areaM2: number;
  /** Everything on the region by its area. */
  readonly arealKgM2: number;
  /** Of the cured plies that have no area of their own, by what they cover. */
  readonly laminateM: number;
};

export type ComputedLayUp = MassWithStd & {
  readonly lines: readonly ComputedLine[];
  readonly regions: readonly ComputedRegion[];
  readonly byKind: { readonly [kind in ShareKind]: MassWithStd };
  readonly byOn: { readonly [on in On]: MassWithStd };
  /** Fibre fractions of all plies together, without what cores take up; undefined where there are no plies. */
  readonly wf?: number;
  readonly vf?: number;
  /** What the uncertainty comes from, the largest first. */
  readonly sources: readonly { readonly source: string; readonly stdKg: number }[];
};

/** The masses of a schedule that has no refusals. */
export function computeLayUp(layUp: LayUp): ComputedLayUp {
  const all = lineShares(layUp);
  const whole = sumOf(all.flatMap(({ shares }) => shares));
  const ofKind = (kind: ShareKind) => all.flatMap(({ shares }) => shares.filter(({ of }) => of === kind));
  const ofOn = (on: On) => sumOf(all.flatMap((line) => (line.on === on ? line.shares : [])));
  return {
    ...whole,
    lines: all.map((line) => computedLine(layUp, line, whole.massKg)),
    regions: layUp.regions.map((_, at) => computedRegion(layUp, all, at)),
    byKind: {
      fibre: sumOf(ofKind('fibre')),
      resin: sumOf(ofKind('resin')),
      core: sumOf(ofKind('core')),
      coat: sumOf(ofKind('coat')),
      other: sumOf(ofKind('other')),
    },
    byOn: { moulded: ofOn('moulded'), later: ofOn('later'), finish: ofOn('finish') },
    ...fractionsOf(all),
    sources: sourcesOf(all.flatMap(({ shares }) => shares)),
  };
}

/** Rule E1: the figures of an estimate that a schedule gives. What goes on later includes the finish. */
export type LayUpEstimate = {
  readonly massKg: number;
  readonly massStdKg: number;
  readonly laterKg: number;
  readonly finishKg: number;
};

export function estimateOfLayUp(layUp: LayUp): LayUpEstimate {
  const { massKg, stdKg, byOn } = computeLayUp(layUp);
  return {
    massKg: tidy(massKg),
    massStdKg: tidy(stdKg),
    laterKg: tidy(byOn.later.massKg + byOn.finish.massKg),
    finishKg: tidy(byOn.finish.massKg),
  };
}

/** The mass of some shares, and its standard uncertainty with shared sources added before they are squared. */
export function sumOf(shares: readonly Share[]): MassWithStd {
  const massKg = shares.reduce((sumKg, share) => sumKg + share.massKg, 0);
  return { massKg, stdKg: Math.hypot(...errorsOf(shares).values()) };
}

/** By how much the sum would be off with each source off by one standard uncertainty. */
export function errorsOf(shares: readonly Pick<Share, 'errorsKg'>[]): ReadonlyMap<string, number> {
  const errorsKg = new Map<string, number>();
  for (const share of shares)
    for (const [source, errorKg] of share.errorsKg) errorsKg.set(source, (errorsKg.get(source) ?? 0) + errorKg);
  return errorsKg;
}

function computedLine(
  layUp: LayUp,
  { region, line, on, shares, thicknessM, notes }: LineShares,
  wholeKg: number,
): ComputedLine {
  const stated = layUp.regions[region]?.lines[line];
  if (stated === undefined) throw new Error('a computed line is one of the schedule');
  const sum = sumOf(shares);
  return {
    ...{ region, line, is: stated.is, material: stated.material, on },
    ...sum,
    share: wholeKg > 0 ? sum.massKg / wholeKg : 0,
    byKindKg: byKindKg(shares),
    ...(thicknessM === undefined ? {} : { thicknessM }),
    notes,
  };
}

function byKindKg(shares: readonly Share[]): ByShareKind {
  const sums = { fibre: 0, resin: 0, core: 0, coat: 0, other: 0 };
  for (const kind of SHARE_KINDS) for (const { of, massKg } of shares) if (of === kind) sums[kind] += massKg;
  return sums;
}

function computedRegion(layUp: LayUp, all: readonly LineShares[], at: number): ComputedRegion {
  const region = layUp.regions[at];
  if (region === undefined) throw new Error('a computed region is one of the schedule');
  const within = all.filter((line) => line.region === at);
  const sum = sumOf(within.flatMap(({ shares }) => shares));
  const laminateM = within.reduce((sumM, { line, thicknessM = 0 }) => {
    const stated = region.lines[line];
    return stated?.is === 'ply' && stated.areaM2 === undefined ? sumM + thicknessM * stated.coverage : sumM;
  }, 0);
  return { name: region.name, areaM2: region.areaM2, ...sum, arealKgM2: sum.massKg / region.areaM2, laminateM };
}

function fractionsOf(all: readonly LineShares[]): Pick<ComputedLayUp, 'wf' | 'vf'> {
  let fibreKg = 0;
  let pliesKg = 0;
  let fibreM3 = 0;
  let pliesM3 = 0;
  for (const { wetted } of all) {
    if (wetted === undefined) continue;
    fibreKg += wetted.fibreKg;
    pliesKg += wetted.fibreKg / wetted.wf;
    fibreM3 += wetted.fibreKg / wetted.fibreKgM3;
    pliesM3 += wetted.fibreKg / wetted.fibreKgM3 / wetted.vf;
  }
  return pliesKg > 0 ? { wf: fibreKg / pliesKg, vf: fibreM3 / pliesM3 } : {};
}

function sourcesOf(shares: readonly Share[]): ComputedLayUp['sources'] {
  return [...errorsOf(shares)]
    .map(([source, errorKg]) => ({ source, stdKg: Math.abs(errorKg) }))
    .sort((a, b) => b.stdKg - a.stdKg || (a.source < b.source ? -1 : 1));
}

/** The dust of binary fractions is not kept in an entry. */
function tidy(massKg: number): number {
  return Number(massKg.toPrecision(12));
}
