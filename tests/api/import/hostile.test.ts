/** Lists that nobody keeps but somebody might send. */
import { setTimeout as sleep } from 'node:timers/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ListReader } from '#api/import/list-reader.ts';
import { openStore, type Store } from '#db/engine/open-store.ts';
import type { AircraftId } from '#shared/ledger/entry.ts';
import { aircraftIn, openShop, pointersOf, problemOf, type Shop } from '#tests/api/door-shop.ts';
import { list, listsOf, toldOf } from './list-shop.ts';

describe('hostile lists', () => {
  let store: Store;
  let opened: Shop;
  let cookie = '';
  let path = '';
  let id = '';
  const shop = () => opened;
  beforeAll(async () => {
    store = await openStore({ kind: 'memory' });
    opened = openShop(store);
    ({ cookie } = await opened.person('lead'));
    id = await aircraftIn(opened, cookie);
    path = `/api/aircraft/${id}/import-preview`;
  });
  afterAll(async () => {
    expect(await listsOf(shop, cookie, id).head()).toBe(1);
    expect(opened.logged).toEqual([]);
    opened.close();
    await store.close();
  });
  const send = (body: unknown, by = cookie) => opened.call('POST', path, { cookie: by, body });

  it('[I7] twenty-one megabytes are refused, and from a stranger not even read', async () => {
    const large = { lists: { parts: { text: 'x'.repeat(21 * 1_048_576) } } };
    await problemOf(await send(large), 413, 'list-too-large');
    await problemOf(await send(large, ''), 401, 'not-signed-in');
    const { cookie: viewer } = await opened.person('viewer');
    await problemOf(await send(large, viewer), 403, 'not-allowed');
    const more = list(
      'number,group,note',
      `A,wing,${'x'.repeat(1_900)}`,
      ...Array(900).fill(`A,wing,${'y'.repeat(1_900)}`),
    );
    expect((await send({ lists: { parts: more } })).status).toBe(200);
  });

  it('[N7] what is no list of rows is refused at its place', async () => {
    const pointers = async (parts: unknown) =>
      pointersOf(await problemOf(await send({ lists: { parts } }), 400, 'input-refused'));
    expect(await pointers({})).toEqual(['/lists/parts']);
    expect(await pointers({ text: 'a', rows: [] })).toEqual(['/lists/parts']);
    expect(await pointers({ text: 1 })).toEqual(['/lists/parts/text']);
    for (const rows of [
      {},
      [1],
      [[0, ['a']]],
      [[1, 'a']],
      [[1, [1]]],
      [[1.5, []]],
      [[1, [], 2]],
      [[1, Array(201).fill('')]],
    ])
      expect(await pointers({ rows })).toEqual(['/lists/parts/rows']);
    expect(await pointers({ text: 'a', colour: 'red' })).toEqual(['/lists/parts/colour']);
    expect(pointersOf(await problemOf(await send({ lists: { people: {} } }), 400, 'input-refused'))).toEqual([
      '/lists/people',
    ]);
  });

  it('[N7] names that every object has are no fields of a list', async () => {
    const { look } = listsOf(shop, cookie, id);
    for (const name of ['constructor', 'toString', 'hasOwnProperty']) {
      const columns = { [name]: 'number' };
      expect(toldOf(await look({ lists: { parts: { ...list('number,group', 'A,wing'), columns } } }))).toEqual([
        'parts 0:0 not-a-choice',
      ]);
      const heads = list(`number,group,${name}`, `${name},${name},x`);
      expect((await look({ lists: { parts: heads } })).problems).toEqual([]);
    }
    const proto = '{"lists":{"parts":{"text":"number,group\\nA,wing","columns":{"__proto__":"x"}}}}';
    expect((await send(proto)).status).toBeLessThan(500);
  });

  it('[I2] of a hundred thousand problems the first are told and all are counted', { timeout: 60_000 }, async () => {
    const rows = Array.from({ length: 20_000 }, () => ',,x,y,z');
    const answer = await send({ lists: { parts: list('number,group,estimate,x,y', ...rows) } });
    const text = await answer.text();
    expect(text.length).toBeLessThan(1_000_000);
    expect(JSON.parse(text)).toMatchObject({ problemCount: 100_000, problems: { length: 2_000 } });
  });

  it('[I7] a cell of many times the length that a field takes is told and not read', async () => {
    const { look } = listsOf(shop, cookie, id);
    const long = list('number,group,estimate', `A,wing,${'lb'.repeat(20_000)}`);
    expect(toldOf(await look({ lists: { parts: long } }))).toEqual(['parts 2:3 text-refused']);
  });

  it('[I7] a list that takes too long to read is given up, and the next one is read', async () => {
    const reader = new ListReader(store.db, 1);
    const question = { aircraftId: id as AircraftId, lists: { parts: list('number,group', 'A,wing') }, by: 'X' };
    const ask = (from: ListReader) => from.draft({ ...question, today: '2026-06-01', revise: false }, () => true);
    await expect(ask(reader)).rejects.toMatchObject({ code: 'list-too-large' });
    await expect(ask(reader)).rejects.toMatchObject({ code: 'list-too-large' });
    reader.close();
    const patient = new ListReader(store.db);
    expect(await ask(patient)).toMatchObject({ contents: { length: 1 } });
    patient.close();
  });

  it('[I7] while a long list is read the server answers everybody else', { timeout: 60_000 }, async () => {
    const rows = Array.from({ length: 20_000 }, (_, at) => `P-${at},wing,1,2`);
    const reading = send({ lists: { parts: list('number,group,estimate [kg],x [m]', ...rows) } });
    let isRead = false;
    void reading.then(() => {
      isRead = true;
    });
    let longestMs = 0;
    let answers = 0;
    // The first moments go to taking in what was sent.
    await sleep(200);
    while (!isRead) {
      const start = performance.now();
      await opened.call('GET', '/api/session');
      longestMs = Math.max(longestMs, performance.now() - start);
      answers += 1;
      await sleep(1);
    }
    expect((await reading).status).toBe(200);
    expect(answers).toBeGreaterThan(20);
    // Reading takes seconds; no other answer waits for more than a part of one.
    expect(longestMs).toBeLessThan(1_000);
  });
});
