/** The doors to parts: all of them, one with its history, and the list that the import takes back. */
import { createRoute, z } from '@hono/zod-openapi';
import { type DoorApp, json, needs, REFUSED } from '#api/door.ts';
import { Problem } from '#api/problem/problem.ts';
import { PartsListReport, PartsReport } from '#shared/contract/aircraft.ts';
import { PartPageReport } from '#shared/contract/part.ts';
import { partLimitOf } from '#shared/drift/part-drift.ts';
import type { PartId } from '#shared/ledger/entry.ts';
import { partPage } from '#shared/rollup/part-page.ts';
import { partsReport } from '#shared/rollup/parts-report.ts';
import { partsText } from '#shared/table/parts-text.ts';
import { known, params, read, seqOf } from './read-ledger.ts';

const parts = createRoute({
  method: 'get',
  path: '/api/aircraft/{aircraftId}/parts',
  summary: 'Every part with its estimate, its weighings and its flag',
  ...needs('viewer'),
  request: { params, query: known },
  responses: { 200: json(PartsReport, 'The parts'), ...REFUSED },
});

const part = createRoute({
  method: 'get',
  path: '/api/aircraft/{aircraftId}/parts/{partId}',
  summary: 'One part with its history and what it does to the aircraft',
  ...needs('viewer'),
  request: { params: params.extend({ partId: z.string().openapi({ format: 'uuid' }) }), query: known },
  responses: { 200: json(PartPageReport, 'The part'), ...REFUSED },
});

const list = createRoute({
  method: 'get',
  path: '/api/aircraft/{aircraftId}/parts-list',
  summary: 'The parts and their estimates as a CSV text that the import takes back',
  ...needs('viewer'),
  request: { params, query: known },
  responses: { 200: json(PartsListReport, 'The list'), ...REFUSED },
});

export function partDoors(app: DoorApp): void {
  app.openapi(parts, async (c) => {
    const report = await read(c, c.req.valid('query').asKnownAt, (ledger) => ({
      seq: seqOf(ledger),
      parts: [...partsReport(ledger)],
      partLimit: partLimitOf(ledger),
    }));
    return c.json(report, 200);
  });

  app.openapi(part, async (c) => {
    const partId = c.req.valid('param').partId.toLowerCase() as PartId;
    const report = await read(c, c.req.valid('query').asKnownAt, (ledger) => partPage(ledger, partId));
    if (report === undefined) throw new Problem('not-found');
    return c.json(report, 200);
  });

  app.openapi(list, async (c) => {
    const report = await read(c, c.req.valid('query').asKnownAt, (ledger) => ({
      seq: seqOf(ledger),
      csv: partsText(ledger),
    }));
    return c.json(report, 200);
  });
}
