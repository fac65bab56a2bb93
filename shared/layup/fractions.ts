/**
 * Fibre, resin and voids of a laminate (rule E3). Densities in kilograms per cubic metre; fractions between 0 and 1.
 * Vf = (Wf/rf)/(Wf/rf + (1 - Wf)/rm); Wf = Vf rf/(Vf rf + (1 - Vf) rm): both follow from mass = density x volume without voids.
 */
import type { Process } from '#shared/ledger/entry.ts';

export type Densities = { readonly fibreKgM3: number; readonly resinKgM3: number };

/** Fibre volume fraction of a laminate whose fibre mass fraction is `wf`. */
export function volumeFraction(wf: number, { fibreKgM3, resinKgM3 }: Densities): number {
  const fibreM3 = wf / fibreKgM3;
  return fibreM3 / (fibreM3 + (1 - wf) / resinKgM3);
}

/** Fibre mass fraction of a laminate whose fibre volume fraction is `vf`. */
export function massFraction(vf: number, { fibreKgM3, resinKgM3 }: Densities): number {
  const fibreKg = vf * fibreKgM3;
  return fibreKg / (fibreKg + (1 - vf) * resinKgM3);
}

/** Density of the laminate, without voids: Vf rf + (1 - Vf) rm. */
export function laminateKgM3(vf: number, { fibreKgM3, resinKgM3 }: Densities): number {
  return vf * fibreKgM3 + (1 - vf) * resinKgM3;
}

/** Thickness of cured layers in metres: n Aw/(rf Vf). */
export function curedThicknessM(plies: {
  readonly layers: number;
  readonly arealKgM2: number;
  readonly fibreKgM3: number;
  readonly vf: number;
}): number {
  return (plies.layers * plies.arealKgM2) / (plies.fibreKgM3 * plies.vf);
}

/**
 * Void content by the densities (the relation of ASTM D2734): T = 1/((1 - Wf)/rm + Wf/rf) is the density without voids, and (T - M)/T the
 * voids of a laminate that measures M. Measured densities can give less than nothing: the figure is kept, and says that one of them is off.
 */
export function voidContent({
  wf,
  measuredKgM3,
  ...densities
}: Densities & { readonly wf: number; readonly measuredKgM3: number }): {
  readonly theoreticalKgM3: number;
  readonly fraction: number;
  readonly isBelowZero: boolean;
} {
  const theoreticalKgM3 = 1 / ((1 - wf) / densities.resinKgM3 + wf / densities.fibreKgM3);
  const fraction = (theoreticalKgM3 - measuredKgM3) / theoreticalKgM3;
  return { theoreticalKgM3, fraction, isBelowZero: fraction < 0 };
}

/** Between which fibre volume fractions a process lies. Common practice, no source: adjust to the shop. */
const USUAL_VF: Readonly<Partial<Record<Process, readonly [number, number]>>> = {
  'resin-infused': [0.45, 0.62],
  'wet lay-up': [0.3, 0.5],
  prepreg: [0.5, 0.66],
};
/** Where nothing is known of the process: between a wet lay-up and a prepreg. */
const ANY_VF = [0.3, 0.66] as const;

/** The mass fractions of fibre between which a process lies, with these densities. */
export function usualBand(process: Process, densities: Densities): { readonly lowWf: number; readonly highWf: number } {
  const [lowVf, highVf] = USUAL_VF[process] ?? ANY_VF;
  return { lowWf: massFraction(lowVf, densities), highWf: massFraction(highVf, densities) };
}
