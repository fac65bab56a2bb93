/**
 * The doors for lists (rules I1 to I7): one that looks and records nothing, and one that records what was shown, all or nothing, and tells on
 * the way how far it is. Who stops listening before the end takes everything back.
 */
import { createRoute, z } from '@hono/zod-openapi';
import type { MiddlewareHandler } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import { shopDay } from '#api/command/surroundings.ts';
import {
  aircraftAt,
  type DoorApp,
  type DoorContext,
  type DoorEnv,
  json,
  jsonBody,
  needs,
  personAt,
  REFUSED,
} from '#api/door.ts';
import { params } from '#api/ledger/read-ledger.ts';
import { Problem, refusedInput } from '#api/problem/problem.ts';
import { utf8Only } from '#api/web/same-site-only.ts';
import { ImportCommit, ImportPreview, type ImportProblem, ImportRequest } from '#shared/contract/import.ts';
import { mayAs, type Role } from '#shared/contract/people.ts';
import type { AircraftId } from '#shared/ledger/entry.ts';
import { explain } from '#shared/problem/registry.ts';
import { IMPORT_KINDS, type ImportKind, type ListProblem } from '#shared/table/lists.ts';
import type { DraftAnswer } from './draft.ts';
import { recordingOf } from './record-draft.ts';

/** These doors alone take more than the others: the limit is looked at once it is known who sends. */
const MOST_BODY_BYTES = 20 * 1_048_576;
export const IMPORT_PATHS = /^\/api\/aircraft\/[^/]+\/import(?:-preview)?$/;

/** More at once helps nobody; all of them are counted. */
const MOST_TOLD = 2_000;

const ROLE_OF_LIST: Readonly<Record<ImportKind, Role>> = { parts: 'engineer', targets: 'lead', weighings: 'crew' };

const limit = bodyLimit({
  maxSize: MOST_BODY_BYTES,
  onError: () => {
    throw new Problem('list-too-large');
  },
});

/** Who sends is asked before twenty megabytes are read. */
function needsForLists() {
  const { middleware, ...role } = needs('crew');
  const all: MiddlewareHandler<DoorEnv>[] = [middleware, limit, utf8Only];
  return { ...role, middleware: all };
}

const WORDS =
  'Parts take an engineer, targets a lead, weighings crew. A list is the text of a CSV file, or rows of cells with their line; `columns` names the heading of a field where it is not a usual one.';

const preview = createRoute({
  method: 'post',
  path: '/api/aircraft/{aircraftId}/import-preview',
  summary: `What lists would record, and every problem in them; nothing is recorded. ${WORDS}`,
  ...needsForLists(),
  request: { params, ...jsonBody(ImportRequest) },
  responses: { 200: json(ImportPreview, 'What would be recorded'), ...REFUSED },
});

const commit = createRoute({
  method: 'post',
  path: '/api/aircraft/{aircraftId}/import',
  summary: `Record lists as they were shown, all or nothing. ${WORDS}`,
  ...needsForLists(),
  request: { params, ...jsonBody(ImportCommit) },
  responses: {
    200: {
      description: 'A line of JSON now and then: { recorded, total }; at last { done } or { failed }',
      content: { 'application/x-ndjson': { schema: z.string() } },
    },
    ...REFUSED,
  },
});

export function importDoors(app: DoorApp): void {
  app.openapi(preview, async (c) => {
    const answer = await drafted(c, c.req.valid('json'));
    const { headSeq, digest, contents, kinds, lists, problems } = answer;
    return c.json(
      {
        headSeq,
        digest,
        entryCount: contents.length,
        kinds: { ...kinds },
        lists,
        problems: problems.slice(0, MOST_TOLD).map(told),
        problemCount: problems.length,
      },
      200,
    );
  });

  app.openapi(commit, async (c) => {
    const { digest, ...sent } = c.req.valid('json');
    const draft = () => drafted(c, sent);
    const first = await draft();
    mustBeAsShown(first, digest);
    const again = async () => {
      const answer = await draft();
      mustBeAsShown(answer, digest);
      return answer;
    };
    const { db, err, watch } = c.get('services');
    const body = recordingOf({ db, aircraftId: aircraftAt(c).id, first, again, c, err, watch });
    const answer: Response = c.body(body, 200, {
      'Content-Type': 'application/x-ndjson; charset=utf-8',
      // Packed, the lines would wait for one another.
      'Cache-Control': 'no-store, no-transform',
      'X-Accel-Buffering': 'no',
    });
    // To the types a declared text is no stream of it.
    return answer as never;
  });
}

async function drafted(c: DoorContext, { lists, revise = false }: ImportRequest): Promise<DraftAnswer> {
  const person = personAt(c);
  const given = IMPORT_KINDS.filter((kind) => lists[kind] !== undefined);
  if (given.some((kind) => !mayAs(person.role, ROLE_OF_LIST[kind]))) throw new Problem('not-allowed');
  if (given.length === 0) throw refusedInput([{ path: ['lists'], refusal: { code: 'nothing-to-import' } }]);
  const { listReader, now } = c.get('services');
  const aircraftId = aircraftAt(c).id as AircraftId;
  const sent = Object.fromEntries(given.map((kind) => [kind, lists[kind]]));
  const question = { aircraftId, lists: sent, revise, today: shopDay(now()), by: person.initials };
  const answer = await listReader.draft(question, () => !c.req.raw.signal.aborted);
  if (answer === undefined) throw new Problem('list-moved-on');
  return answer;
}

/** A repeat of what is in the ledger already records nothing, and is no other thing than what was shown. */
function mustBeAsShown({ problems, contents, digest }: DraftAnswer, shown: string): void {
  if (problems.length > 0)
    throw refusedInput(
      problems.map(({ list, line, column, refusal }) => ({ path: ['lists', list, `${line}`, `${column}`], refusal })),
    );
  if (contents.length > 0 && digest !== shown) throw new Problem('list-moved-on');
}

function told({ refusal, ...place }: ListProblem): ImportProblem {
  return { ...place, code: refusal.code, ...explain(refusal) };
}
