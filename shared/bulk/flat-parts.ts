/**
 * Ordinary parts put straight into the figures of the aircraft, without a leaf or a bigint for each: to the last bit what `leavesOf` and
 * `Running` make of them. They cannot be taken out again.
 */
import { isFlagged, type Judgement, judge, levelOf, partLimitOf } from '#shared/drift/part-drift.ts';
import { type SmallShare, smallGrowth } from '#shared/drift/small-shares.ts';
import { expectedAtScaleKg } from '#shared/estimate/condition.ts';
import { shopErrorsOf } from '#shared/estimate/shop-errors.ts';
import type { PartId, PartLimit } from '#shared/ledger/entry.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import { byWhatHappened } from '#shared/ledger/part-state.ts';
import { ExactSums } from '#shared/quantity/exact-sum.ts';
import { FlatTally } from '#shared/quantity/flat-tally.ts';
import { addSmall, type Running, runningOf, type SmallSum } from '#shared/rollup/running.ts';
import { estimateStdKg } from '#shared/uncertainty/sources.ts';
import { pieceNetKg, pieceNetStdKg } from '#shared/weighing/net.ts';
import { gainStdOf, marksOf, type Scales, scalesOf } from '#shared/weighing/scales.ts';
import { FlatList } from './flat-list.ts';
import { type FlatPart, happened, type Of } from './flat-part.ts';
import { FlatSources } from './flat-sources.ts';

const NM_PER_M = 1e9;

/** Where basic masses of pieces are. */
const WEIGHED = 0;
const INSTALLED = 1;
const IN_STOCK = 2;

