/**
 * The words of one entry while it is typed, and the sending of it. The words outlive the form, so that a look at another section loses
 * nothing; they have one id while they say one thing, so that what is sent again after a lost answer is known for the same (rule L3).
 */
import { useMutation } from '@tanstack/react-query';
import { useState } from 'react';
import { type AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import { ask, newId, ProblemError, wordsOf } from '../door/ask.ts';
import { ledgerMoved } from '../door/queries.ts';

export type Words = Readonly<Record<string, string>>;
type Body = Readonly<Record<string, unknown>>;

const drafts = new Map<string, { readonly id: string; readonly words: Words }>();

export type EntryForm = {
  readonly words: Words;
  readonly word: (field: string) => string;
  readonly set: (field: string) => (value: string) => void;
  /** The field is no longer asked for. */
  readonly drop: (field: string) => void;
  readonly send: (body: Body) => void;
  readonly isSending: boolean;
  /** The refusal of the field at a JSON Pointer. */
  readonly problemAt: (pointer: string) => string | undefined;
  /** What is to be said below the form, where the refusals at these pointers stand beside their fields. */
  readonly refusal: (placed: readonly string[]) => string | undefined;
  readonly forget: () => void;
};

/** `name` tells the form from others of the same aircraft. */
export function useEntryForm(
  aircraft: AircraftReport,
  name: string,
  initial: () => Words,
  onRecorded: (recorded: RecordedReport) => void,
): EntryForm {
  const key = `${aircraft.id} ${name}`;
  const [draft, setDraft] = useState(() => drafts.get(key) ?? { id: newId(), words: initial() });
  const record = useMutation({
    mutationFn: (body: Body) =>
      ask(`/api/aircraft/${aircraft.id}/entries`, {
        method: 'POST',
        body: { id: draft.id, ...body },
        reply: RecordedReport,
      }),
    onSuccess: (recorded) => {
      drafts.delete(key);
      ledgerMoved(aircraft.id);
      onRecorded(recorded);
    },
  });
  const { error } = record;
  // What was put right since the refusal is no longer told as wrong; the rest of it stays.
  const [touched, setTouched] = useState<ReadonlySet<string>>(new Set());
  const isTouched = (pointer: string) => touched.has(pointer.slice(pointer.lastIndexOf('/') + 1));
  const touch = (field: string) => setTouched((before) => new Set([...before, field]));
  const isPutRight =
    error instanceof ProblemError &&
    (error.report.problems ?? []).length > 0 &&
    (error.report.problems ?? []).every(({ pointer }) => isTouched(pointer));
  const change = (next: (words: Words) => Words) =>
    setDraft(({ words }) => {
      const changed = { id: newId(), words: next(words) };
      drafts.set(key, changed);
      return changed;
    });
  return {
    words: draft.words,
    word: (field) => draft.words[field] ?? '',
    set: (field) => (value) => {
      touch(field);
      change((words) => ({ ...words, [field]: value }));
    },
    drop: (field) => change(({ [field]: _, ...words }) => words),
    send: (body) => {
      setTouched(new Set());
      record.mutate(body);
    },
    isSending: record.isPending,
    problemAt: (pointer) => (error instanceof ProblemError && !isTouched(pointer) ? error.of(pointer) : undefined),
    refusal: (placed) => (error === null || isPutRight ? undefined : refusalOf(error, placed)),
    forget: () => drafts.delete(key),
  };
}

function refusalOf(error: Error, placed: readonly string[]): string {
  const problems = error instanceof ProblemError ? (error.report.problems ?? []) : [];
  if (problems.length === 0) return `Not recorded. ${wordsOf(error)}`;
  const elsewhere = problems.filter(({ pointer }) => !placed.includes(pointer));
  return elsewhere.length === 0
    ? 'Not recorded: what to change stands beside its field above.'
    : `Not recorded. ${elsewhere.map(({ words, remedy }) => `${words} ${remedy}`).join(' ')}`;
}

/** Only the fields with something in them; what is left empty is not said. */
export function filled(words: Words): Words {
  return Object.fromEntries(Object.entries(words).filter(([, text]) => text.trim() !== ''));
}
