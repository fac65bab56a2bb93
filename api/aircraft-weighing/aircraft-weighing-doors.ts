/**
 * The doors to the weighing of the whole aircraft (rules A3, A6): the draft that the tablet at the scales and the office share, what was
 * signed, and what a weighing finds beyond the parts. Signing is recording the entry, under the id of the draft; a draft whose id is in the
 * ledger is let go by whoever asks next, so that nothing is left half done between the two.
 */
import { createRoute } from '@hono/zod-openapi';
import { aircraftAt, type DoorApp, type DoorContext, json, jsonBody, needs, personAt, REFUSED } from '#api/door.ts';
import { params, read, seqOf } from '#api/ledger/read-ledger.ts';
import { refusedInput } from '#api/problem/problem.ts';
import { draftOf, dropDraft, type KeptDraft, keepDraft } from '#db/aircraft-weighing/drafts.ts';
import { draftText } from '#shared/aircraft-weighing/draft.ts';
import { reconcilePoint } from '#shared/aircraft-weighing/reconcile.ts';
import { signedWeighings } from '#shared/aircraft-weighing/report.ts';
import {
  AircraftWeighingsReport,
  DraftWords,
  DroppedWeighingDraft,
  KeptWeighingDraft,
  ReconcileReport,
  SentDrop,
  SentPoint,
  SentWeighingDraft,
  type WeighingDraftReport,
} from '#shared/contract/aircraft-weighing.ts';
import type { EntryId } from '#shared/ledger/entry.ts';
import { inForce } from '#shared/ledger/fold.ts';

const at = '/api/aircraft/{aircraftId}/aircraft-weighings';

const list = createRoute({
  method: 'get',
  path: at,
  summary: 'The weighings of the whole aircraft that were signed, and the one that is being made',
  ...needs('viewer'),
  request: { params },
  responses: { 200: json(AircraftWeighingsReport, 'The signed ones, newest first, and the draft'), ...REFUSED },
});

const keep = createRoute({
  method: 'post',
  path: `${at}/draft`,
  summary: 'Keep what has been typed of a weighing, naming the version that was seen. The ledger stays as it is',
  ...needs('crew'),
  request: { params, ...jsonBody(SentWeighingDraft) },
  responses: { 200: json(KeptWeighingDraft, 'What stands now, and whether this was kept'), ...REFUSED },
});

const drop = createRoute({
  method: 'post',
  path: `${at}/draft/drop`,
  summary: 'Give a weighing up that was not signed, as it was seen',
  ...needs('engineer'),
  request: { params, ...jsonBody(SentDrop) },
  responses: { 200: json(DroppedWeighingDraft, 'Whether it is gone'), ...REFUSED },
});

const reconcile = createRoute({
  method: 'post',
  path: `${at}/reconcile`,
  summary: 'What a weighing that is not signed would find beyond the parts that were aboard',
  ...needs('viewer'),
  request: { params, ...jsonBody(SentPoint) },
  responses: { 200: json(ReconcileReport, 'The difference, and where it must sit'), ...REFUSED },
});

export function aircraftWeighingDoors(app: DoorApp): void {
  app.openapi(list, async (c) => {
    const draft = await openDraft(c);
    const report = await read(c, undefined, (ledger) => {
      const aircraft = inForce(ledger, 'aircraft');
      return {
        seq: seqOf(ledger),
        signed: [...signedWeighings(ledger)],
        oilIsEmptyWeight: aircraft?.oilIsEmptyWeight ?? true,
        levelling: aircraft?.levelling,
      };
    });
    return c.json({ ...report, ...(draft === undefined ? {} : { draft: told(draft) }) }, 200);
  });

  app.openapi(keep, async (c) => {
    const { id, after, words } = c.req.valid('json');
    if (await isSigned(c, id)) throw refusedInput([{ path: ['id'], refusal: { code: 'weighing-is-signed' } }]);
    const change = { aircraftId: aircraftAt(c).id, id, after, by: personAt(c).initials, content: draftText(words) };
    const answer = await keepDraft(c.get('services').db, change);
    if (!answer.ok && answer.code === 'gone')
      throw refusedInput([{ path: ['after'], refusal: { code: 'weighing-draft-gone' } }]);
    return c.json({ isKept: answer.ok, draft: told(answer.draft) }, 200);
  });

  app.openapi(drop, async (c) => {
    const isGone = await dropDraft(c.get('services').db, { aircraftId: aircraftAt(c).id, ...c.req.valid('json') });
    return c.json({ isGone }, 200);
  });

  app.openapi(reconcile, async (c) => {
    const point = c.req.valid('json');
    const answer = await read(c, undefined, (ledger) => reconcilePoint(ledger, point));
    if (!answer.ok) throw refusedInput(answer.refusal);
    return c.json(answer.value, 200);
  });
}

/** The draft that is still to be signed. */
async function openDraft(c: DoorContext): Promise<KeptDraft | undefined> {
  const { db } = c.get('services');
  const draft = await draftOf(db, aircraftAt(c).id);
  if (draft === undefined || !(await isSigned(c, draft.id))) return draft;
  await dropDraft(db, { aircraftId: aircraftAt(c).id, id: draft.id });
  return undefined;
}

async function isSigned(c: DoorContext, id: string): Promise<boolean> {
  return read(c, undefined, (ledger) => ledger.entryById.has(id as EntryId));
}

function told({ id, version, by, changedAt, content }: KeptDraft): WeighingDraftReport {
  return { id, version, by, changedAt, words: DraftWords.parse(JSON.parse(content)) };
}
