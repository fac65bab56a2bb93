/**
 * Records chosen offers one after another, each an estimate of its own. It stops at the first that is not taken, and knows what has been
 * recorded and what was not sent.
 */

import { useRef, useState } from 'react';
import { type AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import type { LearnedOffer } from '#shared/contract/layup.ts';
import { say } from '#shared/words/say.ts';
import { ask, newId, wordsOf } from '../door/ask.ts';
import { ledgerMoved } from '../door/queries.ts';

export type Recorded = { readonly number: string; readonly seq: number };
export type Outcome = {
  readonly recorded: readonly Recorded[];
  /** The one that was not taken, and why. */
  readonly refused?: { readonly number: string; readonly words: string };
  readonly notSent: readonly string[];
};

/** Beside the figures, so that whoever reads the ledger knows where they come from. */
const REMARK = say`Fibre fraction as parts of this process and fabric were weighed.`;

export function useOffers(aircraft: AircraftReport) {
  const [progress, setProgress] = useState<{ readonly done: number; readonly of: number }>();
  const [outcome, setOutcome] = useState<Outcome>();
  // Sent again after a lost answer, it is known for the same (rule L3).
  const ids = useRef(new Map<string, string>());
  const idOf = (what: string) => {
    const id = ids.current.get(what) ?? newId();
    ids.current.set(what, id);
    return id;
  };
  const record = async (offers: readonly LearnedOffer[]) => {
    setOutcome(undefined);
    const recorded: Recorded[] = [];
    let refused: Outcome['refused'];
    for (const { number, words } of offers) {
      setProgress({ done: recorded.length, of: offers.length });
      const entry = { ...words, remark: REMARK };
      try {
        const body = { id: idOf(JSON.stringify(entry)), ...entry };
        const path = `/api/aircraft/${aircraft.id}/entries`;
        const { entry: made } = await ask(path, { method: 'POST', body, reply: RecordedReport });
        recorded.push({ number, seq: made.seq });
      } catch (error) {
        refused = { number, words: wordsOf(error) };
        break;
      }
    }
    const notSent = offers.slice(recorded.length + (refused === undefined ? 0 : 1)).map(({ number }) => number);
    setProgress(undefined);
    setOutcome({ recorded, notSent, ...(refused === undefined ? {} : { refused }) });
    ledgerMoved(aircraft.id);
  };
  return { progress, outcome, record };
}
