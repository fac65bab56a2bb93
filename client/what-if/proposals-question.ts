/** What is asked about proposals, in a file of its own: the bar above every screen asks it too, without the rest of the What-if screen. */
import { queryOptions } from '@tanstack/react-query';
import { ProposalsReport } from '#shared/contract/proposal.ts';
import { ask } from '../door/ask.ts';

export function proposalsQuestion(aircraftId: string) {
  return queryOptions({
    queryKey: ['aircraft', aircraftId, 'proposals'],
    queryFn: ({ signal }) => ask(`/api/aircraft/${aircraftId}/proposals`, { reply: ProposalsReport, signal }),
  });
}
