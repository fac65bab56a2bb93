/**
 * The doubts about the weighings of a list (rule W4), each against the ledger with the rows before it, and which of them drift once the list
 * is recorded (rule D1). Judged by the figures alone: what a weighing does to the aircraft is not worked out row by row.
 */

import { distance } from 'fastest-levenshtein';
import type { DriftFlag } from '#shared/contract/drift.ts';
import { assemblyDrifts } from '#shared/drift/larger-drift.ts';
import { allPartDrifts, isFlagged, judgeWeighing, partLimitOf } from '#shared/drift/part-drift.ts';
import { expectedAtScaleKg } from '#shared/estimate/condition.ts';
import { stateOf } from '#shared/ledger/books.ts';
import type { Condition, PartId, StatementOf } from '#shared/ledger/entry.ts';
import { isPresent, type Ledger, type PresentPart, presentParts } from '#shared/ledger/fold.ts';
import { numberKey } from '#shared/part/from-words.ts';
import { piecesText } from '#shared/rollup/describe-entry.ts';
import type { Doubt } from '#shared/weighing/earlier-weighings.ts';
import { pieceNetKg } from '#shared/weighing/net.ts';
import { doubtsOf, MOST_LETTERS_APART, partDoubts } from '#shared/weighing/preview.ts';
import { scalesOf } from '#shared/weighing/scales.ts';
import { say } from '#shared/words/say.ts';

export type RowDoubt = Doubt & { readonly line: number; readonly number: string };

/** A weighing of the list that drifts: `name` is the part's number with its pieces. Masses are of one piece. */
export type NewDrift = {
  readonly line: number;
  readonly partId: PartId;
  readonly name: string;
  readonly differenceKg: number;
  readonly differenceFraction: number | undefined;
  readonly flag: DriftFlag;
};

type Weighing = StatementOf<'weighing'>;
type Row = { readonly line: number; readonly weighing: Weighing | StatementOf<'assembly weighing'> };

export class WeighingDoubts {
  readonly doubts: RowDoubt[] = [];
  readonly #ledger: Ledger;
  /** What this list has entered, by number of entry. */
  readonly #rows = new Map<number, Row>();
  /** Neither parts nor estimates nor limits change while weighings are read. */
  readonly #limit: ReturnType<typeof partLimitOf>;
  readonly #expected = new Map<Condition, readonly Expected[]>();

  /** `ledger` holds the parts, and each row once it is entered. */
  constructor(ledger: Ledger) {
    this.#ledger = ledger;
    this.#limit = partLimitOf(ledger);
  }

