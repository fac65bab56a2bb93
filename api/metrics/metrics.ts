/**
 * Figures for a monitor, in the text format that monitors read: what was asked and how long it took, what was recorded, what is held in
 * memory, and how the process does. Of each request only method, pattern and status, so that their number stays small.
 */
import { Counter, collectDefaultMetrics, Gauge, Histogram, Registry } from 'prom-client';
import type { Backups } from '#api/backup/backups.ts';
import type { LiveLines } from '#api/live/live-lines.ts';
import type { RequestFacts } from '#api/log/log.ts';
import type { PoolUse } from '#db/engine/open-store.ts';
import type { LiveLedgers } from '#db/record/live-ledgers.ts';

export type Measured = {
  readonly ledgers: LiveLedgers;
  readonly lines: LiveLines;
  readonly backups: Backups;
  /** Undefined with the embedded database, which has one connection. */
  readonly poolUse: (() => PoolUse) | undefined;
};

/** From a page that is there already to a list that is read. */
const BUCKETS_S = [0.005, 0.02, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 10, 60];

export class Metrics {
  readonly #registry = new Registry();
  readonly #requests: Histogram<'method' | 'route' | 'status'>;
  readonly #recorded: Counter;

  constructor() {
    const registers = [this.#registry];
    this.#requests = new Histogram({
      name: 'tarebook_request_duration_seconds',
      help: 'Requests by method, pattern of the address and status; time until the answer began',
      labelNames: ['method', 'route', 'status'],
      buckets: BUCKETS_S,
      registers,
    });
    this.#recorded = new Counter({
      name: 'tarebook_entries_recorded_total',
      help: 'Entries that this server has recorded, one by one or from a list',
      registers,
    });
    // Event loop, heap, collections of it, processor, open files.
    collectDefaultMetrics({ register: this.#registry });
  }

  request({ method, route, status, durationMs }: RequestFacts): void {
    this.#requests.observe({ method, route, status }, durationMs / 1000);
  }

  recorded(entries: number): void {
    this.#recorded.inc(entries);
  }

  /** Reads these each time somebody asks. */
  measure({ ledgers, lines, backups, poolUse }: Measured): void {
    this.#gauge('tarebook_ledgers_in_memory', 'Aircraft whose ledger is held in memory', () => ledgers.count);
    this.#gauge('tarebook_live_lines_open', 'Pages that are told of new entries', () => lines.count);
    if (poolUse !== undefined) {
      this.#gauge('tarebook_database_connections', 'Open connections to the database', () => poolUse().total);
      this.#gauge('tarebook_database_connections_idle', 'Of these, without work', () => poolUse().idle);
      this.#gauge('tarebook_database_waiting', 'Requests that wait for a connection', () => poolUse().waiting);
    }
    if (backups.plan.everyHours === undefined) return;
    const isMade = () => (backups.failure === undefined ? 1 : 0);
    this.#gauge('tarebook_backup_made', 'Whether the last scheduled backup was made', isMade);
    this.#gauge('tarebook_backup_newest_seconds', 'When the newest backup was made, in Unix time', async () => {
      const [newest] = await backups.list();
      return newest === undefined ? 0 : Date.parse(newest.madeAt) / 1000;
    });
  }

  #gauge(name: string, help: string, read: () => number | Promise<number>): void {
    new Gauge({
      name,
      help,
      registers: [this.#registry],
      async collect() {
        this.set(await read());
      },
    });
  }

  async text(): Promise<{ readonly type: string; readonly text: string }> {
    return { type: this.#registry.contentType, text: await this.#registry.metrics() };
  }
}
