/** What holds for every door: what it takes, where it may come from, and how it says no. */
import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { HTTP_PROBLEMS } from '#api/problem/http-problems.ts';
import { openStore, type Store } from '#db/engine/open-store.ts';
import { aircraftIn, newId, openShop, problemOf, type Shop } from '#tests/api/door-shop.ts';

/** What every page is held to; the app's own page adds a nonce for styles. */
const POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "connect-src 'self'",
  "base-uri 'none'",
  "form-action 'self'",
  "frame-ancestors 'none'",
];

describe('doors', () => {
  let store: Store | undefined;
  let opened: Shop | undefined;
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
  const doors = () =>
    shop().app.openAPIRegistry.definitions.flatMap((definition) =>
      definition.type === 'route' && definition.route.method !== 'get'
        ? [{ method: definition.route.method.toUpperCase(), path: definition.route.path.replace(/\{\w+\}/, newId()) }]
        : [],
    );

  /** They take no JSON: what they refuse is tried in `tests/api/archive` and `tests/api/photo`. */
  const isForFiles = (path: string) => /(\/archives|\/photos)$/.test(path);

  it('[N7] what does not say that it is JSON is not read, at no door', async () => {
    const { cookie } = await shop().person('lead');
    expect(doors().length).toBeGreaterThan(8);
    for (const { method, path } of doors().filter((door) => !isForFiles(door.path)))
      for (const type of [
        undefined,
        'text/plain',
        'application/x-www-form-urlencoded',
        'application/jsonp',
        'multipart/form-data; boundary=x',
      ]) {
        const body = new TextEncoder().encode('{"kind":"note","text":"x"}');
        const headers = { Cookie: cookie, ...(type === undefined ? {} : { 'Content-Type': type }) };
        await problemOf(await shop().app.request(path, { method, headers, body }), 415, 'media-type');
      }
  });

  it('[N7] JSON may name its characters, and must be well-formed', async () => {
    const { cookie } = await shop().person('lead');
    const path = `/api/aircraft/${await aircraftIn(shop(), cookie)}/entries`;
    const headers = { 'Content-Type': 'application/json; charset=utf-8' };
    const body = { kind: 'note', text: 'x', id: newId() };
    expect((await shop().call('POST', path, { cookie, body, headers })).status).toBe(201);
    for (const broken of ['', '{', '{"kind":"note",}', 'not json', '\uFEFF{'])
      await problemOf(await shop().call('POST', path, { cookie, body: broken }), 400, 'not-json');
    for (const odd of ['null', '7', '"note"', '[]', 'true'])
      await problemOf(await shop().call('POST', path, { cookie, body: odd }), 400, 'input-refused');
  });

  it('[N7] 10 MB are refused at every door, with and without their length said', async () => {
    const { cookie } = await shop().person('lead');
    const large = JSON.stringify({ kind: 'note', text: 'x'.repeat(10_000_000) });
    for (const { method, path } of doors()) {
      // Lists are longer; their own limit is tried in `tests/api/import`.
      if (path.includes('/import')) continue;
      if (isForFiles(path)) continue;
      const headers = { Cookie: cookie, 'Content-Type': 'application/json' };
      const said = { ...headers, 'Content-Length': String(large.length) };
      await problemOf(await shop().app.request(path, { method, headers: said, body: large }), 413, 'too-large');
    }
    const body = new ReadableStream<Uint8Array>({
      start(controller) {
        for (let count = 0; count < 100; count += 1) controller.enqueue(new Uint8Array(100_000).fill(32));
        controller.close();
      },
    });
    const answer = await shop().app.request(
      new Request('http://localhost/api/sign-in', {
        method: 'POST',
        headers: { 'Content-Type': 'application/json' },
        body,
        duplex: 'half',
      } as RequestInit),
    );
    await problemOf(answer, 413, 'too-large');
  });

  it('[N7] a field that a door does not know is named', async () => {
    const { cookie } = await shop().person('lead');
    const sent = {
      '/api/sign-in': { name: 'x', password: 'y', remember: true },
      '/api/password': { current: 'x', next: 'a long enough one', hint: 'y' },
      '/api/first-run': { code: 'x', name: 'y', initials: 'z', password: 'a long enough one', role: 'lead' },
      '/api/people': {
        name: 'x',
        initials: 'y',
        role: 'crew',
        aircraft: 'all',
        password: 'a long enough one',
        isLead: 1,
      },
      '/api/aircraft': { name: 'x', datum: 'y', massUnit: 'kg', lengthUnit: 'm', id: newId() },
    };
    const unknown = ['/remember', '/hint', '/role', '/isLead', '/id'];
    for (const [at, [path, body]] of Object.entries(sent).entries()) {
      const report = await problemOf(await shop().call('POST', path, { cookie, body }), 400, 'input-refused');
      expect(report.problems).toMatchObject([{ pointer: unknown[at], code: 'field-unknown' }]);
    }
  });

  it('[N8] what another site’s page sends is refused at every door, whoever is signed in', async () => {
    const { cookie } = await shop().person('lead');
    for (const { method, path } of doors())
      for (const headers of [
        { Origin: 'https://elsewhere.example' },
        { Origin: 'null' },
        { Origin: 'http://localhost:9999' },
        { 'Sec-Fetch-Site': 'cross-site' },
        { 'Sec-Fetch-Site': 'same-site', Origin: 'http://localhost' },
      ])
        await problemOf(await shop().call(method, path, { cookie, headers }), 403, 'other-site');
    const own = { Origin: 'http://localhost', Host: 'localhost', 'Sec-Fetch-Site': 'same-origin' };
    expect((await shop().call('POST', '/api/sign-out', { headers: own })).status).toBe(200);
    // Under TLS a page that came in the clear is another site's, whatever name it bears: anybody on the way may have written it.
    const secure = openShop(store as Store, { isSecure: true });
    const from = (Origin: string) => secure.call('POST', '/api/sign-out', { headers: { Origin, Host: 'localhost' } });
    await problemOf(await from('http://localhost'), 403, 'other-site');
    expect((await from('https://localhost')).status).toBe(200);
    secure.close();
  });

  it('[N8] every answer says what a browser may do with it', async () => {
    for (const path of ['/', '/api', '/api/session', '/api/nowhere', '/nowhere.js', '/api/openapi.json']) {
      const { headers } = await shop().call('GET', path);
      expect({ path, headers: Object.fromEntries(headers) }).toMatchObject({
        path,
        headers: {
          'x-content-type-options': 'nosniff',
          'x-frame-options': 'DENY',
          'referrer-policy': 'no-referrer',
          'cross-origin-opener-policy': 'same-origin',
          'cross-origin-resource-policy': 'same-origin',
          'permissions-policy': expect.stringContaining('geolocation=()'),
        },
      });
      const policy = headers.get('content-security-policy') ?? '';
      for (const word of POLICY) expect(policy.split('; ')).toContain(word);
      expect(policy).not.toContain('unsafe');
      if (path.startsWith('/api')) expect(headers.get('cache-control')).toBe('no-store');
    }
  });

  it('[N6] a fault tells nothing but a number, and the log has the rest under it', async () => {
    const broken = openShop({
      ...(store as Store),
      db: new Proxy((store as Store).db, {
        get: () => {
          throw new Error('the secret of the database');
        },
      }),
    });
    const report = await problemOf(
      await broken.call('GET', '/api/session', { cookie: 'tarebook=x' }),
      500,
      'server-fault',
    );
    expect(JSON.stringify(report)).not.toContain('secret');
    const number = /fault ([0-9a-f]{12})/.exec(report.detail)?.[1];
    expect(broken.logged.join('')).toContain(`Fault ${number} at GET /api/session`);
    expect(broken.logged.join('')).toContain('the secret of the database');
    // A line end in the address must not begin a line of the log.
    const forged = '/api/aircraft/x%0AFault%2000000000%20at';
    await broken.call('GET', forged, { cookie: 'tarebook=x' });
    expect(broken.logged.at(-1)?.split('\n')[0]).toContain('aircraft/x%0AFault');
    broken.close();
  });

  it('[N6] what is not here is told as a problem, whatever the method', async () => {
    for (const [method, path] of [
      ['GET', '/api/nowhere'],
      ['POST', '/api/nowhere'],
      ['DELETE', '/api/people'],
      ['PUT', '/api/aircraft'],
      ['GET', '/missing.js'],
      ['POST', '/'],
    ] as const)
      await problemOf(await shop().call(method, path), 404, 'not-found');
  });

  it('[N6] every problem is reached by a test', async () => {
    const folder = join(import.meta.dirname, '..');
    const files = (await readdir(folder, { recursive: true })).filter((file) => file.endsWith('.test.ts'));
    const texts = await Promise.all(files.map((file) => readFile(join(folder, file), 'utf8')));
    const reached = texts.flatMap((text) => [...text.matchAll(/\d{3},\s*'([\w-]+)'/g)].map(([, code]) => code));
    expect([...new Set(reached)].sort()).toEqual(Object.keys(HTTP_PROBLEMS).sort());
  });

  it('[N6] the page of the doors names every problem and every door, with its role', async () => {
    const text = await (await shop().call('GET', '/api')).text();
    for (const code of Object.keys(HTTP_PROBLEMS)) expect(text).toContain(`id="${code}"`);
    for (const { path } of shop().app.openAPIRegistry.definitions.flatMap((one) =>
      one.type === 'route' ? [one.route] : [],
    ))
      expect(text).toContain(path);
    expect(text).not.toMatch(/<script|<style|style=/);
    const document = await (await shop().call('GET', '/api/openapi.json')).json();
    expect(document).toMatchObject({ openapi: '3.1.0', paths: { '/api/live': { get: { 'x-role': 'viewer' } } } });
  });
});
