/** Behind a proxy that serves https, and without one (rule N20). */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { OptionRefusal, readServerOptions } from '#api/server-options.ts';
import { openStore, type Store } from '#db/engine/open-store.ts';
import { openShop, PASSWORD, type Shop } from '#tests/api/door-shop.ts';

describe('behind a proxy', () => {
  let store: Store;
  let shops: { readonly plain: Shop; readonly behind: Shop };
  beforeAll(async () => {
    store = await openStore({ kind: 'memory' });
    const told = { isSecure: true, isBehindProxy: true, isHttpsAlone: true };
    shops = { plain: openShop(store), behind: openShop(store, told) };
  });
  afterAll(async () => {
    shops.plain.close();
    shops.behind.close();
    await store.close();
  });
  const signIn = (shop: Shop, name: string, forwarded: string, password = 'not the password') =>
    shop.call('POST', '/api/sign-in', {
      body: { name, password },
      headers: { 'X-Forwarded-For': forwarded },
      address: '192.168.1.77',
    });

  /** Guesses at the code of the first run: ten from one address are free. */
  const guess = async (shop: Shop, forwarded: string) => {
    const body = { code: 'AAAA-AAAA', name: 'Ann', initials: 'AN', password: PASSWORD };
    return (await shop.call('POST', '/api/first-run', { body, headers: { 'X-Forwarded-For': forwarded } })).status;
  };

  it('[N20] who guesses is counted by the address that the proxy says, whatever was sent before it', async () => {
    for (let at = 0; at < 10; at += 1) expect(await guess(shops.behind, `10.0.0.${at}, 192.0.2.9`)).toBe(403);
    expect(await guess(shops.behind, '10.0.0.11, 192.0.2.9')).toBe(429);
    expect(await guess(shops.behind, '192.0.2.9, 192.0.2.10')).toBe(403);
  });

  it('[N20] a server that was told of no proxy believes no header: a made-up address is no way round the throttle', async () => {
    for (let at = 0; at < 10; at += 1) expect(await guess(shops.plain, `10.1.0.${at}`)).toBe(403);
    expect(await guess(shops.plain, '10.1.0.11')).toBe(429);
  });

  it('[N20] cookies are for https and this host alone, and browsers are told to come by https', async () => {
    const { person } = await shops.plain.person('crew');
    const answer = await signIn(shops.behind, person.name, '192.0.2.1', PASSWORD);
    const cookie = answer.headers.get('set-cookie') ?? '';
    expect(cookie).toMatch(/^__Host-tarebook=/);
    for (const part of ['Secure', 'HttpOnly', 'SameSite=Strict', 'Path=/']) expect(cookie).toContain(part);
    expect(answer.headers.get('strict-transport-security')).toBe('max-age=2592000');
    const plain = await signIn(shops.plain, person.name, '192.0.2.1', PASSWORD);
    expect(plain.headers.get('set-cookie')).toMatch(/^tarebook=/);
    expect(plain.headers.get('strict-transport-security')).toBeNull();
  });

  it('[N20] it is told by an option or a variable, and not beside a certificate of its own', () => {
    expect(readServerOptions([], {})?.isBehindProxy).toBe(false);
    expect(readServerOptions(['--behind-https-proxy'], {})?.isBehindProxy).toBe(true);
    expect(readServerOptions([], { TAREBOOK_PROXY: 'https' })?.isBehindProxy).toBe(true);
    expect(() => readServerOptions([], { TAREBOOK_PROXY: 'yes' })).toThrow(OptionRefusal);
    expect(() => readServerOptions(['--behind-https-proxy', '--tls', 'local'], {})).toThrow(/not both/);
  });
});
