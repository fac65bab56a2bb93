/**
 * Has PostgreSQL keep what a connection asks for time and again: a statement is then read and planned once and not every time, which for most of
 * them takes longer than carrying them out.
 *
 * A kept statement fails once the columns of its answer are others than before. A newer version may add columns while this process runs, so what
 * asks for all columns of a table is never kept; and what breaks nevertheless is asked without being kept from then on.
 */
import type pg from 'pg';
import { isDatabaseAway } from './database-away.ts';
import { sqlState } from './sql-state.ts';

/** A text that was asked for less often may be one of many that are put together for one occasion. */
const OFTEN = 3;
/** Of a process: each connection holds its own. */
const MOST_KEPT = 200;
const MOST_COUNTED = 1_000;
/** All columns of a table; a list of any length, each length a text of its own. */
const MANY = /\*|\bin \(\$/i;

/** By text. Without a name: it failed in a way that a kept statement can fail in, and may go on failing. */
const names = new Map<string, string | undefined>();
const timesAsked = new Map<string, number>();

/** The name under which a text is kept; undefined where it is not. */
function nameOf(text: string): string | undefined {
  if (names.has(text)) return names.get(text);
  if (names.size >= MOST_KEPT || MANY.test(text)) return undefined;
  const times = 1 + (timesAsked.get(text) ?? 0);
  if (timesAsked.size >= MOST_COUNTED) timesAsked.clear();
  timesAsked.set(text, times);
  if (times < OFTEN) return undefined;
  timesAsked.delete(text);
  const given = `tarebook_${names.size + 1}`;
  names.set(text, given);
  return given;
}

/** No such statement any more (a pooler's), an answer of other columns, or values that could not be sent, with which the driver loses count of its statements. */
function spurnIfBroken(text: string, error: unknown): void {
  const state = sqlState(error);
  if (state === '26000' || state === '0A000' || (state === '' && !isDatabaseAway(error))) names.set(text, undefined);
}

/** What `client` is asked with parameters from now on is kept where it is asked often. */
export function prepareOften(client: pg.ClientBase): void {
  const ask = client.query.bind(client) as (...given: unknown[]) => unknown;
  const query = (text: unknown, values: unknown, ...rest: unknown[]) => {
    const name = typeof text === 'string' && Array.isArray(values) ? nameOf(text) : undefined;
    if (name === undefined) return ask(text, values, ...rest);
    const answer = ask({ name, text, values }, ...rest);
    // Whoever asked hears of it as well.
    if (answer instanceof Promise) answer.catch((error: unknown) => spurnIfBroken(String(text), error));
    return answer;
  };
  client.query = query as typeof client.query;
}