type Group = { partCount: number; readonly predictedNg: ExactSums };
type Growth = Omit<SmallShare, 'by' | 'name'>;

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
  readonly #sources: FlatSources;
  /** Rule F1: of an estimate that states no uncertainty. */
  readonly #unstatedStd: number;
  readonly #whereNg = new ExactSums(3);
  readonly #groups = new Map<string, Group>();
  readonly #small = {
    group: new Map<string, SmallSum>(),
    process: new Map<string, SmallSum>(),
    lot: new Map<string, SmallSum>(),
  };

  /** Puts into the figures of a ledger that has, or will have, all other parts. */
  constructor(ledger: Ledger) {
    const scales: Scales = scalesOf(ledger);
    this.#running = runningOf(ledger);
    this.#limit = partLimitOf(ledger);
    this.#unstatedStd = shopErrorsOf(ledger).pieceToPieceStd;
    this.#sources = new FlatSources(this.#running.sources, { scales, unstatedStd: this.#unstatedStd });
  }

  put(part: FlatPart): void {
    const { basicNg, allowanceNg, armsNm } = part;
    this.basic.add(basicNg, armsNm.x, armsNm.y, armsNm.z);
    if (allowanceNg !== 0) this.allowance.add(allowanceNg, armsNm.x, armsNm.y, armsNm.z);
    this.#count(part);
    this.#sources.put(part);
    if (part.estimate !== undefined && part.weighings.length > 0) this.#judge(part);
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
  #count(part: FlatPart): void {
    const { added, estimate, weighedCount, basicNg, armsNm, armStdM } = part;
    const { counts } = this.#running;
    const { partId, number, quantity, group: name } = added.entry;
    const isWeighed = weighedCount >= quantity;
    counts.parts += 1;
    counts.pieces += quantity;
    if (estimate !== undefined && !isWeighed && estimate.massStdKg === undefined && estimate.massKg > 0)
      counts.assumedStd += 1;
    if (Number.isNaN(armsNm.x)) {
      if (basicNg !== 0) this.lists.withoutArm.add(added.seq, number);
    } else if (armStdM.x === 0 && basicNg !== 0) counts.exactArm += 1;
    if (estimate === undefined && !isWeighed) this.unestimated.push({ partId, addedSeq: added.seq, number });
    this.#whereNg.add(WEIGHED, part.weighedNg, 1);
    this.#whereNg.add(INSTALLED, part.installedNg, 1);
    this.#whereNg.add(IN_STOCK, part.inStockNg, 1);
    let group = this.#groups.get(name);
    if (group === undefined) {
      group = { partCount: 0, predictedNg: new ExactSums(1) };
      this.#groups.set(name, group);
    }
    group.partCount += 1;
    group.predictedNg.add(0, basicNg + part.allowanceNg, 1);
  }

  /** The weighings of a part with an estimate beside it: flags, what is open on them, and sums of those in line (rules D1, D5, W11, W12). */
  #judge(part: FlatPart): void {
    const { added, weighings } = part;
    const { counts } = this.#running;
    const lacks = { cause: false, decision: false };
    let [isInDoubt, isInLine] = [false, true];
    let all: Growth | undefined;
    const byLot = new Map<string, Growth>();
    for (const weighing of weighings) {
      const known = this.#sources.scaleOf(weighing.entry);
      const judgement = this.#judgementOf(part, weighing);
      if (isFlagged(judgement.flag)) {
        counts.drifting += 1;
        if (weighing.entry.cause === undefined) lacks.cause = true;
        if (!isDecided(part, weighing)) lacks.decision = true;
      } else if (levelOf(judgement.flag) === 'watch') counts.watch += 1;
      if (known?.scale !== undefined && marksOf(known.scale, happened(weighing)).length > 0) isInDoubt = true;
      if (judgement.flag !== 'in line') isInLine = false;
      if (!isInLine) continue;
      const growth = this.#growthOf(part, weighing, judgement);
      const { lot } = weighing.entry;
      all = sumOf(all, growth);
      if (lot !== undefined) byLot.set(lot, sumOf(byLot.get(lot), growth));
    }
    const { number, group, process } = added.entry;
    if (lacks.cause) this.lists.withoutCause.add(added.seq, number);
    if (lacks.decision) this.lists.withoutDecision.add(added.seq, number);
    if (isInDoubt) this.lists.inDoubt.add(added.seq, number);
    if (!isInLine || all === undefined) return;
    addSmall(this.#smallSum('group', group), all, 1);
    addSmall(this.#smallSum('process', process), all, 1);
    for (const [lot, growth] of byLot) addSmall(this.#smallSum('lot', lot), growth, 1);
  }

  #judgementOf(part: FlatPart, weighing: Of<'weighing'>): Judgement {
    const { entry } = weighing;
    return judge({
      expectedKg: expectedAtScaleKg(estimateOn(part, weighing).entry, entry.condition),
      netKg: pieceNetKg(entry),
      netStdKg: pieceNetStdKg(entry, gainStdOf(this.#sources.scaleOf(entry)?.scale, happened(weighing))),
      limit: this.#limit,
    });
  }

  #growthOf({ estimate, armsNm }: FlatPart, { entry }: Of<'weighing'>, judgement: Judgement): Growth {
    return smallGrowth({
      differenceKg: judgement.differenceKg,
      pieceCount: entry.pieces.length,
      estimateStdKg: estimate === undefined ? 0 : estimateStdKg(estimate, this.#unstatedStd),
      netStdKg: judgement.netStdKg,
      xM: Number.isNaN(armsNm.x) ? undefined : armsNm.x / NM_PER_M,
    });
  }

  #smallSum(by: 'group' | 'process' | 'lot', name: string): SmallSum {
    const known = this.#small[by].get(name);
    if (known !== undefined) return known;
    const sum = this.#running.smallSum({ by, name });
    this.#small[by].set(name, sum);
    return sum;
  }
}

/** The estimate in force on the day of a weighing; where none is as old, the first one. */
function estimateOn({ estimates }: FlatPart, weighing: Of<'weighing'>): Of<'estimate'> {
  const [first] = estimates;
  if (first === undefined) throw new Error('only weighings of a part with an estimate are judged');
  if (estimates.length === 1) return first;
  return estimates.findLast((estimate) => byWhatHappened(happened(estimate), happened(weighing)) < 0) ?? first;
}

function isDecided({ decisions }: FlatPart, weighing: Of<'weighing'>): boolean {
  return decisions.some(
    (decided) =>
      byWhatHappened(happened(decided), happened(weighing)) > 0 &&
      weighing.entry.pieces.every((piece) => decided.entry.pieces.includes(piece)),
  );
}

/** One after another, as the weighings of a part are added before they are put into a sum. */
function sumOf(before: Growth | undefined, growth: Growth): Growth {
  if (before === undefined) return growth;
  return {
    growthKg: before.growthKg + growth.growthKg,
    varianceKg2: before.varianceKg2 + growth.varianceKg2,
    placedKg: before.placedKg + growth.placedKg,
    momentKgM: before.momentKgM + growth.momentKgM,
  };
}
