/** The doors to proposals (rule F8): the list with the forecast they make, a new one, and a change of one. None touches the ledger. */
import { createRoute, z } from '@hono/zod-openapi';
import canonicalize from 'canonicalize';
import { shopDay } from '#api/command/surroundings.ts';
import { aircraftAt, type DoorApp, type DoorContext, json, jsonBody, needs, personAt, REFUSED } from '#api/door.ts';
import { params, read } from '#api/ledger/read-ledger.ts';
import { Problem, refusedInput } from '#api/problem/problem.ts';
import {
  answeredBefore,
  type KeepAnswer,
  type KeptRevision,
  keepRevision,
  latestOf,
  listRevisions,
} from '#db/proposal/proposals.ts';
import { KeptProposal, ProposalsReport, SentProposal, SentRevision } from '#shared/contract/proposal.ts';
import { proposalsReport } from '#shared/forecast/proposal-report.ts';
import { proposalFromWords } from '#shared/forecast/proposal-words.ts';

const list = createRoute({
  method: 'get',
  path: '/api/aircraft/{aircraftId}/proposals',
  summary: 'The proposals, whether each still fits, and the forecast with those that are open or agreed',
  ...needs('viewer'),
  request: { params },
  responses: { 200: json(ProposalsReport, 'The proposals, oldest first'), ...REFUSED },
});

const make = createRoute({
  method: 'post',
  path: '/api/aircraft/{aircraftId}/proposals',
  summary: 'Keep a proposal: its changes in words, or the saving it states. The ledger stays as it is',
  ...needs('engineer'),
  request: { params, ...jsonBody(SentProposal) },
  responses: {
    200: json(KeptProposal, 'This very proposal was kept before'),
    201: json(KeptProposal, 'Kept'),
    ...REFUSED,
  },
});

const change = createRoute({
  method: 'post',
  path: '/api/aircraft/{aircraftId}/proposals/{proposalId}/revisions',
  summary: 'State a proposal anew: everything it says, and which revision was seen',
  ...needs('engineer'),
  request: { params: params.extend({ proposalId: z.string().openapi({ format: 'uuid' }) }), ...jsonBody(SentRevision) },
  responses: {
    200: json(KeptProposal, 'This very statement was kept before'),
    201: json(KeptProposal, 'Kept'),
    ...REFUSED,
  },
});

export function proposalDoors(app: DoorApp): void {
  app.openapi(list, async (c) => {
    const { db, now } = c.get('services');
    const revisions = await listRevisions(db, aircraftAt(c).id);
    return c.json(await read(c, undefined, (ledger) => proposalsReport(ledger, revisions, shopDay(now()))), 200);
  });

  app.openapi(make, async (c) => {
    const sent = c.req.valid('json');
    const kept = await keep(c, { proposalId: sent.id.toLowerCase(), sent: { ...sent, after: 0 } });
    return c.json(kept, kept.replayed ? 200 : 201);
  });

  app.openapi(change, async (c) => {
    const id = z.uuid().safeParse(c.req.valid('param').proposalId);
    if (!id.success) throw new Problem('not-found');
    const kept = await keep(c, { proposalId: id.data.toLowerCase(), sent: c.req.valid('json') });
    return c.json(kept, kept.replayed ? 200 : 201);
  });
}

async function keep(
  c: DoorContext,
  { proposalId, sent }: { readonly proposalId: string; readonly sent: SentRevision },
): Promise<KeptRevision> {
  const { db } = c.get('services');
  const { id, after, ...words } = sent;
  const own = {
    ...{ aircraftId: aircraftAt(c).id, proposalId, after, by: personAt(c).initials },
    ...{ id: id.toLowerCase(), sent: canonicalize(words) ?? '' },
  };
  // A statement that comes once more may name a part that is gone by now: it is known before it is read.
  const before = await answeredBefore(db, own);
  if (before !== undefined) return answered(before);
  const latest = after === 0 ? undefined : await latestOf(db, own);
  if (after > 0 && latest === undefined) throw new Problem('not-found');
  if (latest !== undefined && latest.revision !== after)
    return answered({
      ok: false,
      refusal: { code: 'proposal-moved-on', revision: latest.revision, by: latest.by },
    });
  const content = await read(c, undefined, (ledger) => {
    const stated = proposalFromWords(ledger, words, latest?.content);
    if (!stated.ok) throw refusedInput(stated.refusal);
    return stated.value;
  });
  return answered(await keepRevision(db, { ...own, content }));
}

function answered(answer: KeepAnswer): KeptRevision {
  if (answer.ok) return answer.kept;
  const { refusal } = answer;
  if (refusal.code === 'no-such-proposal') throw new Problem('not-found');
  throw refusedInput([{ path: [refusal.code === 'proposal-id-reused' ? 'id' : 'after'], refusal }]);
}
