/**
 * The weighing that is being made (rule A6): what stands on the screen, kept on the server as it is typed, and put together with what somebody
 * else types. Without a network it stays on this device and goes when the server answers again.
 */

import { useEffect, useRef, useState } from 'react';
import { draftText, merged, type WeighingDraft } from '#shared/aircraft-weighing/draft.ts';
import {
  DroppedWeighingDraft,
  KeptWeighingDraft,
  type WeighingDraftReport,
} from '#shared/contract/aircraft-weighing.ts';
import { say } from '#shared/words/say.ts';
import { ask, newId, ProblemError, wordsOf } from '../door/ask.ts';
import { ledgerMoved } from '../door/queries.ts';
import { forget, type Kept, keep, keptFor } from './kept.ts';

/** A figure is half typed for a moment. */
const REST_MS = 500;
const AGAIN_MS = 4000;

export type Lost = { readonly field: string; readonly mine: string; readonly theirs: string };

export type Draft = {
  readonly id: string;
  readonly words: WeighingDraft;
  /** Everything is on the server. */
  readonly isKept: boolean;
  /** Why it is not, where the last try failed. */
  readonly failure: string | undefined;
  readonly by: string | undefined;
  /** Fields in which somebody else typed at the same time: theirs stand. */
  readonly lost: readonly Lost[];
  readonly set: (field: string, text: string) => void;
  readonly change: (next: (before: WeighingDraft) => WeighingDraft) => void;
  readonly dismissLost: () => void;
  /** Gives it up; answers whether it is gone. */
  readonly drop: () => Promise<boolean>;
  readonly signed: () => void;
};

export type Drafting = {
  readonly draft: Draft | undefined;
  readonly begin: (words: WeighingDraft) => void;
  /** Why what was typed here is here no more. */
  readonly ended: string | undefined;
};

const GONE = new Set(['weighing-is-signed', 'weighing-draft-gone']);

export function useDraft(
  aircraftId: string,
  server: WeighingDraftReport | undefined,
  signedIds: readonly string[],
): Drafting {
  const [state, setState] = useState<Kept | undefined>(() => begunWith(aircraftId, server, signedIds));
  const [lost, setLost] = useState<readonly Lost[]>([]);
  const [failure, setFailure] = useState<string>();
  const [ended, setEnded] = useState<string>();
  const [by, setBy] = useState(server?.by);
  const [tries, setTries] = useState(0);
  const isSending = useRef(false);

  const take = (theirs: WeighingDraftReport) => {
    setBy(theirs.by);
    setState((mine) => {
      if (mine === undefined || mine.id !== theirs.id)
        return { id: theirs.id, version: theirs.version, base: theirs.words, words: theirs.words };
      if (theirs.version <= mine.version) return mine;
      const both = merged(mine.base, mine.words, theirs.words);
      if (both.lost.length > 0) setLost((before) => [...before, ...both.lost]);
      return { id: theirs.id, version: theirs.version, base: theirs.words, words: both.draft };
    });
  };
  const end = (why: string | undefined) => {
    forget(aircraftId);
    setState(undefined);
    setLost([]);
    setFailure(undefined);
    setEnded(why);
  };

  // News from the server: another device has typed, signed or given up.
  // biome-ignore lint/correctness/useExhaustiveDependencies: `take` and `end` only set state.
  useEffect(() => {
    if (server !== undefined) take(server);
    else if (state !== undefined && state.version > 0 && !isSending.current)
      end(signedIds.includes(state.id) ? say`It has been signed; it stands below.` : say`Somebody has given it up.`);
  }, [server, signedIds.join()]);

  const isKept = state === undefined || draftText(state.words) === draftText(state.base);
  // biome-ignore lint/correctness/useExhaustiveDependencies: sent again when the words change, or after a failure.
  useEffect(() => {
    if (state === undefined) return;
    if (isKept && state.version > 0) {
      forget(aircraftId);
      return;
    }
    keep(aircraftId, state);
    const timer = setTimeout(() => void send(state), REST_MS);
    return () => clearTimeout(timer);
  }, [state, isKept, tries]);

  async function send(sent: Kept): Promise<void> {
    if (isSending.current) return;
    isSending.current = true;
    try {
      const { isKept: wasKept, draft } = await ask(`/api/aircraft/${aircraftId}/aircraft-weighings/draft`, {
        method: 'POST',
        body: { id: sent.id, after: sent.version, words: sent.words },
        reply: KeptWeighingDraft,
      });
      setFailure(undefined);
      isSending.current = false;
      if (wasKept) {
        setBy(draft.by);
        setState((now) => (now?.id === sent.id ? { ...now, version: draft.version, base: sent.words } : now));
        ledgerMoved(aircraftId);
      } else take(draft);
    } catch (error) {
      isSending.current = false;
      const codes = error instanceof ProblemError ? (error.report.problems ?? []).map(({ code }) => code) : [];
      if (codes.some((code) => GONE.has(code))) end(wordsOf(error));
      else {
        setFailure(wordsOf(error));
        setTimeout(() => setTries((before) => before + 1), AGAIN_MS);
      }
    }
  }

  const change: Draft['change'] = (next) =>
    setState((before) => (before === undefined ? before : { ...before, words: next(before.words) }));
  const begin = (words: WeighingDraft) => {
    setEnded(undefined);
    setState({ id: newId(), version: 0, base: {}, words });
  };
  if (state === undefined) return { draft: undefined, begin, ended };
  const drop = async () => {
    if (state.version > 0) {
      const body = { id: state.id, version: state.version };
      const path = `/api/aircraft/${aircraftId}/aircraft-weighings/draft/drop`;
      const { isGone } = await ask(path, { method: 'POST', body, reply: DroppedWeighingDraft });
      if (!isGone) return false;
    }
    end(undefined);
    ledgerMoved(aircraftId);
    return true;
  };
  return {
    begin,
    ended,
    draft: {
      ...{ id: state.id, words: state.words, isKept: isKept && state.version > 0, failure, by, lost, change, drop },
      set: (field, text) => change((before) => ({ ...before, [field]: text })),
      dismissLost: () => setLost([]),
      signed: () => end(undefined),
    },
  };
}

/** What this device still had to send comes before what the server has; the two are put together when they meet. */
function begunWith(
  aircraftId: string,
  server: WeighingDraftReport | undefined,
  signedIds: readonly string[],
): Kept | undefined {
  const own = keptFor(aircraftId);
  if (
    own !== undefined &&
    !signedIds.includes(own.id) &&
    (server === undefined ? own.version === 0 : own.id === server.id)
  )
    return own;
  if (own !== undefined && server !== undefined) forget(aircraftId);
  if (server === undefined) return undefined;
  return { id: server.id, version: server.version, base: server.words, words: server.words };
}
