/** Judges a reading by this device's own copy of the ledger. Loaded when it is needed: it brings the rules of the ledger with it. */

import type { ProblemReport } from '#shared/contract/aircraft.ts';
import type { PreviewReport } from '#shared/contract/reports.ts';
import { applyEntry, type Ledger, openLedger } from '#shared/ledger/fold.ts';
import { explain } from '#shared/problem/registry.ts';
import { judgeWords } from '#shared/weighing/judge-words.ts';
import { type PathProblem, pointerTo } from '#shared/words/path-problem.ts';
import { say } from '#shared/words/say.ts';
import { ProblemError } from '../door/ask.ts';
import { today } from '../words/days.ts';
import { copiedUpTo } from './ledger-copy.ts';
import { deviceStore } from './store.ts';

const folded = new Map<string, Ledger>();
let folding: Promise<unknown> = Promise.resolve();

export type JudgedHere = {
  readonly report: PreviewReport;
  /** The last entry of the copy, and when it was recorded. */
  readonly seq: number;
  readonly at: string;
};

/** Undefined where there is no copy to judge by. Throws `ProblemError` for words that are refused, as the server's door does. */
export async function judgeHere(
  aircraftId: string,
  words: Readonly<Record<string, unknown>>,
  by: string,
): Promise<JudgedHere | undefined> {
  const turn = folding.then(() => foldOn(aircraftId));
  folding = turn.catch(() => undefined);
  const ledger = await turn;
  const last = ledger?.entries.at(-1);
  if (ledger === undefined || last === undefined) return undefined;
  const judged = judgeWords(words, ledger, { by, today: today() });
  if (!judged.ok) throw new ProblemError(problemOf(judged.refusal));
  return { report: judged.value, seq: last.seq, at: last.recordedAt };
}

/** Entries folded in one go: between them the screen is free. */
const STEP_ENTRIES = 250;

async function foldOn(aircraftId: string): Promise<Ledger | undefined> {
  const last = await copiedUpTo(aircraftId);
  if (last === undefined) return undefined;
  const before = folded.get(aircraftId);
  // A copy that has become shorter was begun anew.
  const ledger = before === undefined || (before.entries.at(-1)?.seq ?? 0) > last ? openLedger() : before;
  folded.set(aircraftId, ledger);
  for (;;) {
    const next = (ledger.entries.at(-1)?.seq ?? 0) + 1;
    const range = IDBKeyRange.bound([aircraftId, next], [aircraftId, next + STEP_ENTRIES - 1]);
    const entries = await (await deviceStore()).getAll('entries', range);
    for (const { seq, recordedAt, entry } of entries) applyEntry(ledger, { seq, recordedAt, entry });
    if (entries.length < STEP_ENTRIES) return ledger;
  }
}

function problemOf(problems: readonly PathProblem[]): ProblemReport {
  const told = problems.map(({ path, refusal }) => ({
    pointer: pointerTo(path),
    code: refusal.code,
    ...explain(refusal),
  }));
  return {
    type: 'about:blank',
    title: say`Cannot be taken as it is`,
    status: 400,
    detail: told[0]?.words ?? '',
    code: 'input-refused',
    remedy: told[0]?.remedy ?? '',
    problems: told,
  };
}
