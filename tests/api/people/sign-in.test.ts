/** First run, sign-in, sessions and guessing, through the doors. */
import { expect, it } from 'vitest';
import { passwordHashOf } from '#db/people/person.ts';
import { SessionReport } from '#shared/contract/people.ts';
import { cookieOf, openShop, PASSWORD, pointersOf, problemOf, type Shop, shopOn } from '#tests/api/door-shop.ts';
import { describeOnBothEngines } from '#tests/support/engines.ts';

const HOUR_MS = 60 * 60 * 1000;

async function state(shop: Shop, cookie?: string) {
  return SessionReport.parse(await (await shop.call('GET', '/api/session', { cookie })).json());
}

function codeOf(shop: Shop): string {
  return /: ([A-Z0-9-]{9})\n/.exec(shop.printed.at(-1) ?? '')?.[1] ?? '';
}

describeOnBothEngines('first run', (engine) => {
  const shop = shopOn(engine);
  const account = { name: 'Ann', initials: 'AN', password: PASSWORD };
  const firstRun = (code: string, from = shop(), more = {}) =>
    from.call('POST', '/api/first-run', {
      body: { ...account, code, ...more },
      address: `10.0.0.${from.printed.length}`,
    });

  it('[N1] a wrong code is refused, and after five there is a new one', async () => {
    shop().services.firstRunCode.show();
    const code = codeOf(shop());
    expect(await state(shop())).toEqual({ state: 'first run' });
    for (let count = 0; count < 5; count += 1) await problemOf(await firstRun('AAAA-AAAA'), 403, 'code-wrong');
    expect(shop().printed).toHaveLength(2);
    await problemOf(await firstRun(code), 403, 'code-wrong');
  });

  it('[N7] a short password and an empty name are refused, both at once, with their places', async () => {
    const report = await problemOf(
      await firstRun(codeOf(shop()), shop(), { password: 'short', name: ' ' }),
      400,
      'input-refused',
    );
    expect(pointersOf(report)).toEqual(['/name', '/password']);
  });

  it('[N1] of two servers’ first runs at the same moment one makes an account, and then there is none any more', async () => {
    const other = openShop(engine.store());
    other.services.firstRunCode.show();
    const answers = await Promise.all([
      firstRun(codeOf(shop()).toLowerCase().replace('-', ' ')),
      firstRun(codeOf(other), other, { name: 'Bob' }),
      firstRun(codeOf(shop()), shop(), { name: 'Cyd' }),
    ]);
    expect(answers.map((answer) => answer.status).sort()).toEqual([201, 409, 409]);
    const made = answers.find((answer) => answer.status === 201);
    if (made === undefined) throw new Error('one is made');
    expect(await state(shop(), cookieOf(made))).toMatchObject({
      state: 'signed in',
      person: { role: 'lead', aircraft: 'all', isActive: true },
    });
    expect(await state(shop())).toEqual({ state: 'signed out' });
    await problemOf(await firstRun(codeOf(other), other), 409, 'first-run-done');
    // A wrong code is answered alike, and no number of them brings a new one.
    const shown = other.printed.length;
    for (let count = 0; count < 6; count += 1)
      await problemOf(await firstRun('AAAA-AAAA', other), 409, 'first-run-done');
    expect(other.printed).toHaveLength(shown);
    other.close();
  });
});

