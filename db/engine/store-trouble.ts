/**
 * What keeps a store that was opened from answering, told apart from a bug: its server or engine is away for now, or its disk is
 * full. Neither is the sender's doing, and both pass.
 */
import { isDatabaseAway } from '#db/engine/database-away.ts';
import { sqlState } from '#db/engine/sql-state.ts';

export type StoreTrouble = 'away' | 'disk full';

/** The embedded engine has ended by itself, as it does where it cannot write its log. It is started again with the next query. */
export class EngineStopped extends Error {
  readonly trouble: StoreTrouble;

  constructor(cause: unknown) {
    super('The embedded database has stopped.', { cause });
    this.name = 'EngineStopped';
    this.trouble = mentionsFullDisk(cause) ? 'disk full' : 'away';
  }
}

export function storeTrouble(error: unknown): StoreTrouble | undefined {
  if (error instanceof EngineStopped) return error.trouble;
  const state = sqlState(error);
  if (state === '53100' || state === 'ENOSPC' || state === 'EDQUOT') return 'disk full';
  return isDatabaseAway(error) ? 'away' : undefined;
}

function mentionsFullDisk(error: unknown): boolean {
  if (!(error instanceof Error)) return false;
  return sqlState(error) === '53100' || /No space left/i.test(error.message) || mentionsFullDisk(error.cause);
}
