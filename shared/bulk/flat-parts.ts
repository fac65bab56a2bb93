/**
 * What ordinary parts give to the figures of the aircraft, without a book, a leaf or a bigint for each: to the last bit what `partState` and
 * `leavesOf` make of them, put straight into the sums. An ordinary part was added once, estimated and weighed at most once, never
 * corrected, and weighed in no assembly. What is too large for plain numbers is refused, and nothing of it put in.
 */

import { isFlagged, judge, levelOf, partLimitOf } from '#shared/drift/part-drift.ts';
import { smallGrowth } from '#shared/drift/small-shares.ts';
import { expectedAtScaleKg, toComeKg } from '#shared/estimate/condition.ts';
import { shopErrorsOf } from '#shared/estimate/shop-errors.ts';
import type { Entry, PartId, PartLimit, RecordedEntry } from '#shared/ledger/entry.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import { mouldedAllowanceKg, NO_ESTIMATE, toComeAllowanceKg, weighedPieceKg } from '#shared/ledger/part-state.ts';
import { wholeNg, wholeNm } from '#shared/quantity/exact.ts';
import { ExactSums } from '#shared/quantity/exact-sum.ts';
import { FlatTally, MOST_FLAT_NM } from '#shared/quantity/flat-tally.ts';
import { addSmall, type Running, runningOf, type SmallSum } from '#shared/rollup/running.ts';
import { estimateStdKg, tareSource } from '#shared/uncertainty/sources.ts';
import { pieceNetKg, pieceNetStdKg, readingStdKg, resolutionStdKg } from '#shared/weighing/net.ts';
import {
  gainStdOf,
  marksOf,
  type Scale,
  type Scales,
  scaleKey,
  scaleNamed,
  scalesOf,
} from '#shared/weighing/scales.ts';
import { FlatList } from './flat-list.ts';

/** Of all pieces together: with every allowance at its most, 500 % each, they stay below 2^52 ng. */
const MOST_FLAT_KG = 256;
const NG_PER_KG = 1e12;
const NM_PER_M = 1e9;

/** Where basic masses of pieces are. */
const WEIGHED = 0;
const INSTALLED = 1;
const IN_STOCK = 2;

export type FlatPart = {
  readonly added: RecordedEntry;
  readonly estimated: RecordedEntry | undefined;
  readonly weighed: RecordedEntry | undefined;
  readonly isInstalled: boolean;
};

type EntryOf<Kind extends Entry['kind']> = Extract<Entry, { kind: Kind }>;

/** One part while it is worked out; masses of all its pieces together, arms about the first datum, NaN where there is none. */
type Flat = {
  readonly seq: number;
  readonly part: EntryOf<'part added'>;
  readonly estimate: EntryOf<'estimate'> | undefined;
  readonly weighing: EntryOf<'weighing'> | undefined;
  readonly weighingSeq: number;
  readonly weighedCount: number;
  readonly weighedNg: number;
  readonly basicNg: number;
  readonly allowanceNg: number;
  readonly xM: number;
  readonly yM: number;
  readonly zM: number;
};

type Group = { partCount: number; readonly predictedNg: ExactSums };

