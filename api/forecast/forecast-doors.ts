/** The doors to where the aircraft will end: the forecast, by day too, the processes in the order of their releases, and what to weigh next. */
import { createRoute } from '@hono/zod-openapi';
import { type DoorApp, json, needs, REFUSED } from '#api/door.ts';
import { known, params, read, seqOf } from '#api/ledger/read-ledger.ts';
import {
  ForecastDaysReport,
  ForecastReport,
  GroupForecastListReport,
  ReleasesReport,
  WhatNextListReport,
} from '#shared/contract/forecast.ts';
import { processDrifts } from '#shared/drift/process-drift.ts';
import { forecastByDay } from '#shared/forecast/history.ts';
import { forecastReport, groupForecastReport } from '#shared/forecast/report.ts';
import { whatNext } from '#shared/forecast/what-next.ts';

const forecast = createRoute({
  method: 'get',
  path: '/api/aircraft/{aircraftId}/forecast',
  summary: 'Where the aircraft will end, with its band and the chances of the targets',
  ...needs('viewer'),
  request: { params, query: known },
  responses: { 200: json(ForecastReport, 'The forecast'), ...REFUSED },
});

const byDay = createRoute({
  method: 'get',
  path: '/api/aircraft/{aircraftId}/forecast/days',
  summary: 'The forecast at the end of every day, as the entries of that day and before would have had it',
  ...needs('viewer'),
  request: { params, query: known },
  responses: { 200: json(ForecastDaysReport, 'The days'), ...REFUSED },
});

const byGroup = createRoute({
  method: 'get',
  path: '/api/aircraft/{aircraftId}/forecast/groups',
  summary: 'What each group will weigh, with its band, against its target; the rows add up to the forecast',
  ...needs('viewer'),
  request: { params, query: known },
  responses: { 200: json(GroupForecastListReport, 'The groups'), ...REFUSED },
});

const releases = createRoute({
  method: 'get',
  path: '/api/aircraft/{aircraftId}/releases',
  summary: 'Every process in the order of its releases, with its charts and what they call',
  ...needs('viewer'),
  request: { params, query: known },
  responses: {
    200: json(ReleasesReport, 'The processes'),
    ...REFUSED,
  },
});

const next = createRoute({
  method: 'get',
  path: '/api/aircraft/{aircraftId}/forecast/next',
  summary: 'Which parts to weigh or to work out next, by the share of the forecast’s variance that goes',
  ...needs('viewer'),
  request: { params, query: known },
  responses: { 200: json(WhatNextListReport, 'The parts'), ...REFUSED },
});

export function forecastDoors(app: DoorApp): void {
  app.openapi(forecast, async (c) => c.json(await read(c, c.req.valid('query').asKnownAt, forecastReport), 200));

  app.openapi(byGroup, async (c) => {
    const report = await read(c, c.req.valid('query').asKnownAt, (ledger) => ({
      seq: seqOf(ledger),
      groups: [...groupForecastReport(ledger)],
    }));
    return c.json(report, 200);
  });

  app.openapi(byDay, async (c) => {
    const report = await read(c, c.req.valid('query').asKnownAt, (ledger) => ({
      seq: seqOf(ledger),
      days: [...forecastByDay(ledger)],
    }));
    return c.json(report, 200);
  });

  app.openapi(releases, async (c) => {
    const report = await read(c, c.req.valid('query').asKnownAt, (ledger) => ({
      seq: seqOf(ledger),
      processes: [...processDrifts(ledger)],
    }));
    return c.json(report, 200);
  });

  app.openapi(next, async (c) => {
    const report = await read(c, c.req.valid('query').asKnownAt, (ledger) => ({
      seq: seqOf(ledger),
      rows: [...whatNext(ledger)],
    }));
    return c.json(report, 200);
  });
}
