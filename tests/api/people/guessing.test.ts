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
