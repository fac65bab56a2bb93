/** The doors to one aircraft's ledger: where it stands, its entries, and the recording of one more. */
import { createRoute, z } from '@hono/zod-openapi';
import { aircraftReport } from '#api/aircraft/aircraft-report.ts';
import { shopDay } from '#api/command/surroundings.ts';
import { aircraftAt, type DoorApp, type DoorContext, json, jsonBody, needs, personAt, REFUSED } from '#api/door.ts';
import { refusedInput } from '#api/problem/problem.ts';
import { verifyChain } from '#db/ledger/verify.ts';
import { inventedAircraft } from '#db/record/invented-aircraft.ts';
import {
  BreakdownListReport,
  DriftListReport,
  EntriesReport,
  HistoryReport,
  LedgerReport,
  PartsReport,
  RecordedReport,
  VerifyReport,
} from '#shared/contract/aircraft.ts';
import { Entry } from '#shared/ledger/entry.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import {
  breakdownReport,
  DRIFT_ORDERS,
  daysReport,
  driftReport,
  headlineReport,
  partsReport,
} from '#shared/rollup/report.ts';
import { draftOf } from './draft-entry.ts';
import { entriesPage, entryReportAt } from './entries-page.ts';
import { SentEntry } from './sent-entry.ts';

const params = z.object({ aircraftId: z.string().openapi({ format: 'uuid' }) });
/** Query fields are texts; only plain digits are a number here. */
const whole = (least: number, most = 2_147_483_647) =>
  z
    .string()
    .regex(/^\d{1,10}$/, 'must be a whole number')
    .transform(Number)
    .pipe(z.int().min(least).max(most));
const asKnownAt = whole(1).optional().openapi({ type: 'integer', description: 'The ledger as known at that entry' });
const known = z.strictObject({ asKnownAt });

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

const history = createRoute({
  method: 'get',
  path: '/api/aircraft/{aircraftId}/history',
  summary: 'Day by day, by the day things happened',
  ...needs('viewer'),
  request: { params, query: known },
  responses: { 200: json(HistoryReport, 'The days, oldest first'), ...REFUSED },
});

const parts = createRoute({
  method: 'get',
  path: '/api/aircraft/{aircraftId}/parts',
  summary: 'Every part with its estimate, its weighings and its flag',
  ...needs('viewer'),
  request: { params, query: known },
  responses: { 200: json(PartsReport, 'The parts'), ...REFUSED },
});

const breakdown = createRoute({
  method: 'get',
  path: '/api/aircraft/{aircraftId}/breakdown/{key}',
  summary: 'Basic and predicted mass by group, process or assembly',
  ...needs('viewer'),
  request: { params: params.extend({ key: z.enum(['group', 'process', 'assembly']) }), query: known },
  responses: { 200: json(BreakdownListReport, 'The rows'), ...REFUSED },
});

const drift = createRoute({
  method: 'get',
  path: '/api/aircraft/{aircraftId}/drift',
  summary: 'The pieces that are not in line, largest effect first',
  ...needs('viewer'),
  request: { params, query: z.strictObject({ asKnownAt, order: z.enum(DRIFT_ORDERS).optional() }) },
  responses: { 200: json(DriftListReport, 'The findings'), ...REFUSED },
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
    const report = await read(c, c.req.valid('query').asKnownAt, (ledger) => ({
      aircraft: aircraftReport(aircraftAt(c), ledger, isInvented),
      headline: headlineReport(ledger),
    }));
    return c.json(report, 200);
  });

  app.openapi(entries, async (c) => {
    const { asKnownAt, limit = 50, ...request } = c.req.valid('query');
    return c.json(await read(c, asKnownAt, (ledger) => entriesPage(ledger, { ...request, limit })), 200);
  });

  app.openapi(history, async (c) => {
    const report = await read(c, c.req.valid('query').asKnownAt, (ledger) => ({
      seq: seqOf(ledger),
      days: [...daysReport(ledger)],
    }));
    return c.json(report, 200);
  });

  app.openapi(parts, async (c) => {
    const report = await read(c, c.req.valid('query').asKnownAt, (ledger) => ({
      seq: seqOf(ledger),
      parts: [...partsReport(ledger)],
    }));
    return c.json(report, 200);
  });

  app.openapi(breakdown, async (c) => {
    const { key } = c.req.valid('param');
    const report = await read(c, c.req.valid('query').asKnownAt, (ledger) => ({
      seq: seqOf(ledger),
      rows: [...breakdownReport(ledger, key)],
    }));
    return c.json(report, 200);
  });

  app.openapi(drift, async (c) => {
    const { asKnownAt, order } = c.req.valid('query');
    const report = await read(c, asKnownAt, (ledger) => ({
      seq: seqOf(ledger),
      findings: [...driftReport(ledger, order)],
    }));
    return c.json(report, 200);
  });

  app.openapi(record, async (c) => {
    const { ledgers, now } = c.get('services');
    const sender = { aircraftId: aircraftAt(c).id, person: personAt(c), today: shopDay(now()) };
    const draft = draftOf(c.req.valid('json'), sender);
    const answer = await ledgers.record(sender.aircraftId, draft, ({ seq, replayed, ledger }) => ({
      replayed,
      entry: entryReportAt(ledger, seq - 1),
      headline: headlineReport(ledger),
    }));
    if (answer.ok) return c.json(answer.told, answer.told.replayed ? 200 : 201);
    if ('refused' in answer) throw refusedInput(answer.refused);
    throw refusedInput([{ path: answer.refusal.code === 'entry-id-reused' ? ['id'] : [], refusal: answer.refusal }]);
  });

  app.openapi(verify, async (c) => c.json(await verifyChain(c.get('services').db, aircraftAt(c).id), 200));
}

export const aircraftParams = params;

/** Reads the aircraft of the path, as it stands or as it was known at an entry. */
export async function read<Report>(
  c: DoorContext,
  seq: number | undefined,
  work: (ledger: Ledger) => Report,
): Promise<Report> {
  const answer = await c.get('services').ledgers.read(aircraftAt(c).id, seq, work);
  if (!answer.ok) throw refusedInput([{ path: ['asKnownAt'], refusal: answer.refusal }]);
  return answer.value;
}

function seqOf(ledger: Ledger): number {
  return ledger.entries.at(-1)?.seq ?? 0;
}
