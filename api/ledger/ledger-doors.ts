/** The doors to one aircraft's ledger: where it stands, its entries, and the recording of one more. */
import { createRoute, z } from '@hono/zod-openapi';
import { aircraftReport } from '#api/aircraft/aircraft-report.ts';
import { shopDay } from '#api/command/surroundings.ts';
import { aircraftAt, type DoorApp, json, jsonBody, needs, personAt, REFUSED, readsOnlyAt } from '#api/door.ts';
import { refusedInput } from '#api/problem/problem.ts';
import { verifyChain } from '#db/ledger/verify.ts';
import { inventedAircraft } from '#db/record/invented-aircraft.ts';
import {
  CopyReport,
  EntriesReport,
  HistoryReport,
  LedgerReport,
  RecordedReport,
  VerifyReport,
} from '#shared/contract/aircraft.ts';
import { Entry } from '#shared/ledger/entry.ts';
import { daysReport, entryReport, headlineReport } from '#shared/rollup/report.ts';
import { draftOf } from './draft-entry.ts';
import { entriesPage } from './entries-page.ts';
import { asKnownAt, known, params, read, readHeadline, seqOf, whole } from './read-ledger.ts';
import { SentEntry } from './sent-entry.ts';

const headline = createRoute({
  method: 'get',
  path: '/api/aircraft/{aircraftId}',
  summary: 'The aircraft and where it stands',
  ...needs('viewer'),
  request: { params, query: known },
  responses: { 200: json(LedgerReport, 'The headline'), ...REFUSED },
});

const entries = createRoute({
  method: 'get',
  path: '/api/aircraft/{aircraftId}/entries',
  summary: 'Entries, newest first; `search` looks into part number, name, person, remark and what was typed',
  ...needs('viewer'),
  request: {
    params,
    query: z.strictObject({
      asKnownAt,
      before: whole(1).optional().openapi({ type: 'integer' }),
      limit: whole(1, 200).optional().openapi({ type: 'integer', default: 50 }),
      search: z.string().max(200).optional(),
      kind: z.enum(Entry.options.map((option) => option.shape.kind.value)).optional(),
      part: z.string().max(60).optional(),
    }),
  },
  responses: { 200: json(EntriesReport, 'A page of entries'), ...REFUSED },
});

const copy = createRoute({
  method: 'get',
  path: '/api/aircraft/{aircraftId}/entries/copy',
  summary:
    'The entries as they were recorded, oldest first, for a device that goes on without a server; `after`: what it has already',
  ...needs('crew'),
  request: { params, query: z.strictObject({ after: whole(0).optional().openapi({ type: 'integer', default: 0 }) }) },
  responses: {
    200: json(CopyReport, 'Some of the entries after that one, and the number of the last there is'),
    ...REFUSED,
  },
});

/** So many entries go in one answer: some hundreds of kilobytes. */
const COPIED_AT_ONCE = 1000;

const history = createRoute({
  method: 'get',
  path: '/api/aircraft/{aircraftId}/history',
  summary: 'Day by day, by the day things happened',
  ...needs('viewer'),
  request: { params, query: known },
  responses: { 200: json(HistoryReport, 'The days, oldest first'), ...REFUSED },
});

const record = createRoute({
  method: 'post',
  path: '/api/aircraft/{aircraftId}/entries',
  summary:
    'Record one entry in words. Crew: weighing, assembly weighing, check weight, note; lead: aircraft, targets, datum, scale; engineer: the rest',
  ...needs('crew'),
  request: { params, ...jsonBody(SentEntry) },
  responses: {
    200: json(RecordedReport, 'This very entry was there before: nothing is added'),
    201: json(RecordedReport, 'Recorded'),
    ...REFUSED,
  },
});

const verify = createRoute({
  method: 'get',
  path: '/api/aircraft/{aircraftId}/verify',
  summary: 'Walk the chain of hashes',
  ...needs('lead'),
  request: { params },
  responses: { 200: json(VerifyReport, 'Whole, or the first entry that does not fit'), ...REFUSED },
});

export function ledgerDoors(app: DoorApp): void {
  app.openapi(headline, async (c) => {
    const isInvented = (await inventedAircraft(c.get('services').db)).has(aircraftAt(c).id);
    const marks = { isInvented, isReadOnly: readsOnlyAt(c) };
    const report = await readHeadline(c, c.req.valid('query').asKnownAt, (overview) => ({
      aircraft: aircraftReport(aircraftAt(c), overview, marks),
      headline: overview.headline(),
    }));
    return c.json(report, 200);
  });

  app.openapi(entries, async (c) => {
    const { asKnownAt, limit = 50, ...request } = c.req.valid('query');
    return c.json(await read(c, asKnownAt, (ledger) => entriesPage(ledger, { ...request, limit })), 200);
  });

  app.openapi(copy, async (c) => {
    const { after = 0 } = c.req.valid('query');
    const report = await read(c, undefined, (ledger) => ({
      seq: seqOf(ledger),
      // Numbers go up by one from 1.
      entries: ledger.entries.slice(after, after + COPIED_AT_ONCE),
    }));
    return c.json(report, 200);
  });

  app.openapi(history, async (c) => {
    const report = await read(c, c.req.valid('query').asKnownAt, (ledger) => ({
      seq: seqOf(ledger),
      days: [...daysReport(ledger)],
    }));
    return c.json(report, 200);
  });

  app.openapi(record, async (c) => {
    const { ledgers, now } = c.get('services');
    const sender = { aircraftId: aircraftAt(c).id, person: personAt(c), today: shopDay(now()) };
    const draft = draftOf(c.req.valid('json'), sender);
    const answer = await ledgers.record(sender.aircraftId, draft, ({ seq, replayed, ledger }) => ({
      replayed,
      entry: entryReport(ledger, seq - 1),
      headline: headlineReport(ledger),
    }));
    if (answer.ok) return c.json(answer.told, answer.told.replayed ? 200 : 201);
    if ('refused' in answer) throw refusedInput(answer.refused);
    throw refusedInput([{ path: answer.refusal.code === 'entry-id-reused' ? ['id'] : [], refusal: answer.refusal }]);
  });

  app.openapi(verify, async (c) => c.json(await verifyChain(c.get('services').db, aircraftAt(c).id), 200));
}
