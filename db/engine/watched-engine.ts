/**
 * An embedded engine that is known to have stopped. PGlite does not tell: after a PANIC it answers nothing more, and whoever waits for it
 * waits for ever. A stop shows in three ways: a message that says so, an answer without its end, and an error thrown out of the machine.
 */
import type { PGlite } from '@electric-sql/pglite';
import { EngineStopped } from '#db/engine/store-trouble.ts';

export type WatchedEngine = {
  readonly pglite: PGlite;
  /** Why the engine answers no more. */
  readonly stopped: EngineStopped | undefined;
  listen(channel: string, onNotice: (payload: string) => void): Promise<unknown>;
  close(): Promise<void>;
};

/** First bytes of the two messages that PostgreSQL ends its answer to with "ready for query": Query and Sync. */
const asksForEnd = new Set(['Q', 'S'].map((letter) => letter.charCodeAt(0)));

/** Watches `pglite`. `onStop` is called once, when it has stopped by itself. */
export function watched(pglite: PGlite, onStop: () => void): WatchedEngine {
  let stopped: EngineStopped | undefined;
  const exec = pglite.execProtocolStream.bind(pglite);
  const stop = (cause: unknown): EngineStopped => {
    stopped = new EngineStopped(cause);
    onStop();
    return stopped;
  };
  pglite.execProtocolStream = async (message, options) => {
    if (stopped !== undefined) throw stopped;
    let messages: Awaited<ReturnType<typeof exec>>;
    try {
      messages = await exec(message, options);
    } catch (error) {
      throw stop(error);
    }
    const last = messages.find((one) => isFatal(one));
    if (last !== undefined) throw stop(last);
    const isEnded = messages.some(({ name }) => name === 'readyForQuery');
    if (asksForEnd.has(message[0] ?? 0) && !isEnded) throw stop(new Error('It ended without a word.'));
    return messages;
  };
  return {
    pglite,
    get stopped() {
      return stopped;
    },
    listen: (channel, onNotice) => pglite.listen(channel, onNotice),
    close: () => pglite.close(),
  };
}

function isFatal(message: object): boolean {
  return 'severity' in message && (message.severity === 'PANIC' || message.severity === 'FATAL');
}
