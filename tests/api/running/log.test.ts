/** What the server says of every request, under which number, and what it never says. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeLog, type RequestFacts } from '#api/log/log.ts';
import { openStore, type Store } from '#db/engine/open-store.ts';
import { newId, openShop, PASSWORD, problemOf } from '#tests/api/door-shop.ts';

describe('the log', () => {
  let store: Store;
  beforeAll(async () => {
    store = await openStore({ kind: 'memory' });
  });
  afterAll(() => store.close());

  const shopThatTells = () => {
    const facts: RequestFacts[] = [];
    const watch = { request: (told: RequestFacts) => facts.push(told), recorded: () => undefined };
    const shop = openShop(store, { watch });
    return { shop, facts, last: () => facts.at(-1) };
  };

  it('[Y2] every request is told with its number, the pattern of its address, its status and who asked', async () => {
    const { shop, last } = shopThatTells();
    const { cookie, person } = await shop.person('lead');
    const answer = await shop.call('GET', `/api/aircraft/${newId()}/entries?after=7`, { cookie });
    expect(last()).toEqual({
      requestId: answer.headers.get('x-request-id'),
      method: 'GET',
      route: '/api/aircraft/:aircraftId/entries',
      status: 404,
      durationMs: expect.any(Number),
      personId: person.id,
    });
    await shop.call('GET', '/api/session');
    expect(last()).toMatchObject({ route: '/api/session', status: 200, personId: undefined });
    // Refused before its door is reached, and told under its door all the same.
    await shop.call('POST', '/api/sign-in', { headers: { Origin: 'https://elsewhere.example' } });
    expect(last()).toMatchObject({ route: '/api/sign-in', status: 403 });
    await shop.call('GET', '/api/no/such/door');
    expect(last()).toMatchObject({ route: '/*', status: 404 });
    shop.close();
  });

  it('[Y2] a proxy’s number is kept where it is one, and no other', async () => {
    const { shop } = shopThatTells();
    const numberFor = async (given: string) =>
      (await shop.call('GET', '/api/session', { headers: { 'X-Request-Id': given } })).headers.get('x-request-id');
    expect(await numberFor('7f3a-0012_b=')).toBe('7f3a-0012_b=');
    for (const odd of ['', 'a b', '<script>', 'x'.repeat(65), '{"level":"info"}'])
      expect(await numberFor(odd)).toMatch(/^[0-9a-f]{12}$/);
    shop.close();
  });

  it('[Y2] a fault is answered with the number under which the log has it', async () => {
    const db = new Proxy(store.db, {
      get: () => {
        throw new Error('broken');
      },
    });
    const shop = openShop({ ...store, db });
    const headers = { 'X-Request-Id': 'from-the-proxy' };
    const answer = await shop.call('GET', '/api/session', { cookie: 'tarebook=x', headers });
    const report = await problemOf(answer, 500, 'server-fault');
    expect(report.requestId).toBe('from-the-proxy');
    expect(report.detail).toContain('from-the-proxy');
    expect(shop.logged.join('')).toContain('Fault from-the-proxy at GET /api/session');
    shop.close();
  });

  it('[Y2] neither cookie nor body nor what stands in an address gets into the log, in any style', async () => {
    for (const style of ['plain', 'requests', 'json'] as const) {
      const lines: string[] = [];
      const stream = { write: (text: string) => lines.push(text) };
      const log = makeLog(style, { out: stream, err: stream }, () => new Date());
      const watch = { request: log.request, recorded: () => undefined };
      const shop = openShop(store, { watch, out: log.out, err: log.err });
      const { cookie } = await shop.person('lead');
      const id = newId();
      await shop.call('GET', `/api/aircraft/${id}/entries?word=hidden`, { cookie });
      await shop.call('POST', '/api/sign-in', { cookie, body: { name: 'hidden', password: PASSWORD } });
      await shop.call('GET', '/hidden.js');
      const all = lines.join('');
      for (const secret of [cookie.slice('tarebook='.length), PASSWORD, 'hidden', id])
        expect(all).not.toContain(secret);
      expect(lines).toHaveLength(style === 'plain' ? 0 : 3);
      shop.close();
    }
  });

  it('[Y2] as JSON every line is an object, whatever is said', () => {
    const lines: string[] = [];
    const stream = { write: (text: string) => lines.push(text) };
    const log = makeLog('json', { out: stream, err: stream }, () => new Date(0));
    log.err.write('Fault 1 at GET /: Error: broken\n    at somewhere\n');
    const facts = { requestId: 'a1', method: 'GET', route: '*', status: 503, durationMs: 1.25, personId: undefined };
    log.request(facts);
    const time = '1970-01-01T00:00:00.000Z';
    expect(lines.map((line) => [line.indexOf('\n') === line.length - 1, JSON.parse(line)])).toEqual([
      [true, { time, level: 'error', event: 'words', message: 'Fault 1 at GET /: Error: broken\n    at somewhere' }],
      [true, { time, level: 'error', event: 'request', ...facts, durationMs: 1.3, personId: null }],
    ]);
  });
});
