/** What spans the whole aircraft, through its doors: everything that is open (rule D6), and where its mass is (rule R5). */
import { expect, it } from 'vitest';
import { shopDay } from '#api/command/surroundings.ts';
import { loadLedger } from '#db/record/load-ledger.ts';
import { OpenListReport } from '#shared/contract/open-list.ts';
import { WhereReport } from '#shared/contract/where.ts';
import { openListReport } from '#shared/rollup/open-list.ts';
import { whereReport } from '#shared/rollup/where.ts';
import { aircraftIn, problemOf, record, shopOn } from '#tests/api/door-shop.ts';
import { describeOnBothEngines } from '#tests/support/engines.ts';

describeOnBothEngines('the whole aircraft', (engine) => {
  const shop = shopOn(engine);

  it('[D6] what is open is that of the pure rules on the day of the shop, of one kind and in part where that is asked', async () => {
    const { cookie } = await shop().person('lead');
    const aircraftId = await aircraftIn(shop(), cookie);
    const part = { kind: 'part added', group: 'wing', process: 'wet lay-up' };
    for (const number of ['W-1', 'W-2', 'W-3']) await record(shop(), cookie, aircraftId, { ...part, number });
    const estimate = { kind: 'estimate', part: 'W-1', estimate: '4 kg', allowance: '10 %', x: '1 m' };
    await record(shop(), cookie, aircraftId, estimate);
    await record(shop(), cookie, aircraftId, {
      kind: 'weighing',
      part: 'W-1',
      gross: '5.20 kg',
      condition: 'finished',
    });
    const get = (query: string) => shop().call('GET', `/api/aircraft/${aircraftId}/open${query}`, { cookie });
    const open = async (query: string) => OpenListReport.parse(await (await get(query)).json());
    const ledger = await loadLedger(engine.db(), aircraftId);
    const today = shopDay(new Date());
    const plain = (value: unknown): unknown => JSON.parse(JSON.stringify(value));
    const all = await open('');
    expect(all).toEqual(plain(openListReport(ledger, { today, most: 300 })));
    expect(all.items.map(({ what, subject }) => `${what} ${subject}`)).toContain('decision missing W-1');
    expect(await open('?limit=0')).toEqual({ ...all, items: [] });
    const missing = await open('?what=estimate+missing&limit=1');
    expect(missing.items.map(({ subject }) => subject)).toEqual(['W-2']);
    expect((await open('?asKnownAt=2')).counts).toEqual([{ what: 'estimate missing', count: 1 }]);
    await problemOf(await get('?what=everything'), 400, 'input-refused');
    await problemOf(await get('?limit=301'), 400, 'input-refused');
  });

  it('[R5] where the mass is, is that of the pure rules, now and as known then', async () => {
    const { cookie } = await shop().person('lead');
    const aircraftId = await aircraftIn(shop(), cookie);
    await record(shop(), cookie, aircraftId, {
      kind: 'part added',
      group: 'wing',
      process: 'wet lay-up',
      number: 'W-1',
    });
    await record(shop(), cookie, aircraftId, { kind: 'estimate', part: 'W-1', estimate: '4 kg', x: '1 m', z: '0.2 m' });
    const where = async (query: string) =>
      WhereReport.parse(
        await (await shop().call('GET', `/api/aircraft/${aircraftId}/where${query}`, { cookie })).json(),
      );
    const now = await where('');
    expect(now).toEqual(
      WhereReport.parse(JSON.parse(JSON.stringify(whereReport(await loadLedger(engine.db(), aircraftId))))),
    );
    expect(now.masses).toMatchObject([{ number: 'W-1', xM: 1, zM: 0.2 }]);
    expect((await where('?asKnownAt=2')).masses).toEqual([]);
  });
});
