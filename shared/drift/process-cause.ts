/**
 * Why a process changed (rule D4; why small differences add up is in `small-cause.ts`): which stated cause speaks of a change, and what stands against stating one. A cause names a release, and
 * speaks of the change as long as that release lies within it, wherever later entries move the call.
 */
import type { ProcessDriftReport } from '#shared/contract/forecast.ts';
import type { Objection } from '#shared/ledger/admit.ts';
import type { Process, StatementOf } from '#shared/ledger/entry.ts';
import { type Ledger, statedBy } from '#shared/ledger/fold.ts';
import { byWhatHappened, latestSeq } from '#shared/ledger/part-state.ts';
import { releasesByProcess } from './process-records.ts';
import type { Release } from './process-releases.ts';
import { toSmallCause } from './small-cause.ts';

/** The latest cause that names one of these releases. */
export function processCauseOf(
  ledger: Ledger,
  process: Process,
  releases: readonly Release[],
): ProcessDriftReport['cause'] {
  const stated = [...ledger.whole['process cause'].values()].filter(({ statement }) => statement.process === process);
  if (stated.length === 0) return undefined;
  const first = new Set(releases.map(({ seq }) => firstSeq(ledger, seq)));
  const standing = stated
    .filter(({ statement }) => statement.releaseSeq !== undefined && first.has(firstSeq(ledger, statement.releaseSeq)))
    .sort(byWhatHappened)
    .at(-1);
  if (standing === undefined) return undefined;
  const { cause, found } = standing.statement;
  return { seq: latestSeq(standing), cause, found, on: standing.happenedOn, by: statedBy(ledger, standing).by };
}

export function toProcessCause(statement: StatementOf<'process cause'>, ledger: Ledger): readonly Objection[] {
  const { process, releaseSeq, sum, cause, found } = statement;
  const objections: Objection[] = [];
  if (sum !== undefined) {
    if (process !== undefined || releaseSeq !== undefined)
      objections.push({ path: ['process'], refusal: { code: 'process-and-sum' } });
    objections.push(...toSmallCause(sum, ledger));
  } else if (process === undefined || releaseSeq === undefined) {
    objections.push({ path: [process === undefined ? 'process' : 'releaseSeq'], refusal: { code: 'missing' } });
  } else {
    const named = firstSeq(ledger, releaseSeq);
    const releases = releasesByProcess(ledger).get(process) ?? [];
    if (named === undefined || !releases.some(({ seq }) => firstSeq(ledger, seq) === named))
      objections.push({ path: ['releaseSeq'], refusal: { code: 'no-such-release', process, seq: releaseSeq } });
  }
  if (cause === 'other' && found === undefined) objections.push({ path: ['found'], refusal: { code: 'missing' } });
  return objections;
}

/** The number of the entry first made, of which this one may be a correction. */
function firstSeq(ledger: Ledger, seq: number | undefined): number | undefined {
  if (seq === undefined) return undefined;
  const recorded = ledger.entries[seq - 1];
  return recorded === undefined ? undefined : ledger.roots.get(recorded.entry.id)?.seq;
}
