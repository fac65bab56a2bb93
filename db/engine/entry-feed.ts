/**
 * Tells of new entries as they are committed, by this process or another on the same database: NOTIFY on the channel of
 * `append_entries`. Carries ids only; who listens reads the entries with its own rights.
 *
 * On PostgreSQL the listener is a client of its own that connects again when it is lost. What was missed in between is told by
 * one notice without an aircraft: "anything may have changed".
 */
import pg from 'pg';

export const ENTRY_CHANNEL = 'tarebook_entry';

/** `seq`: the aircraft's ledger ends at this entry now. Undefined: the line was broken and something may have been missed. */
export type EntryNotice = { readonly aircraftId: string; readonly seq: number } | undefined;

export type EntryFeed = {
  /** Calls back for every notice until the answered function is called. */
  subscribe(listener: (notice: EntryNotice) => void): () => void;
};

const RETRY_MS = [200, 1_000, 5_000] as const;

class Listeners {
  readonly #listeners = new Set<(notice: EntryNotice) => void>();

  subscribe(listener: (notice: EntryNotice) => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  announce(payload: string | undefined): void {
    const notice = payload === undefined ? undefined : readNotice(payload);
    for (const listener of this.#listeners) listener(notice);
  }
}

/** A feed for an engine inside this process, which calls `announce` itself. */
export function embeddedFeed(): { feed: EntryFeed; announce: (payload: string | undefined) => void } {
  const listeners = new Listeners();
  return {
    feed: { subscribe: (listener) => listeners.subscribe(listener) },
    announce: (payload) => listeners.announce(payload),
  };
}

/** A feed on a PostgreSQL server. Connects at the first subscription, so that a command which only reads never does. */
export function postgresFeed(url: string): EntryFeed & { close(): Promise<void> } {
  const line = new ListeningLine(url);
  return {
    subscribe: (listener) => line.subscribe(listener),
    close: () => line.close(),
  };
}

class ListeningLine {
  readonly #url: string;
  readonly #listeners = new Listeners();
  #client: pg.Client | undefined;
  #retry: NodeJS.Timeout | undefined;
  #failures = 0;
  #state: 'not begun' | 'open' | 'closed' = 'not begun';

  constructor(url: string) {
    this.#url = url;
  }

  subscribe(listener: (notice: EntryNotice) => void): () => void {
    const unsubscribe = this.#listeners.subscribe(listener);
    if (this.#state === 'not begun') {
      this.#state = 'open';
      void this.#connect();
    }
    return unsubscribe;
  }

  async close(): Promise<void> {
    this.#state = 'closed';
    clearTimeout(this.#retry);
    await this.#client?.end().catch(() => undefined);
  }

  async #connect(): Promise<void> {
    const client = new pg.Client({
      connectionString: this.#url,
      application_name: 'tarebook listener',
      connectionTimeoutMillis: 10_000,
      keepAlive: true,
    });
    this.#client = client;
    let isLost = false;
    const lost = () => {
      if (isLost) return;
      isLost = true;
      client.removeAllListeners('notification');
      void client.end().catch(() => undefined);
      this.#connectLater();
    };
    client.on('error', lost);
    client.on('end', lost);
    client.on('notification', ({ payload }) => this.#listeners.announce(payload ?? ''));
    try {
      await client.connect();
      await client.query(`listen ${ENTRY_CHANNEL}`);
      this.#failures = 0;
      // Between the opening of the store, or the loss of the line, and this moment notices went unheard.
      this.#listeners.announce(undefined);
    } catch {
      lost();
    }
  }

  #connectLater(): void {
    if (this.#state === 'closed') return;
    const delayMs = RETRY_MS[Math.min(this.#failures, RETRY_MS.length - 1)];
    this.#failures += 1;
    this.#retry = setTimeout(() => void this.#connect(), delayMs);
    this.#retry.unref();
  }
}

function readNotice(payload: string): EntryNotice {
  const [aircraftId, seq] = payload.split(':');
  return aircraftId === undefined || seq === undefined ? undefined : { aircraftId, seq: Number(seq) };
}
