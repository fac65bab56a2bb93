/**
 * What is stated anew begins as it stands: an estimate that is revised keeps its station unless somebody changes it, targets keep their
 * range. Whatever was typed already stays.
 */

import { useEffect, useRef, useState } from 'react';
import { LedgerReport, PartsReport } from '#shared/contract/aircraft.ts';
import { PartPageReport } from '#shared/contract/part.ts';
import { estimateInWords, type StandingEstimate } from '#shared/estimate/in-words.ts';
import { scaleKey } from '#shared/weighing/scales.ts';
import { say } from '#shared/words/say.ts';
import { statementInWords } from '#shared/words/statement-in-words.ts';
import { ask } from '../door/ask.ts';
import { useParts, useScales } from '../door/queries.ts';
import { partNamed } from '../pieces/find-parts.ts';
import type { Draft } from './draft.ts';
import type { Form } from './field-spec.ts';
import type { Kind } from './kinds.ts';
import { statedNow } from './standing.ts';

/** Answers the estimate that the words are of, where there is one. */
export function useStandingWords(aircraftId: string, kind: Kind, draft: Draft): StandingEstimate | undefined {
  const [estimate, setEstimate] = useState<StandingEstimate>();
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
          ? say`the aircraft`
          : undefined;
  useEffect(() => {
    if (of === undefined || last.current.of === of) return;
    last.current = { ...last.current, of };
    void standing(aircraftId, kind, of).then(({ words, estimate }) => {
      if (last.current.of !== of) return;
      setEstimate(estimate);
      fill(words, last.current.words);
      last.current = { of, words };
    });
  }, [aircraftId, kind, of, fill]);
  return estimate;
}

type StandingWords = { readonly words: Form; readonly estimate?: StandingEstimate | undefined };

async function standing(aircraftId: string, kind: Kind, of: string): Promise<StandingWords> {
  if (kind !== 'estimate') return { words: await standingWords(aircraftId, kind, of) };
  const estimate = await estimateNow(aircraftId, of);
  return { words: estimate === undefined ? {} : { ...estimateInWords(estimate) }, estimate };
}

async function standingWords(aircraftId: string, kind: Kind, of: string): Promise<Form> {
  const is = kind === 'scale' ? { scale: of } : {};
  // Without an answer the form begins empty, as it would for something new.
  const statement = await statedNow(aircraftId, kind, is).catch(() => undefined);
  if (statement === undefined) return {};
  // The reason of the last revision is none for this one, and a new certificate has its own days and figures.
  const { reason: _, scale: __, ...words } = statementInWords(statement, '', new Map());
  if (kind === 'targets') return { ...words, ...(await rangeNow(aircraftId, words)) };
  if (kind !== 'scale') return words;
  return Object.fromEntries(Object.entries(words).filter(([name]) => name === 'capacity' || name === 'resolution'));
}

/** As the part's page tells it: from the present datum, also where the datum was moved after the estimate was made. */
async function estimateNow(aircraftId: string, number: string): Promise<StandingEstimate | undefined> {
  const { parts } = await ask(`/api/aircraft/${aircraftId}/parts`, { reply: PartsReport });
  const part = parts.find((one) => one.number === number);
  if (part === undefined) return undefined;
  const page = await ask(`/api/aircraft/${aircraftId}/parts/${part.partId}`, { reply: PartPageReport });
  // The latest one is told first.
  return page.estimates[0];
}

/** The ends of the CG range from the present datum; those in per cent MAC are what they were, wherever the datum is. */
async function rangeNow(aircraftId: string, words: Form): Promise<Form> {
  const { headline } = await ask(`/api/aircraft/${aircraftId}`, { reply: LedgerReport });
  const ends = { 'cg forward': headline.targets?.cgForwardM, 'cg aft': headline.targets?.cgAftM };
  return Object.fromEntries(
    Object.entries(ends).flatMap(([field, endM]) =>
      endM === undefined || words[field] === undefined || words[field].includes('%') ? [] : [[field, `${endM} m`]],
    ),
  );
}
