/** Sends one entry and places what is refused: at its field where that field is on the screen, else in words below the form. */

import { useMutation } from '@tanstack/react-query';
import { useState } from 'react';
import { type AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import { say } from '#shared/words/say.ts';
import { ask, ProblemError, wordsOf } from '../door/ask.ts';
import { ledgerMoved } from '../door/queries.ts';

export type Recording = {
  readonly send: (body: Readonly<Record<string, unknown>>) => void;
  readonly isSending: boolean;
  /** The refusal at a JSON Pointer. */
  readonly problemAt: (pointer: string) => string | undefined;
  /** What is to be said below the form, where `shown` are the pointers of its fields. */
  readonly refusal: (shown: readonly string[]) => string | undefined;
  /** These fields were changed since: what was put right is no longer told as wrong. */
  readonly touch: (names: readonly string[]) => void;
  readonly reset: () => void;
};

export function useRecord(aircraft: AircraftReport, onRecorded: (recorded: RecordedReport) => void): Recording {
  const record = useMutation({
    mutationFn: (body: Readonly<Record<string, unknown>>) =>
      ask(`/api/aircraft/${aircraft.id}/entries`, { method: 'POST', body, reply: RecordedReport }),
    onSuccess: (recorded) => {
      ledgerMoved(aircraft.id);
      onRecorded(recorded);
    },
  });
  const { error } = record;
  const [touched, setTouched] = useState<ReadonlySet<string>>(new Set());
  const isTouched = (pointer: string) => touched.has(pointer.slice(pointer.lastIndexOf('/') + 1));
  const problems = error instanceof ProblemError ? (error.report.problems ?? []) : [];
  const isPutRight = problems.length > 0 && problems.every(({ pointer }) => isTouched(pointer));
  return {
    send: (body) => {
      setTouched(new Set());
      record.mutate(body);
    },
    isSending: record.isPending,
    problemAt: (pointer) => (error instanceof ProblemError && !isTouched(pointer) ? error.of(pointer) : undefined),
    refusal: (shown) => {
      if (error === null || isPutRight) return undefined;
      const elsewhere = problems.filter(({ pointer }) => !shown.includes(pointer));
      if (problems.length > 0 && elsewhere.length === 0)
        return say`Not recorded: what to change stands beside its field above.`;
      return elsewhere.length > 0
        ? elsewhere.map(({ words, remedy }) => `${words} ${remedy}`).join(' ')
        : say`Not recorded. ${wordsOf(error)}`;
    },
    touch: (names) => setTouched((before) => new Set([...before, ...names])),
    reset: record.reset,
  };
}
