/** The states a screen can be in before it has anything to show. */
import { type ReactNode, useEffect, useState } from 'react';
import { wordsOf } from '../door/ask.ts';
import { Button } from './controls.tsx';

/** Nothing is shown for the first moment: a wait this short is no wait. */
const SHORT_WAIT_MS = 200;

export function Waiting({ what }: { readonly what: string }) {
  const [shown, setShown] = useState(false);
  useEffect(() => {
    const timer = setTimeout(() => setShown(true), SHORT_WAIT_MS);
    return () => clearTimeout(timer);
  }, []);
  return shown ? (
    <p className="soft" role="status">
      Reading {what} …
    </p>
  ) : null;
}

export function Failed({ error, again }: { readonly error: unknown; readonly again?: () => void }) {
  return (
    <div className="notice bad stack-tight" role="alert">
      <p>{wordsOf(error)}</p>
      {again === undefined ? null : (
        <div>
          <Button slim onPress={again}>
            Try again
          </Button>
        </div>
      )}
    </div>
  );
}

export function Empty({ title, children }: { readonly title: string; readonly children: ReactNode }) {
  return (
    <div className="notice stack-tight">
      <h2>{title}</h2>
      <div>{children}</div>
    </div>
  );
}
