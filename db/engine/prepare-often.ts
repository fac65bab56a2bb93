/**
 * Has PostgreSQL keep what a connection asks for time and again: a statement is then read and planned once and not every time, which for most of
 * them takes longer than carrying them out.
 *
 * A kept statement fails once the columns of its answer are others than before. A newer version may add columns while this process runs, so what
 * asks for all columns of a table is never kept.
 */
import type pg from 'pg';

/** A text that was asked for less often may be one of many that are put together for one occasion. */
const OFTEN = 3;
/** Of a process: each connection holds its own. */
const MOST_KEPT = 200;
const MOST_COUNTED = 1_000;

const names = new Map<string, string>();
const timesAsked = new Map<string, number>();

/** The name under which a text is kept; undefined where it is not. */
function nameOf(text: string): string | undefined {
  const name = names.get(text);
  if (name !== undefined || names.size >= MOST_KEPT || text.includes('*')) return name;
  const times = 1 + (timesAsked.get(text) ?? 0);
  if (timesAsked.size >= MOST_COUNTED) timesAsked.clear();
  timesAsked.set(text, times);
  if (times < OFTEN) return undefined;
  timesAsked.delete(text);
  const given = `tarebook_${names.size + 1}`;
  names.set(text, given);
  return given;
}

/** What `client` is asked with parameters from now on is kept where it is asked often. */
export function prepareOften(client: pg.ClientBase): void {
  const ask = client.query.bind(client) as (...given: unknown[]) => unknown;
  const query = (text: unknown, values: unknown, ...rest: unknown[]) => {
    const name = typeof text === 'string' && Array.isArray(values) ? nameOf(text) : undefined;
    return name === undefined ? ask(text, values, ...rest) : ask({ name, text, values }, ...rest);
  };
  client.query = query as typeof client.query;
}
