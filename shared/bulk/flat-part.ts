/**
 * One ordinary part from its entries, in plain numbers: to the last bit what `partState` makes of them. An ordinary part was added once, and
 * estimated, weighed, measured, decided on and built in however often; no piece of it was withdrawn, scrapped or weighed in an assembly.
 * What is too large for plain numbers, or not as simple as that, is undefined: such a part needs a book.
 */
import { conditionRank } from '#shared/estimate/condition.ts';
import type { Entry, RecordedEntry } from '#shared/ledger/entry.ts';
import {
  byWhatHappened,
  type Estimated,
  mouldedAllowanceKg,
  NO_ESTIMATE,
  toComeAllowanceKg,
  weighedPieceKg,
} from '#shared/ledger/part-state.ts';
import { wholeNg, wholeNm } from '#shared/quantity/exact.ts';
import { MOST_FLAT_NM } from '#shared/quantity/flat-tally.ts';
import { type Columns, NONE } from './columns.ts';

/** Of all pieces together: with every allowance at its most, 500 % each, they stay below 2^52 ng. */
const MOST_FLAT_KG = 256;
const MOST_GROWTH = 5;
/** Of a part whose pieces are told apart. */
const MOST_BITS = 30;

type EntryOf<Kind extends Entry['kind']> = Extract<Entry, { kind: Kind }>;
/** A recorded entry of a kind. */
export type Of<Kind extends Entry['kind']> = { readonly seq: number; readonly entry: EntryOf<Kind> };

/** Along each axis; NaN where nothing is known. */
type Along = { x: number; y: number; z: number };

/** A part that counts. Masses of all its pieces together, lists by what happened first. Read it before the next part is read. */
export type FlatPart = {
  readonly added: Of<'part added'>;
  readonly estimates: readonly Of<'estimate'>[];
  /** The estimate in force. */
  readonly estimate: EntryOf<'estimate'> | undefined;
  /** The weighings that count, each for all the pieces it names. */
  readonly weighings: readonly Of<'weighing'>[];
  readonly decisions: readonly Of<'disposition'>[];
  readonly armsNm: Along;
  readonly armStdM: Along;
} & Masses;

type Masses = {
  readonly weighedCount: number;
  readonly weighedNg: number;
  readonly installedNg: number;
  readonly inStockNg: number;
  readonly basicNg: number;
  readonly allowanceNg: number;
};

/** How far aft of the first datum the datum lay when an entry was recorded. */
export type FrameAt = (seq: number) => number;

/** Reads one part after another, from its last entry back to its first. */
export class FlatReader {
  readonly #frameAt: FrameAt;
  #added: Of<'part added'> | undefined;
  #estimates: Of<'estimate'>[] = [];
  #weighings: Of<'weighing'>[] = [];
  #measured: Of<'arm measured'>[] = [];
  #decisions: Of<'disposition'>[] = [];
  #installed = 0;

  constructor(frameAt: FrameAt) {
    this.#frameAt = frameAt;
  }

