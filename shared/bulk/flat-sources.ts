/**
 * The errors of ordinary parts, put straight into the sums over all sources (rules U1, U2): to the last bit what `ownShifts` makes of them.
 * Errors that nothing else shares need no name; those of scales and fixtures go by theirs.
 */
import { toComeKg } from '#shared/estimate/condition.ts';
import type { ErrorBasis } from '#shared/estimate/shop-errors.ts';
import type { LengthNm } from '#shared/quantity/exact.ts';
import { massShift, type Shift } from '#shared/uncertainty/shift.ts';
import type { SourceSums } from '#shared/uncertainty/source-sums.ts';
import { estimateStdKg, gatherOnScale, tareSource } from '#shared/uncertainty/sources.ts';
import { readingStdKg, resolutionStdKg } from '#shared/weighing/net.ts';
import { gainStdOf, type Scale, type Scales, scaleKey, scaleNamed } from '#shared/weighing/scales.ts';
import { type FlatPart, happened, type Of } from './flat-part.ts';

const NG_PER_KG = 1e12;
const NM_PER_M = 1e9;
const NO_FRAME = 0n as LengthNm;

/** What is known of a scale, and the name of its error. */
type KnownScale = { readonly scale: Scale | undefined; readonly source: string };

export class FlatSources {
  readonly #sums: SourceSums;
  readonly #scales: Scales;
  readonly #unstatedStd: number;
  readonly #known = new Map<string, KnownScale>();

  constructor(sums: SourceSums, { scales, unstatedStd }: ErrorBasis) {
    this.#sums = sums;
    this.#scales = scales;
    this.#unstatedStd = unstatedStd;
  }

  put(part: FlatPart): void {
    const { armsNm, weighings } = part;
    const [xM, yM, zM] = [armsNm.x / NM_PER_M, armsNm.y / NM_PER_M, armsNm.z / NM_PER_M];
    const [only] = weighings;
    if (weighings.length > 1) this.#putWeighings(weighings, xM, yM, zM);
    else if (only !== undefined) this.#putWeighing(only, xM, yM, zM);
    if (part.estimate === undefined && weighings.length === 0) return;
    this.#putEstimate(part, xM, yM, zM);
    this.#putArms(part);
  }

  scaleOf({ scale: name }: Of<'weighing'>['entry']): KnownScale | undefined {
    if (name === undefined) return undefined;
    const before = this.#known.get(name);
    if (before !== undefined) return before;
    const known = { scale: scaleNamed(this.#scales, name), source: `gain ${scaleKey(name)}` };
    this.#known.set(name, known);
    return known;
  }

  /** Everything on the scale together: its reading, its tare, and the calibration. */
  #putWeighing(weighing: Of<'weighing'>, xM: number, yM: number, zM: number): void {
    const { seq, entry } = weighing;
    const sums = this.#sums;
    const count = entry.pieces.length;
    const readingKg = (readingStdKg(entry) * count) / count;
    sums.putOnce(readingKg, readingKg * xM, readingKg * yM, readingKg * zM);
    const tareKg = (-resolutionStdKg(entry.tareResolutionKg) * count) / count;
    if (tareKg !== 0) {
      if (entry.fixture === undefined) sums.putOnce(tareKg, tareKg * xM, tareKg * yM, tareKg * zM);
      else sums.putShared(tareSource(entry, seq), tareKg, tareKg * xM, tareKg * yM, tareKg * zM);
    }
    const known = this.scaleOf(entry);
    if (known?.scale === undefined) return;
    const gainKg = (entry.netKg * gainStdOf(known.scale, happened(weighing)) * count) / count;
    if (gainKg !== 0) sums.putShared(known.source, gainKg, gainKg * xM, gainKg * yM, gainKg * zM);
  }

  /** What several weighings of one part share is added before it is rounded, which the rules' own shifts do. */
  #putWeighings(weighings: readonly Of<'weighing'>[], xM: number, yM: number, zM: number): void {
    const known = (armM: number) => (Number.isNaN(armM) ? undefined : armM);
    const armM = { x: known(xM), y: known(yM), z: known(zM) };
    const shifts = new Map<string, Shift>();
    for (const weighing of weighings) {
      const { entry } = weighing;
      const standing = { ...happened(weighing), frameNm: NO_FRAME, statement: entry };
      const count = entry.pieces.length;
      gatherOnScale(shifts, standing, this.#scales, (massKg) => massShift((massKg * count) / count, armM));
    }
    this.#sums.put(shifts, 1);
  }

  /** The estimate of what is not weighed, and of what comes off and goes on later. */
  #putEstimate({ added, estimate, weighings, weighedCount }: FlatPart, xM: number, yM: number, zM: number): void {
    if (estimate === undefined || estimate.massKg <= 0) return;
    const stdKg = estimateStdKg(estimate, this.#unstatedStd);
    let [allKg, xKgM, yKgM, zKgM] = [0, 0, 0, 0];
    const gather = (massKg: number) => {
      const shiftKg = (massKg * stdKg) / estimate.massKg;
      allKg += shiftKg;
      xKgM += shiftKg * xM;
      yKgM += shiftKg * yM;
      zKgM += shiftKg * zM;
    };
    for (const { entry } of weighings) {
      const flashKg = entry.condition === 'as released' ? estimate.flashKg : 0;
      gather(entry.pieces.length * (toComeKg(estimate, entry.condition) - flashKg));
    }
    if (added.entry.quantity > weighedCount) gather((added.entry.quantity - weighedCount) * estimate.massKg);
    this.#sums.putOnce(allKg, xKgM, yKgM, zKgM);
  }

  /** The arms, over the mass that is at them. */
  #putArms({ armsNm, armStdM, basicNg, allowanceNg }: FlatPart): void {
    if (armStdM.x === 0 && armStdM.y === 0 && armStdM.z === 0) return;
    const atArmKg = basicNg / NG_PER_KG + allowanceNg / NG_PER_KG;
    const along = (armNm: number, stdM: number) => (Number.isNaN(armNm) ? armNm : atArmKg * stdM);
    this.#sums.putOnce(0, along(armsNm.x, armStdM.x), along(armsNm.y, armStdM.y), along(armsNm.z, armStdM.z));
  }
}
