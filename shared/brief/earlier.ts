/** What a brief keeps of the earlier moment that it is told from (rule B1). Read off once, so that the ledger of then need not be held. */
import type { BriefEnd } from '#shared/contract/brief.ts';
import { hasChanged } from '#shared/drift/has-changed.ts';
import { allPartDrifts, isFlagged } from '#shared/drift/part-drift.ts';
import { processDrifts } from '#shared/drift/process-drift.ts';
import { forecastReport } from '#shared/forecast/report.ts';
import type { PartId, Process } from '#shared/ledger/entry.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import { type Stand, standOf } from '#shared/rollup/bridge-rows.ts';
import { headlineOf } from '#shared/rollup/headline.ts';

export type Earlier = {
  readonly end: Omit<BriefEnd, 'hash' | 'recordedAt'>;
  readonly stand: Stand;
  readonly drifting: ReadonlySet<PartId>;
  readonly called: ReadonlySet<Process>;
};

/** Of the ledger as known at the earlier entry; an empty one is the beginning. */
export function earlierOf(ledger: Ledger): Earlier {
  return {
    end: endOf(ledger),
    stand: standOf(ledger),
    drifting: new Set(
      allPartDrifts(ledger).flatMap(({ part, judgement }) => (isFlagged(judgement.flag) ? [part.partId] : [])),
    ),
    called: new Set(
      processDrifts(ledger)
        .filter(hasChanged)
        .map(({ process }) => process),
    ),
  };
}

export function endOf(ledger: Ledger): Earlier['end'] {
  const { predictedKg, cg, targets, weighedShare } = headlineOf(ledger);
  return {
    seq: ledger.entries.length,
    lastDay: lastDayOf(ledger),
    predictedKg,
    forecastKg: forecastReport(ledger).forecastKg,
    cgXM: cg.xM,
    marginKg: targets?.marginKg,
    weighedShare,
  };
}

function lastDayOf({ entries }: Ledger): string | undefined {
  let last: string | undefined;
  for (const { entry } of entries) if (last === undefined || entry.happenedOn > last) last = entry.happenedOn;
  return last;
}
