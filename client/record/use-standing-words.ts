/**
 * What is stated anew begins as it stands: an estimate that is revised keeps its station unless somebody changes it, targets keep their
 * range. Whatever was typed already stays.
 */
import { useEffect, useRef } from 'react';
import { scaleKey } from '#shared/weighing/scales.ts';
import { useParts, useScales } from '../door/queries.ts';
import type { Draft } from './draft.ts';
import type { Form } from './field-spec.ts';
import type { Kind } from './kinds.ts';
import { partNamed } from './part-field.tsx';
import { statedNow } from './standing.ts';
import { wordsOf } from './words-of.ts';

export function useStandingWords(aircraftId: string, kind: Kind, draft: Draft): void {
  const { form, fill } = draft;
  const parts = useParts(aircraftId).data?.parts;
  const scales = useScales(aircraftId).data;
  const last = useRef<{ readonly of: string | undefined; readonly words: Form }>({ of: undefined, words: {} });
  const of =
    kind === 'estimate'
      ? partNamed(parts ?? [], form['part'] ?? '')?.number
      : kind === 'scale'
        ? scales?.find(({ scale }) => scaleKey(scale) === scaleKey(form['scale'] ?? ''))?.scale
        : kind === 'targets'
          ? 'the aircraft'
          : undefined;
  useEffect(() => {
    if (of === undefined || last.current.of === of) return;
    last.current = { ...last.current, of };
    void standingWords(aircraftId, kind, of).then((words) => {
      if (last.current.of !== of) return;
      fill(words, last.current.words);
      last.current = { of, words };
    });
  }, [aircraftId, kind, of, fill]);
}

async function standingWords(aircraftId: string, kind: Kind, of: string): Promise<Form> {
  const is = kind === 'estimate' ? { part: of } : kind === 'scale' ? { scale: of } : {};
  // Without an answer the form begins empty, as it would for something new.
  const statement = await statedNow(aircraftId, kind, is).catch(() => undefined);
  if (statement === undefined) return {};
  // The reason of the last revision is none for this one, and a new certificate has its own days and figures.
  const { reason: _, scale: __, ...words } = wordsOf(statement, '', new Map());
  if (kind !== 'scale') return words;
  return Object.fromEntries(Object.entries(words).filter(([name]) => name === 'capacity' || name === 'resolution'));
}
