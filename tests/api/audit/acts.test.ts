/** Who did what beside the ledgers (rule N18). */
import { sql } from 'kysely';
import { expect, it } from 'vitest';
import { asOwner } from '#db/backup/read-store.ts';
import { type Act, ActsReport } from '#shared/contract/acts.ts';
import { aircraftIn, cookieOf, newId, PASSWORD, problemOf, shopOn } from '#tests/api/door-shop.ts';
import { describeOnBothEngines } from '#tests/support/engines.ts';

describeOnBothEngines('acts', (engine) => {
  const shop = shopOn(engine);
  const acts = async (cookie: string, before?: string) => {
    const answer = await shop().call('GET', `/api/acts${before === undefined ? '' : `?before=${before}`}`, { cookie });
    expect(answer.status).toBe(200);
    return ActsReport.parse(await answer.json());
  };
  const told = ({ kind, by, about, aircraft, address, detail }: Act) => ({
    ...{ kind, by, about, aircraft: aircraft?.id, address, detail },
  });

  it('[N18] what is done through the doors stands in the list: who, about whom, on what, from where', async () => {
    const lead = await shop().person('lead');
    const call = (method: string, path: string, body: object = {}, cookie = lead.cookie) =>
      shop().call(method, path, { cookie, body, address: '192.0.2.7' });
    const name = `Kim ${newId()}`;
    const account = { name, initials: 'KI', role: 'crew', aircraft: 'all', password: 'first password of Kim' };
    const made = (await (await call('POST', '/api/people', account)).json()) as { id: string };
    await call('POST', '/api/sign-in', { name, password: 'typed in by mistake' }, '');
    await call('POST', '/api/sign-in', { name: 'hunter2 typed as a name', password: 'x' }, '');
    const kim = cookieOf(await call('POST', '/api/sign-in', { name, password: account.password }, ''));
    const next = { current: account.password, next: 'second password of Kim' };
    await call('POST', '/api/password', next, kim);
    await call('POST', '/api/pin', { password: next.next, pin: '2580' }, kim);
    await call('POST', '/api/sign-out', {}, kim);
    await call('PATCH', `/api/people/${made.id}`, { role: 'engineer', password: 'third password of Kim' });
    await call('PATCH', `/api/people/${made.id}`, { isActive: false });
    const tablet = await call('POST', '/api/tablets', { name: 'Trim bench', idleMinutes: 5 });
    const { tablets } = (await tablet.json()) as { tablets: { id: string; name: string }[] };
    await call('POST', `/api/tablets/${tablets.find((one) => one.name === 'Trim bench')?.id}/take-away`);
    // Taken away with the session on it.
    const again = await shop().person('lead');
    const aircraft = await aircraftIn(shop(), again.cookie);
    await call('POST', `/api/aircraft/${aircraft}/access`, { isClosed: true, people: [] }, again.cookie);
    await call('GET', `/api/aircraft/${aircraft}/archive`, {}, again.cookie);

    const mine = (await acts(again.cookie)).acts.reverse().map(told);
    const from = { aircraft: undefined, address: '192.0.2.7' };
    const by = { by: lead.person.name, about: name, ...from };
    const self = { by: name, about: undefined, ...from };
    expect(mine).toEqual([
      { ...by, kind: 'account made', detail: { role: 'crew' } },
      { ...from, kind: 'sign-in refused', by: undefined, about: name, detail: { with: 'password' } },
      { ...from, kind: 'sign-in refused', by: undefined, about: undefined, detail: { with: 'password' } },
      { ...self, kind: 'signed in', detail: { with: 'password' } },
      { ...self, kind: 'password changed', detail: {} },
      { ...self, kind: 'PIN set', detail: {} },
      { ...self, kind: 'signed out', detail: {} },
      { ...by, kind: 'role changed', detail: { role: 'engineer' } },
      { ...by, kind: 'password set by a lead', detail: {} },
      { ...by, kind: 'account closed', detail: {} },
      { ...by, about: undefined, kind: 'tablet shared', detail: { tablet: 'Trim bench' } },
      { ...by, about: undefined, kind: 'tablet taken away', detail: { tablet: 'Trim bench' } },
      ...(['aircraft made', 'access to an aircraft changed', 'aircraft carried out'] as const).map((kind) => ({
        kind,
        by: again.person.name,
        about: undefined,
        aircraft,
        address: kind === 'aircraft made' ? '192.168.1.20' : '192.0.2.7',
        detail: kind === 'access to an aircraft changed' ? { closed: 'yes', writers: '', readers: '' } : {},
      })),
    ]);
    const whole = JSON.stringify((await sql`select * from act`.execute(engine.db())).rows);
    for (const secret of [
      'password of Kim',
      'typed in by mistake',
      'hunter2',
      '2580',
      kim.split('=')[1] ?? '',
      PASSWORD,
    ])
      expect(whole).not.toContain(secret);
  });

  it('[N18] the list goes back page by page, is for leads, and shows no aircraft that its reader may not see', async () => {
    const lead = await shop().person('lead');
    const aircraftId = await aircraftIn(shop(), lead.cookie);
    const few = await shop().person('lead', []);
    for (let count = 0; count < 60; count += 1)
      await shop().call('POST', '/api/sign-out', { cookie: (await shop().person('viewer')).cookie });
    const first = await acts(few.cookie);
    expect(first.acts).toHaveLength(50);
    const second = await acts(few.cookie, first.next);
    const seen = [...first.acts, ...second.acts];
    expect(new Set(seen.map(({ id }) => id)).size).toBe(seen.length);
    expect(seen.map(({ doneAt }) => doneAt)).toEqual(
      seen
        .map(({ doneAt }) => doneAt)
        .sort()
        .reverse(),
    );
    expect(seen.some(({ kind }) => kind === 'signed out')).toBe(true);
    expect(seen.some(({ aircraft }) => aircraft?.id === aircraftId)).toBe(false);
    const engineer = await shop().person('engineer');
    await problemOf(await shop().call('GET', '/api/acts', { cookie: engineer.cookie }), 403, 'not-allowed');
  });

  it('[N18] no row of the list is changed or taken away, not even by the owner of the tables', async () => {
    await shop().call('POST', '/api/sign-out', { cookie: (await shop().person('viewer')).cookie });
    for (const statement of ["update act set kind = 'x'", 'delete from act', 'truncate act']) {
      await expect(sql.raw(statement).execute(engine.db())).rejects.toThrow(/permission denied/);
      const asTheOwner = engine
        .db()
        .transaction()
        .execute(async (tx) => {
          await asOwner(tx);
          await sql.raw(statement).execute(tx);
        });
      await expect(asTheOwner).rejects.toThrow(/append-only/);
    }
  });
});
