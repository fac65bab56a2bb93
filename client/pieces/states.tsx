/** The states a screen can be in before it has anything to show. */

import { type ReactNode, useEffect, useState } from 'react';
import { say } from '#shared/words/say.ts';
import { ProblemError, wordsOf } from '../door/ask.ts';
import { useStillReading } from '../door/queries.ts';
import { Button } from './controls.tsx';

/** Nothing is shown for the first moment: a wait this short is no wait. */
const SHORT_WAIT_MS = 200;

export function Waiting({ what }: { readonly what: string }) {
  const still = useStillReading();
  return still?.progress === undefined ? (
    <Working words={say`Reading ${what}`} />
  ) : (
    <ReadingSoFar words={still.detail} done={still.progress.done} of={still.progress.of} />
  );
}

/** A long ledger, read once after the server has started: how far that has come. */
function ReadingSoFar({ words, done, of }: { readonly words: string; readonly done: number; readonly of: number }) {
  return (
    <div className="stack-tight waiting" role="status">
      <p>{words}</p>
      <progress className="read-so-far" aria-label={say`Entries read`} value={done} max={of} />
      <p className="soft">{say`The server has started again and reads it once. This page goes on by itself.`}</p>
    </div>
  );
}

/** What is being done, once it takes longer than a moment. */
export function Working({ words }: { readonly words: string }) {
  const [shown, setShown] = useState(false);
  useEffect(() => {
    const timer = setTimeout(() => setShown(true), SHORT_WAIT_MS);
    return () => clearTimeout(timer);
  }, []);
  return shown ? (
    <p className="soft waiting" role="status">
      {words} …
    </p>
  ) : null;
}

export function Failed({ error, again }: { readonly error: unknown; readonly again?: () => void }) {
  // What was refused is refused again: only the want of an answer, or a fault of the server, is worth another try.
  const isRefused = error instanceof ProblemError && error.report.status >= 400 && error.report.status < 500;
  return (
    <div className="notice bad stack-tight" role="alert">
      <p>{wordsOf(error)}</p>
      {again === undefined || isRefused ? null : (
        <div>
          <Button slim onPress={again}>{say`Try again`}</Button>
        </div>
      )}
    </div>
  );
}

/** `isPage`: nothing else stands on the page, so this is its title. */
export function Empty(props: { readonly title: string; readonly isPage?: boolean; readonly children: ReactNode }) {
  return (
    <div className="card stack">
      {props.isPage === true ? <h1 className="empty-title">{props.title}</h1> : <h2>{props.title}</h2>}
      <div>{props.children}</div>
    </div>
  );
}
