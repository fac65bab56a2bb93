/** What the set-up screen asks of the server. The keys begin as every aircraft's do, so that a new entry makes them stale. */
import { useQuery } from '@tanstack/react-query';
import { BreakdownListReport } from '#shared/contract/aircraft.ts';
import { SetUpReport } from '#shared/contract/set-up.ts';
import { ask } from '../door/ask.ts';

export function useSetUp(aircraftId: string) {
  return useQuery({
    queryKey: ['aircraft', aircraftId, 'set-up'],
    queryFn: ({ signal }) => ask(`/api/aircraft/${aircraftId}/set-up`, { reply: SetUpReport, signal }),
  });
}

export function useGroupRows(aircraftId: string) {
  return useQuery({
    queryKey: ['aircraft', aircraftId, 'breakdown', 'group'],
    queryFn: async ({ signal }) =>
      (await ask(`/api/aircraft/${aircraftId}/breakdown/group`, { reply: BreakdownListReport, signal })).rows,
  });
}
