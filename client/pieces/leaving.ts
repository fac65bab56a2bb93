/**
 * What somebody has done on a screen and would lose by leaving it is asked about first, whichever way they leave: by a link, by the browser's
 * own way back, or by closing the page. Where it is asked, and in which words, is for the screen.
 */
import { useEffect, useState } from 'react';
import type { AroundNavHandler } from 'wouter';

type Leave = () => void;

let hold: { readonly address: string; readonly ask: (leave: Leave) => void } | undefined;

/** For the router: every way from screen to screen goes through here. */
export const askedFirst: AroundNavHandler = (navigate, to, options) => {
  if (hold === undefined) navigate(to, options);
  else hold.ask(() => navigate(to, options));
};

/** Before the router listens: the browser's way back is undone, and asked about, before the router has seen it. */
export function watchWayBack(): void {
  addEventListener('popstate', (event) => {
    if (hold === undefined) return;
    event.stopImmediatePropagation();
    history.pushState(null, '', hold.address);
    hold.ask(() => history.back());
  });
}

export type Holding = {
  /** Leaving was asked for: the screen asks whether to. */
  readonly isAsking: boolean;
  /** Does it at once where nothing would be lost, and else asks. */
  readonly ask: (leave: Leave) => void;
  readonly stay: () => void;
  readonly leave: () => void;
};

/** Holds the screen while `isHeld`. */
export function useHold(isHeld: boolean): Holding {
  const [waiting, setWaiting] = useState<{ readonly leave: Leave }>();
  useEffect(() => {
    if (!isHeld) return;
    const mine = { address: location.href, ask: (leave: Leave) => setWaiting({ leave }) };
    hold = mine;
    const unload = (event: BeforeUnloadEvent) => event.preventDefault();
    addEventListener('beforeunload', unload);
    return () => {
      if (hold === mine) hold = undefined;
      removeEventListener('beforeunload', unload);
    };
  }, [isHeld]);
  return {
    isAsking: waiting !== undefined,
    ask: (leave) => (isHeld ? setWaiting({ leave }) : leave()),
    stay: () => setWaiting(undefined),
    leave: () => {
      hold = undefined;
      setWaiting(undefined);
      waiting?.leave();
    },
  };
}
