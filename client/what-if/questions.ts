/** What the What-if screen asks. Everything lies under the aircraft, so that a moved ledger and a new proposal ask for it again. */
import { keepPreviousData, useMutation, useQuery } from '@tanstack/react-query';
import { useEffect, useState } from 'react';
import { BallastAnswer, KeptProposal, type SentChange, WhatIfAnswer } from '#shared/contract/proposal.ts';
import { ask } from '../door/ask.ts';
import { ledgerMoved } from '../door/queries.ts';
import { proposalsQuestion } from './proposals-question.ts';

const PAUSE_MS = 200;

/** A moment after the last key. */
export function useSettled<Value>(value: Value): Value {
  const text = JSON.stringify(value);
  const [settled, setSettled] = useState(text);
  useEffect(() => {
    const timer = setTimeout(() => setSettled(text), PAUSE_MS);
    return () => clearTimeout(timer);
  }, [text]);
  return JSON.parse(settled) as Value;
}

/** The forecast with and without the changes; of none, as it is. */
export function useTried(aircraftId: string, changes: readonly SentChange[]) {
  return useQuery({
    queryKey: ['aircraft', aircraftId, 'what-if', changes],
    queryFn: ({ signal }) =>
      ask(`/api/aircraft/${aircraftId}/what-if`, { method: 'POST', body: { changes }, reply: WhatIfAnswer, signal }),
    placeholderData: keepPreviousData,
    gcTime: 60_000,
  });
}

export function useBallast(
  aircraftId: string,
  asked: { readonly station: string; readonly changes: readonly SentChange[] },
) {
  return useQuery({
    queryKey: ['aircraft', aircraftId, 'ballast', asked],
    queryFn: ({ signal }) =>
      ask(`/api/aircraft/${aircraftId}/what-if/ballast`, { method: 'POST', body: asked, reply: BallastAnswer, signal }),
    enabled: asked.station !== '',
    gcTime: 60_000,
  });
}

export function useProposals(aircraftId: string) {
  return useQuery({
    ...proposalsQuestion(aircraftId),
    // What somebody else keeps is told over the live line; where that is broken, coming back to the page asks.
    refetchOnWindowFocus: 'always',
  });
}

/** Keeps a proposal, or states one anew. */
export function useKeep(aircraftId: string, proposalId: string | undefined, onKept: (kept: KeptProposal) => void) {
  const path = `/api/aircraft/${aircraftId}/proposals`;
  return useMutation({
    mutationFn: (body: Readonly<Record<string, unknown>>) =>
      ask(proposalId === undefined ? path : `${path}/${proposalId}/revisions`, {
        ...{ method: 'POST', body, reply: KeptProposal },
      }),
    onSuccess: onKept,
    onSettled: () => ledgerMoved(aircraftId),
  });
}
