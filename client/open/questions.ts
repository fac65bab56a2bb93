/** What the open list asks of the server. The keys begin as every aircraft's do, so that a new entry makes them stale. */
import { keepPreviousData, useQuery } from '@tanstack/react-query';
import { OpenListReport, type OpenWhat } from '#shared/contract/open-list.ts';
import { ask } from '../door/ask.ts';

export function useOpenList(aircraftId: string, what: OpenWhat | undefined) {
  const asked = what === undefined ? '' : `?${new URLSearchParams({ what })}`;
  return useQuery({
    queryKey: ['aircraft', aircraftId, 'open', what],
    queryFn: ({ signal }) => ask(`/api/aircraft/${aircraftId}/open${asked}`, { reply: OpenListReport, signal }),
    placeholderData: keepPreviousData,
  });
}

/** How much is open, for the bar above every screen; undefined until that is known. */
export function useOpenCount(aircraftId: string | undefined): number | undefined {
  const { data } = useQuery({
    queryKey: ['aircraft', aircraftId, 'open count'],
    queryFn: ({ signal }) => ask(`/api/aircraft/${aircraftId}/open?limit=0`, { reply: OpenListReport, signal }),
    enabled: aircraftId !== undefined,
    placeholderData: keepPreviousData,
  });
  return data === undefined ? undefined : countOf(data);
}

export function countOf({ counts }: Pick<OpenListReport, 'counts'>): number {
  return counts.reduce((sum, { count }) => sum + count, 0);
}
