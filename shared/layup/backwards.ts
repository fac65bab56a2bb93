/**
 * A weighing read backwards (rule E6): with everything off that is known, how much resin is in the laminate? Fibre and core are taken as they
 * were cut by the schedule; all masses are of one piece, in kilograms. It finds what a scale and a schedule can tell, and decides nothing.
 */
import type { InfusionReport, LaminateReport } from '#shared/contract/layup.ts';
import type { Condition } from '#shared/ledger/entry.ts';
import { errorsOf, sumOf } from './compute.ts';
import { type Densities, volumeFraction } from './fractions.ts';
import { materialKey } from './material.ts';
import type { LayUp, On } from './schedule.ts';
import { type LineShares, lineShares, type Share, type ShareKind } from './shares.ts';

/** How well the flash of an estimate is known, as a share of it. Common practice, no source. */
export const FLASH_STD = 0.3;

/** How many standard uncertainties tell a figure from another. */
const COVERAGE = 2;

export type PieceWeighed = {
  readonly condition: Condition;
  readonly netKg: number;
  readonly netStdKg: number;
  readonly flashKg: number;
  /** Resin that was mixed and did not stay behind, of one piece. */
  readonly infusion?: WithStd | undefined;
};

type WithStd = { readonly value: number; readonly std: number };

/** What a piece says of its laminate; undefined where no plies of its schedule were on it. */
export function readBackwards(layUp: LayUp, weighed: PieceWeighed): LaminateReport | undefined {
  const { laminate } = layUp;
  const on = lineShares(layUp).filter((line) => isOn(line.on, weighed.condition));
  const plies = on.filter(({ wetted }) => wetted !== undefined);
  if (laminate === undefined || plies.length === 0) return undefined;
  const fibre = plies.flatMap(({ shares }) => shares.filter(({ of }) => of === 'fibre'));
  const known = on.filter(({ wetted }) => wetted === undefined).flatMap(({ shares }) => shares);
  const flashKg = weighed.condition === 'as released' ? weighed.flashKg : 0;
  const onScale = { value: weighed.netKg - flashKg, std: Math.hypot(weighed.netStdKg, flashKg * FLASH_STD) };
  const planned = plannedOf(layUp, plies);
  const resinKg = lessKnown(onScale, [...known, ...fibre]);
  const wf = massFractionOf(onScale, fibre, known);
  const verdict = verdictOf(wf, laminate.band);
  return {
    ...verdict,
    fibreKg: sumOf(fibre).massKg,
    coreKg: ofKind(known, 'core'),
    offKg: {
      flash: flashKg,
      resinInCore: ofKind(known, 'resin'),
      coat: ofKind(known, 'coat'),
      other: ofKind(known, 'other'),
    },
    resinKg,
    ...(wf === undefined ? {} : { wf, vf: volumeOf(wf, planned.densities) }),
    arealKgM2: arealOf(layUp, lessKnown(onScale, later(on))),
    planned: { resinKg: planned.resinKg, wf: planned.wf, arealKgM2: planned.arealKgM2 },
    band: { lowWf: laminate.band.lowWf, highWf: laminate.band.highWf },
    infusion:
      weighed.infusion === undefined
        ? undefined
        : // The resin that the core holds and that went off with the flash came out of the same pot.
          infusionOf(weighed.infusion, lessKnown(onScale, [...known.filter(({ of }) => of !== 'resin'), ...fibre]), {
            flashResinKg: weighed.flashKg * (1 - planned.wf),
          }),
  };
}

/** What is on a piece in a condition: what goes on later once it is fitted out, the finish once it is finished. */
function isOn(on: On, condition: Condition): boolean {
  if (on === 'moulded') return true;
  return condition === 'finished' || (condition === 'fitted' && on === 'later');
}

function later(on: readonly LineShares[]): readonly Share[] {
  return on.flatMap((line) => (line.on === 'moulded' ? [] : line.shares));
}

/** What is left on the scale when some of it is off. The errors of what is off are added by their source. */
function lessKnown({ value, std }: WithStd, off: readonly Share[]): WithStd {
  return { value: value - sumOf(off).massKg, std: Math.hypot(std, ...errorsOf(off).values()) };
}

/**
 * Wf = F/L, with L = what is on the scale - what is known: dWf = (dF - Wf (dN - dK))/L, source by source. Undefined where that leaves no resin:
 * fibre would be more than the whole.
 */
