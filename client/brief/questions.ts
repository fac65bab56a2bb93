/** What is asked about briefs, and what is said of them. */
import { useMutation, useQuery } from '@tanstack/react-query';
import type { z } from 'zod';
import { Brief, BriefListReport, KeptBrief, type SentBrief, type SentBriefStatement } from '#shared/contract/brief.ts';
import { ask } from '../door/ask.ts';
import { queries } from '../door/queries.ts';

const briefsKey = (aircraftId: string) => ['aircraft', aircraftId, 'briefs'] as const;

export function useBriefs(aircraftId: string) {
  return useQuery({
    queryKey: briefsKey(aircraftId),
    queryFn: ({ signal }) => ask(`/api/aircraft/${aircraftId}/briefs`, { reply: BriefListReport, signal }),
  });
}

export function useBrief(aircraftId: string, briefId: string) {
  return useQuery({
    queryKey: [...briefsKey(aircraftId), briefId],
    queryFn: ({ signal }) => ask(briefPath(aircraftId, briefId), { reply: Brief, signal }),
  });
}

export function briefPath(aircraftId: string, briefId: string): string {
  return `/api/aircraft/${aircraftId}/briefs/${briefId}`;
}

export function useMakeBrief(aircraftId: string, onMade: (briefId: string) => void) {
  return useMutation({
    mutationFn: (body: SentBrief) =>
      ask(`/api/aircraft/${aircraftId}/briefs`, { method: 'POST', body, reply: KeptBrief }),
    onSuccess: ({ briefId }) => {
      void queries.invalidateQueries({ queryKey: briefsKey(aircraftId) });
      onMade(briefId);
    },
  });
}

/** One statement after the other; what is refused ends them. */
export function useStateBrief(aircraftId: string, briefId: string) {
  return useMutation({
    mutationFn: async (statements: readonly z.input<typeof SentBriefStatement>[]) => {
      for (const body of statements)
        await ask(`${briefPath(aircraftId, briefId)}/statements`, { method: 'POST', body, reply: KeptBrief });
    },
    onSettled: () => queries.invalidateQueries({ queryKey: briefsKey(aircraftId) }),
  });
}