export class FlatParts {
  readonly basic = new FlatTally();
  readonly allowance = new FlatTally();
  readonly lists = {
    withoutArm: new FlatList(),
    withoutCause: new FlatList(),
    withoutDecision: new FlatList(),
    inDoubt: new FlatList(),
  };
  /** Parts that have neither estimate nor weighing of all their pieces: they lack it unless they are assemblies. */
  readonly unestimated: { readonly partId: PartId; readonly addedSeq: number; readonly number: string }[] = [];
  readonly #running: Running;
  readonly #limit: PartLimit;
  readonly #scales: Scales;
  readonly #unstatedStd: number;
  readonly #frames: readonly { readonly seq: number; readonly frameNm: number }[];
  readonly #whereNg = new ExactSums(3);
  readonly #groups = new Map<string, Group>();
  readonly #small = {
    group: new Map<string, SmallSum>(),
    process: new Map<string, SmallSum>(),
    lot: new Map<string, SmallSum>(),
  };
  readonly #scaleOf = new Map<string, { readonly scale: Scale | undefined; readonly source: string }>();

  /** Puts into the figures of a ledger that has all other parts; `frames` are where the datum lay from which entry on. */
  constructor(ledger: Ledger, frames: readonly { readonly seq: number; readonly frameNm: number }[]) {
    this.#running = runningOf(ledger);
    this.#limit = partLimitOf(ledger);
    this.#scales = scalesOf(ledger);
    this.#unstatedStd = shopErrorsOf(ledger).pieceToPieceStd;
    this.#frames = frames;
  }

  /** False where the part is not flat: it is too large, or its pieces are not all alike. */
  put(of: FlatPart): boolean {
    const part = of.added.entry as EntryOf<'part added'>;
    const estimate = of.estimated?.entry as EntryOf<'estimate'> | undefined;
    const weighing = of.weighed?.entry as EntryOf<'weighing'> | undefined;
    const { quantity } = part;
    if (of.isInstalled && quantity > 1) return false;
    if (!isFlat(quantity, estimate, weighing)) return false;
    const masses = estimate ?? NO_ESTIMATE;
    const weighedCount = weighing === undefined ? 0 : weighing.pieces.length;
    const unweighedCount = quantity - weighedCount;
    const frameNm = of.estimated === undefined ? 0 : this.#frameAt(of.estimated.seq);
    const xNm = estimate?.xM === undefined ? Number.NaN : wholeNm(estimate.xM) + frameNm;
    const yNm = estimate?.yM === undefined ? Number.NaN : wholeNm(estimate.yM);
    const zNm = estimate?.zM === undefined ? Number.NaN : wholeNm(estimate.zM);
    if (Math.abs(xNm) >= MOST_FLAT_NM) return false;
    let weighedNg = 0;
    let allowanceNg = 0;
    if (weighing !== undefined) {
      weighedNg = weighedCount * wholeNg(weighedPieceKg(masses, weighing));
      allowanceNg = weighedCount * wholeNg(toComeAllowanceKg(masses, weighing.condition));
    }
    const unweighedAllowanceNg =
      wholeNg(mouldedAllowanceKg(masses)) + wholeNg(toComeAllowanceKg(masses, 'as released'));
    allowanceNg += unweighedCount * unweighedAllowanceNg;
    const basicNg = weighedNg + unweighedCount * wholeNg(masses.massKg);
    this.basic.add(basicNg, xNm, yNm, zNm);
    if (allowanceNg !== 0) this.allowance.add(allowanceNg, xNm, yNm, zNm);
    const flat: Flat = {
      seq: of.added.seq,
      part,
      estimate,
      weighing,
      weighingSeq: of.weighed?.seq ?? 0,
      weighedCount,
      weighedNg,
      basicNg,
      allowanceNg,
      xM: xNm / NM_PER_M,
      yM: yNm / NM_PER_M,
      zM: zNm / NM_PER_M,
    };
    this.#count(flat, of.isInstalled);
    this.#putEstimate(flat);
    if (weighing !== undefined) this.#putWeighing(flat, weighing);
    return true;
  }

  /** Gives to the running figures what was gathered beside them. */
  close(): void {
    const { massesNg, byGroup } = this.#running;
    massesNg.weighedNg += this.#whereNg.readWhole(WEIGHED);
    massesNg.installedNg += this.#whereNg.readWhole(INSTALLED);
    massesNg.inStockNg += this.#whereNg.readWhole(IN_STOCK);
    for (const [name, { partCount, predictedNg }] of this.#groups) {
      const before = byGroup.get(name) ?? { partCount: 0, predictedNg: 0n };
      byGroup.set(name, {
        partCount: before.partCount + partCount,
        predictedNg: before.predictedNg + predictedNg.readWhole(0),
      });
    }
  }

  /** The counts and whereabouts of a leaf. */
  #count({ seq, part, estimate, weighedCount, weighedNg, basicNg, allowanceNg, xM }: Flat, isInstalled: boolean): void {
    const { counts } = this.#running;
    const isWeighed = weighedCount >= part.quantity;
    counts.parts += 1;
    counts.pieces += part.quantity;
    if (estimate !== undefined && !isWeighed && estimate.massStdKg === undefined && estimate.massKg > 0)
      counts.assumedStd += 1;
    const hasArm = !Number.isNaN(xM);
    if (hasArm && (estimate?.armStdM ?? 0) === 0 && basicNg !== 0) counts.exactArm += 1;
    if (!hasArm && basicNg !== 0) this.lists.withoutArm.add(seq, part.number);
    if (estimate === undefined && !isWeighed)
      this.unestimated.push({ partId: part.partId, addedSeq: seq, number: part.number });
    this.#whereNg.add(WEIGHED, weighedNg, 1);
    this.#whereNg.add(isInstalled ? INSTALLED : IN_STOCK, isInstalled ? basicNg : weighedNg, 1);
    const group = this.#groups.get(part.group) ?? { partCount: 0, predictedNg: new ExactSums(1) };
    if (group.partCount === 0) this.#groups.set(part.group, group);
    group.partCount += 1;
    group.predictedNg.add(0, basicNg + allowanceNg, 1);
  }

  /** What the estimate leaves open: of the pieces not weighed, of what comes off and goes on later, and of the arms. */
  #putEstimate({ part, estimate, weighing, weighedCount, basicNg, allowanceNg, xM, yM, zM }: Flat): void {
    if (estimate === undefined) return;
    const { sources } = this.#running;
    const std = estimateStdKg(estimate, this.#unstatedStd);
    const ofMass = (massKg: number) => (massKg === 0 || estimate.massKg <= 0 ? 0 : (massKg * std) / estimate.massKg);
    const flashKg = weighing?.condition === 'as released' ? estimate.flashKg : 0;
    const onWeighed =
      weighing === undefined ? 0 : ofMass(weighedCount * (toComeKg(estimate, weighing.condition) - flashKg));
    const onOthers = ofMass((part.quantity - weighedCount) * estimate.massKg);
    if (onWeighed !== 0 || onOthers !== 0)
      sources.putOnce(
        onWeighed + onOthers,
        onWeighed * xM + onOthers * xM,
        onWeighed * yM + onOthers * yM,
        onWeighed * zM + onOthers * zM,
      );
    const armStdM = estimate.armStdM ?? 0;
    if (armStdM === 0) return;
    const momentKgM = (basicNg / NG_PER_KG + allowanceNg / NG_PER_KG) * armStdM;
    const along = (armM: number) => (Number.isNaN(armM) ? armM : momentKgM);
    sources.putOnce(0, along(xM), along(yM), along(zM));
  }

  #putWeighing(flat: Flat, weighing: EntryOf<'weighing'>): void {
    const { seq, part, estimate, weighingSeq, weighedCount, xM, yM, zM } = flat;
    const { sources, counts } = this.#running;
    const known = weighing.scale === undefined ? undefined : this.#scaleNamed(weighing.scale);
    const at = { happenedOn: weighing.happenedOn, seq: weighingSeq };
    const gainStd = gainStdOf(known?.scale, at);
    const shared = (stdKg: number) => (stdKg * weighedCount) / weighing.pieces.length;

    const readingKg = shared(readingStdKg(weighing));
    sources.putOnce(readingKg, readingKg * xM, readingKg * yM, readingKg * zM);
    const tareKg = shared(-resolutionStdKg(weighing.tareResolutionKg));
    if (tareKg !== 0) {
      if (weighing.fixture === undefined) sources.putOnce(tareKg, tareKg * xM, tareKg * yM, tareKg * zM);
      else sources.putShared(tareSource(weighing, weighingSeq), tareKg, tareKg * xM, tareKg * yM, tareKg * zM);
    }
    const gainKg = shared(weighing.netKg * gainStd);
    if (gainKg !== 0 && known !== undefined)
      sources.putShared(known.source, gainKg, gainKg * xM, gainKg * yM, gainKg * zM);

    if (estimate === undefined) return;
    const netStdKg = pieceNetStdKg(weighing, gainStd);
    const { differenceKg, flag } = judge({
      expectedKg: expectedAtScaleKg(estimate, weighing.condition),
      netKg: pieceNetKg(weighing),
      netStdKg,
      limit: this.#limit,
    });
    if (isFlagged(flag)) {
      counts.drifting += 1;
      if (weighing.cause === undefined) this.lists.withoutCause.add(seq, part.number);
      this.lists.withoutDecision.add(seq, part.number);
    } else if (levelOf(flag) === 'watch') counts.watch += 1;
    if (known?.scale !== undefined && marksOf(known.scale, at).length > 0) this.lists.inDoubt.add(seq, part.number);
    if (flag !== 'in line') return;
    const growth = smallGrowth({
      differenceKg,
      pieceCount: weighedCount,
      estimateStdKg: estimateStdKg(estimate, this.#unstatedStd),
      netStdKg,
      xM: Number.isNaN(xM) ? undefined : xM,
    });
    addSmall(this.#smallSum('group', part.group), growth, 1);
    addSmall(this.#smallSum('process', part.process), growth, 1);
    if (weighing.lot !== undefined) addSmall(this.#smallSum('lot', weighing.lot), growth, 1);
  }

  #smallSum(by: 'group' | 'process' | 'lot', name: string): SmallSum {
    const known = this.#small[by].get(name);
    if (known !== undefined) return known;
    const sum = this.#running.smallSum({ by, name });
    this.#small[by].set(name, sum);
    return sum;
  }

  #scaleNamed(name: string) {
    const known = this.#scaleOf.get(name);
    if (known !== undefined) return known;
    const scale = { scale: scaleNamed(this.#scales, name), source: `gain ${scaleKey(name)}` };
    this.#scaleOf.set(name, scale);
    return scale;
  }

  #frameAt(seq: number): number {
    return this.#frames.findLast((frame) => frame.seq < seq)?.frameNm ?? 0;
  }
}

/** True where nothing of the part is too large, and its weighing is of pieces that it has. */
function isFlat(
  quantity: number,
  estimate: EntryOf<'estimate'> | undefined,
  weighing: EntryOf<'weighing'> | undefined,
): boolean {
  const mostKg = MOST_FLAT_KG / quantity;
  if (estimate !== undefined) {
    const { massKg, laterKg, flashKg, finishKg = 0, growth, laterGrowth } = estimate;
    if (!(massKg <= mostKg && laterKg <= mostKg && flashKg <= mostKg && finishKg <= mostKg)) return false;
    if (!(growth <= 5 && laterGrowth <= 5)) return false;
  }
  return (
    weighing === undefined || (weighing.netKg <= MOST_FLAT_KG && weighing.pieces.every((piece) => piece <= quantity))
  );
}
