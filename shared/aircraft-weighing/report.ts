/** The signed weighings of an aircraft as plain data (rules A1-A5). */

import type { SignedWeighingReport } from '#shared/contract/aircraft-weighing.ts';
import type { Member, PartId, StatementOf } from '#shared/ledger/entry.ts';
import { inForce, type Ledger, statedBy } from '#shared/ledger/fold.ts';
import { byWhatHappened, latestSeq } from '#shared/ledger/part-state.ts';
import { say } from '#shared/words/say.ts';
import { reconcileIn } from './reconcile.ts';

/** Newest first by the day they happened. */
export function signedWeighings(ledger: Ledger): readonly SignedWeighingReport[] {
  const standings = [...ledger.whole['aircraft weighing'].values()].sort(byWhatHappened).reverse();
  return standings.map((standing) => {
    const { statement, seq, frameNm } = standing;
    const recorded = ledger.entries[latestSeq(standing) - 1];
    return {
      seq,
      latestSeq: latestSeq(standing),
      id: ledger.entries[seq - 1]?.entry.id ?? '',
      ...{ happenedOn: standing.happenedOn, by: statedBy(ledger, standing).by },
      recordedAt: recorded?.recordedAt ?? '',
      statement: bare(statement),
      datumHasMoved: frameNm !== ledger.datumNm,
      datum: datumAt(ledger, seq),
      reconcile: reconcileIn(ledger, standing),
      notAboard: partsInWords(ledger, statement.missing),
    };
  });
}

/** Without the stamp of its entry: a standing keeps the whole entry where nothing corrected it. */
function bare(statement: StatementOf<'aircraft weighing'>): StatementOf<'aircraft weighing'> {
  const { kind, massKg, massStdKg, xM, xStdM, yM, yStdM, zM, zStdM } = statement;
  const { missing, weighed, oilIsEmptyWeight, signedBy, signedOn, signedAs } = statement;
  return {
    ...{ kind, massKg, massStdKg, xM, xStdM, missing, weighed, oilIsEmptyWeight, signedBy, signedOn },
    ...(yM === undefined ? {} : { yM, yStdM }),
    ...(zM === undefined ? {} : { zM, zStdM }),
    ...(signedAs === undefined ? {} : { signedAs }),
  };
}

/** The datum in words as it was before an entry. */
function datumAt(ledger: Ledger, seq: number): string {
  const moves = [...ledger.whole['datum moved'].values()].filter((move) => move.seq < seq);
  const last = moves.sort((a, b) => a.seq - b.seq).at(-1);
  return last?.statement.datum ?? inForce(ledger, 'aircraft')?.datum ?? '';
}

/** `RIB-3; TIP-1 piece 2`, as it is typed. */
export function partsInWords(ledger: Ledger, members: readonly Member[]): string {
  const numberOf = (partId: PartId) => ledger.books.byPart.get(partId)?.state.definition?.number ?? partId;
  return members
    .map(({ partId, pieces }) =>
      pieces === undefined ? numberOf(partId) : say`${numberOf(partId)} piece ${pieces.join(', ')}`,
    )
    .join('; ');
}
