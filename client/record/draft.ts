/**
 * What is typed into a form and not recorded yet. It outlives its dialog, so that closing one by mistake loses nothing, and has one id
 * while it says one thing: sent again after a lost answer, it is known for the same (rule L3).
 */
import { useState } from 'react';
import { newId } from '../door/ask.ts';
import type { Form } from './field-spec.ts';

type Kept = { readonly id: string; readonly form: Form };

const drafts = new Map<string, Kept>();
let whose = '';

/** Whose drafts are read and written from here on: another person does not find them, and their own are there again for the first. */
export function draftsOf(personId: string): void {
  whose = personId;
}

export type Draft = Kept & {
  readonly set: (changed: Form) => void;
  /** The field is no longer asked for. */
  readonly drop: (name: string) => void;
  /** Puts in what stands in the ledger, beside what was typed: only where nothing is, or what stood there for another. */
  readonly fill: (words: Form, before: Form) => void;
  /** Recorded: nothing is kept. */
  readonly forget: () => void;
};

export function useDraft(name: string, initial: () => Form): Draft {
  const key = `${whose} ${name}`;
  const [kept, setKept] = useState<Kept>(() => drafts.get(key) ?? { id: newId(), form: initial() });
  const become = (next: (form: Form) => Form) =>
    setKept(({ form }) => {
      const after = { id: newId(), form: next(form) };
      drafts.set(key, after);
      return after;
    });
  const change = (changed: (form: Form) => Form) => become((form) => ({ ...form, ...changed(form) }));
  return {
    ...kept,
    set: (changed) => change(() => changed),
    drop: (name) => become(({ [name]: _, ...form }) => form),
    fill: (words, before) =>
      change((form) =>
        Object.fromEntries(
          [...Object.keys(before), ...Object.keys(words)]
            .filter((name) => (form[name] ?? '') === '' || form[name] === before[name])
            .map((name) => [name, words[name] ?? '']),
        ),
      ),
    forget: () => drafts.delete(key),
  };
}
