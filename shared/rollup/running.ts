/**
 * The figures of the aircraft that follow its ledger entry by entry: one more entry costs the work of the parts it touches. All sums are
 * exact, so a ledger that was carried on and one that was read anew agree to the last bit. They belong to the ledger's books and are
 * brought up to date whenever they are asked for.
 */
import { MOST_LISTED } from '#shared/contract/reports.ts';
import { partLimitOf } from '#shared/drift/part-drift.ts';
import { type SmallShare, smallKey } from '#shared/drift/small-shares.ts';
import { errorBasisOf, shopErrorsOf } from '#shared/estimate/shop-errors.ts';
import type { PartId } from '#shared/ledger/entry.ts';
import { isPresent, type Ledger } from '#shared/ledger/fold.ts';
import { ExactSums } from '#shared/quantity/exact-sum.ts';
import { aboardShiftsIn, weighedShifts } from '#shared/uncertainty/aboard-shifts.ts';
import { gatherAll, type Shifts } from '#shared/uncertainty/shift.ts';
import { SourceSums } from '#shared/uncertainty/source-sums.ts';
import { type Leaf, leavesOf, type OpenList } from './leaf.ts';

/** A sum of rule D5: growth, variance, and the growth that has an arm, with its moment. */
export type SmallSum = Pick<SmallShare, 'by' | 'name'> & { partCount: number; readonly sums: ExactSums };
const GROWTH = 0;
const VARIANCE = 1;
const PLACED = 2;
const MOMENT = 3;
const PER_UNIT = 1e12;

/** How many parts are on a list, and the first of them by the entry that added them. */
export type ListedParts = {
  readonly count: number;
  readonly first: readonly { readonly addedSeq: number; readonly number: string }[];
};

/** What the headline is made of beside the totals. */
export type Figures = Pick<Running, 'counts' | 'massesNg' | 'sources' | 'byGroup' | 'smallSums' | 'listed'>;

export class Running {
  readonly #leaves = new Map<PartId, Leaf>();
  readonly settled = new Map<PartId, Shifts>();
  readonly sources = new SourceSums();
  /** The parts on each list, in the order in which they were added. */
  readonly open: Readonly<Record<OpenList, PartId[]>>;
  /** Predicted mass of the groups that have parts, and how many. */
  readonly byGroup = new Map<string, { partCount: number; predictedNg: bigint }>();
  readonly #small = new Map<string, SmallSum>();
  readonly counts = { parts: 0, pieces: 0, assumedStd: 0, exactArm: 0, drifting: 0, watch: 0 };
  readonly massesNg = { weighedNg: 0n, installedNg: 0n, inStockNg: 0n };

  constructor() {
    this.open = { withoutEstimate: [], withoutArm: [], withoutCause: [], withoutDecision: [], inDoubt: [] };
  }

  /** Puts a part's leaf in place of the one before; without one the part no longer counts. */
  put(partId: PartId, leaf: Leaf | undefined): void {
    const before = this.#leaves.get(partId);
    if (before !== undefined) this.#add(before, -1);
    if (leaf === undefined) this.#leaves.delete(partId);
    else {
      this.#leaves.set(partId, leaf);
      this.#add(leaf, 1);
    }
  }

  /** What a part was off by when the whole aircraft was weighed with it: the scales' own errors stand for that (rule A4). */
  settle(partId: PartId, shifts: Shifts): void {
    const before = this.settled.get(partId);
    if (before !== undefined) this.sources.put(before, 1);
    if (shifts.size === 0) this.settled.delete(partId);
    else {
      this.settled.set(partId, shifts);
      this.sources.put(shifts, -1);
    }
  }

  leafOf(partId: PartId): Leaf | undefined {
    return this.#leaves.get(partId);
  }

  /** How many parts are on a list, and the first ones. */
  listed(list: OpenList): ListedParts {
    const first = this.open[list].slice(0, MOST_LISTED).flatMap((partId) => this.#leaves.get(partId)?.part ?? []);
    return {
      count: this.open[list].length,
      first: first.map(({ addedSeq = 0, definition }) => ({ addedSeq, number: definition.number })),
    };
  }

  /** The sums of rule D5, moments about the first datum. */
  *smallSums(): Iterable<SmallShare & { readonly partCount: number }> {
    for (const { by, name, partCount, sums } of this.#small.values())
      yield {
        by,
        name,
        partCount,
        growthKg: sums.read(GROWTH) / PER_UNIT,
        varianceKg2: sums.read(VARIANCE) / PER_UNIT ** 2,
        placedKg: sums.read(PLACED) / PER_UNIT,
        momentKgM: sums.read(MOMENT) / PER_UNIT,
      };
  }

  #add(leaf: Leaf, times: 1 | -1): void {
    const { part, whereabouts, open } = leaf;
    const { counts, massesNg } = this;
    counts.parts += times;
    counts.pieces += times * part.definition.quantity;
    counts.assumedStd += leaf.isAssumed ? times : 0;
    counts.exactArm += leaf.isArmExact ? times : 0;
    counts.drifting += times * leaf.driftingCount;
    counts.watch += times * leaf.watchCount;
    const signed = (massNg: bigint) => (times === 1 ? massNg : -massNg);
    massesNg.weighedNg += signed(whereabouts.weighedNg);
    massesNg.installedNg += signed(whereabouts.installedNg);
    massesNg.inStockNg += signed(whereabouts.inStockNg);
    for (const list of open) this.#list(this.open[list], part, times);
    const { group } = part.definition;
    const inGroup = this.byGroup.get(group) ?? { partCount: 0, predictedNg: 0n };
    inGroup.partCount += times;
    inGroup.predictedNg += signed(leaf.predictedNg);
    if (inGroup.partCount === 0) this.byGroup.delete(group);
    else this.byGroup.set(group, inGroup);
    this.sources.put(leaf.shifts, times);
    for (const share of leaf.small) this.#addSmall(share, times);
  }

  #list(list: PartId[], { partId, addedSeq = 0 }: Leaf['part'], times: 1 | -1): void {
    const seqAt = (at: number) => this.#leaves.get(list[at] ?? partId)?.part.addedSeq ?? 0;
    let [from, to] = [0, list.length];
    while (from < to) {
      const middle = (from + to) >> 1;
      if (seqAt(middle) < addedSeq) from = middle + 1;
      else to = middle;
    }
    if (times === 1) list.splice(from, 0, partId);
    else list.splice(from, 1);
  }

