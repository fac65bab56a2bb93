/**
 * What the server says of itself: words for who started it, or one JSON object a line for a machine that gathers them. Requests are told by
 * what they were for (the pattern of the address, never the address), never by what was in them.
 */

export const LOG_STYLES = ['plain', 'requests', 'json'] as const;
export type LogStyle = (typeof LOG_STYLES)[number];

export type RequestFacts = {
  readonly requestId: string;
  readonly method: string;
  /** The pattern of its address, as `/api/aircraft/:aircraftId`. */
  readonly route: string;
  readonly status: number;
  /** Until the answer began: a live line or a file goes on after that. */
  readonly durationMs: number;
  /** Undefined where nobody is signed in, or nobody was asked for. */
  readonly personId: string | undefined;
};

type Stream = { write(text: string): unknown };
export type Streams = { readonly out: Stream; readonly err: Stream };

export type Log = Streams & { request(facts: RequestFacts): void };

export function makeLog(style: LogStyle, streams: Streams, now: () => Date): Log {
  if (style === 'json') return jsonLog(streams, now);
  const request = ({ requestId, method, route, status, durationMs, personId }: RequestFacts) =>
    streams.out.write(
      `${method} ${route} ${status}, ${durationMs.toFixed(1)} ms, request ${requestId}, ${personId === undefined ? 'nobody' : `person ${personId}`}\n`,
    );
  return { ...streams, request: style === 'requests' ? request : () => undefined };
}

function jsonLog({ out, err }: Streams, now: () => Date): Log {
  const line = (to: Stream, level: 'info' | 'error', facts: object) =>
    to.write(`${JSON.stringify({ time: now().toISOString(), level, ...facts })}\n`);
  const words = (to: Stream, level: 'info' | 'error'): Stream => ({
    write: (text) => line(to, level, { event: 'words', message: text.trimEnd() }),
  });
  return {
    out: words(out, 'info'),
    err: words(err, 'error'),
    request: ({ durationMs, personId, ...facts }) =>
      line(out, facts.status >= 500 ? 'error' : 'info', {
        event: 'request',
        ...facts,
        durationMs: Math.round(durationMs * 10) / 10,
        personId: personId ?? null,
      }),
  };
}
