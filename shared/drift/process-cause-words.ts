/** The cause of a process's change, from words. */
import { DriftCause, Process, type StatementOf } from '#shared/ledger/entry.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import type { FieldReader } from '#shared/words/field-reader.ts';
import { processDrifts } from './process-drift.ts';

/** More than any ledger has entries. */
const MOST_ENTRIES = 1_000_000_000;

/** Fields: process, release (the number of an entry; the one at which the process was called, where it is not given), cause, found. */
export function processCauseFromWords(reader: FieldReader, ledger: Ledger): StatementOf<'process cause'> | undefined {
  const before = reader.problems.length;
  reader.need('process');
  reader.need('cause');
  const process = reader.choice<Process>('process', Process.options);
  const cause = reader.choice<StatementOf<'process cause'>['cause']>('cause', DriftCause.options);
  const found = reader.text('found', 2000);
  const release = reader.count('release', MOST_ENTRIES);
  if (process === undefined || cause === undefined || reader.problems.length > before) return undefined;
  const releaseSeq = release ?? processDrifts(ledger).find((one) => one.process === process)?.signal?.seq;
  if (releaseSeq === undefined) {
    reader.problem('process', { code: 'not-called', process });
    return undefined;
  }
  return { kind: 'process cause', process, releaseSeq, cause, ...(found === undefined ? {} : { found }) };
}
