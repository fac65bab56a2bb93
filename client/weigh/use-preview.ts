/** Judges the reading while it is typed: the server is asked a moment after the last key. */
import { useQuery } from '@tanstack/react-query';
import { useEffect, useState } from 'react';
import { PreviewReport } from '#shared/contract/reports.ts';
import { ask } from '../door/ask.ts';
import { retryAsUsual } from '../door/queries.ts';
import { usePerson } from '../frame/signed-in.ts';
import { isUnanswered } from '../offline/kept-answers.ts';

const PAUSE_MS = 120;

export function usePreview(aircraftId: string, words: Readonly<Record<string, unknown>> | undefined) {
  // The cause changes nothing of the judgement.
  const { cause: _, ...judged } = words ?? {};
  const asked = words === undefined ? '' : JSON.stringify(judged);
  const settled = useSettled(asked);
  const { initials } = usePerson();
  const query = useQuery({
    queryKey: ['aircraft', aircraftId, 'preview', settled],
    queryFn: ({ signal }) => judge(aircraftId, JSON.parse(settled), { by: initials, signal }),
    // It is asked again with the next key, and on the way back of the line; nobody at the scale waits for that.
    retry: (count, error) => !isUnanswered(error) && retryAsUsual(count, error),
    enabled: settled !== '',
    gcTime: 60_000,
  });
  const isCurrent = settled === asked && settled !== '';
  return {
    /** An answer to what stands there now is still to come. */
    isWaiting: asked !== '' && !(isCurrent && (query.data !== undefined || query.isError)),
    data: isCurrent ? query.data?.report : undefined,
    /** By which copy of the ledger this device has judged; undefined where the server has. */
    judgedHere: isCurrent ? query.data?.here : undefined,
    error: isCurrent && query.isError ? query.error : undefined,
    /** The server cannot be asked: the reading can be saved all the same, and waits on this device. */
    isUnjudged: isCurrent && query.isError && isUnanswered(query.error),
    again: () => void query.refetch(),
  };
}

export type Preview = ReturnType<typeof usePreview>;

type Judged = {
  readonly report: PreviewReport;
  readonly here: { readonly seq: number; readonly at: string } | undefined;
};

/** So long the person at the scale waits for the server's judgement, then this device gives its own. */
const PATIENCE_MS = 5000;

async function judge(
  aircraftId: string,
  words: Readonly<Record<string, unknown>>,
  { by, signal }: { readonly by: string; readonly signal: AbortSignal },
): Promise<Judged> {
  try {
    const report = await ask(`/api/aircraft/${aircraftId}/weighing-preview`, {
      method: 'POST',
      body: words,
      reply: PreviewReport,
      signal: AbortSignal.any([signal, AbortSignal.timeout(PATIENCE_MS)]),
    });
    return { report, here: undefined };
  } catch (error) {
    if (!isUnanswered(error)) throw error;
    const { judgeHere } = await import('../offline/judge-here.ts');
    const judged = await judgeHere(aircraftId, words, by);
    if (judged === undefined) throw error;
    return { report: judged.report, here: judged };
  }
}

function useSettled(value: string): string {
  const [settled, setSettled] = useState(value);
  useEffect(() => {
    const timer = setTimeout(() => setSettled(value), PAUSE_MS);
    return () => clearTimeout(timer);
  }, [value]);
  return settled;
}
