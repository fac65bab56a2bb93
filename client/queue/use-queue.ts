/** The queue on the screens, and what keeps it going: it is sent whenever the server may be there again. */
import { useEffect, useSyncExternalStore } from 'react';
import { type LineState, SIGNED_IN } from '../door/live.ts';
import { ledgerMoved } from '../door/queries.ts';
import { queueNow, readQueue, watchQueue } from './queue-store.ts';
import { isRefused, type Queued } from './queued.ts';
import { type Stopped, sendQueue, stoppedNow, watchStopped } from './send.ts';

/** Once for this page; from then on every change is told. */
let isRead = false;

export function useQueue(): readonly Queued[] {
  useEffect(() => {
    if (!isRead) void readQueue().catch(() => undefined);
    isRead = true;
  }, []);
  return useSyncExternalStore(watchQueue, queueNow);
}

export function useStopped(): Stopped | undefined {
  return useSyncExternalStore(watchStopped, stoppedNow);
}

/** Sends what waits of this person. */
export async function sendNow(personId: string): Promise<void> {
  const round = await sendQueue(personId);
  for (const aircraftId of new Set([...round.recorded.values()].map((one) => one.aircraftId))) ledgerMoved(aircraftId);
}

/** While something waits, the server is tried this often, whatever the live line says. */
const TRY_EVERY_MS = 15_000;

/** For the frame: keeps on sending while somebody is signed in. */
export function useSending(personId: string, line: LineState): void {
  const isLineOpen = line === 'open';
  useEffect(() => {
    const send = async () => {
      const waits = (await readQueue()).some((one) => one.person.id === personId && !isRefused(one));
      if (waits) await sendNow(personId);
    };
    // A store that cannot be read has told so on Weigh.
    const sendQuietly = () => void send().catch(() => undefined);
    if (isLineOpen) sendQuietly();
    else void readQueue().catch(() => undefined);
    const timer = setInterval(sendQuietly, TRY_EVERY_MS);
    const events = [
      [window, SIGNED_IN],
      [window, 'online'],
      [document, 'visibilitychange'],
    ] as const;
    for (const [target, event] of events) target.addEventListener(event, sendQuietly);
    return () => {
      clearInterval(timer);
      for (const [target, event] of events) target.removeEventListener(event, sendQuietly);
    };
  }, [personId, isLineOpen]);
}
