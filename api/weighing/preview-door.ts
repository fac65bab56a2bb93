/** The door that judges a weighing before it is saved (rule W4), also one that replaces another: the same words, no id, nothing recorded. */
import { createRoute } from '@hono/zod-openapi';
import { shopDay } from '#api/command/surroundings.ts';
import { type DoorApp, json, jsonBody, needs, personAt, REFUSED } from '#api/door.ts';
import { params, read } from '#api/ledger/read-ledger.ts';
import { SentWeighing } from '#api/ledger/sent-entry.ts';
import { refusedInput } from '#api/problem/problem.ts';
import { PreviewReport } from '#shared/contract/reports.ts';
import { judgeWords } from '#shared/weighing/judge-words.ts';

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
    const weigher = { by: personAt(c).initials, today: shopDay(c.get('services').now()) };
    const sent = c.req.valid('json');
    const judged = await read(c, undefined, (ledger) => judgeWords(sent, ledger, weigher));
    if (!judged.ok) throw refusedInput(judged.refusal);
    return c.json(judged.value, 200);
  });
}
