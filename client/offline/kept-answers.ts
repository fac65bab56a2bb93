/**
 * The last answers that Weigh needs to open and work without a server: who is signed in, the aircraft, their parts and scales. Each is one
 * person's, since it may not be another's to see. A fresh answer always goes first; a kept one is told as such (`useKeptSince`).
 */
import { useSyncExternalStore } from 'react';
import type { z } from 'zod';
import { ask, ProblemError } from '../door/ask.ts';
import { deviceStore } from './store.ts';

/** Whose answers are kept and shown: who is signed in. */
let personId = '';

export function keepAnswersOf(id: string): void {
  personId = id;
}

type Asked<Schema extends z.ZodType> = { readonly reply: Schema; readonly signal?: AbortSignal | undefined };

/** Asks the server, and answers what it said last where it cannot be reached. Throws `ProblemError` where nothing is kept, or it refuses. */
export async function askOrRecall<Schema extends z.ZodType>(
  path: string,
  { reply, signal }: Asked<Schema>,
  key = `${personId} ${path}`,
): Promise<z.infer<Schema>> {
  const patience = (await isKept(key)) ? [AbortSignal.timeout(isAway ? SHORT_PATIENCE_MS : PATIENCE_MS)] : [];
  const given = signal === undefined ? [] : [signal];
  try {
    const answer = await ask(path, { reply, signal: AbortSignal.any([...given, ...patience]) });
    setAway(path, undefined);
    void keep(key, answer);
    return answer;
  } catch (error) {
    if (!isUnanswered(error)) {
      setAway(path, undefined);
      throw error;
    }
    // Read only now: a list of all parts takes as long to read as the answer itself.
    const kept = await recall(key, reply);
    if (kept === undefined) throw error;
    setAway(path, kept.at);
    return kept.answer;
  }
}

/** A network can swallow what is sent without a word. After it has done so once, the next question waits less. */
const PATIENCE_MS = 6000;
const SHORT_PATIENCE_MS = 1500;
let isAway = false;

export function isUnanswered(error: unknown): boolean {
  return error instanceof ProblemError && error.report.status === 0;
}

const away = new Map<string, string>();
const listeners = new Set<() => void>();

function setAway(path: string, at: string | undefined): void {
  isAway = at !== undefined;
  if (away.get(path) === at) return;
  if (at === undefined) away.delete(path);
  else away.set(path, at);
  for (const listener of listeners) listener();
}

/** When the answer that is shown was given, where it is a kept one; undefined where it is fresh. */
export function useKeptSince(path: string): string | undefined {
  return useSyncExternalStore(
    (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    () => away.get(path),
  );
}

async function isKept(key: string): Promise<boolean> {
  try {
    return (await (await deviceStore()).getKey('answers', key)) !== undefined;
  } catch {
    return false;
  }
}

/** An answer of an earlier build that this one cannot read is none, and goes, so that the next question waits for the server alone. */
async function recall<Schema extends z.ZodType>(
  key: string,
  reply: Schema,
): Promise<{ readonly answer: z.infer<Schema>; readonly at: string } | undefined> {
  try {
    const store = await deviceStore();
    const kept = await store.get('answers', key);
    if (kept === undefined) return undefined;
    const read = reply.safeParse(kept.answer);
    if (read.success) return { answer: read.data, at: kept.at };
    await store.delete('answers', key);
    return undefined;
  } catch {
    return undefined;
  }
}

async function keep(key: string, answer: unknown): Promise<void> {
  try {
    await (await deviceStore()).put('answers', { key, answer, at: new Date().toISOString() });
  } catch {
    // Weigh says so where nothing can be kept.
  }
}

/** At sign-out: what is left on the device is what waits to be sent, and nothing to be read. */
export async function forgetAnswers(): Promise<void> {
  try {
    const store = await deviceStore();
    await Promise.all([store.clear('answers'), store.clear('entries')]);
  } catch {
    // Nothing was kept.
  }
}

/** A shared tablet that is locked: nobody is signed in there, whether or not the server has heard of it. */
export async function forgetSession(): Promise<void> {
  try {
    await (await deviceStore()).delete('answers', SESSION_KEY);
  } catch {
    // Nothing was kept.
  }
}

/** Where the session stands is asked before anybody is known, and is the device's. */
export const SESSION_KEY = 'session';