  #addSmall(share: SmallShare, times: 1 | -1): void {
    const sum = this.smallSum(share);
    addSmall(sum, share, times);
    if (sum.partCount === 0) this.#small.delete(smallKey(share));
  }

  /** The sum of one group, process or lot, for who puts parts into it. */
  smallSum({ by, name }: Pick<SmallShare, 'by' | 'name'>): SmallSum {
    const key = smallKey({ by, name });
    const known = this.#small.get(key);
    if (known !== undefined) return known;
    const sum = { by, name, partCount: 0, sums: new ExactSums(4) };
    this.#small.set(key, sum);
    return sum;
  }
}

/** Puts what one part adds into a sum, or takes it out again. */
export function addSmall(
  sum: SmallSum,
  { growthKg, varianceKg2, placedKg, momentKgM }: Omit<SmallShare, 'by' | 'name'>,
  times: 1 | -1,
): void {
  sum.partCount += times;
  sum.sums.add(GROWTH, growthKg * PER_UNIT, times);
  sum.sums.add(VARIANCE, varianceKg2 * PER_UNIT ** 2, times);
  sum.sums.add(PLACED, placedKg * PER_UNIT, times);
  sum.sums.add(MOMENT, momentKgM * PER_UNIT, times);
}

type Kept = { readonly running: Running; readonly basis: string; upTo: number };
const kept = new WeakMap<Ledger['books'], Kept>();

/** The figures of a ledger as it is now. They change with its next entry: read them, and keep nothing of them. */
export function runningOf(ledger: Ledger): Running {
  const { books } = ledger;
  const basis = basisOf(ledger);
  const before = kept.get(books);
  const isOld = before === undefined || before.basis !== basis;
  const now = isOld ? { running: new Running(), basis, upTo: 0 } : before;
  const partIds = isOld ? books.byPart.keys() : new Set(books.touched.slice(now.upTo));
  if (isOld || now.upTo < books.touched.length) {
    const leafOf = leavesOf(ledger);
    const settledOf = books.aboard && aboardShiftsIn(books.aboard, errorBasisOf(ledger));
    for (const partId of partIds) {
      const state = books.byPart.get(partId)?.state;
      now.running.put(partId, state !== undefined && isPresent(state) ? leafOf(state) : undefined);
      if (settledOf !== undefined) now.running.settle(partId, settledOf(partId));
    }
  }
  now.upTo = books.touched.length;
  if (isOld) {
    if (books.aboard !== undefined) now.running.sources.put(weighedShifts(books.aboard), 1);
    kept.set(books, now);
  }
  return now.running;
}

/** Answers for one part after another what each source of error does to it; nothing where it does not count. */
export function shiftsOf(ledger: Ledger): (partId: PartId) => Shifts {
  const running = runningOf(ledger);
  return (partId) => running.leafOf(partId)?.shifts ?? NO_SHIFTS;
}
const NO_SHIFTS: Shifts = new Map();

/**
 * What the sum over all parts is off by beside its parts, where the whole aircraft was weighed (rule A4): the scales' own errors, less those of
 * the parts that were aboard.
 */
export function settledShifts(ledger: Ledger): Shifts {
  const { aboard, byPart } = ledger.books;
  if (aboard === undefined) return NO_SHIFTS;
  const sum = new Map(weighedShifts(aboard));
  const { settled } = runningOf(ledger);
  // In the order of the books, which is the same however the figures came about.
  for (const partId of byPart.keys()) gatherAll(sum, settled.get(partId) ?? NO_SHIFTS, -1);
  return sum;
}

/** What all leaves depend on beside the books: where it changes, all of them are read anew. */
function basisOf(ledger: Ledger): string {
  const { absoluteKg, fraction } = partLimitOf(ledger);
  const { changes } = ledger;
  const { pieceToPieceStd } = shopErrorsOf(ledger);
  const ofScales = [changes.scale, changes['check weight'], changes['aircraft weighing']];
  return [absoluteKg, fraction, pieceToPieceStd, ...ofScales].join(' ');
}