  /** The doubts about a weighing of a part that is not entered yet. */
  about(
    weighing: Weighing,
    at: { readonly line: number; readonly seq: number; readonly happenedOn: string },
  ): readonly RowDoubt[] {
    const state = stateOf(this.#ledger.books, weighing.partId);
    if (state === undefined) return [];
    const { line, seq, happenedOn } = at;
    const standing = { seq, happenedOn, frameNm: this.#ledger.datumNm, statement: weighing };
    const doubts = partDoubts(this.#ledger, state, {
      standing,
      judgement: judgeWeighing(standing, state, this.#limit, scalesOf(this.#ledger)),
      among: () => this.#near(weighing),
      nameOf: (before) => {
        const lineBefore = this.#rows.get(before)?.line;
        return lineBefore === undefined ? say`Entry ${before}` : say`Line ${lineBefore} of this list`;
      },
    });
    return doubts.map((doubt) => ({ ...doubt, line, number: state.definition?.number ?? '' }));
  }

  /** A row was entered, with the doubts there were about it. */
  entered(seq: number, row: Row, doubts: readonly RowDoubt[]): void {
    this.#rows.set(seq, row);
    this.doubts.push(...doubts);
  }

  /** Once all rows are entered: what drifts, the largest effect first. The doubts about assemblies, which their parts' rows decide, come with it. */
  finish(): readonly NewDrift[] {
    const drifts: (NewDrift & { readonly marginEffectKg: number })[] = [];
    if (this.#rows.size === 0) return drifts;
    for (const { part, weighing, judgement, marginEffectKg } of allPartDrifts(this.#ledger)) {
      const line = this.#rows.get(weighing.standing.seq)?.line;
      if (line === undefined || !isFlagged(judgement.flag)) continue;
      const { number, quantity } = part.definition;
      const name = piecesText(number, weighing.pieces, quantity);
      const { differenceKg, differenceFraction, flag } = judgement;
      drifts.push({ line, partId: part.partId, name, differenceKg, differenceFraction, flag, marginEffectKg });
    }
    for (const assembly of assemblyDrifts(this.#ledger)) {
      const row = this.#rows.get(assembly.weighingSeq);
      if (row === undefined) continue;
      this.#aboutAssembly(row, assembly);
      if (!isFlagged(assembly.flag)) continue;
      const { partId, number: name, differenceKg, differenceFraction, flag, marginEffectKg } = assembly;
      drifts.push({ line: row.line, partId, name, differenceKg, differenceFraction, flag, marginEffectKg });
    }
    this.doubts.sort((a, b) => a.line - b.line);
    return drifts
      .sort((a, b) => Math.abs(b.marginEffectKg) - Math.abs(a.marginEffectKg))
      .map(({ marginEffectKg: _effect, ...drift }) => drift);
  }

  #aboutAssembly({ line, weighing }: Row, { number, expectedKg }: { number: string; expectedKg: number }): void {
    const doubts = doubtsOf({ ...weighing, pieces: [1] }, expectedKg, { quantity: 1, lastTareKg: undefined });
    this.doubts.push(...doubts.map((doubt) => ({ ...doubt, line, number })));
  }

  /** The parts whose estimate is near what was weighed and whose number is near: to look at all of them for every row takes too long. */
  #near(weighing: Weighing): readonly PresentPart[] {
    const { absoluteKg, fraction } = this.#limit;
    const netKg = pieceNetKg(weighing);
    const most = fraction < 1 ? Math.max(netKg + absoluteKg, netKg / (1 - fraction)) : Number.POSITIVE_INFINITY;
    const all = this.#expectedIn(weighing.condition);
    const own = numberKey(stateOf(this.#ledger.books, weighing.partId)?.definition?.number ?? '');
    const near: PresentPart[] = [];
    for (let at = firstFrom(all, Math.min(netKg - absoluteKg, netKg / (1 + fraction))); ; at += 1) {
      const one = all[at];
      if (one === undefined || one.expectedKg > most) return near;
      if (distance(own, one.key) > MOST_LETTERS_APART) continue;
      // As it stands by now: an earlier row may have weighed it.
      const state = stateOf(this.#ledger.books, one.partId);
      if (state !== undefined && isPresent(state)) near.push(state);
    }
  }

  /** What every part is expected to weigh in a condition, the lightest first. */
  #expectedIn(condition: Condition): readonly Expected[] {
    const known = this.#expected.get(condition);
    if (known !== undefined) return known;
    const all = presentParts(this.#ledger)
      .flatMap(({ partId, definition, estimate }) => {
        if (estimate === undefined) return [];
        const expectedKg = expectedAtScaleKg(estimate.statement, condition);
        return [{ partId, key: numberKey(definition.number), expectedKg }];
      })
      .sort((a, b) => a.expectedKg - b.expectedKg);
    this.#expected.set(condition, all);
    return all;
  }
}

/** Where those of at least this mass begin. */
function firstFrom(all: readonly Expected[], leastKg: number): number {
  let [low, high] = [0, all.length];
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    if ((all[middle]?.expectedKg ?? 0) < leastKg) low = middle + 1;
    else high = middle;
  }
  return low;
}

type Expected = { readonly partId: PartId; readonly key: string; readonly expectedKg: number };
