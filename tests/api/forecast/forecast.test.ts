/** The forecast through its doors: what they show is what the pure rules say of the same entries. */
import { expect, it } from 'vitest';
import { createDemonstration, DEMONSTRATION_ID } from '#db/demo/create-demonstration.ts';
import { loadLedger } from '#db/record/load-ledger.ts';
import { ForecastDaysReport, ForecastReport, ReleasesReport, WhatNextListReport } from '#shared/contract/forecast.ts';
import { processDrifts } from '#shared/drift/process-drift.ts';
import { forecastByDay } from '#shared/forecast/history.ts';
import { forecastReport } from '#shared/forecast/report.ts';
import { whatNext } from '#shared/forecast/what-next.ts';
import { shopOn } from '#tests/api/door-shop.ts';
import { describeOnBothEngines } from '#tests/support/engines.ts';

/** As it comes out of JSON: without what is undefined. */
const plain = (value: unknown): unknown => JSON.parse(JSON.stringify(value));

describeOnBothEngines('the forecast', (engine) => {
  const shop = shopOn(engine, { createDemonstration });

  it('[F2] is that of the pure rules, now and as known then', async () => {
    const { cookie } = await shop().person('lead');
    expect((await shop().call('POST', '/api/demonstration', { cookie })).status).toBe(201);
    const get = async (path: string) =>
      (await shop().call('GET', `/api/aircraft/${DEMONSTRATION_ID}${path}`, { cookie })).json();
    for (const seq of [undefined, 1, 300]) {
      const ledger = await loadLedger(engine.db(), DEMONSTRATION_ID, seq);
      const last = ledger.entries.length;
      const at = seq === undefined ? '' : `?asKnownAt=${seq}`;
      expect(ForecastReport.parse(await get(`/forecast${at}`))).toEqual(plain(forecastReport(ledger)));
      expect(ForecastDaysReport.parse(await get(`/forecast/days${at}`))).toEqual({
        seq: last,
        days: plain(forecastByDay(ledger)),
      });
      expect(ReleasesReport.parse(await get(`/releases${at}`))).toEqual({
        seq: last,
        processes: plain(processDrifts(ledger)),
      });
      expect(WhatNextListReport.parse(await get(`/forecast/next${at}`))).toEqual({
        seq: last,
        rows: plain(whatNext(ledger)),
      });
    }
  });
});