  read({ entries, last, before }: Pick<Columns, 'entries' | 'last' | 'before'>, part: number): FlatPart | undefined {
    this.#added = undefined;
    this.#installed = 0;
    for (const list of [this.#estimates, this.#weighings, this.#measured, this.#decisions]) list.length = 0;
    for (let at = last[part] ?? NONE; at !== NONE; at = before[at] ?? NONE) {
      const recorded = entries[at];
      if (recorded === undefined || !this.#note(recorded)) return undefined;
    }
    return this.#workOut();
  }

  /** False where a part with such an entry is not ordinary. */
  #note(recorded: RecordedEntry): boolean {
    const { entry } = recorded;
    switch (entry.kind) {
      case 'part added':
        if (this.#added !== undefined) return false;
        this.#added = recorded as Of<'part added'>;
        return true;
      case 'estimate':
        this.#estimates.push(recorded as Of<'estimate'>);
        return true;
      case 'weighing':
        this.#weighings.push(recorded as Of<'weighing'>);
        return true;
      case 'arm measured':
        this.#measured.push(recorded as Of<'arm measured'>);
        return true;
      case 'disposition':
        this.#decisions.push(recorded as Of<'disposition'>);
        return entry.decision !== 'scrapped';
      case 'piece installed':
        if (entry.pieces.some((piece) => piece > MOST_BITS)) return false;
        this.#installed |= bitsOf(entry.pieces);
        return true;
      default:
        return false;
    }
  }

  #workOut(): FlatPart | undefined {
    const added = this.#added;
    if (added === undefined) return undefined;
    const { quantity } = added.entry;
    const estimates = inOrder(this.#estimates);
    const all = inOrder(this.#weighings);
    const estimate = estimates.at(-1)?.entry;
    if (!isFlat(quantity, estimate, all)) return undefined;
    if (quantity > MOST_BITS ? all.length > 1 || this.#installed !== 0 : quantity > 1 && !areApart(all))
      return undefined;
    const weighings = quantity === 1 ? governingOf(all) : all;
    const armsNm: Along = { x: Number.NaN, y: Number.NaN, z: Number.NaN };
    const armStdM: Along = { x: 0, y: 0, z: 0 };
    const last = estimates.at(-1);
    if (last !== undefined) this.#place(last, armsNm, armStdM);
    for (const one of inOrder(this.#measured)) this.#place(one, armsNm, armStdM);
    if (Math.abs(armsNm.x) >= MOST_FLAT_NM) return undefined;
    const masses = massesOf({ quantity, estimate: estimate ?? NO_ESTIMATE, weighings, installed: this.#installed });
    return { added, estimates, estimate, weighings, decisions: this.#decisions, armsNm, armStdM, ...masses };
  }

  /** The arms that an entry states, in place of those stated before. */
  #place({ seq, entry }: Of<'estimate'> | Of<'arm measured'>, armsNm: Along, armStdM: Along): void {
    const std = entry.armStdM ?? 0;
    if (entry.xM !== undefined) {
      armsNm.x = wholeNm(entry.xM) + this.#frameAt(seq);
      armStdM.x = std;
    }
    if (entry.yM !== undefined) {
      armsNm.y = wholeNm(entry.yM);
      armStdM.y = std;
    }
    if (entry.zM !== undefined) {
      armsNm.z = wholeNm(entry.zM);
      armStdM.z = std;
    }
  }
}

/** By what happened first. */
function inOrder<One extends Happened>(list: One[]): One[] {
  return list.length < 2 ? list : list.sort((a, b) => byWhatHappened(happened(a), happened(b)));
}

type Happened = { readonly seq: number; readonly entry: { readonly happenedOn: string } };

/** The day and the number of an entry that stands as it was recorded. */
export function happened({ seq, entry }: Happened): {
  readonly happenedOn: string;
  readonly seq: number;
} {
  return { happenedOn: entry.happenedOn, seq };
}

/** Rule W9, of a part that is one piece: the later condition counts, then the later day. */
function governingOf(weighings: readonly Of<'weighing'>[]): readonly Of<'weighing'>[] {
  if (weighings.length < 2) return weighings;
  const rankOf = ({ entry }: Of<'weighing'>) => conditionRank(entry.condition);
  return [weighings.reduce((best, one) => (rankOf(one) >= rankOf(best) ? one : best))];
}

/** No piece was weighed twice. */
function areApart(weighings: readonly Of<'weighing'>[]): boolean {
  let known = 0;
  for (const { entry } of weighings) {
    const bits = bitsOf(entry.pieces);
    if ((known & bits) !== 0) return false;
    known |= bits;
  }
  return true;
}

function bitsOf(pieces: readonly number[]): number {
  let bits = 0;
  for (const piece of pieces) bits |= 1 << piece;
  return bits;
}

function countBits(bits: number): number {
  let count = 0;
  for (let rest = bits; rest !== 0; rest &= rest - 1) count += 1;
  return count;
}

/** Rule R1, as `countPieces` has it. */
function massesOf(of: {
  readonly quantity: number;
  readonly estimate: Estimated;
  readonly weighings: readonly Of<'weighing'>[];
  readonly installed: number;
}): Masses {
  const { quantity, estimate, weighings, installed } = of;
  let [weighedCount, weighedNg, installedNg, allowanceNg, weighedBits] = [0, 0, 0, 0, 0];
  for (const { entry } of weighings) {
    const count = entry.pieces.length;
    const pieceNg = wholeNg(weighedPieceKg(estimate, entry));
    weighedCount += count;
    weighedNg += count * pieceNg;
    allowanceNg += count * wholeNg(toComeAllowanceKg(estimate, entry.condition));
    if (installed === 0) continue;
    const bits = bitsOf(entry.pieces);
    weighedBits |= bits;
    installedNg += countBits(bits & installed) * pieceNg;
  }
  const inStockNg = weighedNg - installedNg;
  const estimatedNg = wholeNg(estimate.massKg);
  if (installed !== 0) installedNg += countBits(installed & ~weighedBits & bitsUpTo(quantity)) * estimatedNg;
  const unweighedCount = quantity - weighedCount;
  if (unweighedCount > 0)
    allowanceNg +=
      unweighedCount * (wholeNg(mouldedAllowanceKg(estimate)) + wholeNg(toComeAllowanceKg(estimate, 'as released')));
  return {
    ...{ weighedCount, weighedNg, installedNg, inStockNg, allowanceNg },
    basicNg: weighedNg + unweighedCount * estimatedNg,
  };
}

/** Pieces 1 to `quantity`, which is at most MOST_BITS. */
function bitsUpTo(quantity: number): number {
  return 2 ** (quantity + 1) - 2;
}

/** True where nothing of the part is too large, and its weighings are of pieces that it has. */
function isFlat(
  quantity: number,
  estimate: EntryOf<'estimate'> | undefined,
  weighings: readonly Of<'weighing'>[],
): boolean {
  if (estimate !== undefined) {
    const { massKg, laterKg, flashKg, finishKg = 0, growth, laterGrowth } = estimate;
    if (!(Math.max(massKg, laterKg, flashKg, finishKg) * quantity <= MOST_FLAT_KG)) return false;
    if (!(growth <= MOST_GROWTH && laterGrowth <= MOST_GROWTH)) return false;
  }
  let netKg = 0;
  for (const { entry } of weighings) {
    netKg += entry.netKg;
    for (const piece of entry.pieces) if (piece > quantity) return false;
  }
  return netKg <= MOST_FLAT_KG;
}
