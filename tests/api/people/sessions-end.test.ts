/** A session that has ended opens no door, and a password that was taken away opens none either, not even at the same moment. */
import { setTimeout as sleep } from 'node:timers/promises';
import { expect, it } from 'vitest';
import { ROLE_FIELD } from '#api/door.ts';
import { changePerson } from '#db/people/change-people.ts';
import { hashPassword } from '#db/people/password.ts';
import { passwordHashOf } from '#db/people/person.ts';
import { IDLE_MS, LONGEST_MS } from '#db/people/session.ts';
import { aircraftIn, cookieOf, newId, PASSWORD, partsIn, problemOf, shopOn } from '#tests/api/door-shop.ts';
import { describeOnBothEngines } from '#tests/support/engines.ts';

describeOnBothEngines('sessions that end', (engine) => {
  const shop = shopOn(engine);
  /** Every door that asks for a person, with an address that is there. */
  const kept = (aircraftId: string, personId: string) =>
    shop().app.openAPIRegistry.definitions.flatMap((definition) => {
      if (definition.type !== 'route' || definition.route[ROLE_FIELD] === 'public') return [];
      const { method, path } = definition.route;
      const address = path
        .replace('{aircraftId}', aircraftId)
        .replace('{personId}', personId)
        .replace('{key}', 'group');
      return [{ method: method.toUpperCase(), address }];
    });
  /** What each door would take, so that nothing else stands in the way. */
  const bodyFor = (address: string) => {
    if (address.endsWith('/entries')) return { id: newId(), kind: 'note', text: 'after the end' };
    if (address.endsWith('/password')) return { current: PASSWORD, next: 'another long password' };
    if (address === '/api/aircraft') return { name: `Late ${newId()}`, datum: 'd', massUnit: 'kg', lengthUnit: 'm' };
    if (address === '/api/people')
      return { name: `Late ${newId()}`, initials: 'LA', role: 'lead', aircraft: 'all', password: PASSWORD };
    if (address.startsWith('/api/people/')) return { role: 'lead', password: 'another long password' };
    return { part: 'T-200', gross: '4 kg', condition: 'finished' };
  };

  it('[N2] after 12 idle hours, after 30 days, after sign-out and with an invented token every door is shut', async () => {
    const other = await shop().person('crew');
    const ends: readonly ((cookie: string) => Promise<unknown>)[] = [
      async () => shop().later(IDLE_MS + 1_000),
      async (cookie) => {
        // In use all the time, so that it is the age that ends it.
        for (let ms = 0; ms <= LONGEST_MS; ms += IDLE_MS - 60_000) {
          shop().later(IDLE_MS - 60_000);
          await shop().call('GET', '/api/session', { cookie });
        }
      },
      (cookie) => shop().call('POST', '/api/sign-out', { cookie }),
    ];
    for (const end of ends) {
      const lead = await shop().person('lead');
      const aircraftId = await aircraftIn(shop(), lead.cookie);
      await partsIn(shop(), lead.cookie, aircraftId);
      await end(lead.cookie);
      const doors = kept(aircraftId, other.person.id);
      expect(doors.filter(({ method }) => method !== 'GET').length).toBeGreaterThan(5);
      for (const { method, address } of doors)
        for (const cookie of [lead.cookie, `tarebook=${'A'.repeat(43)}`, 'tarebook=', undefined]) {
          const answer = await shop().call(method, address, { cookie, body: bodyFor(address) });
          await problemOf(answer, 401, 'not-signed-in');
        }
      const again = await shop().person('lead');
      const { seq } = (await (
        await shop().call('GET', `/api/aircraft/${aircraftId}/entries`, { cookie: again.cookie })
      ).json()) as { seq: number };
      expect(seq).toBe(5);
    }
    expect(
      (await shop().call('POST', '/api/sign-in', { body: { name: other.person.name, password: PASSWORD } })).status,
    ).toBe(200);
  });

  it('[N2] a password that a lead takes away while it is being looked at does not open a session', async () => {
    const { person } = await shop().person('crew');
    const next = await hashPassword('set by the lead');
    const signIn = shop().call('POST', '/api/sign-in', { body: { name: person.name, password: PASSWORD } });
    // The hash takes a few hundred milliseconds: the change falls into them.
    await sleep(40);
    await changePerson(engine.db(), person.id, { passwordHash: next });
    const answer = await signIn;
    expect(cookieOf(answer)).toBe('');
    await problemOf(answer, 401, 'sign-in-wrong');
  });

  it('[N2] who is made inactive while the password is being looked at does not get in', async () => {
    const { person } = await shop().person('crew');
    const signIn = shop().call('POST', '/api/sign-in', { body: { name: person.name, password: PASSWORD } });
    await sleep(40);
    await changePerson(engine.db(), person.id, { isActive: false });
    await problemOf(await signIn, 401, 'sign-in-wrong');
    await changePerson(engine.db(), person.id, { isActive: true });
  });

  it('[N2] a password that a lead sets holds against one that its person was just changing', async () => {
    const { person, cookie } = await shop().person('crew');
    const next = await hashPassword('set by the lead');
    const change = shop().call('POST', '/api/password', {
      cookie,
      body: { current: PASSWORD, next: 'a thief’s password' },
    });
    await sleep(40);
    await changePerson(engine.db(), person.id, { passwordHash: next });
    await problemOf(await change, 403, 'password-wrong');
    expect(await passwordHashOf(engine.db(), person.id)).toBe(next);
    await problemOf(await shop().call('GET', '/api/aircraft', { cookie }), 401, 'not-signed-in');
  });
});
