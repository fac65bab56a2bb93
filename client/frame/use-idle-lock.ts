/**
 * Locks a shared tablet that nobody touches. The server ends the session by its own clock, for which it is told of touches now and then; the screen
 * goes by the device's, so that it is covered also where the server cannot be reached.
 */
import { useEffect, useRef } from 'react';
import { SessionReport } from '#shared/contract/people.ts';
import { ask } from '../door/ask.ts';

const TOLD_EVERY_MS = 10_000;
const LOOK_EVERY_MS = 2_000;
const TOUCHES = ['pointerdown', 'keydown', 'wheel', 'touchstart'] as const;

export function useIdleLock(idleMinutes: number | undefined, lock: () => void): void {
  const latest = useRef(lock);
  latest.current = lock;
  useEffect(() => {
    if (idleMinutes === undefined) return;
    let touchedAt = Date.now();
    let toldAt = Date.now();
    const look = () => {
      if (Date.now() - touchedAt >= idleMinutes * 60_000) latest.current();
    };
    const touch = () => {
      // A tablet that slept is locked before the touch that woke it counts.
      look();
      touchedAt = Date.now();
      if (touchedAt - toldAt < TOLD_EVERY_MS) return;
      toldAt = touchedAt;
      // Unsaid where the server cannot be reached: then it ends the session a little early.
      void ask('/api/tablet/touch', { method: 'POST', body: {}, reply: SessionReport }).catch(() => undefined);
    };
    for (const name of TOUCHES) document.addEventListener(name, touch, { capture: true, passive: true });
    document.addEventListener('visibilitychange', look);
    const timer = setInterval(look, LOOK_EVERY_MS);
    return () => {
      clearInterval(timer);
      document.removeEventListener('visibilitychange', look);
      for (const name of TOUCHES) document.removeEventListener(name, touch, { capture: true });
    };
  }, [idleMinutes]);
}
