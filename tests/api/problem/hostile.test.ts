/** What nobody types but somebody might send: none of it is recorded, none of it is a fault, and no answer is out of proportion. */
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { openStore, type Store } from '#db/engine/open-store.ts';
import { aircraftIn, newId, openShop, partsIn, pointersOf, problemOf, type Shop } from '#tests/api/door-shop.ts';
import { keptGeometry } from '#tests/shared/geometry/make-mesh.ts';

const weighing = { kind: 'weighing', part: 'W-104', piece: '1', gross: '4 kg', condition: 'finished' };

describe('hostile bodies', () => {
  let store: Store | undefined;
  let opened: Shop | undefined;
  let cookie = '';
  let path = '';
  beforeAll(async () => {
    store = await openStore({ kind: 'memory' });
    opened = openShop(store);
  });
  afterAll(async () => {
    opened?.close();
    await store?.close();
  });
  const shop = () => {
    if (opened === undefined) throw new Error('the shop opens in beforeAll');
    return opened;
  };
  const send = (body: unknown) => shop().call('POST', path, { cookie, body });
  const doors = () =>
    shop().app.openAPIRegistry.definitions.flatMap((definition) =>
      definition.type === 'route' && definition.route.method !== 'get'
        ? [{ method: definition.route.method.toUpperCase(), path: definition.route.path }]
        : [],
    );

  beforeEach(async () => {
    ({ cookie } = await shop().person('lead'));
    const aircraftId = await aircraftIn(shop(), cookie);
    await partsIn(shop(), cookie, aircraftId);
    path = `/api/aircraft/${aircraftId}/entries`;
  });
  afterEach(async () => {
    const left = await (await shop().call('GET', path, { cookie })).json();
    expect({ left, logged: shop().logged }).toMatchObject({ left: { seq: 5 }, logged: [] });
  });

  it('[N7] names that every object has are unknown fields like any other', async () => {
    const of = (name: string, more: string) => `{"id":"${newId()}",${more},"${name}":{"by":"ZZ","role":"lead"}}`;
    for (const name of ['__proto__', 'constructor', 'toString', 'hasOwnProperty']) {
      const report = await problemOf(await send(of(name, '"kind":"note","text":"x"')), 400, 'input-refused');
      expect(pointersOf(report)).toContain(`/${name}`);
      await problemOf(await send({ id: newId(), kind: name }), 400, 'input-refused');
      await problemOf(await send({ ...weighing, id: newId(), part: name }), 400, 'input-refused');
    }
    const group = `{"id":"${newId()}","kind":"targets","empty mass":"9 kg","groups":{"__proto__":"1 kg"}}`;
    expect(pointersOf(await problemOf(await send(group), 400, 'input-refused'))).toEqual(['/groups/__proto__']);
    const people = of('__proto__', '"name":"x","initials":"y","role":"crew","aircraft":"all","password":"long enough"');
    await problemOf(await shop().call('POST', '/api/people', { cookie, body: people }), 400, 'input-refused');
    expect(({} as Record<string, unknown>)['by']).toBeUndefined();
  });

  it('[N7] a lay-up schedule that holds too much, too deep or what is no schedule is refused', async () => {
    const estimate = { kind: 'estimate', part: 'T-200' };
    const regions = Array.from({ length: 201 }, () => ({}));
    const deep = { regions: [{ lines: [{ material: [{ is: 'ply' }] }] }] };
    const schedules: readonly [unknown, string][] = [
      [{ regions }, '/layUp/regions'],
      [deep, '/layUp/regions/0/lines/0/material'],
      [{ resin: 'x'.repeat(5000) }, '/layUp/resin'],
      [JSON.parse('{"__proto__":{}}'), '/layUp/__proto__'],
      [[], '/layUp'],
      [7, '/layUp'],
      [{ regions: [{ name: {}, lines: 'one' }] }, '/layUp/regions/0/lines'],
    ];
    for (const [layUp, pointer] of schedules) {
      const report = await problemOf(await send({ ...estimate, id: newId(), layUp }), 400, 'input-refused');
      expect(pointersOf(report)).toContain(pointer);
    }
    const elsewhere = await send({ kind: 'note', text: 'x', id: newId(), replacement: { replacement: { layUp: {} } } });
    await problemOf(elsewhere, 400, 'input-refused');
  });

  it('[N7] a geometry that holds too much, too deep or what is none is refused', async () => {
    const kept = keptGeometry();
    const long = Array.from({ length: 201 }, () => [0, 0]);
    const geometries: readonly [unknown, string][] = [
      [{ ...kept, outline: { ...kept.outline, xy: long } }, '/geometry/outline/xy'],
      [{ ...kept, outline: { ...kept.outline, xy: long.slice(0, 49) } }, '/geometry'],
      [{ ...kept, outline: { xy: [[[[[0]]]]] } }, '/geometry/outline/xy/0/0/0'],
      [{ ...kept, fileName: 'x'.repeat(5000) }, '/geometry/fileName'],
      [{ ...kept, more: 'x' }, '/geometry'],
      [JSON.parse('{"__proto__":{}}'), '/geometry/__proto__'],
      [{ ...kept, areaM2: '1e400' }, '/geometry'],
      [[], '/geometry'],
      ['box.stl', '/geometry'],
    ];
    for (const [geometry, pointer] of geometries) {
      const sent = { kind: 'estimate', part: 'T-200', estimate: '4 kg', id: newId(), geometry };
      expect(pointersOf(await problemOf(await send(sent), 400, 'input-refused'))).toContain(pointer);
    }
    const within = await send({ kind: 'note', text: 'x', id: newId(), geometry: kept });
    await problemOf(within, 400, 'input-refused');
  });

  it('[N7] JSON four hundred thousand levels deep is refused at every door, and is no fault', async () => {
    const deep = `${'['.repeat(400_000)}${']'.repeat(400_000)}`;
    const objects = `${'{"a":'.repeat(150_000)}1${'}'.repeat(150_000)}`;
    for (const door of doors()) {
      const address = door.path.replace('{aircraftId}', path.split('/')[3] ?? '').replace(/\{\w+\}/, newId());
      for (const text of [deep, `{"kind":${deep}}`, `{"name":${deep}}`, `{"replacement":${objects}}`, objects]) {
        // These take nothing, and so read nothing of what comes with them.
        const takesNothing = [
          '/api/sign-out',
          '/api/demonstration',
          '/api/tablet/touch',
          '/api/tablets/{tabletId}/take-away',
          '/api/backups',
        ].includes(door.path);
        if (takesNothing) continue;
        const answer = await shop().call(door.method, address, { cookie, body: text });
        // A door for files says that JSON is none.
        const status = /(\/archives|\/photos)$/.test(door.path) ? 415 : 400;
        expect({ door, status: answer.status }).toEqual({ door, status });
      }
    }
  });

  it('[I5] a number that is none, or has no end, is refused in every field', async () => {
    const fields = {
      gross: weighing,
      tare: weighing,
      resolution: weighing,
      piece: weighing,
      pieces: weighing,
      entry: { kind: 'correction', reason: 'x', replacement: null },
      shift: { kind: 'datum moved', datum: 'ahead', reason: 'x' },
      quantity: { kind: 'part added', number: 'N', group: 'g' },
      x: { kind: 'arm measured', part: 'W-104' },
      estimate: { kind: 'estimate', part: 'W-104' },
      allowance: { kind: 'estimate', part: 'W-104', estimate: '1 kg' },
      'empty mass': { kind: 'targets' },
      'wiring calculated': { kind: 'allowances' },
    };
    for (const [field, rest] of Object.entries(fields)) {
      for (const text of ['NaN', 'Infinity', '-Infinity kg', '1e999', '1e999 kg', '1e999 %', '0x10', '∞ m', '1e', '١'])
        expect({
          field,
          text,
          at: pointersOf(await problemOf(await send({ ...rest, id: newId(), [field]: text }), 400, 'input-refused')),
        }).toMatchObject({ field, text, at: expect.arrayContaining([`/${field}`]) });
      for (const number of ['1e999', '-1e999']) {
        const body = JSON.stringify({ ...rest, id: newId(), [field]: 'HERE' }).replace('"HERE"', number);
        expect(pointersOf(await problemOf(await send(body), 400, 'input-refused'))).toContain(`/${field}`);
      }
      for (const word of ['NaN', 'Infinity', 'undefined']) {
        const body = JSON.stringify({ ...rest, id: newId(), [field]: 'HERE' }).replace('"HERE"', word);
        await problemOf(await send(body), 400, 'not-json');
      }
    }
    for (const entry of ['-1', '0', '1.5', '9007199254740993'])
      await problemOf(
        await send(`{"id":"${newId()}","kind":"correction","reason":"x","replacement":null,"entry":${entry}}`),
        400,
        'input-refused',
      );
  });

  it('[N7] a day that no calendar has, or nobody here has lived, is refused', async () => {
    const days = ['0000-00-00', '0001-01-01', '1899-12-31', '9999-12-31', '2026-02-30', '2026-13-01', '-2026-01-01'];
    for (const day of [
      ...days,
      '+002026-01-01',
      '２０２６-01-01',
      'tomorrow',
      '2026-W01-1',
      20260101,
      1e12,
      [],
      {},
      true,
    ]) {
      const report = await problemOf(await send({ ...weighing, id: newId(), happenedOn: day }), 400, 'input-refused');
      expect(pointersOf(report)).toEqual(['/happenedOn']);
      const corrected = { kind: 'correction', entry: 3, reason: 'x' };
      const replacement = { part: 'W-104', estimate: '5 kg', happenedOn: day };
      await problemOf(await send({ ...corrected, id: newId(), replacement }), 400, 'input-refused');
    }
  });

  it('[N7] a text that no database would give back as it was is refused wherever a text goes', async () => {
    const fields: readonly (readonly [string, Record<string, unknown>])[] = [
      ['text', { kind: 'note' }],
      ['remark', { kind: 'note', text: 'x' }],
      ['number', { kind: 'part added', group: 'g' }],
      ['group', { kind: 'part added', number: 'N' }],
      ['name', { kind: 'part added', number: 'N', group: 'g' }],
      ['scale', weighing],
      ['lot', weighing],
      ['reason', { kind: 'correction', entry: 3, replacement: null }],
      ['datum', { kind: 'datum moved', shift: '1 m', reason: 'x' }],
      ['id', { kind: 'note', text: 'x' }],
      ['part', { kind: 'note', text: 'x' }],
    ];
    for (const [field, rest] of fields)
      for (const text of [
        'a\0b',
        'a\ud800b',
        'a\udfffb',
        'a\u0007b',
        'a\u007fb',
        'x'.repeat(2_001),
        'x'.repeat(900_000),
      ]) {
        const report = await problemOf(await send({ ...rest, id: newId(), [field]: text }), 400, 'input-refused');
        expect({ field, at: pointersOf(report) }).toEqual({ field, at: [`/${field}`] });
      }
    for (const text of ['a\0b', 'a\ud800b', 'x'.repeat(61), '  ']) {
      const person = { name: text, initials: text, role: 'crew', aircraft: 'all', password: 'a long enough one' };
      const report = await problemOf(
        await shop().call('POST', '/api/people', { cookie, body: person }),
        400,
        'input-refused',
      );
      expect(pointersOf(report)).toEqual(['/initials', '/name']);
    }
    for (const query of ['search=%00', 'search=%ED%A0%80', 'part=%00', `search=${'x'.repeat(200)}`])
      expect((await shop().call('GET', `${path}?${query}`, { cookie })).status).toBe(200);
    await problemOf(await shop().call('GET', `${path}?search=${'x'.repeat(201)}`, { cookie }), 400, 'input-refused');
  });

  it('[N7] bytes that are not UTF-8 are refused: they would be kept as marks in place of letters', async () => {
    const [head = '', tail = ''] = JSON.stringify({ id: newId(), kind: 'note', text: 'a|b' }).split('|');
    const bytes = Buffer.concat([Buffer.from(head), Buffer.from([0xe9]), Buffer.from(tail)]);
    const headers = { Cookie: cookie, 'Content-Type': 'application/json; charset=iso-8859-1' };
    await problemOf(await shop().app.request(path, { method: 'POST', headers, body: bytes }), 400, 'not-json');
  });

  it('[N7] an object or a list where words belong is refused, and not passed over', async () => {
    for (const odd of [{}, { kg: 1 }, [], ['0.3 kg'], true])
      for (const [door, more] of [
        ['/entries', { id: newId() }],
        ['/weighing-preview', {}],
      ] as const) {
        const at = path.replace('/entries', door);
        const answer = await shop().call('POST', at, { cookie, body: { ...weighing, ...more, tare: odd } });
        expect(pointersOf(await problemOf(answer, 400, 'input-refused'))).toEqual(['/tare']);
      }
    const within = { kind: 'correction', entry: 3, reason: 'x', replacement: { part: 'W-104', estimate: { kg: 4 } } };
    const report = await problemOf(await send({ ...within, id: newId() }), 400, 'input-refused');
    expect(pointersOf(report)).toEqual(['/replacement/estimate']);
  });

  it('[N7] a text of many times the length that a field takes is not even read', async () => {
    // To read these as quantities takes longer with the square of their length: a megabyte of them would hold the server for minutes.
    for (const gross of ['lb'.repeat(2_001), `1 x${' '.repeat(4_000)}y`, `${'4 kg / '.repeat(700)}4 kg`]) {
      const report = await problemOf(await send({ ...weighing, id: newId(), gross }), 400, 'input-refused');
      expect(report.problems).toMatchObject([{ pointer: '/gross', words: expect.stringContaining('4000 characters') }]);
    }
    const list = { kind: 'assembly weighing', part: 'W-104', gross: '4 kg', condition: 'finished', id: newId() };
    const told = await problemOf(await send({ ...list, 'not yet in': 'x; '.repeat(7_000) }), 400, 'input-refused');
    expect(told.problems).toMatchObject([{ pointer: '/not yet in', words: expect.stringContaining('20000 char') }]);
    const long = { id: newId(), kind: 'note', text: 'x', ['k'.repeat(900_000)]: '1' };
    const report = await problemOf(await send(long), 400, 'input-refused');
    expect(JSON.stringify(report).length).toBeLessThan(1_000);
  });

  it('[N6] a hundred thousand unknown fields are answered in proportion, to whomever', async () => {
    const many = `{${Array.from({ length: 100_000 }, (_, at) => `"${at.toString(36)}":1`).join(',')}}`;
    for (const door of [
      '/api/sign-in',
      '/api/people',
      '/api/aircraft',
      path,
      path.replace('entries', 'weighing-preview'),
      path.replace('entries', 'import-preview'),
      path.replace('entries', 'import'),
    ]) {
      const answer = await shop().call('POST', door, { cookie, body: many });
      expect(answer.status).toBe(400);
      expect((await answer.text()).length).toBeLessThan(50_000);
    }
    const groups = Object.fromEntries(Array.from({ length: 601 }, (_, at) => [`g${at}`, '1 kg']));
    const report = await problemOf(
      await send({ id: newId(), kind: 'targets', 'empty mass': '9 kg', groups }),
      400,
      'input-refused',
    );
    // Not even counted one by one: an entry takes five hundred, and each of a hundred thousand would be read first.
    expect(report.problems).toMatchObject([{ pointer: '/groups', words: expect.stringContaining('600 fields') }]);
  });
});
