/** Looks at the list again whenever it has changed, a moment after the last change. Nothing is recorded by that. */
import { useEffect, useState } from 'react';
import { ImportPreview, type SentList } from '#shared/contract/import.ts';
import type { ImportKind } from '#shared/table/lists.ts';
import { ask } from '../door/ask.ts';

export type Sent = { readonly kind: ImportKind; readonly list: SentList; readonly revise: boolean };

export type Look = {
  /** Of the list as it was last looked at, which stays on screen while it is looked at again. */
  readonly preview: ImportPreview | undefined;
  readonly error: unknown;
  /** The preview is that of the list as it is now. */
  readonly isCurrent: boolean;
  readonly again: () => void;
};

const PAUSE_MS = 350;

export function useLook(aircraftId: string, sent: Sent | undefined): Look {
  const [last, setLast] = useState<{ of: Sent; preview: ImportPreview | undefined; error: unknown }>();
  const [tries, setTries] = useState(0);
  // biome-ignore lint/correctness/useExhaustiveDependencies: another try is a reason of its own to ask
  useEffect(() => {
    if (sent === undefined) return;
    const stop = new AbortController();
    const look = async () => {
      try {
        const preview = await ask(`/api/aircraft/${aircraftId}/import-preview`, {
          method: 'POST',
          body: bodyOf(sent),
          reply: ImportPreview,
          signal: stop.signal,
        });
        setLast({ of: sent, preview, error: undefined });
      } catch (error) {
        if (!stop.signal.aborted) setLast((before) => ({ of: sent, preview: before?.preview, error }));
      }
    };
    const timer = setTimeout(() => void look(), PAUSE_MS);
    return () => {
      clearTimeout(timer);
      stop.abort();
    };
  }, [aircraftId, sent, tries]);
  return {
    preview: last?.preview,
    error: last?.error,
    isCurrent: sent !== undefined && last?.of === sent,
    again: () => setTries((before) => before + 1),
  };
}

export function bodyOf({ kind, list, revise }: Sent) {
  return { lists: { [kind]: list }, revise };
}
