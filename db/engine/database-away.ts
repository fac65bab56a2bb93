/**
 * Whether an error says that the database could not be reached, or went away in the middle: the sender did nothing wrong, and may ask again.
 * Narrow on purpose: a file that is missing is no database that is away.
 */
import { sqlState } from './sql-state.ts';

/** Connecting and its loss; shut down, crashed, starting up; a transaction that stood still; too many connections; a server that has become a copy of another. */
const STATES =
  /^(ECONNREFUSED|ECONNRESET|EPIPE|ETIMEDOUT|EHOSTUNREACH|ENETUNREACH|ENOTFOUND|EAI_AGAIN|08...|57P0.|53300|25006|25P03)$/;

/** The driver's own words, which come without a state. */
const WORDS = [
  /^Connection terminated/,
  /^timeout exceeded when trying to connect/,
  /^Client has encountered a connection error/,
  /^Client was closed/,
];

export function isDatabaseAway(error: unknown): boolean {
  if (!(error instanceof Error)) return false;
  if (error instanceof AggregateError && error.errors.some(isDatabaseAway)) return true;
  return STATES.test(sqlState(error)) || WORDS.some((words) => words.test(error.message));
}
