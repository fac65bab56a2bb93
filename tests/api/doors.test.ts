/** What holds at every door: whose aircraft, what is told, whose page, and that the ledger in memory is the one of the database. */
import { createServer, request } from 'node:https';
import type { AddressInfo } from 'node:net';
import { describe, expect, it } from 'vitest';
import { localTls } from '#api/tls/local-authority.ts';
import { verifyChain } from '#db/ledger/verify.ts';
import { EntriesReport } from '#shared/contract/aircraft.ts';
import { describeOnBothEngines, makeFolder } from '#tests/support/engines.ts';
import { aircraftIn, newId, openShop, pointersOf, problemOf, record, shopOn } from './door-shop.ts';

const PART = { kind: 'part added', number: 'W-1', name: 'Skin', group: 'wing', process: 'prepreg' };

describeOnBothEngines('every door', (engine) => {
  const shop = shopOn(engine);

  it('[N5] an aircraft of others is answered like one that is not there', async () => {
    const lead = await shop().person('lead');
    const others = await aircraftIn(shop(), lead.cookie);
    const { cookie } = await shop().person('engineer', []);
    for (const path of [
      '',
      '/entries',
      '/entries/copy',
      '/history',
      '/parts',
      `/parts/${newId()}`,
      '/parts-list',
      '/breakdown/group',
      '/groups',
      '/drift',
      '/split/lot',
      '/pairs',
      '/scales',
      '/set-up',
      '/lay-up-accuracy',
      '/bridge',
      '/open',
      '/where',
      '/forecast',
      '/forecast/days',
      '/forecast/groups',
      '/forecast/next',
      '/releases',
      '/proposals',
      '/briefs',
      `/briefs/${newId()}`,
      `/briefs/${newId()}/file?as=pdf`,
      '/aircraft-weighings',
      '/loading',
    ]) {
      const hidden = await problemOf(
        await shop().call('GET', `/api/aircraft/${others}${path}`, { cookie }),
        404,
        'not-found',
      );
      const absent = await problemOf(
        await shop().call('GET', `/api/aircraft/${newId()}${path}`, { cookie }),
        404,
        'not-found',
      );
      expect(hidden).toEqual(absent);
    }
    const body = { id: newId(), ...PART };
    await problemOf(await shop().call('POST', `/api/aircraft/${others}/entries`, { cookie, body }), 404, 'not-found');
    for (const door of [
      'import',
      'import-preview',
      'what-if',
      'what-if/ballast',
      'loading/ballast',
      'proposals',
      'briefs',
    ])
      await problemOf(await shop().call('POST', `/api/aircraft/${others}/${door}`, { cookie }), 404, 'not-found');
    const own = await shop().call('GET', `/api/aircraft/${others}`, { cookie: lead.cookie });
    expect(own.status).toBe(200);
  });

  it('[N6] every problem of an entry is told at once, each with its place, and nothing is recorded', async () => {
    const { cookie } = await shop().person('lead');
    const aircraftId = await aircraftIn(shop(), cookie);
    await record(shop(), cookie, aircraftId, PART);
    const body = {
      id: newId(),
      kind: 'weighing',
      part: 'W-1',
      gross: '1e308 kg',
      condition: 'baked',
      happenedOn: '2026-02-31',
    };
    const answer = await shop().call('POST', `/api/aircraft/${aircraftId}/entries`, { cookie, body });
    const report = await problemOf(answer, 400, 'input-refused');
    expect(pointersOf(report)).toEqual(['/condition', '/gross', '/happenedOn']);
    const entries = await shop().call('GET', `/api/aircraft/${aircraftId}/entries`, { cookie });
    expect(EntriesReport.parse(await entries.json()).seq).toBe(2);
  });

  it('[N7] ten megabytes, no word of JSON, and an unknown field are refused', async () => {
    const { cookie } = await shop().person('lead');
    const aircraftId = await aircraftIn(shop(), cookie);
    const path = `/api/aircraft/${aircraftId}/entries`;
    const large = { id: newId(), kind: 'note', text: 'x'.repeat(10_000_000) };
    await problemOf(await shop().call('POST', path, { cookie, body: large }), 413, 'too-large');
    const headers = { 'Content-Type': 'text/plain' };
    await problemOf(await shop().call('POST', path, { cookie, headers, body: {} }), 415, 'media-type');
    const odd = { id: newId(), kind: 'note', text: 'x', colour: 'red' };
    const report = await problemOf(await shop().call('POST', path, { cookie, body: odd }), 400, 'input-refused');
    expect(pointersOf(report)).toEqual(['/colour']);
  });

  it('[N8] a page of another site cannot act here, and pages run only this server’s files', async () => {
    const { cookie } = await shop().person('lead');
    const headers = { 'Sec-Fetch-Site': 'cross-site', Origin: 'https://elsewhere.example' };
    await problemOf(await shop().call('POST', '/api/sign-out', { cookie, headers }), 403, 'other-site');
    const policy = (await shop().call('GET', '/api/session')).headers.get('content-security-policy') ?? '';
    expect(policy).toContain("frame-ancestors 'none'");
    expect(policy).not.toContain('unsafe-inline');
  });

  it('[N9] an open page is told of a new entry', async () => {
    const { cookie } = await shop().person('lead');
    const aircraftId = await aircraftIn(shop(), cookie);
    const line = await shop().call('GET', '/api/live', { cookie });
    const reader = line.body?.getReader();
    if (reader === undefined) throw new Error('the line has a body');
    await record(shop(), cookie, aircraftId, PART);
    let heard = '';
    while (!heard.includes(`"seq":2`)) heard += new TextDecoder().decode((await reader.read()).value);
    expect(heard).toContain(aircraftId);
    await reader.cancel();
  });

  it('[N10] entries of eight hands at once are all recorded, and a second server shows the same', async () => {
    const { cookie } = await shop().person('lead');
    const aircraftId = await aircraftIn(shop(), cookie);
    const second = openShop(engine.store());
    await Promise.all(
      Array.from({ length: 8 }, async (_, hand) => {
        for (let at = 0; at < 5; at += 1)
          await record(hand % 2 === 0 ? shop() : second, cookie, aircraftId, { ...PART, number: `W-${hand}-${at}` });
      }),
    );
    const path = `/api/aircraft/${aircraftId}/entries`;
    const pages = await Promise.all(
      [shop(), second].map(async (one) => (await one.call('GET', path, { cookie })).json()),
    );
    expect(EntriesReport.parse(pages[0]).seq).toBe(41);
    expect(pages[1]).toEqual(pages[0]);
    expect(await verifyChain(engine.db(), aircraftId)).toMatchObject({ ok: true, entryCount: 41 });
    second.close();
  });

  it('[N13] the person of an entry is the one who is signed in, and no other can be stated', async () => {
    const { cookie, initials } = await shop().person('lead');
    const aircraftId = await aircraftIn(shop(), cookie);
    await record(shop(), cookie, aircraftId, PART);
    const entries = await shop().call('GET', `/api/aircraft/${aircraftId}/entries`, { cookie });
    expect(EntriesReport.parse(await entries.json()).entries[0]?.entry.by).toBe(initials);
    const body = { id: newId(), ...PART, number: 'W-2', by: 'XX' };
    const answer = await shop().call('POST', `/api/aircraft/${aircraftId}/entries`, { cookie, body });
    expect(pointersOf(await problemOf(answer, 400, 'input-refused'))).toEqual(['/by']);
  });
});

describe('the local authority', () => {
  it('[N11] who trusts it reaches the server, and who does not is stopped', async () => {
    const made = await localTls(await makeFolder(), { hostName: 'shop', addresses: [] }, new Date());
    const server = createServer(made.server, (_, answer) => answer.end('here'));
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
    const { port } = server.address() as AddressInfo;
    const ask = (ca: string | undefined) =>
      new Promise<string>((resolve) => {
        request({ host: 'localhost', port, ...(ca === undefined ? {} : { ca }) }, (answer) => {
          answer.on('data', (chunk: Buffer) => resolve(chunk.toString()));
        })
          .on('error', (error) => resolve(error.message))
          .end();
      });
    expect(await ask(made.authority)).toBe('here');
    expect(await ask(undefined)).not.toBe('here');
    server.close();
  });
});
