/** What belongs to one aircraft is not reached through another, however well its id is known. */
import { expect, it } from 'vitest';
import { aircraftIn, newId, partsIn, problemOf, record, shopOn } from '#tests/api/door-shop.ts';
import { pngOf } from '#tests/api/photo/make-pictures.ts';
import { describeOnBothEngines } from '#tests/support/engines.ts';

describeOnBothEngines('ids of another aircraft', (engine) => {
  const shop = shopOn(engine);

  it('[N5] its parts, photos, briefs, proposals, drafts and entries are as if they were not there', async () => {
    const { cookie } = await shop().person('lead');
    const [here, there] = [await aircraftIn(shop(), cookie), await aircraftIn(shop(), cookie)];
    await partsIn(shop(), cookie, here);
    const post = (at: string, path: string, body: unknown) =>
      shop().call('POST', `/api/aircraft/${at}${path}`, { cookie, body });
    const added = await record(shop(), cookie, there, { kind: 'part added', number: 'P-9', group: 'wing' });
    const partId = String(added.entry.entry['partId']);
    await record(shop(), cookie, there, { kind: 'estimate', part: 'P-9', estimate: '4 kg', x: '2 m' });
    const photoId = newId();
    const photo = await shop().call('POST', `/api/aircraft/${there}/parts/${partId}/photos?id=${photoId}`, {
      cookie,
      headers: { 'Content-Type': 'image/png' },
      body: pngOf(8, 8),
    });
    expect(photo.status).toBe(201);
    const briefId = newId();
    expect((await post(there, '/briefs', { id: briefId })).status).toBe(201);
    const proposalId = newId();
    const changes = [{ act: 'add mass', part: 'P-9', mass: '1 kg' }];
    const proposal = { title: 'Secret', owner: 'AN', likelihood: '50 %', due: '2026-12-31', changes };
    expect((await post(there, '/proposals', { id: proposalId, ...proposal })).status).toBe(201);

    const get = (path: string) => shop().call('GET', `/api/aircraft/${here}${path}`, { cookie });
    for (const path of [
      `/parts/${partId}`,
      `/parts/${partId}/photos`,
      `/photos/${photoId}`,
      `/photos/${photoId}?size=small`,
      `/briefs/${briefId}`,
      `/briefs/${briefId}/file?as=csv`,
    ])
      await problemOf(await get(path), 404, 'not-found');
    for (const [path, body] of [
      [`/photos/${photoId}/removal`, { reason: 'mine now' }],
      [`/briefs/${briefId}/statements`, { id: newId(), after: 0, act: 'drop' }],
      [`/proposals/${proposalId}/revisions`, { id: newId(), after: 1, title: 'Mine now' }],
    ] as const)
      await problemOf(await post(here, path, body), 404, 'not-found');

    // An id that the other one has taken is a new one here; nothing of the other one is told or moved.
    const stolen = { id: added.entry.entry['id'], kind: 'note', text: 'x' };
    const own = await post(here, '/entries', stolen);
    expect(await own.json()).toMatchObject({ replayed: false, entry: { seq: 6 } });
    for (const answer of [
      await post(here, '/what-if', { changes }),
      await post(here, '/entries', {
        id: newId(),
        kind: 'weighing',
        part: 'P-9',
        gross: '4 kg',
        condition: 'finished',
      }),
    ]) {
      expect(answer.status).toBeGreaterThanOrEqual(400);
      expect(answer.status).toBeLessThan(500);
      expect(await answer.text()).not.toMatch(/Secret|"wing"/);
    }
    for (const list of ['/entries', '/parts', '/briefs', '/proposals', '/aircraft-weighings'])
      expect(await (await get(list)).text()).not.toMatch(new RegExp([partId, briefId, proposalId, 'Secret'].join('|')));
    expect((await shop().call('GET', `/api/aircraft/${there}/photos/${photoId}`, { cookie })).status).toBe(200);
  });
});
