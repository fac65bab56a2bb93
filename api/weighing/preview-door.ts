/** The door that judges a weighing before it is saved (rule W4), also one that replaces another: the same words, no id, nothing recorded. */
import { createRoute } from '@hono/zod-openapi';
import { shopDay } from '#api/command/surroundings.ts';
import { aircraftAt, type DoorApp, json, jsonBody, needs, personAt, REFUSED } from '#api/door.ts';
import { inSentWords, readWords, type Sender } from '#api/ledger/draft-entry.ts';
import { params, read } from '#api/ledger/read-ledger.ts';
import type { Sent } from '#api/ledger/sent-bounds.ts';
import { SentWeighing } from '#api/ledger/sent-entry.ts';
import { refusedInput } from '#api/problem/problem.ts';
import { PreviewReport } from '#shared/contract/reports.ts';
import { objectionsTo } from '#shared/ledger/admit.ts';
import type { Entry, StatementOf } from '#shared/ledger/entry.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import { previewWeighing } from '#shared/weighing/preview.ts';

const preview = createRoute({
  method: 'post',
  path: '/api/aircraft/{aircraftId}/weighing-preview',
  summary: 'What a weighing would say and do, before it is saved',
  ...needs('crew'),
  request: { params, ...jsonBody(SentWeighing) },
  responses: { 200: json(PreviewReport, 'The judgement; nothing is recorded'), ...REFUSED },
});

export function weighingDoors(app: DoorApp): void {
  app.openapi(preview, async (c) => {
    const sender = { aircraftId: aircraftAt(c).id, person: personAt(c), today: shopDay(c.get('services').now()) };
    const sent = c.req.valid('json');
    return c.json(await read(c, undefined, (ledger) => judged(ledger, sent, sender)), 200);
  });
}

function judged(ledger: Ledger, sent: Sent, sender: Sender): PreviewReport {
  for (const field of ['id', 'by', 'reason'])
    if (sent[field] !== undefined)
      throw refusedInput([
        { path: [field], refusal: { code: 'field-unknown', known: ['kind', 'part', 'happenedOn', 'gross', 'tare'] } },
      ]);
  const kind = sent['kind'] ?? 'weighing';
  if (!CHOICES.includes(String(kind)))
    throw refusedInput([{ path: ['kind'], refusal: { code: 'not-a-choice', text: String(kind), choices: CHOICES } }]);
  // Why it is corrected changes nothing of the judgement, and may be typed last.
  const why = kind === 'correction' ? { reason: 'preview' } : {};
  const words = readWords({ ...sent, ...why, kind, id: PREVIEW_ID }, ledger, sender);
  if (!words.ok) throw refusedInput(words.refusal);
  const entry = words.value;
  // What says the same as before is judged all the same: nothing is recorded here.
  const objections = objectionsTo(entry, ledger, sender.today).filter(
    ({ refusal }) => refusal.code !== 'correction-changes-nothing',
  );
  if (objections.length > 0) throw refusedInput(objections.map(inSentWords));
  const { statement, happenedOn } = toBeJudged(entry);
  const replaced = entry.kind === 'correction' ? ledger.roots.get(entry.supersedesId) : undefined;
  const report = previewWeighing(ledger, statement, happenedOn, replaced);
  if (report === undefined) throw new Error('a part that the ledger knows has a preview');
  return report;
}

/** The weighing that an entry states, or that a correction puts in the place of another. */
function toBeJudged(entry: Entry): { statement: StatementOf<'weighing' | 'assembly weighing'>; happenedOn: string } {
  if (entry.kind === 'weighing' || entry.kind === 'assembly weighing') {
    const { id: _id, by: _by, happenedOn, remark: _remark, ...statement } = entry;
    return { statement, happenedOn };
  }
  const replacement = entry.kind === 'correction' ? entry.replacement : null;
  const statement = replacement?.statement;
  if (replacement === null || (statement?.kind !== 'weighing' && statement?.kind !== 'assembly weighing'))
    throw refusedInput([
      {
        path: ['replacement'],
        refusal: { code: 'not-a-choice', text: String(statement?.kind ?? null), choices: WEIGHINGS },
      },
    ]);
  return { statement, happenedOn: replacement.happenedOn };
}

const WEIGHINGS = ['weighing', 'assembly weighing'];
const CHOICES = [...WEIGHINGS, 'correction'];

/** Never recorded. */
const PREVIEW_ID = '00000000-0000-4000-8000-000000000000';
