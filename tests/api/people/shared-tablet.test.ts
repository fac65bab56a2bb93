/** A tablet that several people share: what a PIN opens and what it does not, and how it is guarded (rule N15). */
import { randomUUID } from 'node:crypto';
import { expect, it, vi } from 'vitest';
import { tokenHash } from '#db/people/session.ts';
import { listTablets } from '#db/people/tablet.ts';
import type { SessionReport } from '#shared/contract/people.ts';
import { TabletList, TabletReport } from '#shared/contract/tablet.ts';
import { aircraftIn, cookieOf, newId, PASSWORD, partsIn, problemOf, record, shopOn } from '#tests/api/door-shop.ts';
import { describeOnBothEngines } from '#tests/support/engines.ts';

// Each PIN and password takes a real hash, and a busy machine takes its time over them.
vi.setConfig({ testTimeout: 300_000, hookTimeout: 300_000 });

const PIN = '4071';
const MINUTE = 60_000;

describeOnBothEngines('a shared tablet', (engine) => {
  const shop = shopOn(engine);
  const post = (path: string, cookie: string | undefined, body: object = {}, address = `10.20.${Math.random()}`) =>
    shop().call('POST', path, { cookie, body, address });

  /** A browser that a lead has made shared: its own cookie, and the lead's session in it. */
  async function tablet(idleMinutes = 5) {
    const lead = await shop().person('lead');
    const name = `Tablet ${newId()}`;
    const answer = await post('/api/tablets', lead.cookie, { name, idleMinutes });
    expect(answer.status).toBe(201);
    const found = TabletList.parse(await answer.json()).tablets.find((one) => one.name === name);
    if (found === undefined) throw new Error('the tablet is in the list');
    return { id: found.id, cookie: cookieOf(answer), lead };
  }
  async function withPin(role: 'viewer' | 'crew' | 'engineer' | 'lead', pin = PIN) {
    const somebody = await shop().person(role);
    const set = await post('/api/pin', somebody.cookie, { password: PASSWORD, pin });
    expect(set.status).toBe(200);
    return somebody;
  }
  const pinSignIn = (cookie: string | undefined, personId: string, pin = PIN, address?: string) =>
    post('/api/pin-sign-in', cookie, { personId, pin }, address);
  /** Signed in with the PIN: both cookies of the tablet's browser. */
  async function pinSession(tabletCookie: string, personId: string, pin = PIN) {
    const answer = await pinSignIn(tabletCookie, personId, pin);
    expect(answer.status).toBe(200);
    return { cookie: `${tabletCookie}; ${cookieOf(answer)}`, report: (await answer.json()) as SessionReport };
  }
  const isIn = async (cookie: string) => (await shop().call('GET', '/api/aircraft', { cookie })).status === 200;
  const people = async (cookie?: string) =>
    TabletReport.parse(await (await shop().call('GET', '/api/tablet', { cookie })).json());

  it('[N15] who has set a PIN chooses their name on the tablet, and weighs under their own initials', async () => {
    const [{ cookie, lead }, crew] = [await tablet(), await withPin('crew')];
    const aircraftId = await aircraftIn(shop(), lead.cookie);
    await partsIn(shop(), lead.cookie, aircraftId);
    const { id, name, initials } = crew.person;
    expect((await people(cookie)).people).toContainEqual({ id, name, initials });
    const session = await pinSession(cookie, id);
    expect(session.report).toMatchObject({ state: 'signed in', byPin: true, tablet: { idleMinutes: 5 } });
    const words = { kind: 'weighing', part: 'T-200', gross: '4.1 kg', condition: 'finished' };
    const { entry } = await record(shop(), session.cookie, aircraftId, words);
    expect(entry.entry).toMatchObject({ by: initials });
  });

  it('[N15] the role of a PIN is crew at most, whatever the person’s own, and opens no account’s keys', async () => {
    const [{ cookie, id, lead }, boss, reader] = [await tablet(), await withPin('lead'), await withPin('viewer')];
    const aircraftId = await aircraftIn(shop(), lead.cookie);
    const session = await pinSession(cookie, boss.person.id);
    expect(session.report).toMatchObject({ person: { role: 'crew' } });
    for (const [method, path, body] of [
      ['GET', '/api/people', {}],
      ['POST', '/api/people', {}],
      ['PATCH', `/api/people/${reader.person.id}`, { role: 'lead' }],
      ['POST', '/api/aircraft', {}],
      ['GET', '/api/tablets', {}],
      ['POST', '/api/tablets', { name: 'mine', idleMinutes: 60 }],
      ['PATCH', `/api/tablets/${id}`, { idleMinutes: 60 }],
      ['POST', `/api/tablets/${id}/take-away`, {}],
      ['POST', `/api/aircraft/${aircraftId}/proposals`, {}],
      ['GET', `/api/aircraft/${aircraftId}/verify`, {}],
      ['POST', '/api/pin', { password: PASSWORD, pin: '8205' }],
      ['POST', '/api/password', { current: PASSWORD, next: 'another long password' }],
    ] as const)
      await problemOf(await shop().call(method, path, { cookie: session.cookie, body }), 403, 'pin-session');
    const targets = { id: newId(), kind: 'targets', 'empty mass': '50 kg' };
    await problemOf(await post(`/api/aircraft/${aircraftId}/entries`, session.cookie, targets), 403, 'not-allowed');
    const read = await pinSession(cookie, reader.person.id);
    expect(read.report).toMatchObject({ person: { role: 'viewer' } });
    // The person's own session, by password, is what it was.
    expect((await shop().call('GET', '/api/people', { cookie: boss.cookie })).status).toBe(200);
  });

  it('[N15] a lead who signs in on it with the password has every right, and the tablet locks all the same', async () => {
    const { cookie, lead } = await tablet(5);
    const answer = await post('/api/sign-in', cookie, { name: lead.person.name, password: PASSWORD });
    const full = `${cookie}; ${cookieOf(answer)}`;
    expect(await answer.json()).toMatchObject({ byPin: false, person: { role: 'lead' }, tablet: { idleMinutes: 5 } });
    expect((await shop().call('GET', '/api/people', { cookie: full })).status).toBe(200);
    shop().later(5 * MINUTE);
    expect(await isIn(full)).toBe(false);
    // So does the session in which it was made one.
    expect(await isIn(lead.cookie)).toBe(false);
  });

  it('[N15] the server ends a session that nobody touches; what a page asks by itself is no touch', async () => {
    const [{ cookie, id }, crew] = [await tablet(2), await withPin('crew')];
    const touched = await pinSession(cookie, crew.person.id);
    const left = await pinSession(cookie, crew.person.id);
    for (let seconds = 0; seconds < 5 * 60; seconds += 60) {
      expect((await post('/api/tablet/touch', touched.cookie)).status).toBe(200);
      if (seconds < 120) expect(await isIn(left.cookie)).toBe(true);
      shop().later(60_000);
    }
    expect(await isIn(touched.cookie)).toBe(true);
    await problemOf(await post('/api/tablet/touch', left.cookie), 401, 'not-signed-in');
    // A longer time for the tablet does not bring back what had ended, seen or not.
    const unseen = await pinSession(cookie, crew.person.id);
    shop().later(3 * MINUTE);
    const lead = await shop().person('lead');
    const longer = await shop().call('PATCH', `/api/tablets/${id}`, { cookie: lead.cookie, body: { idleMinutes: 60 } });
    expect(longer.status).toBe(200);
    expect(await isIn(unseen.cookie)).toBe(false);
    expect(await isIn(left.cookie)).toBe(false);
  });

  it('[N15] without a tablet of the list a PIN opens nothing and no name is told, not even to who is signed in', async () => {
    const [{ cookie, id }, crew] = [await tablet(), await withPin('crew')];
    const session = await pinSession(cookie, crew.person.id);
    const lead = await shop().person('lead');
    expect((await post(`/api/tablets/${id}/take-away`, lead.cookie)).status).toBe(200);
    expect(await isIn(session.cookie)).toBe(false);
    for (const none of [cookie, undefined, 'tarebook-tablet=', `tarebook-tablet=${'A'.repeat(43)}`, crew.cookie]) {
      await problemOf(await pinSignIn(none, crew.person.id), 403, 'not-shared');
      expect(await people(none)).toEqual({ people: [] });
    }
    await problemOf(await post(`/api/tablets/${id}/take-away`, lead.cookie), 404, 'not-found');
    await problemOf(await post('/api/tablets/mine/take-away', lead.cookie), 404, 'not-found');
  });

  it('[N15] made-up tokens of a tablet are slowed down by address', async () => {
    const address = '10.21.0.1';
    const codes: number[] = [];
    for (let at = 0; at < 26; at += 1)
      codes.push((await pinSignIn(`tarebook-tablet=${newId()}`, randomUUID(), PIN, address)).status);
    expect(codes.filter((code) => code === 403)).toHaveLength(25);
    expect(codes.at(-1)).toBe(429);
  });

  it('[N15] a wrong PIN, a person without one, one who is not there and one whose account is closed are answered alike', async () => {
    const [{ cookie }, crew, without, gone] = [
      await tablet(),
      await withPin('crew'),
      await shop().person('crew'),
      await withPin('crew'),
    ];
    const lead = await shop().person('lead');
    const close = { cookie: lead.cookie, body: { isActive: false } };
    await shop().call('PATCH', `/api/people/${gone.person.id}`, close);
    expect((await people(cookie)).people.map(({ id }) => id)).not.toContain(gone.person.id);
    const reports = [];
    for (const id of [crew.person.id, without.person.id, gone.person.id, randomUUID(), 'nobody', 'a\0b'])
      reports.push(
        await problemOf(await pinSignIn(cookie, id, id === gone.person.id ? PIN : '9173'), 401, 'pin-wrong'),
      );
    expect(new Set(reports.map((report) => JSON.stringify(report))).size).toBe(1);
    // Opened again, the account has no PIN until its person sets one.
    await shop().call('PATCH', `/api/people/${gone.person.id}`, { cookie: lead.cookie, body: { isActive: true } });
    await problemOf(await pinSignIn(cookie, gone.person.id), 401, 'pin-wrong');
  });

  it('[N15] one name is slowed down across tablets, and many names from one tablet', async () => {
    const crew = await withPin('crew');
    const tablets = [await tablet(), await tablet(), await tablet()];
    for (let at = 0; at < 5; at += 1)
      await problemOf(await pinSignIn(tablets[at % 3]?.cookie, crew.person.id, '9173'), 401, 'pin-wrong');
    for (const { cookie } of tablets) await problemOf(await pinSignIn(cookie, crew.person.id), 429, 'throttled');
    const { cookie } = await tablet();
    for (let at = 0; at < 10; at += 1) await problemOf(await pinSignIn(cookie, randomUUID()), 401, 'pin-wrong');
    const other = await withPin('crew');
    await problemOf(await pinSignIn(cookie, other.person.id), 429, 'throttled');
    shop().later(1_100);
    expect((await pinSignIn(cookie, other.person.id)).status).toBe(200);
  });

  it('[N15] ten wrong ones in a row, however slowly and at the same moment, switch a PIN off until the password was right', async () => {
    const [first, second, crew] = [await tablet(), await tablet(), await withPin('crew')];
    const guess = (at: number) => pinSignIn((at % 2 === 0 ? first : second).cookie, crew.person.id, `91${70 + at}`);
    for (let at = 0; at < 9; at += 1) {
      await problemOf(await guess(at), 401, 'pin-wrong');
      shop().later(16 * MINUTE);
    }
    const last = await Promise.all([guess(9), guess(10), guess(11)]);
    expect(last.map(({ status }) => status).sort()).toEqual([401, 403, 403]);
    shop().later(16 * MINUTE);
    await problemOf(await pinSignIn(first.cookie, crew.person.id), 403, 'pin-off');
    const signedIn = await post('/api/sign-in', undefined, { name: crew.person.name, password: PASSWORD });
    expect(signedIn.status).toBe(200);
    expect((await pinSignIn(first.cookie, crew.person.id)).status).toBe(200);
  });

  it('[N15] another PIN, or none, ends the sessions of the one before and leaves the person’s own', async () => {
    const [{ cookie }, crew] = [await tablet(), await withPin('crew')];
    const session = await pinSession(cookie, crew.person.id);
    expect((await post('/api/pin', crew.cookie, { password: PASSWORD, pin: '8205' })).status).toBe(200);
    expect(await isIn(session.cookie)).toBe(false);
    expect(await isIn(crew.cookie)).toBe(true);
    await problemOf(await pinSignIn(cookie, crew.person.id), 401, 'pin-wrong');
    const next = await pinSession(cookie, crew.person.id, '8205');
    const none = await post('/api/pin', crew.cookie, { password: PASSWORD, pin: null });
    expect(await none.json()).toMatchObject({ hasPin: false });
    expect(await isIn(next.cookie)).toBe(false);
    expect((await people(cookie)).people.map(({ id }) => id)).not.toContain(crew.person.id);
  });

  it('[N15] a password that a lead sets takes the PIN along; one that its person changes does not', async () => {
    const [{ cookie }, crew, lead] = [await tablet(), await withPin('crew'), await shop().person('lead')];
    const next = 'another long password';
    expect((await post('/api/password', crew.cookie, { current: PASSWORD, next })).status).toBe(200);
    const session = await pinSession(cookie, crew.person.id);
    const body = { password: 'a password of the lead' };
    await shop().call('PATCH', `/api/people/${crew.person.id}`, { cookie: lead.cookie, body });
    expect(await isIn(session.cookie)).toBe(false);
    await problemOf(await pinSignIn(cookie, crew.person.id), 401, 'pin-wrong');
  });

  it('[N15] setting a PIN takes the password, is slowed down with it, and refuses what everybody tries first', async () => {
    const crew = await shop().person('crew');
    for (const pin of ['1234', '8765', '0000', '123', '123456789', '12a4', '٤٠٧١'])
      await problemOf(await post('/api/pin', crew.cookie, { password: PASSWORD, pin }), 400, 'input-refused');
    for (let at = 0; at < 5; at += 1)
      await problemOf(await post('/api/pin', crew.cookie, { password: 'not it', pin: PIN }), 403, 'password-wrong');
    await problemOf(await post('/api/pin', crew.cookie, { password: PASSWORD, pin: PIN }), 429, 'throttled');
  });

  it('[N15] every sign-in has a token of its own, and the one that the browser had before is worth nothing', async () => {
    const [{ cookie }, one, two] = [await tablet(), await withPin('crew'), await withPin('crew')];
    const first = await pinSession(cookie, one.person.id);
    const planted = `${cookie}; tarebook=${'B'.repeat(43)}`;
    const again = await pinSignIn(planted, two.person.id);
    expect(cookieOf(again)).not.toContain('B'.repeat(43));
    const switched = await pinSignIn(first.cookie, two.person.id);
    expect(switched.status).toBe(200);
    expect(await isIn(first.cookie)).toBe(false);
    expect(await isIn(`${cookie}; ${cookieOf(switched)}`)).toBe(true);
  });

  it('[N15] both cookies are kept from scripts and from other sites; a page of another site acts at none of these doors', async () => {
    const lead = await shop().person('lead');
    const made = await post('/api/tablets', lead.cookie, { name: `T ${newId()}`, idleMinutes: 5 });
    expect(made.headers.get('set-cookie')).toMatch(/^tarebook-tablet=[\w-]{43};.*HttpOnly.*SameSite=Strict/);
    const [{ cookie, id }, crew] = [await tablet(), await withPin('crew')];
    const foreign = { 'Sec-Fetch-Site': 'cross-site', Origin: 'https://elsewhere.example' };
    for (const path of [
      '/api/pin-sign-in',
      '/api/pin',
      '/api/tablet/touch',
      '/api/tablets',
      `/api/tablets/${id}/take-away`,
    ]) {
      const body = { personId: crew.person.id, pin: PIN };
      const answer = await shop().call('POST', path, { cookie: `${cookie}; ${lead.cookie}`, body, headers: foreign });
      await problemOf(answer, 403, 'other-site');
    }
  });

  it('[N15] the list tells the last use and where from, keeps a hash alone, and a browser made one again is one tablet', async () => {
    const { id, cookie } = await tablet();
    const lead = await shop().person('lead');
    shop().later(3 * MINUTE);
    await shop().call('GET', '/api/tablet', { cookie, address: '10.22.0.7' });
    const list = async () =>
      TabletList.parse(await (await shop().call('GET', '/api/tablets', { cookie: `${cookie}; ${lead.cookie}` })).json())
        .tablets;
    const found = (await list()).find((one) => one.id === id);
    expect(found).toMatchObject({ isHere: true, lastAddress: '10.22.0.7' });
    expect(Date.parse(found?.lastUsedAt ?? '') - Date.parse(found?.madeAt ?? '')).toBe(3 * MINUTE);
    const token = cookie.split('=')[1] ?? '';
    expect(JSON.stringify(await list())).not.toContain(tokenHash(token));
    expect(JSON.stringify(await listTablets(engine.db(), undefined))).not.toContain(token);
    await post('/api/tablets', `${cookie}; ${lead.cookie}`, { name: 'again', idleMinutes: 5 });
    expect((await list()).map((one) => one.id)).not.toContain(id);
    await problemOf(await post('/api/tablets', lead.cookie, { name: ' ', idleMinutes: 0 }), 400, 'input-refused');
  });
});
