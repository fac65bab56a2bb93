/** Judges the reading while it is typed: the server is asked a moment after the last key. */
import { useQuery } from '@tanstack/react-query';
import { useEffect, useState } from 'react';
import { PreviewReport } from '#shared/contract/reports.ts';
import { ask } from '../door/ask.ts';

const PAUSE_MS = 120;

export function usePreview(aircraftId: string, words: Readonly<Record<string, unknown>> | undefined) {
  // The cause changes nothing of the judgement.
  const { cause: _, ...judged } = words ?? {};
  const asked = words === undefined ? '' : JSON.stringify(judged);
  const settled = useSettled(asked);
  const query = useQuery({
    queryKey: ['aircraft', aircraftId, 'preview', settled],
    queryFn: ({ signal }) =>
      ask(`/api/aircraft/${aircraftId}/weighing-preview`, {
        method: 'POST',
        body: JSON.parse(settled) as unknown,
        reply: PreviewReport,
        signal,
      }),
    enabled: settled !== '',
    gcTime: 60_000,
  });
  const isCurrent = settled === asked && settled !== '';
  return {
    /** An answer to what stands there now is still to come. */
    isWaiting: asked !== '' && !(isCurrent && (query.data !== undefined || query.isError)),
    data: isCurrent ? query.data : undefined,
    error: isCurrent && query.isError ? query.error : undefined,
    again: () => void query.refetch(),
  };
}

export type Preview = ReturnType<typeof usePreview>;

function useSettled(value: string): string {
  const [settled, setSettled] = useState(value);
  useEffect(() => {
    const timer = setTimeout(() => setSettled(value), PAUSE_MS);
    return () => clearTimeout(timer);
  }, [value]);
  return settled;
}