function massFractionOf(onScale: WithStd, fibre: readonly Share[], known: readonly Share[]): WithStd | undefined {
  const fibreKg = sumOf(fibre).massKg;
  const laminateKg = onScale.value - sumOf(known).massKg;
  if (laminateKg <= fibreKg) return undefined;
  const wf = fibreKg / laminateKg;
  const [ofFibre, ofKnown] = [errorsOf(fibre), errorsOf(known)];
  const sources = new Set([...ofFibre.keys(), ...ofKnown.keys()]);
  const errors = [...sources].map(
    (source) => ((ofFibre.get(source) ?? 0) + wf * (ofKnown.get(source) ?? 0)) / laminateKg,
  );
  return { value: wf, std: Math.hypot((wf * onScale.std) / laminateKg, ...errors) };
}

/** dVf/dWf = rm rf/(Wf rm + (1 - Wf) rf)^2. */
function volumeOf(wf: WithStd, densities: Densities): WithStd {
  const { fibreKgM3, resinKgM3 } = densities;
  const slope = (fibreKgM3 * resinKgM3) / (wf.value * resinKgM3 + (1 - wf.value) * fibreKgM3) ** 2;
  return { value: volumeFraction(wf.value, densities), std: slope * wf.std };
}

type Verdict = Pick<LaminateReport, 'verdict' | 'isTold'>;

/** Out of the band either way; told where it is so by more than two standard uncertainties. */
function verdictOf(wf: WithStd | undefined, band: { readonly lowWf: number; readonly highWf: number }): Verdict {
  // No tolerance makes a laminate of less than its fibre.
  if (wf === undefined) return { verdict: 'impossible', isTold: true };
  if (wf.value > band.highWf) return { verdict: 'dry', isTold: wf.value - band.highWf > COVERAGE * wf.std };
  if (wf.value < band.lowWf) return { verdict: 'resin-rich', isTold: band.lowWf - wf.value > COVERAGE * wf.std };
  return { verdict: 'in band', isTold: false };
}

function plannedOf(layUp: LayUp, plies: readonly LineShares[]) {
  const shares = plies.flatMap((line) => line.shares);
  const [fibreKg, resinKg] = [ofKind(shares, 'fibre'), ofKind(shares, 'resin')];
  const fibreM3 = plies.reduce(
    (sum, { wetted }) => sum + (wetted === undefined ? 0 : wetted.fibreKg / wetted.fibreKgM3),
    0,
  );
  const resin = layUp.materials.find(({ name }) => materialKey(name) === materialKey(layUp.laminate?.resin ?? ''));
  const moulded = lineShares(layUp).flatMap((line) => (line.on === 'moulded' ? line.shares : []));
  return {
    resinKg,
    wf: fibreKg / (fibreKg + resinKg),
    arealKgM2: sumOf(moulded).massKg / areaM2Of(layUp),
    densities: {
      fibreKgM3: fibreKg / fibreM3,
      resinKgM3: resin?.is === 'resin' ? resin.densityKgM3 : fibreKg / fibreM3,
    },
  };
}

function areaM2Of({ regions }: LayUp): number {
  return regions.reduce((sumM2, region) => sumM2 + region.areaM2, 0);
}

/** What is moulded, by the area of all regions. */
function arealOf(layUp: LayUp, moulded: WithStd): WithStd {
  const areaM2 = areaM2Of(layUp);
  const areaStd = Math.hypot(...layUp.regions.map((region) => region.areaM2 * region.areaStd)) / areaM2;
  const value = moulded.value / areaM2;
  return { value, std: Math.hypot(moulded.std / areaM2, value * areaStd) };
}

function infusionOf(
  used: WithStd,
  inPart: WithStd,
  { flashResinKg }: { readonly flashResinKg: number },
): InfusionReport {
  const byPotKg = { value: used.value - flashResinKg, std: Math.hypot(used.std, flashResinKg * FLASH_STD) };
  const apart = Math.abs(byPotKg.value - inPart.value);
  return { byPotKg, byScaleKg: inPart, isAgreed: apart <= COVERAGE * Math.hypot(byPotKg.std, inPart.std) };
}

function ofKind(shares: readonly Share[], kind: ShareKind): number {
  return sumOf(shares.filter(({ of }) => of === kind)).massKg;
}
