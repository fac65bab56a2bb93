/** A proposal from words (rule F8): who owns it, what it is expected to save, how likely and by when. It never touches the ledger. */
import {
  type NamedChange,
  PROPOSAL_STATES,
  type ProposalContent,
  type ProposalState,
  type SentChange,
} from '#shared/contract/proposal.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import { toKg, toM } from '#shared/quantity/exact.ts';
import { readShare } from '#shared/quantity/typed.ts';
import { accept, type Result, refuse } from '#shared/result.ts';
import { FieldReader } from '#shared/words/field-reader.ts';
import type { PathProblem } from '#shared/words/path-problem.ts';
import { forecastOf } from './forecast.ts';
import { changesFromWords } from './proposal-changes.ts';
import { changedForecast } from './what-if.ts';

export type ProposalWords = {
  readonly title?: string | undefined;
  readonly owner?: string | undefined;
  readonly saving?: string | undefined;
  readonly likelihood?: string | undefined;
  readonly due?: string | undefined;
  readonly state?: string | undefined;
  readonly reason?: string | undefined;
  readonly changes?: readonly SentChange[] | undefined;
};

/** `before`: what it said last, where this is a change of it; its changes stay where none are sent. */
export function proposalFromWords(
  ledger: Ledger,
  { changes: sent, ...words }: ProposalWords,
  before?: ProposalContent,
): Result<ProposalContent, readonly PathProblem[]> {
  const reader = new FieldReader(words);
  for (const field of ['title', 'owner', 'likelihood', 'due']) reader.need(field);
  const title = reader.text('title', 120) ?? '';
  const owner = reader.text('owner', 60) ?? '';
  const due = reader.day('due') ?? '';
  const state = reader.choice<ProposalState>('state', PROPOSAL_STATES) ?? before?.state ?? 'open';
  const reason = reader.text('reason', 400);
  if (state === 'dropped' && reason === undefined && !reader.problems.some(({ field }) => field === 'reason'))
    reader.need('reason');
  const likelihood = likelihoodFrom(reader);
  const statedSavingKg = reader.mass('saving')?.si;
  const read = sent === undefined ? accept(undefined) : changesFromWords(ledger, sent);
  const kept = keptChanges(ledger, read.ok ? read.value : undefined, before);
  // Whether it says too much or too little is only asked where it can be read.
  if (read.ok) {
    if (kept.changes.length > 0 && reader.has('saving')) reader.problem('saving', { code: 'saving-stated-twice' });
    if (kept.changes.length === 0 && !reader.has('saving')) reader.problem('saving', { code: 'proposal-says-nothing' });
  }
  const problems: PathProblem[] = reader.problems.map(({ field, refusal }) => ({ path: [field], refusal }));
  if (!read.ok) problems.push(...read.refusal.map(({ path, refusal }) => ({ path: ['changes', ...path], refusal })));
  if (problems.length > 0) return refuse(problems);
  const savingKg = statedSavingKg ?? savingOf(ledger, kept.changes) ?? before?.savingKg ?? 0;
  // What is closed keeps the saving that it was closed with: its effect may be in the ledger by now.
  const isClosed = state === 'done' || state === 'dropped';
  return accept({
    title,
    owner,
    likelihood: likelihood ?? 0,
    due,
    state,
    ...(reason === undefined ? {} : { reason }),
    ...(statedSavingKg === undefined ? {} : { statedSavingKg }),
    savingKg:
      isClosed && sent === undefined && statedSavingKg === undefined ? (before?.savingKg ?? savingKg) : savingKg,
    ...kept,
    typed: { ...reader.typed },
  });
}

function keptChanges(
  ledger: Ledger,
  changes: readonly NamedChange[] | undefined,
  before: ProposalContent | undefined,
): Pick<ProposalContent, 'changes' | 'datumM' | 'seq'> {
  if (changes === undefined && before !== undefined)
    return { changes: before.changes, datumM: before.datumM, seq: before.seq };
  return { changes: [...(changes ?? [])], datumM: toM(ledger.datumNm), seq: ledger.entries.at(-1)?.seq ?? 0 };
}

/** Undefined where the changes cannot be made any more. */
function savingOf(ledger: Ledger, changes: readonly NamedChange[]): number | undefined {
  const made = changedForecast(
    ledger,
    changes.map(({ change }) => change),
  );
  return made.ok ? toKg(forecastOf(ledger).tally.massNg) - toKg(made.value.tally.massNg) : undefined;
}

/** 0 to 100 %, with the sign or without. */
function likelihoodFrom(reader: FieldReader): number | undefined {
  const text = reader.raw('likelihood');
  if (text === undefined) return undefined;
  const read = readShare(text, { unit: '%' });
  if (read.ok && read.value.si <= 1) {
    reader.typed['likelihood'] = read.value.typed;
    return read.value.si;
  }
  if (!read.ok && read.refusal.code !== 'out-of-range') reader.problem('likelihood', read.refusal);
  else reader.problem('likelihood', { code: 'out-of-range', text, least: '0 %', most: '100 %' });
  return undefined;
}
