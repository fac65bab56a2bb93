/**
 * A weighing in words, judged before it is saved (rule W4): read against the ledger, held against its objections, previewed. The server does it
 * at its door, and a device that has no server does it by its own copy of the ledger.
 */
import type { PreviewReport } from '#shared/contract/reports.ts';
import { objectionsTo } from '#shared/ledger/admit.ts';
import type { Entry, StatementOf } from '#shared/ledger/entry.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import { accept, type Result, refuse } from '#shared/result.ts';
import { entryFromWords, pathInWords } from '#shared/words/entry-from-words.ts';
import type { PathProblem } from '#shared/words/path-problem.ts';
import { previewWeighing } from './preview.ts';

/** `by`: initials of who weighs; `today`: the shop's day, YYYY-MM-DD. */
export type Weigher = { readonly by: string; readonly today: string };

/** The judgement of the words of a weighing, an assembly weighing, or a correction by one; or every problem of them. */
export function judgeWords(
  sent: Readonly<Record<string, unknown>>,
  ledger: Ledger,
  { by, today }: Weigher,
): Result<PreviewReport, readonly PathProblem[]> {
  for (const field of ['id', 'by', 'reason'])
    if (sent[field] !== undefined)
      return refuse([
        { path: [field], refusal: { code: 'field-unknown', known: ['kind', 'part', 'happenedOn', 'gross', 'tare'] } },
      ]);
  const kind = sent['kind'] ?? 'weighing';
  if (!CHOICES.includes(String(kind)))
    return refuse([{ path: ['kind'], refusal: { code: 'not-a-choice', text: String(kind), choices: CHOICES } }]);
  // Why it is corrected changes nothing of the judgement, and may be typed last.
  const why = kind === 'correction' ? { reason: 'preview' } : {};
  const words = { ...sent, ...why, kind, id: PREVIEW_ID };
  const read = entryFromWords(words, { ledger, day: today, by, newId: () => PREVIEW_ID });
  if (!read.ok) return read;
  const entry = read.value;
  // What says the same as before is judged all the same: nothing is recorded here.
  const objections = objectionsTo(entry, ledger, today).filter(
    ({ refusal }) => refusal.code !== 'correction-changes-nothing',
  );
  if (objections.length > 0)
    return refuse(objections.map(({ path, refusal }) => ({ path: pathInWords(path), refusal })));
  const judged = toBeJudged(entry);
  if (!judged.ok) return judged;
  const { statement, happenedOn } = judged.value;
  const replaced = entry.kind === 'correction' ? ledger.roots.get(entry.supersedesId) : undefined;
  const report = previewWeighing(ledger, statement, happenedOn, replaced);
  if (report === undefined) throw new Error('a part that the ledger knows has a preview');
  return accept(report);
}

type Judged = {
  readonly statement: StatementOf<'weighing' | 'assembly weighing'>;
  readonly happenedOn: string;
};

/** The weighing that an entry states, or that a correction puts in the place of another. */
function toBeJudged(entry: Entry): Result<Judged, readonly PathProblem[]> {
  if (entry.kind === 'weighing' || entry.kind === 'assembly weighing') {
    const { id: _id, by: _by, happenedOn, remark: _remark, ...statement } = entry;
    return accept({ statement, happenedOn });
  }
  const replacement = entry.kind === 'correction' ? entry.replacement : null;
  const statement = replacement?.statement;
  if (replacement === null || (statement?.kind !== 'weighing' && statement?.kind !== 'assembly weighing'))
    return refuse([
      {
        path: ['replacement'],
        refusal: { code: 'not-a-choice', text: String(statement?.kind ?? null), choices: WEIGHINGS },
      },
    ]);
  return accept({ statement, happenedOn: replacement.happenedOn });
}

const WEIGHINGS = ['weighing', 'assembly weighing'];
const CHOICES = [...WEIGHINGS, 'correction'];

/** Never recorded. */
const PREVIEW_ID = '00000000-0000-4000-8000-000000000000';
