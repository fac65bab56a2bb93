/** Sends one entry and places what is refused: at its field where that field is on the screen, else in words below the form. */
import { useMutation } from '@tanstack/react-query';
import { type AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import { ask, ProblemError, wordsOf } from '../door/ask.ts';
import { ledgerMoved } from '../door/queries.ts';

export type Recording = {
  readonly send: (body: Readonly<Record<string, unknown>>) => void;
  readonly isSending: boolean;
  /** The refusal at a JSON Pointer. */
  readonly problemAt: (pointer: string) => string | undefined;
  /** What is to be said below the form, where `shown` are the pointers of its fields. */
  readonly refusal: (shown: readonly string[]) => string | undefined;
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
  return {
    send: record.mutate,
    isSending: record.isPending,
    problemAt: (pointer) => (error instanceof ProblemError ? error.of(pointer) : undefined),
    refusal: (shown) => {
      if (error === null) return undefined;
      const problems = error instanceof ProblemError ? (error.report.problems ?? []) : [];
      const elsewhere = problems.filter(({ pointer }) => !shown.includes(pointer));
      if (problems.length > 0 && elsewhere.length === 0)
        return 'Not recorded: what to change stands beside its field above.';
      return elsewhere.length > 0
        ? elsewhere.map(({ words, remedy }) => `${words} ${remedy}`).join(' ')
        : `Not recorded. ${wordsOf(error)}`;
    },
    reset: record.reset,
  };
}
