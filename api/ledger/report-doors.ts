/** The doors to what can be read out of one aircraft's ledger beside its entries: sums by group, what drifts, scales, bridges. */
import { createRoute, z } from '@hono/zod-openapi';
import { type DoorApp, json, needs, REFUSED } from '#api/door.ts';
import { refusedInput } from '#api/problem/problem.ts';
import {
  BreakdownListReport,
  DriftListReport,
  GroupsReport,
  PairListReport,
  ScaleListReport,
  SplitListReport,
} from '#shared/contract/aircraft.ts';
import { SplitKey } from '#shared/contract/drift.ts';
import { AccuracyReport } from '#shared/contract/layup.ts';
import { BridgeKey, BridgeReport } from '#shared/contract/reports.ts';
import { SetUpReport } from '#shared/contract/set-up.ts';
import { DRIFT_ORDERS, findingsReport, splitReport } from '#shared/drift/report.ts';
import { accuracyReport } from '#shared/layup/accuracy.ts';
import { bridgeReport, type Period, reversalOf } from '#shared/rollup/bridge.ts';
import { breakdownReport } from '#shared/rollup/report.ts';
import { setUpReport } from '#shared/rollup/set-up-report.ts';
import { groupsOf } from '#shared/target/groups.ts';
import { pairReport } from '#shared/weighing/pairs.ts';
import { scaleReport } from '#shared/weighing/scale-report.ts';
import { asKnownAt, known, params, read, seqOf, whole } from './read-ledger.ts';

const breakdown = createRoute({
  method: 'get',
  path: '/api/aircraft/{aircraftId}/breakdown/{key}',
  summary: 'Basic and predicted mass by group, process or assembly',
  ...needs('viewer'),
  request: { params: params.extend({ key: z.enum(['group', 'process', 'assembly']) }), query: known },
  responses: { 200: json(BreakdownListReport, 'The rows'), ...REFUSED },
});

const groups = createRoute({
  method: 'get',
  path: '/api/aircraft/{aircraftId}/groups',
  summary: 'The groups that the targets list or parts have, to be offered wherever one is typed',
  ...needs('viewer'),
  request: { params, query: known },
  responses: { 200: json(GroupsReport, 'The groups'), ...REFUSED },
});

const drift = createRoute({
  method: 'get',
  path: '/api/aircraft/{aircraftId}/drift',
  summary: 'The pieces that are not in line, largest effect first',
  ...needs('viewer'),
  request: { params, query: z.strictObject({ asKnownAt, order: z.enum(DRIFT_ORDERS).optional() }) },
  responses: { 200: json(DriftListReport, 'The findings'), ...REFUSED },
});

const split = createRoute({
  method: 'get',
  path: '/api/aircraft/{aircraftId}/split/{key}',
  summary: 'Differences of the weighed pieces, split by what they had in common',
  ...needs('viewer'),
  request: { params: params.extend({ key: SplitKey }), query: known },
  responses: { 200: json(SplitListReport, 'The rows'), ...REFUSED },
});

const pairs = createRoute({
  method: 'get',
  path: '/api/aircraft/{aircraftId}/pairs',
  summary: 'What pieces weighed twice taught of flash and of what goes on later, by process',
  ...needs('viewer'),
  request: { params, query: known },
  responses: { 200: json(PairListReport, 'The lessons'), ...REFUSED },
});

const scales = createRoute({
  method: 'get',
  path: '/api/aircraft/{aircraftId}/scales',
  summary: 'The scales, their calibration and check weights, and the weighings in doubt',
  ...needs('viewer'),
  request: { params, query: known },
  responses: { 200: json(ScaleListReport, 'The scales'), ...REFUSED },
});

const accuracy = createRoute({
  method: 'get',
  path: '/api/aircraft/{aircraftId}/lay-up-accuracy',
  summary: 'Estimates by lay-up against the scale, and what laminates turn out to be offered to parts not weighed yet',
  ...needs('viewer'),
  request: { params, query: known },
  responses: {
    200: json(AccuracyReport.extend({ seq: z.int() }), 'What is calculated against what is weighed'),
    ...REFUSED,
  },
});

