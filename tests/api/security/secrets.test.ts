/** What a server prints, logs and keeps, read for the secrets that went through it. */
import { sql } from 'kysely';
import { expect, it } from 'vitest';
import { cookieOf, newId, openShop, PASSWORD, shopOn } from '#tests/api/door-shop.ts';
import { contentsOf } from '#tests/db/backup/contents.ts';
import { describeOnBothEngines } from '#tests/support/engines.ts';

describeOnBothEngines('secrets', (engine) => {
  const shop = shopOn(engine);

  it('[N18] no password, PIN, session or tablet token is printed, logged or kept as it is, also not of what is refused or broken', async () => {
    const { person } = await shop().person('lead');
    const call = (path: string, body: object, cookie?: string) => shop().call('POST', path, { body, cookie });
    const session = cookieOf(await call('/api/sign-in', { name: person.name, password: PASSWORD }));
    await call('/api/sign-in', { name: 'typed my-secret-word here', password: 'wrong-guess-4711' });
    await call('/api/sign-in', { name: person.name, password: 'wrong-guess-4711', extra: 'extra-secret' });
    await call('/api/password', { current: 'wrong-guess-4711', next: 'next-password-0815' }, session);
    await call('/api/pin', { password: PASSWORD, pin: '72941835' }, session);
    const tablet = cookieOf(await call('/api/tablets', { name: `Bench ${newId()}`, idleMinutes: 5 }, session));
    await shop().call('GET', '/api/aircraft', { cookie: `${session}; ${tablet}` });
    // A fault: the log gets all there is to know of it.
    const broken = openShop({ ...engine.store(), db: brokenDb() }, {});
    await broken.call('POST', '/api/sign-in', { body: { name: person.name, password: PASSWORD }, cookie: session });
    expect(broken.logged.join('')).toContain('Fault');
    broken.close();

    const sessions = (await sql`select * from session`.execute(engine.db())).rows;
    const kept = JSON.stringify([...(await contentsOf(engine.db())), sessions]);
    const told = [...shop().printed, ...shop().logged, ...broken.printed, ...broken.logged].join('\n');
    const tokens = [session, tablet].map((cookie) => cookie.split('=')[1] ?? '');
    expect(tokens.every((token) => token.length > 40)).toBe(true);
    const typed = ['wrong-guess-4711', 'my-secret-word', 'extra-secret', 'next-password-0815', '72941835', PASSWORD];
    for (const secret of [...tokens, ...typed]) {
      expect(told).not.toContain(secret);
      expect(kept).not.toContain(secret);
    }
    // The rows were read: the hashes that stand for these secrets are among them.
    expect(kept).toContain('argon2id');
  });

  /** Every question fails, with the question and what was asked with it in the error, as a driver may have it. */
  function brokenDb() {
    const fail = () => {
      throw new Error('the disk is gone');
    };
    return new Proxy(engine.db(), {
      get: (db, name) => (name === 'selectFrom' || name === 'transaction' ? fail : Reflect.get(db, name, db)),
    });
  }
});
