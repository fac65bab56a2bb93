import type pg from 'pg';

/**
 * A connection that breaks must not end the process, neither while it is idle (the pool hears of that) nor while a query is under way on it
 * (nobody would: its query fails, and the error is said once more). The pool drops it; the next query reports or connects again.
 */
export function outliveErrors(pool: pg.Pool): void {
  pool.on('error', () => undefined);
  pool.on('connect', (client) => client.on('error', () => undefined));
}
