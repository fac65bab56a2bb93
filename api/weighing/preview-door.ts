/** The door that judges a weighing before it is saved (rule W4): the same words, no id, and nothing recorded. */
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
  for (const field of ['id', 'by'])
    if (sent[field] !== undefined)
      throw refusedInput([
        { path: [field], refusal: { code: 'field-unknown', known: ['kind', 'part', 'happenedOn', 'gross', 'tare'] } },
      ]);
  const kind = sent['kind'] ?? 'weighing';
  if (kind !== 'weighing' && kind !== 'assembly weighing')
    throw refusedInput([
      {
        path: ['kind'],
        refusal: { code: 'not-a-choice', text: String(kind), choices: ['weighing', 'assembly weighing'] },
      },
    ]);
  const words = readWords({ ...sent, kind, id: PREVIEW_ID }, ledger, sender);
  if (!words.ok) throw refusedInput(words.refusal);
  const entry = words.value;
  const objections = objectionsTo(entry, ledger, sender.today);
  if (objections.length > 0) throw refusedInput(objections.map(inSentWords));
  if (entry.kind !== 'weighing' && entry.kind !== 'assembly weighing')
    throw new Error('the words of a weighing make a weighing');
  const { id: _id, by: _by, happenedOn, remark: _remark, ...weighing } = entry;
  const report = previewWeighing(ledger, weighing, happenedOn);
  if (report === undefined) throw new Error('a part that the ledger knows has a preview');
  return report;
}

/** Never recorded. */
const PREVIEW_ID = '00000000-0000-4000-8000-000000000000';
