/** What the fuzz found once, by name. */
import { afterAll, beforeAll, expect, it } from 'vitest';
import { openStore, type Store } from '#db/engine/open-store.ts';
import { aircraftIn, newId, openShop, partsIn, pointersOf, problemOf, type Shop } from '#tests/api/door-shop.ts';

let store: Store;
let shop: Shop;
let cookie = '';
let at = '';
beforeAll(async () => {
  store = await openStore({ kind: 'memory' });
  shop = openShop(store);
  ({ cookie } = await shop.person('lead'));
  const id = await aircraftIn(shop, cookie);
  await partsIn(shop, cookie, id);
  at = `/api/aircraft/${id}`;
});
afterAll(async () => {
  expect(shop.logged).toEqual([]);
  shop.close();
  await store.close();
});

it('[N21] half a letter in a proposal is refused at its field', async () => {
  const body = { id: newId(), title: 'Thinner', owner: 'Ann', likelihood: '50 %', due: '2026-01-31', saving: '\ud800' };
  const answer = await shop.call('POST', `${at}/proposals`, { cookie, body });
  expect(pointersOf(await problemOf(answer, 400, 'input-refused'))).toEqual(['/saving']);
});

it('[N21] a version beyond what a draft can have is refused at its field', async () => {
  for (const [path, field] of [
    ['draft', 'after'],
    ['draft/drop', 'version'],
  ] as const) {
    const words = path === 'draft' ? { words: {} } : {};
    const body = { id: newId(), ...words, [field]: 2_147_483_648 };
    const answer = await shop.call('POST', `${at}/aircraft-weighings/${path}`, { cookie, body });
    expect(pointersOf(await problemOf(answer, 400, 'input-refused'))).toEqual([`/${field}`]);
  }
});