describeOnBothEngines('sign-in', (engine) => {
  const shop = shopOn(engine);
  const signIn = (name: string, password = PASSWORD, call = {}) =>
    shop().call('POST', '/api/sign-in', { body: { name, password }, ...call });

  it('[N2] the cookie is for this server’s own pages alone', async () => {
    const { person } = await shop().person('crew');
    const answer = await signIn(person.name.toUpperCase());
    expect(answer.status).toBe(200);
    expect(answer.headers.get('set-cookie')).toMatch(
      /^tarebook=[\w-]{43}; Max-Age=2592000; Path=\/; HttpOnly; SameSite=Strict$/,
    );
  });

  it('[N2] under TLS the cookie is bound to the host, and a plain one counts for nothing', async () => {
    const secure = openShop(engine.store(), { isSecure: true });
    const { person, cookie } = await secure.person('crew');
    const answer = await secure.call('POST', '/api/sign-in', { body: { name: person.name, password: PASSWORD } });
    expect(answer.headers.get('set-cookie')).toMatch(
      /^__Host-tarebook=[\w-]{43};.* Path=\/; HttpOnly; Secure; SameSite=Strict$/,
    );
    expect(await state(secure, cookieOf(answer))).toMatchObject({ state: 'signed in' });
    expect(await state(secure, cookie)).toEqual({ state: 'signed out' });
    secure.close();
  });

  it('[N2] a sign-in makes a new token and ends the session of the old one', async () => {
    const { person, cookie } = await shop().person('crew');
    const answer = await signIn(person.name, PASSWORD, { cookie });
    expect(cookieOf(answer)).not.toBe(cookie);
    expect(await state(shop(), cookieOf(answer))).toMatchObject({ state: 'signed in' });
    expect(await state(shop(), cookie)).toEqual({ state: 'signed out' });
    // A token that somebody else chose is not taken on.
    const planted = await signIn(person.name, PASSWORD, { cookie: 'tarebook=chosen-by-somebody-else' });
    expect(cookieOf(planted)).not.toContain('chosen');
  });

  it('[N2] sign-out ends the session, also for who kept the cookie', async () => {
    const { cookie } = await shop().person('crew');
    const answer = await shop().call('POST', '/api/sign-out', { cookie });
    expect(answer.headers.get('set-cookie')).toMatch(/^tarebook=; Max-Age=0;/);
    expect(await state(shop(), cookie)).toEqual({ state: 'signed out' });
    await problemOf(await shop().call('GET', '/api/aircraft', { cookie }), 401, 'not-signed-in');
  });

  it('[N2] a session that ended in the middle of a form is told as such', async () => {
    const { cookie } = await shop().person('crew');
    shop().later(13 * HOUR_MS);
    const path = '/api/aircraft/0a7d1b4e-6c52-4f0e-9b8a-2f6d3c5e9a71/entries';
    await problemOf(await shop().call('POST', path, { cookie, body: { kind: 'note' } }), 401, 'not-signed-in');
  });

  it('[N2] another password ends the other sessions and keeps this one', async () => {
    const { person, cookie } = await shop().person('crew');
    const other = cookieOf(await signIn(person.name));
    const change = (current: string, next: string) =>
      shop().call('POST', '/api/password', { cookie, body: { current, next } });
    await problemOf(await change('not the password', 'another long password'), 403, 'password-wrong');
    expect(pointersOf(await problemOf(await change(PASSWORD, 'short'), 400, 'input-refused'))).toEqual(['/next']);
    expect((await change(PASSWORD, 'another long password')).status).toBe(200);
    expect(await state(shop(), cookie)).toMatchObject({ state: 'signed in' });
    expect(await state(shop(), other)).toEqual({ state: 'signed out' });
    await problemOf(await signIn(person.name), 401, 'sign-in-wrong');
    expect((await signIn(person.name, 'another long password')).status).toBe(200);
  });

  it('[N2] who is made inactive is out at once and cannot come back', async () => {
    const lead = await shop().person('lead');
    const { person, cookie } = await shop().person('crew');
    const change = (body: object) => shop().call('PATCH', `/api/people/${person.id}`, { cookie: lead.cookie, body });
    expect((await change({ isActive: false })).status).toBe(200);
    await problemOf(await shop().call('GET', '/api/aircraft', { cookie }), 401, 'not-signed-in');
    await problemOf(await signIn(person.name), 401, 'sign-in-wrong');
    expect((await change({ isActive: true })).status).toBe(200);
    // The session has ended for good: who comes back signs in again.
    await problemOf(await shop().call('GET', '/api/aircraft', { cookie }), 401, 'not-signed-in');
    expect((await signIn(person.name)).status).toBe(200);
  });

  it('[N2] another role holds at once, and a password that a lead sets ends every session', async () => {
    const lead = await shop().person('lead');
    const { person, cookie } = await shop().person('engineer');
    const change = (body: object) => shop().call('PATCH', `/api/people/${person.id}`, { cookie: lead.cookie, body });
    await change({ role: 'lead' });
    expect((await shop().call('GET', '/api/people', { cookie })).status).toBe(200);
    await change({ role: 'viewer' });
    await problemOf(await shop().call('GET', '/api/people', { cookie }), 403, 'not-allowed');
    const before = await passwordHashOf(engine.db(), person.id);
    await change({ password: 'set by the lead' });
    expect(await passwordHashOf(engine.db(), person.id)).not.toBe(before);
    expect(await state(shop(), cookie)).toEqual({ state: 'signed out' });
  });
});
