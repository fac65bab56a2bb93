import { keepPreviousData, type UseQueryResult, useQuery } from '@tanstack/react-query';
import { MOST_OPEN_SENT, OpenListReport, type OpenWhat } from '#shared/contract/open-list.ts';
import type { ProposalsReport } from '#shared/contract/proposal.ts';
import { costliestFirst } from '#shared/rollup/open-order.ts';
import { ask } from '../door/ask.ts';
import { proposalsQuestion } from '../what-if/proposals-question.ts';
import { type OpenThing, type OpenThingWhat, OVERDUE, overdueOf } from './overdue.ts';

export type OpenList = {
  /** How many of each; none where there is none. */
  readonly counts: readonly { readonly what: OpenThingWhat; readonly count: number }[];
  /** Costliest first. */
  readonly items: readonly OpenThing[];
};

/**
 * What the ledger has open and the proposals that are overdue; of one kind where that is asked. Where the proposals do not come, the rest
 * is the list, and `missing` says so.
 */
export function useOpenList(aircraftId: string, what: OpenThingWhat | undefined) {
  const ofLedger = useOfLedger(aircraftId, what === OVERDUE ? undefined : what);
  const proposals = useQuery(proposalsQuestion(aircraftId));
  const overdue = overdueIn(proposals);
  const again = () => {
    if (ofLedger.isError) void ofLedger.refetch();
    void proposals.refetch();
  };
  return {
    data: ofLedger.data === undefined || overdue === undefined ? undefined : together(ofLedger.data, overdue, what),
    error: ofLedger.error,
    isLoadingError: ofLedger.isLoadingError,
    missing: proposals.isLoadingError ? proposals.error : undefined,
    again,
  };
}

/** None where they could not be asked for; undefined while they are. */
function overdueIn(proposals: Pick<UseQueryResult<ProposalsReport>, 'data' | 'isLoadingError'>) {
  if (proposals.data !== undefined) return overdueOf(proposals.data);
  return proposals.isLoadingError ? [] : undefined;
}

function useOfLedger(aircraftId: string, what: OpenWhat | undefined) {
  const asked = what === undefined ? '' : `?${new URLSearchParams({ what })}`;
  return useQuery({
    queryKey: ['aircraft', aircraftId, 'open', what],
    queryFn: ({ signal }) => ask(`/api/aircraft/${aircraftId}/open${asked}`, { reply: OpenListReport, signal }),
    placeholderData: keepPreviousData,
  });
}

function together(
  { counts, items }: OpenListReport,
  overdue: readonly OpenThing[],
  what: OpenThingWhat | undefined,
): OpenList {
  const all = overdue.length === 0 ? counts : [...counts, { what: OVERDUE, count: overdue.length } as const];
  if (what === OVERDUE) return { counts: all, items: overdue.toSorted(costliestFirst) };
  if (what !== undefined) return { counts: all, items };
  return { counts: all, items: [...items, ...overdue].sort(costliestFirst).slice(0, MOST_OPEN_SENT) };
}

/** How much of each kind the ledger has open; undefined until that is known. */
function useLedgerCounts(aircraftId: string | undefined, { isAsked }: { readonly isAsked: boolean }) {
  return useQuery({
    queryKey: ['aircraft', aircraftId, 'open count'],
    queryFn: ({ signal }) => ask(`/api/aircraft/${aircraftId}/open?limit=0`, { reply: OpenListReport, signal }),
    enabled: isAsked,
    placeholderData: keepPreviousData,
  }).data;
}

/** How much is open, for the bar above every screen; undefined until that is known. */
export function useOpenCount(aircraftId: string | undefined): number | undefined {
  const ofLedger = useLedgerCounts(aircraftId, { isAsked: aircraftId !== undefined });
  const proposals = useQuery({ ...proposalsQuestion(aircraftId ?? ''), enabled: aircraftId !== undefined });
  const overdue = overdueIn(proposals);
  return ofLedger === undefined || overdue === undefined ? undefined : countOf(ofLedger) + overdue.length;
}

const NO_COUNTS: OpenListReport['counts'] = [];

/** How much of each kind is open beside what the headline of a ledger says; none until that is known. */
export function useOpenCounts(aircraftId: string, asked: { readonly isAsked: boolean }): OpenListReport['counts'] {
  const counts = useLedgerCounts(aircraftId, asked)?.counts;
  return asked.isAsked && counts !== undefined ? counts : NO_COUNTS;
}

const NONE: readonly string[] = [];

/** The titles of the proposals that are overdue; none until that is known. */
export function useOverdueTitles(aircraftId: string, { isAsked }: { readonly isAsked: boolean }): readonly string[] {
  const { data } = useQuery({ ...proposalsQuestion(aircraftId), enabled: isAsked });
  return !isAsked || data === undefined ? NONE : overdueOf(data).map(({ subject }) => subject);
}

export function countOf({ counts }: Pick<OpenList, 'counts'>): number {
  return counts.reduce((sum, { count }) => sum + count, 0);
}
