/** What drifts, with its cause and who is to deal with it, as a brief keeps it (rules B1, D1-D5). */
import type { BriefContent, BriefOwner, BriefPart, BriefProcess } from '#shared/contract/brief.ts';
import { MOST_BRIEF_ROWS } from '#shared/contract/brief.ts';
import type { ProposalRevision } from '#shared/contract/proposal.ts';
import { hasChanged, isCalledOnce } from '#shared/drift/has-changed.ts';
import { assemblyDrifts, cgDrift, manySmall } from '#shared/drift/larger-drift.ts';
import { isFlagged } from '#shared/drift/part-drift.ts';
import { processDrifts } from '#shared/drift/process-drift.ts';
import { driftReport } from '#shared/drift/report.ts';
import { forecastReport } from '#shared/forecast/report.ts';
import type { PartId } from '#shared/ledger/entry.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import { numberKey } from '#shared/part/from-words.ts';
import type { Earlier } from './earlier.ts';

/** `live`: the latest statements of proposals that are open or agreed. */
export function briefDrift(
  ledger: Ledger,
  { drifting, called }: Earlier,
  live: readonly ProposalRevision[],
): BriefContent['drift'] {
  return {
    parts: listed(partRows(ledger, drifting, ownersByPart(live))),
    processes: [...processRows(ledger, called)],
    calledOnce: processDrifts(ledger)
      .filter(isCalledOnce)
      .map(({ process }) => process),
    assemblies: listed(assemblyDrifts(ledger).filter(({ flag }) => isFlagged(flag))),
    manySmall: listed(manySmall(ledger)),
    cg: cgDrift(ledger),
  };
}

export function listed<Row>(rows: readonly Row[]): { count: number; rows: Row[] } {
  return { count: rows.length, rows: rows.slice(0, MOST_BRIEF_ROWS) };
}

function ownersByPart(live: readonly ProposalRevision[]): ReadonlyMap<PartId, string> {
  const owners = new Map<PartId, string>();
  for (const { content } of live)
    for (const { change } of content.changes)
      if (change.act !== 'add part' && !owners.has(change.partId)) owners.set(change.partId, content.owner);
  return owners;
}

function partRows(
  ledger: Ledger,
  drifting: Earlier['drifting'],
  owners: ReadonlyMap<PartId, string>,
): readonly BriefPart[] {
  return driftReport(ledger)
    .filter(({ flag }) => isFlagged(flag))
    .map((row) => {
      const partId = ledger.books.byNumber.get(numberKey(row.number));
      const causeBy = row.cause === undefined ? undefined : ledger.entries[row.weighingSeq - 1]?.entry.by;
      const weighing = ledger.entries[row.weighingSeq - 1]?.entry;
      const proposer = partId === undefined ? undefined : owners.get(partId);
      return {
        ...row,
        causeBy,
        note: weighing?.kind === 'correction' ? undefined : weighing?.remark,
        inspection: row.inspection,
        owner: ownerOf({ proposal: proposer, decision: row.decidedBy, cause: causeBy }),
        isNew: partId === undefined || !drifting.has(partId),
      };
    });
}

/** Who does something about it comes before who decided on it, and that one before who said why. */
function ownerOf(named: Readonly<Record<BriefOwner['as'], string | undefined>>): BriefOwner | undefined {
  for (const as of ['proposal', 'decision', 'cause'] as const) {
    const name = named[as];
    if (name !== undefined && name !== '') return { name, as };
  }
  return undefined;
}

function processRows(ledger: Ledger, called: Earlier['called']): readonly BriefProcess[] {
  const forecasts = new Map(forecastReport(ledger).processes.map((row) => [row.process, row]));
  return processDrifts(ledger).flatMap((report): BriefProcess[] => {
    const { process, signal, cause } = report;
    if (signal === undefined || !hasChanged(report)) return [];
    const forecast = forecasts.get(process);
    return [
      {
        process,
        signal,
        cause,
        owner: cause === undefined ? undefined : { name: cause.by, as: 'cause' },
        isNew: !called.has(process),
        shiftFraction: forecast?.shiftFraction,
        shiftStdFraction: forecast?.shiftStdFraction,
        openPieces: forecast?.openPieces ?? 0,
        effectKg: forecast?.effectKg ?? 0,
        effectStdKg: forecast?.effectStdKg ?? 0,
      },
    ];
  });
}
