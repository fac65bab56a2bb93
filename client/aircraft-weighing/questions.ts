/** What the screen of the aircraft's weighing asks of the server. The keys begin as every aircraft's do, so that news makes them stale. */
import { keepPreviousData, useQuery } from '@tanstack/react-query';
import { AircraftWeighingsReport, ReconcileReport, type SentPoint } from '#shared/contract/aircraft-weighing.ts';
import { ask } from '../door/ask.ts';

export function useWeighings(aircraftId: string) {
  return useQuery({
    queryKey: ['aircraft', aircraftId, 'aircraft-weighings'],
    queryFn: ({ signal }) =>
      ask(`/api/aircraft/${aircraftId}/aircraft-weighings`, { reply: AircraftWeighingsReport, signal }),
  });
}

export function useReconcile(aircraftId: string, point: SentPoint | undefined) {
  return useQuery({
    queryKey: ['aircraft', aircraftId, 'reconcile', point],
    queryFn: ({ signal }) =>
      ask(`/api/aircraft/${aircraftId}/aircraft-weighings/reconcile`, {
        method: 'POST',
        body: point,
        reply: ReconcileReport,
        signal,
      }),
    enabled: point !== undefined,
    placeholderData: keepPreviousData,
  });
}
