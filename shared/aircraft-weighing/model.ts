/**
 * The numbers that a weighing of the aircraft follows from, and what follows (rule A1): mass and CG as weighed, and of the empty aircraft.
 *
 * z by a second attitude, tilted nose up by t. Aft along the ground a point of the aircraft lies at x cos t + z sin t, so with the reactions
 * upright at the supports (x_i, z_i) the moments about the ground say
 *   sum R_i (x_i cos t + z_i sin t) = W (x cos t + z sin t),
 * and with x from the level attitude, and X_R, Z_R the means of x_i and z_i weighted by the tilted reactions,
 *   z = Z_R + (X_R - x) / tan t.
 * Source: statics of a rigid body, general mechanics; the supports' z are those of axles or jack points, since a tyre carries below its axle.
 */
import type { Run, Weighed, WeighingCorrection } from './weighing.ts';

/** The runs that count: those not set aside, or all where none is left. */
export function countedRuns(runs: readonly Run[]): readonly Run[] {
  const counted = runs.filter(({ setAside }) => setAside === undefined);
  return counted.length > 0 ? counted : runs;
}

/** True where every support has a y, and they do not all stand in one line seen from above. */
export function givesY({ supports }: Weighed): boolean {
  return supports.every(({ yM }) => yM !== undefined) && !standInLine(supports);
}

/** Closer to one line than a millimetre in its length of a metre is one line: what is between is error of the tape. */
const IN_LINE = 1e-3;

/** True where all supports stand in one line seen from above. */
export function standInLine(supports: readonly { readonly xM: number; readonly yM?: number | undefined }[]): boolean {
  const points = supports.map(({ xM, yM = 0 }) => ({ xM, yM }));
  const [first] = points;
  if (first === undefined) return true;
  const far = points.reduce((a, b) => (apartM(first, b) > apartM(first, a) ? b : a));
  const lengthM = apartM(first, far);
  if (lengthM === 0) return true;
  return points.every((point) => {
    const areaM2 = (far.xM - first.xM) * (point.yM - first.yM) - (far.yM - first.yM) * (point.xM - first.xM);
    return Math.abs(areaM2) / lengthM <= IN_LINE * lengthM;
  });
}

function apartM(a: { readonly xM: number; readonly yM: number }, b: { readonly xM: number; readonly yM: number }) {
  return Math.hypot(a.xM - b.xM, a.yM - b.yM);
}

/** Mass of a correction, positive whichever way it goes. */
export function correctionKg(correction: WeighingCorrection): number {
  return correction.is === 'mass' ? correction.massKg : correction.volumeM3 * correction.densityKgM3;
}

/** The numbers that the results follow from, and that sources of error shift. */
export type Model = {
  readonly referenceM: number;
  readonly supports: readonly Place[];
  readonly hasY: boolean;
  readonly levelKg: readonly number[];
  readonly tiltedKg: readonly number[] | undefined;
  readonly angleRad: number;
  readonly corrections: readonly (Place & { readonly sign: 1 | -1; readonly massKg: number; readonly hasZ: boolean })[];
};
export type Place = { readonly xM: number; readonly yM: number; readonly zM: number };

export function modelOf(weighed: Weighed): Model {
  const { tilted } = weighed;
  const hasZ = tilted !== undefined && weighed.supports.every(({ zM }) => zM !== undefined);
  return {
    referenceM: weighed.referenceM,
    supports: weighed.supports.map(({ xM, yM = 0, zM = 0 }) => ({ xM, yM, zM })),
    hasY: givesY(weighed),
    levelKg: meanNetsOf(weighed.level),
    tiltedKg: hasZ ? meanNetsOf(tilted.runs) : undefined,
    angleRad: tilted?.angleRad ?? 0,
    corrections: weighed.corrections.map((one) => ({
      ...{ xM: one.xM, yM: one.yM ?? 0, zM: one.zM ?? 0, hasZ: one.zM !== undefined },
      sign: one.way === 'on' ? 1 : -1,
      massKg: correctionKg(one),
    })),
  };
}

function meanNetsOf(runs: readonly Run[]): readonly number[] {
  const counted = countedRuns(runs);
  const count = counted[0]?.readings.length ?? 0;
  return Array.from({ length: count }, (_, at) => {
    const sumKg = counted.reduce((sum, run) => sum + (netsOf(run)[at] ?? 0), 0);
    return sumKg / counted.length;
  });
}

export function netsOf({ readings }: Run): readonly number[] {
  return readings.map(({ grossKg, tareKg }) => grossKg - tareKg);
}

export type Point = { readonly massKg: number; readonly xM: number; readonly yM?: number; readonly zM?: number };
export type Results = { readonly asWeighed: Point; readonly empty: Point };

export function resultsOf(model: Model): Results {
  const { referenceM, supports, levelKg, hasY } = model;
  const massKg = sum(levelKg);
  const xM =
    referenceM +
    weightedMean(
      supports.map((place) => place.xM),
      levelKg,
    );
  const yM = hasY
    ? weightedMean(
        supports.map((place) => place.yM),
        levelKg,
      )
    : undefined;
  const zM = heightOf(model, xM);
  const asWeighed = pointOf({ massKg, xM, yM, zM });
  const onKg = model.corrections.map(({ sign, massKg: itemKg }) => sign * itemKg);
  const emptyKg = massKg + sum(onKg);
  const carried = (atM: number, stations: readonly number[]) =>
    (massKg * atM + stations.reduce((moment, stationM, at) => moment + stationM * (onKg[at] ?? 0), 0)) / emptyKg;
  const knowsZ = model.corrections.every(({ hasZ }) => hasZ);
  const empty = pointOf({
    massKg: emptyKg,
    xM: carried(
      xM,
      model.corrections.map((one) => one.xM),
    ),
    yM:
      yM === undefined
        ? undefined
        : carried(
            yM,
            model.corrections.map((one) => one.yM),
          ),
    zM:
      zM === undefined || !knowsZ
        ? undefined
        : carried(
            zM,
            model.corrections.map((one) => one.zM),
          ),
  });
  return { asWeighed, empty };
}

/** Height of the CG from the tilted attitude, where there is one and the heights of the supports are known. */
function heightOf({ referenceM, supports, tiltedKg, angleRad }: Model, xM: number): number | undefined {
  if (tiltedKg === undefined) return undefined;
  const meanXM =
    referenceM +
    weightedMean(
      supports.map((place) => place.xM),
      tiltedKg,
    );
  const meanZM = weightedMean(
    supports.map((place) => place.zM),
    tiltedKg,
  );
  return meanZM + (meanXM - xM) / Math.tan(angleRad);
}

function pointOf({
  massKg,
  xM,
  yM,
  zM,
}: {
  massKg: number;
  xM: number;
  yM: number | undefined;
  zM: number | undefined;
}) {
  return { massKg, xM, ...(yM === undefined ? {} : { yM }), ...(zM === undefined ? {} : { zM }) };
}

function weightedMean(values: readonly number[], weights: readonly number[]): number {
  return values.reduce((moment, value, at) => moment + value * (weights[at] ?? 0), 0) / sum(weights);
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
