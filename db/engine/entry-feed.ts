/**
 * Tells of new entries as they are committed, by this process or another on the same database: NOTIFY on the channel of
 * `append_entries`. Carries ids only; who listens reads the entries with its own rights.
 *
 * On PostgreSQL the listener is a client of its own that connects again when it is lost. What was missed in between is told by
 * one notice without an aircraft: "anything may have changed". The same client tells what a writer has recorded without NOTIFY, right after its
 * commit: what gathers while it tells, and for a moment after, goes out together. A process that is killed in between has not told; whoever listens therefore
 * looks from time to time by itself (`LiveLines`).
 */
import pg from 'pg';

export const ENTRY_CHANNEL = 'tarebook_entry';

/** `seq`: the aircraft's ledger ends at this entry now. Undefined: the line was broken and something may have been missed. */
export type EntryNotice = { readonly aircraftId: string; readonly seq: number } | undefined;

export type EntryFeed = {
  /** Calls back for every notice until the answered function is called. */
  subscribe(listener: (notice: EntryNotice) => void): () => void;
  /** Tells everybody that a ledger ends at this entry now, soon and without waiting. Not there where each commit is told by itself. */
  readonly tell?: (aircraftId: string, seq: number) => void;
};

/** A notice that is lost with the server is made up for: it need not reach the disk before the next. */
const TELL = `select pg_notify($1, told) from unnest($2::text[]) as told
  where set_config('synchronous_commit', 'off', true) is not null`;

/** Who records one entry after the other has them told together: each would cost the server as much as recording it. */
const GATHER_MS = 20;

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
export function postgresFeed(url: string): Required<EntryFeed> & { close(): Promise<void> } {
  const line = new ListeningLine(url);
  return {
    subscribe: (listener) => line.subscribe(listener),
    tell: (aircraftId, seq) => line.tell(aircraftId, seq),
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
  /** The last entry of each ledger that is still to be told of. */
  readonly #untold = new Map<string, number>();
  #lose: (() => void) | undefined;
  #telling: Promise<void> | undefined;
  #toldAtMs = Number.NEGATIVE_INFINITY;
  #gathering: NodeJS.Timeout | undefined;

  constructor(url: string) {
    this.#url = url;
  }

  subscribe(listener: (notice: EntryNotice) => void): () => void {
    const unsubscribe = this.#listeners.subscribe(listener);
    this.#begin();
    return unsubscribe;
  }

  tell(aircraftId: string, seq: number): void {
    this.#untold.set(aircraftId, Math.max(seq, this.#untold.get(aircraftId) ?? 0));
    this.#begin();
    this.#tellOn();
  }

  #begin(): void {
    if (this.#state !== 'not begun') return;
    this.#state = 'open';
    void this.#connect();
  }

  /** Where the line is lost they wait for the next one. */
  #tellOn(): void {
    const [client, lose] = [this.#client, this.#lose];
    if (client === undefined || lose === undefined || this.#telling !== undefined || this.#untold.size === 0) return;
    const waitMs = this.#state === 'closed' ? 0 : this.#toldAtMs + GATHER_MS - performance.now();
    if (waitMs > 0) {
      this.#gathering ??= setTimeout(() => {
        this.#gathering = undefined;
        this.#tellOn();
      }, waitMs);
      return;
    }
    this.#toldAtMs = performance.now();
    const notices = [...this.#untold];
    this.#untold.clear();
    const payloads = notices.map(([aircraftId, seq]) => `${aircraftId}:${seq}`);
    this.#telling = client
      .query({ name: 'tell', text: TELL, values: [ENTRY_CHANNEL, payloads] })
      .then(
        () => undefined,
        () => {
          for (const [aircraftId, seq] of notices)
            this.#untold.set(aircraftId, Math.max(seq, this.#untold.get(aircraftId) ?? 0));
          lose();
        },
      )
      .finally(() => {
        this.#telling = undefined;
        this.#tellOn();
      });
  }

  async close(): Promise<void> {
    this.#state = 'closed';
    clearTimeout(this.#retry);
    clearTimeout(this.#gathering);
    this.#tellOn();
    while (this.#telling !== undefined) await this.#telling;
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
      this.#lose = undefined;
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
      this.#lose = lost;
      this.#tellOn();
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
