/**
 * The forecast through its doors where a ledger gives it nonsense to stand on, or where it is asked of days and entries that are not there:
 * an answer whose numbers are numbers, or a refusal that says what to change. All of it is invented.
 */
import { expect, it } from 'vitest';
import {
  ForecastDaysReport,
  ForecastReport,
  GroupForecastListReport,
  ReleasesReport,
  WhatNextListReport,
} from '#shared/contract/forecast.ts';
import { ProposalsReport } from '#shared/contract/proposal.ts';
import { BridgeReport } from '#shared/contract/reports.ts';
import { aircraftIn, newId, problemOf, record, shopOn } from '#tests/api/door-shop.ts';
import { ODD_ENTRIES, ODD_PARTS } from '#tests/api/forecast/odd-aircraft.ts';
import { describeOnBothEngines } from '#tests/support/engines.ts';

const DOORS = [
  ['/forecast', ForecastReport],
  ['/forecast/days', ForecastDaysReport],
  ['/forecast/groups', GroupForecastListReport],
  ['/forecast/next', WhatNextListReport],
  ['/releases', ReleasesReport],
  ['/proposals', ProposalsReport],
] as const;

describeOnBothEngines('the forecast of an odd aircraft', (engine) => {
  const shop = shopOn(engine);

  async function begun() {
    const { cookie } = await shop().person('lead');
    const id = await aircraftIn(shop(), cookie);
    for (const entry of ODD_ENTRIES) await record(shop(), cookie, id, entry);
    const at = `/api/aircraft/${id}`;
    const get = (path: string) => shop().call('GET', `${at}${path}`, { cookie });
    return { at, cookie, get, last: ODD_ENTRIES.length + 1 };
  }

  it('[F1] [F2] [F4] [F5] every door answers in its shape, now and as known at every entry', async () => {
    const { at, cookie, get, last } = await begun();
    const idea = { title: 'Lighter paint', owner: 'Bo', saving: '0.5 kg', likelihood: '50', due: '2099-01-31' };
    const kept = await shop().call('POST', `${at}/proposals`, { cookie, body: { id: newId(), ...idea } });
    expect(kept.status).toBe(201);
    for (const [door, shape] of DOORS) {
      for (const seq of door === '/proposals' ? [undefined] : [undefined, 1, Math.floor(last / 2), last]) {
        const answer = await get(`${door}${seq === undefined ? '' : `?asKnownAt=${seq}`}`);
        const text = await answer.text();
        expect({ door, seq, status: answer.status }).toEqual({ door, seq, status: 200 });
        // Not-a-number goes over the wire as null, and no shape has that.
        expect(text).not.toContain('null');
        expect(shape.safeParse(JSON.parse(text)).error, `${door} at ${seq}`).toBeUndefined();
      }
    }
    const { processes } = ReleasesReport.parse(await (await get('/releases')).json());
    const released = processes.flatMap(({ points }) => points.map(({ part }) => part));
    expect(released).toEqual(expect.arrayContaining([ODD_PARTS.once, ODD_PARTS.nothingLeft]));
    expect(released).not.toContain(ODD_PARTS.zero);
  });

  it('[L7] an entry that is not there yet is refused by every door, and so is what is no entry', async () => {
    const { get, last } = await begun();
    for (const door of ['/forecast', '/forecast/days', '/forecast/groups', '/forecast/next', '/releases', '/bridge']) {
      await problemOf(await get(`${door}?asKnownAt=${last + 1}`), 404, 'no-such-entry');
      for (const text of ['0', '-1', '2.5', '1e2', 'NaN', '2026-05-01', '99999999999'])
        await problemOf(await get(`${door}?asKnownAt=${text}`), 400, 'input-refused');
    }
  });

  it('[L6] between days in the future, or before the first entry, nothing happened', async () => {
    const { get } = await begun();
    for (const query of [
      'fromDay=2090-01-01',
      'fromDay=2090-01-01&toDay=2099-12-31',
      'fromDay=1950-01-01&toDay=1960-01-01',
      'toDay=1960-01-01',
      'fromEntry=5000',
      'fromEntry=5000&toEntry=6000',
    ])
      for (const by of ['cause', 'group', 'part']) {
        const answer = await get(`/bridge?${query}&by=${by}`);
        const text = await answer.text();
        expect({ query, status: answer.status, hasNull: text.includes('null') }).toEqual({
          query,
          status: 200,
          hasNull: false,
        });
        const { effects, from, to } = BridgeReport.parse(JSON.parse(text));
        expect(effects).toEqual([]);
        expect(to.predictedKg).toBe(from.predictedKg);
      }
    for (const query of ['fromDay=2026-02-30', 'toDay=tomorrow', 'fromEntry=-1', 'toEntry=0', 'fromDay='])
      await problemOf(await get(`/bridge?${query}`), 400, 'input-refused');
  });
});
