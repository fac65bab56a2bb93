/** Guessing names and passwords. Counted in the server itself, so that one engine tells all. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openStore, type Store } from '#db/engine/open-store.ts';
import { openShop, PASSWORD, problemOf, type Shop } from '#tests/api/door-shop.ts';

describe('guessing', () => {
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
  const signIn = (name: string, password = PASSWORD, call = {}) =>
    shop().call('POST', '/api/sign-in', { body: { name, password }, ...call });

  it('[N3] an unknown name and a wrong password are answered in the same words and about the same time', async () => {
    const { person } = await shop().person('crew');
    const timed = async (name: string) => {
      const start = performance.now();
      const report = await problemOf(await signIn(name, 'not the password'), 401, 'sign-in-wrong');
      return { report, ms: performance.now() - start };
    };
    await timed('warm up');
    const known = await timed(person.name);
    const unknown = await timed('nobody of that name');
    expect(unknown.report).toEqual(known.report);
    // Without the hash for a name that is not there the answer would come in a few milliseconds, a fiftieth of the other.
    expect(unknown.ms).toBeGreaterThan(known.ms / 4);
  });

  it('[N3] after five quick tries a name has to wait, longer each time, and the right password does not help', async () => {
    const { person } = await shop().person('crew');
    const from = (at: number) => ({ address: `10.1.0.${at}` });
    for (let at = 0; at < 5; at += 1)
      await problemOf(await signIn(person.name, 'not the password', from(at)), 401, 'sign-in-wrong');
    const answer = await signIn(person.name, PASSWORD, from(9));
    expect(Number(answer.headers.get('retry-after'))).toBe(1);
    await problemOf(answer, 429, 'throttled');
    shop().later(1_100);
    await problemOf(await signIn(person.name, 'not the password', from(10)), 401, 'sign-in-wrong');
    expect((await signIn(person.name, PASSWORD, from(11))).headers.get('retry-after')).toBe('2');
    shop().later(2_100);
    expect((await signIn(person.name, PASSWORD, from(12))).status).toBe(200);
    await problemOf(await signIn(person.name, 'not the password', from(13)), 401, 'sign-in-wrong');
  });

  it('[N3] a name is slowed down however it is written, and a name that is not there like one that is', async () => {
    const { person } = await shop().person('crew');
    for (const name of [person.name, 'Nobody Här']) {
      const ways = [name.toUpperCase(), name.toLowerCase(), ` ${name}`, `${name} `, name.normalize('NFD')];
      for (const [at, way] of ways.entries())
        await problemOf(await signIn(way, 'not the password', { address: `10.6.0.${at}` }), 401, 'sign-in-wrong');
      await problemOf(await signIn(name, PASSWORD, { address: '10.6.0.9' }), 429, 'throttled');
    }
  });

  it('[N3] the wait grows to a minute and no longer, and is forgotten after a quarter of an hour', async () => {
    const { person } = await shop().person('crew');
    const waits: (string | null)[] = [];
    const attempt = (password: string) => signIn(person.name, password, { address: `10.7.0.${waits.length}` });
    for (let count = 0; count < 4; count += 1) await attempt('not the password');
    for (let count = 0; count < 9; count += 1) {
      await problemOf(await attempt('not the password'), 401, 'sign-in-wrong');
      const answer = await attempt(PASSWORD);
      waits.push(answer.headers.get('retry-after'));
      shop().later(Number(answer.headers.get('retry-after')) * 1000);
    }
    expect(waits).toEqual(['1', '2', '4', '8', '16', '32', '60', '60', '60']);
    await attempt('not the password');
    shop().later(15 * 60_000);
    for (let count = 0; count < 2; count += 1) await problemOf(await attempt('not the password'), 401, 'sign-in-wrong');
  });

  it('[N3] guessing at the own password in somebody’s open session is slowed down as well', async () => {
    const { cookie } = await shop().person('crew');
    const guess = (current: string) =>
      shop().call('POST', '/api/password', { cookie, body: { current, next: 'another long password' } });
    for (let count = 0; count < 5; count += 1) await problemOf(await guess('not it'), 403, 'password-wrong');
    await problemOf(await guess(PASSWORD), 429, 'throttled');
  });

  it('[N1] guessing at the code is slowed down by address', async () => {
    const store = await openStore({ kind: 'memory' });
    const fresh = openShop(store);
    fresh.services.firstRunCode.show();
    const body = { code: 'AAAA-AAAA', name: 'Ann', initials: 'AN', password: PASSWORD };
    const guess = (address: string) => fresh.call('POST', '/api/first-run', { body, address });
    for (let count = 0; count < 10; count += 1) await problemOf(await guess('10.8.0.1'), 403, 'code-wrong');
    await problemOf(await guess('10.8.0.1'), 429, 'throttled');
    await problemOf(await guess('10.8.0.2'), 403, 'code-wrong');
    fresh.close();
    await store.close();
  });

  it('[N3] a hundred tries at the same moment pass as five', async () => {
    const { person } = await shop().person('crew');
    const answers = await Promise.all(
      Array.from({ length: 100 }, (_, at) => signIn(person.name, `guess number ${at}`, { address: `10.2.0.${at}` })),
    );
    expect(answers.filter((answer) => answer.status === 401)).toHaveLength(5);
    expect(answers.filter((answer) => answer.status === 429)).toHaveLength(95);
  });

  it('[N3] an address that tries name after name has to wait as well', async () => {
    const statuses: number[] = [];
    for (let at = 0; at < 30; at += 1)
      statuses.push((await signIn(`made-up name ${at}`, 'not the password', { address: '10.3.0.1' })).status);
    expect(statuses.slice(0, 25).every((status) => status === 401)).toBe(true);
    expect(statuses.slice(25)).toContain(429);
  });

  it('[N3] a name that no database takes is only an unknown name', async () => {
    await problemOf(await signIn('a\0b', 'not the password', { address: '10.4.0.1' }), 401, 'sign-in-wrong');
  });

  it('[N3] a crowd of names at the same moment is told to wait', async () => {
    const answers = await Promise.all(
      Array.from({ length: 40 }, (_, at) => signIn(`crowd ${at}`, 'not the password', { address: `10.5.0.${at}` })),
    );
    const busy = answers.filter((answer) => answer.status === 503);
    expect(busy.length).toBeGreaterThan(0);
    const [first] = busy;
    if (first !== undefined) await problemOf(first, 503, 'busy');
  });
});