const setUp = createRoute({
  method: 'get',
  path: '/api/aircraft/{aircraftId}/set-up',
  summary: 'What the aircraft is, where its datum went, and every revision of its targets with its margin today',
  ...needs('viewer'),
  request: { params, query: known },
  responses: { 200: json(SetUpReport, 'The set-up'), ...REFUSED },
});

const day = z.iso.date().optional();
const bridge = createRoute({
  method: 'get',
  path: '/api/aircraft/{aircraftId}/bridge',
  summary:
    'From one moment to another by cause, group or part: between two entries as recorded, or two days as they happened',
  ...needs('viewer'),
  request: {
    params,
    query: z
      .strictObject({
        asKnownAt,
        fromEntry: whole(0).optional().openapi({ type: 'integer' }),
        toEntry: whole(1).optional().openapi({ type: 'integer' }),
        fromDay: day,
        toDay: day,
        by: BridgeKey.optional(),
      })
      .refine(
        ({ fromEntry, toEntry, fromDay, toDay }) =>
          (fromEntry ?? toEntry) === undefined || (fromDay ?? toDay) === undefined,
        {
          message: 'give entries or days, not both',
          path: ['fromDay'],
        },
      ),
  },
  responses: { 200: json(BridgeReport.extend({ seq: z.int() }), 'The bridge'), ...REFUSED },
});

export function reportDoors(app: DoorApp): void {
  app.openapi(breakdown, async (c) => {
    const { key } = c.req.valid('param');
    const report = await read(c, c.req.valid('query').asKnownAt, (ledger) => ({
      seq: seqOf(ledger),
      rows: [...breakdownReport(ledger, key)],
    }));
    return c.json(report, 200);
  });

  app.openapi(groups, async (c) => {
    const report = await read(c, c.req.valid('query').asKnownAt, (ledger) => ({
      seq: seqOf(ledger),
      groups: [...groupsOf(ledger)],
    }));
    return c.json(report, 200);
  });

  app.openapi(drift, async (c) => {
    const { asKnownAt, order } = c.req.valid('query');
    const report = await read(c, asKnownAt, (ledger) => ({
      seq: seqOf(ledger),
      findings: findingsReport(ledger, order),
    }));
    return c.json(report, 200);
  });

  app.openapi(split, async (c) => {
    const { key } = c.req.valid('param');
    const report = await read(c, c.req.valid('query').asKnownAt, (ledger) => ({
      seq: seqOf(ledger),
      rows: [...splitReport(ledger, key)],
    }));
    return c.json(report, 200);
  });

  app.openapi(pairs, async (c) => {
    const report = await read(c, c.req.valid('query').asKnownAt, (ledger) => ({
      seq: seqOf(ledger),
      rows: [...pairReport(ledger)],
    }));
    return c.json(report, 200);
  });

  app.openapi(scales, async (c) => {
    const report = await read(c, c.req.valid('query').asKnownAt, (ledger) => ({
      seq: seqOf(ledger),
      scales: [...scaleReport(ledger)],
    }));
    return c.json(report, 200);
  });

  app.openapi(accuracy, async (c) => {
    const report = await read(c, c.req.valid('query').asKnownAt, (ledger) => ({
      seq: seqOf(ledger),
      ...accuracyReport(ledger),
    }));
    return c.json(report, 200);
  });

  app.openapi(setUp, async (c) => {
    const report = await read(c, c.req.valid('query').asKnownAt, (ledger) => ({
      seq: seqOf(ledger),
      ...setUpReport(ledger),
    }));
    return c.json(report, 200);
  });

  app.openapi(bridge, async (c) => {
    const { asKnownAt, fromEntry, toEntry, fromDay, toDay, by } = c.req.valid('query');
    const period: Period =
      fromEntry !== undefined || toEntry !== undefined
        ? { axis: 'entry', from: fromEntry, to: toEntry }
        : { axis: 'day', from: fromDay, to: toDay };
    const refusal = reversalOf(period);
    if (refusal !== undefined) throw refusedInput([{ path: [period.axis === 'day' ? 'toDay' : 'toEntry'], refusal }]);
    const report = await read(c, asKnownAt, (ledger) => ({ seq: seqOf(ledger), ...bridgeReport(ledger, period, by) }));
    return c.json(report, 200);
  });
}
