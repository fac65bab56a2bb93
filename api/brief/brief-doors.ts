/** The doors to briefs (rules B1-B3): the list, one whole, a new one, and what is said of a draft. None touches the ledger. */
import { createRoute, z } from '@hono/zod-openapi';
import canonicalize from 'canonicalize';
import { shopDay } from '#api/command/surroundings.ts';
import { aircraftAt, type DoorApp, type DoorContext, json, jsonBody, needs, personAt, REFUSED } from '#api/door.ts';
import { params, read } from '#api/ledger/read-ledger.ts';
import { Problem, refusedInput } from '#api/problem/problem.ts';
import {
  type BriefAnswer,
  briefWith,
  type KeptWhole,
  keepBrief,
  listBriefs,
  madeBefore,
  stateBrief,
} from '#db/brief/briefs.ts';
import { composeBrief, lastIssued } from '#db/brief/compose-brief.ts';
import { Brief, BriefListReport, KeptBrief, SentBrief, SentBriefStatement } from '#shared/contract/brief.ts';

export const ofBrief = params.extend({ briefId: z.string().openapi({ format: 'uuid' }) });

const list = createRoute({
  method: 'get',
  path: '/api/aircraft/{aircraftId}/briefs',
  summary: 'The briefs, newest first, and what the next one would be made from',
  ...needs('viewer'),
  request: { params },
  responses: { 200: json(BriefListReport, 'Drafts and issued briefs'), ...REFUSED },
});

const one = createRoute({
  method: 'get',
  path: '/api/aircraft/{aircraftId}/briefs/{briefId}',
  summary: 'A brief whole: its content as it was made, and its remarks',
  ...needs('viewer'),
  request: { params: ofBrief },
  responses: { 200: json(Brief, 'The brief'), ...REFUSED },
});

const make = createRoute({
  method: 'post',
  path: '/api/aircraft/{aircraftId}/briefs',
  summary: 'Make a brief from an entry and an earlier one; it is a draft until it is issued',
  ...needs('engineer'),
  request: { params, ...jsonBody(SentBrief) },
  responses: { 200: json(KeptBrief, 'This very brief was made before'), 201: json(KeptBrief, 'Made'), ...REFUSED },
});

const state = createRoute({
  method: 'post',
  path: '/api/aircraft/{aircraftId}/briefs/{briefId}/statements',
  summary: 'Say something of a draft: its remarks as they are to be, or that it is issued or dropped',
  ...needs('engineer'),
  request: { params: ofBrief, ...jsonBody(SentBriefStatement) },
  responses: { 200: json(KeptBrief, 'This very statement was kept before'), 201: json(KeptBrief, 'Kept'), ...REFUSED },
});

export function briefDoors(app: DoorApp): void {
  app.openapi(list, async (c) => {
    const { db } = c.get('services');
    const { id, headSeq: seq } = aircraftAt(c);
    const briefs = [...(await listBriefs(db, id))];
    return c.json({ seq, briefs, next: { fromSeq: lastIssued(briefs, seq)?.toSeq ?? 0, toSeq: seq } }, 200);
  });

  app.openapi(one, async (c) => c.json((await briefAt(c, c.req.valid('param').briefId)).brief, 200));

  app.openapi(make, async (c) => {
    const { db, now } = c.get('services');
    const { id, ...asked } = c.req.valid('json');
    const { id: aircraftId, name } = aircraftAt(c);
    const own = {
      ...{ aircraftId, briefId: id.toLowerCase(), by: personAt(c).initials },
      sent: canonicalize(asked) ?? '',
    };
    // One that is asked for again is known before it is composed again.
    const before = await madeBefore(db, own);
    if (before !== undefined) return c.json(answered(before), 200);
    const { entry, since } = asked;
    const content = await composeBrief(
      db,
      { aircraft: { id: aircraftId, name }, entry, since, by: own.by, on: shopDay(now()) },
      (seq, work) => read(c, seq, work),
    );
    if (!content.ok) throw refusedInput(content.refusal);
    const kept = answered(await keepBrief(db, { ...own, content: content.value }));
    return c.json(kept, kept.replayed ? 200 : 201);
  });

  app.openapi(state, async (c) => {
    const { db } = c.get('services');
    const { id, after, act, remarks } = c.req.valid('json');
    const stating = {
      ...{ aircraftId: aircraftAt(c).id, briefId: briefIdAt(c.req.valid('param').briefId), id: id.toLowerCase() },
      ...{ after, act, by: personAt(c).initials, remarks: withWords(remarks) },
    };
    const kept = answered(await stateBrief(db, stating));
    return c.json(kept, kept.replayed ? 200 : 201);
  });
}

/** The brief that the path names, of the aircraft that it names. */
export async function briefAt(c: DoorContext, briefId: string): Promise<KeptWhole> {
  const { db, store } = c.get('services');
  const kept = await briefWith(db, { aircraftId: aircraftAt(c).id, briefId: briefIdAt(briefId) }, store.copy);
  if (kept === undefined) throw new Problem('not-found');
  return kept;
}

function briefIdAt(text: string): string {
  const id = z.uuid().safeParse(text);
  if (!id.success) throw new Problem('not-found');
  return id.data.toLowerCase();
}

/** An empty remark is none. */
function withWords(remarks: SentBriefStatement['remarks'] = {}): Brief['remarks'] {
  return Object.fromEntries(Object.entries(remarks).filter(([, words]) => words !== undefined && words !== ''));
}

function answered(answer: BriefAnswer): KeptBrief {
  if (answer.ok) return answer.kept;
  const { refusal } = answer;
  if (refusal.code === 'no-such-brief') throw new Problem('not-found');
  throw refusedInput([{ path: [refusal.code === 'brief-id-reused' ? 'id' : 'after'], refusal }]);
}
