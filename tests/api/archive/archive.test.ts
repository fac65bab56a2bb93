/** A whole aircraft out through the door and in through that of another server (rule X5). */
import { afterAll, beforeAll, expect, it } from 'vitest';
import { unzipArchive, zipArchive } from '#db/archive/zip.ts';
import { openStore, type Store, type StorePlace } from '#db/engine/open-store.ts';
import { findAircraft } from '#db/ledger/list-aircraft.ts';
import { verifyChain } from '#db/ledger/verify.ts';
import { AircraftList } from '#shared/contract/aircraft.ts';
import {
  aircraftIn,
  newId,
  openShop,
  partsIn,
  pointersOf,
  problemOf,
  type Shop,
  shopOn,
} from '#tests/api/door-shop.ts';
import { forged } from '#tests/db/archive/carried.ts';
import { describeOnBothEngines, makeDatabase, removePlace } from '#tests/support/engines.ts';

const ZIP = { 'Content-Type': 'application/zip' };

describeOnBothEngines('the doors for a whole aircraft', (engine) => {
  const shop = shopOn(engine);
  let store: Store;
  let elsewhere: Shop;
  let place: StorePlace;
  beforeAll(async () => {
    place = { kind: 'postgres', url: await makeDatabase() };
    store = await openStore(place);
    elsewhere = openShop(store);
  });
  afterAll(async () => {
    elsewhere.close();
    await store.close();
    await removePlace(place);
  });

  async function packed(): Promise<{ id: string; zip: Uint8Array; cookie: string }> {
    const { cookie } = await shop().person('lead');
    const id = await aircraftIn(shop(), cookie);
    await partsIn(shop(), cookie, id);
    const answer = await shop().call('GET', `/api/aircraft/${id}/archive`, { cookie });
    expect(answer.status).toBe(200);
    expect(answer.headers.get('content-type')).toBe('application/zip');
    expect(answer.headers.get('content-disposition')).toContain('attachment');
    expect(answer.headers.get('x-content-type-options')).toBe('nosniff');
    return { id, zip: new Uint8Array(await answer.arrayBuffer()), cookie };
  }

  it('[X5] what a lead carries out here comes in there, and who brought it in sees it', async () => {
    const { id, zip } = await packed();
    const { cookie } = await elsewhere.person('lead', []);
    const answer = await elsewhere.call('POST', '/api/archives', { cookie, headers: ZIP, body: zip });
    expect(await answer.json()).toMatchObject({ id, headSeq: 5 });
    expect(answer.status).toBe(201);
    expect(await verifyChain(store.db, id)).toEqual(await verifyChain(engine.db(), id));
    const list = await elsewhere.call('GET', '/api/aircraft', { cookie });
    expect(AircraftList.parse(await list.json()).aircraft.map((one) => one.id)).toContain(id);
    const again = await elsewhere.call('POST', '/api/archives', { cookie, headers: ZIP, body: zip });
    const report = await problemOf(again, 409, 'ledger-conflict');
    expect(report.problems?.map(({ code }) => code)).toEqual(['aircraft-here-already']);
  });

  it('[X5] one whose name is taken comes under another', async () => {
    const { id, zip } = await packed();
    const lead = await elsewhere.person('lead');
    const { name } = (await findAircraft(engine.db(), id)) ?? { name: '' };
    const begun = { name, datum: 'the bow', massUnit: 'kg', lengthUnit: 'm' };
    expect((await elsewhere.call('POST', '/api/aircraft', { cookie: lead.cookie, body: begun })).status).toBe(201);
    const bring = (path: string) => elsewhere.call('POST', path, { cookie: lead.cookie, headers: ZIP, body: zip });
    await problemOf(await bring('/api/archives'), 409, 'ledger-conflict');
    expect((await bring('/api/archives?name=Other%20name')).status).toBe(201);
    expect(await findAircraft(store.db, 'other name')).toMatchObject({ id, name: 'Other name' });
  });

  it('[X5] everything that is damaged is told with its file, row and column, and nothing is brought in', async () => {
    const { id, zip } = await packed();
    const unpacked = unzipArchive(zip);
    if (!unpacked.ok) throw new Error('it was packed here');
    const { cookie } = await elsewhere.person('lead');
    const bring = (body: Uint8Array) => elsewhere.call('POST', '/api/archives', { cookie, headers: ZIP, body });
    const damaged = forged(unpacked.value, 'estimate.csv', (text) => text.replaceAll('4.00 kg', '5.00 kg'));
    const report = await problemOf(
      await bring(zipArchive(damaged, new Date('2026-01-01T00:00:00Z'))),
      400,
      'input-refused',
    );
    expect(pointersOf(report)).toEqual(
      ['/estimate.csv/2/5', '/estimate.csv/2/32', '/estimate.csv/3/5', '/estimate.csv/3/32'].sort(),
    );
    for (const body of [zip.slice(0, 400), new Uint8Array()]) {
      const unreadable = await problemOf(await bring(body), 400, 'input-refused');
      expect(unreadable.problems?.map(({ code }) => code)).toEqual(['archive-unreadable']);
    }
    expect(await findAircraft(store.db, id)).toBeUndefined();
  });

  it('[X5] an aircraft of others is not carried out, no role below a lead comes in, and a ZIP must say that it is one', async () => {
    const { id, zip, cookie } = await packed();
    const stranger = await shop().person('lead', []);
    const hidden = await problemOf(
      await shop().call('GET', `/api/aircraft/${id}/archive`, { cookie: stranger.cookie }),
      404,
      'not-found',
    );
    const absent = await problemOf(
      await shop().call('GET', `/api/aircraft/${newId()}/archive`, { cookie: stranger.cookie }),
      404,
      'not-found',
    );
    expect(hidden).toEqual(absent);
    const engineer = await shop().person('engineer');
    await problemOf(
      await shop().call('GET', `/api/aircraft/${id}/archive`, { cookie: engineer.cookie }),
      403,
      'not-allowed',
    );
    await problemOf(
      await shop().call('POST', '/api/archives', { cookie: engineer.cookie, headers: ZIP, body: zip }),
      403,
      'not-allowed',
    );
    await problemOf(await shop().call('POST', '/api/archives', { headers: ZIP, body: zip }), 401, 'not-signed-in');
    await problemOf(await shop().call('POST', '/api/archives', { cookie, body: {} }), 415, 'archive-type');
    const foreign = { ...ZIP, 'Sec-Fetch-Site': 'cross-site' };
    await problemOf(
      await shop().call('POST', '/api/archives', { cookie, headers: foreign, body: zip }),
      403,
      'other-site',
    );
    const large = { ...ZIP, 'Content-Length': String(300 * 1_048_576) };
    await problemOf(
      await shop().call('POST', '/api/archives', { cookie, headers: large, body: zip }),
      413,
      'archive-too-large',
    );
  });
});
