/** Listens to the live line: what somebody else records is on this screen without a reload. */
import { useEffect, useState } from 'react';
import { LiveMessage } from '#shared/contract/aircraft.ts';
import { besideMoved, ledgerMoved, queries } from './queries.ts';

export type LineState = 'open' | 'waiting' | 'closed';

type FromLine = { readonly line?: LineState; readonly data?: string };

/** How long after the line broke everything is asked again, since messages may have been missed. */
const CLOSED_RETRY_MS = 5000;

/** Told to the window after a new sign-in, so that the line is there at once. */
export const SIGNED_IN = 'tarebook-signed-in';

/** Keeps the line while the screen is up; answers its state. */
export function useLiveLine(): LineState {
  const [state, setState] = useState<LineState>('waiting');
  useEffect(() => {
    let wasBroken = false;
    let retry: ReturnType<typeof setTimeout> | undefined;
    // News that names an entry once more is of something beside the ledger.
    const lastSeqOf = new Map<string, number>();
    const hear = ({ line, data }: FromLine) => {
      if (line !== undefined) {
        setState(line);
        if (line === 'open' && wasBroken) void queries.invalidateQueries({ queryKey: ['aircraft'] });
        if (line !== 'open') lastSeqOf.clear();
        wasBroken = line !== 'open';
        if (line === 'closed') {
          // The server refuses the line to who is not signed in: whether that is so is asked at once.
          void queries.invalidateQueries({ queryKey: ['session'] });
          retry = setTimeout(() => opened.reopen(), CLOSED_RETRY_MS);
        }
      }
      if (data === undefined) return;
      const message = LiveMessage.safeParse(JSON.parse(data));
      if (!message.success) return;
      const { aircraftId, seq } = message.data;
      if (lastSeqOf.get(aircraftId) === seq) besideMoved(aircraftId);
      else ledgerMoved(aircraftId);
      lastSeqOf.set(aircraftId, seq);
    };
    const opened = typeof SharedWorker === 'undefined' ? openOwn(hear) : openShared(hear);
    window.addEventListener(SIGNED_IN, opened.reopen);
    return () => {
      clearTimeout(retry);
      window.removeEventListener(SIGNED_IN, opened.reopen);
      opened.close();
    };
  }, []);
  return state;
}

type Line = { readonly close: () => void; readonly reopen: () => void };

function openShared(hear: (message: FromLine) => void): Line {
  const worker = new SharedWorker(new URL('./live-worker.ts', import.meta.url), { type: 'module', name: 'live' });
  worker.port.onmessage = ({ data }) => hear(data as FromLine);
  worker.port.start();
  worker.port.postMessage('open');
  const leave = () => worker.port.postMessage('leave');
  window.addEventListener('pagehide', leave);
  return {
    close: () => {
      window.removeEventListener('pagehide', leave);
      leave();
      worker.port.close();
    },
    reopen: () => worker.port.postMessage('open'),
  };
}

/** Browsers of some tablets have no shared workers; they have few tabs either. */
function openOwn(hear: (message: FromLine) => void): Line {
  let line: EventSource | undefined;
  const open = () => {
    line?.close();
    line = new EventSource('/api/live');
    line.onopen = () => hear({ line: 'open' });
    line.onmessage = (event) => hear({ data: String(event.data) });
    line.onerror = () => hear({ line: line?.readyState === EventSource.CLOSED ? 'closed' : 'waiting' });
  };
  open();
  return { close: () => line?.close(), reopen: open };
}
