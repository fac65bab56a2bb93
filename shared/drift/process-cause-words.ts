/** The cause of a process's change (rule D4), or of small differences that add up (rule D5), from words. */
import { DriftCause, Process, type StatementOf } from '#shared/ledger/entry.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import type { FieldReader } from '#shared/words/field-reader.ts';
import { manySmall } from './larger-drift.ts';
import { processDrifts } from './process-drift.ts';
import { smallKey } from './small-shares.ts';

export const PROCESS_CAUSE_FIELDS = ['process', 'release', 'sum of', 'name', 'cause', 'found'] as const;

const SUMS_OF = ['group', 'process', 'lot'] as const;

/** More than any ledger has entries. */
const MOST_ENTRIES = 1_000_000_000;

type Cause = StatementOf<'process cause'>;

/**
 * Fields: cause, found; and either process and release (the number of an entry; the one at which the process was called, where it is not
 * given), or sum of and name. What the sum comes to is taken from the ledger and never typed: nobody closes more than there is.
 */
export function processCauseFromWords(reader: FieldReader, ledger: Ledger): Cause | undefined {
  const before = reader.problems.length;
  const isOfSum = reader.has('sum of') || reader.has('name');
  reader.need('cause');
  const cause = reader.choice<Cause['cause']>('cause', DriftCause.options);
  const found = reader.text('found', 2000);
  const subject = isOfSum ? sumOf(reader, ledger) : releaseOf(reader, ledger);
  if (cause === undefined || subject === undefined || reader.problems.length > before) return undefined;
  return { kind: 'process cause', ...subject, cause, ...(found === undefined ? {} : { found }) };
}

function releaseOf(reader: FieldReader, ledger: Ledger): Pick<Cause, 'process' | 'releaseSeq'> | undefined {
  reader.need('process');
  const process = reader.choice<Process>('process', Process.options);
  const release = reader.count('release', MOST_ENTRIES);
  if (process === undefined || (release === undefined && reader.has('release'))) return undefined;
  const releaseSeq = release ?? processDrifts(ledger).find((one) => one.process === process)?.signal?.seq;
  if (releaseSeq !== undefined) return { process, releaseSeq };
  reader.problem('process', { code: 'not-called', process });
  return undefined;
}

function sumOf(reader: FieldReader, ledger: Ledger): Pick<Cause, 'sum'> | undefined {
  for (const field of ['process', 'release']) if (reader.has(field)) reader.problem(field, { code: 'process-and-sum' });
  reader.need('sum of');
  reader.need('name');
  const by = reader.choice('sum of', SUMS_OF);
  const name = reader.text('name', 60);
  if (by === undefined || name === undefined) return undefined;
  const now = manySmall(ledger).find((one) => smallKey(one) === smallKey({ by, name }));
  if (now !== undefined) return { sum: { by, name, sumKg: now.sumKg, sdKg: now.sdKg } };
  reader.problem('name', { code: 'adds-up-to-nothing', by, name });
  return undefined;
}
