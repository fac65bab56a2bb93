/** People, passwords and sessions as the database keeps them. */
import { createHash, randomUUID } from 'node:crypto';
import { setTimeout as sleep } from 'node:timers/promises';
import { expect, it } from 'vitest';
import { changePerson, isFirstRun, makeFirstPerson, makePerson } from '#db/people/change-people.ts';
import { hashPassword, passwordFits, TooBusy } from '#db/people/password.ts';
import { findToSignIn, listPeople, passwordHashOf } from '#db/people/person.ts';
import {
  endSession,
  IDLE_MS,
  LONGEST_MS,
  personOfSession,
  startSession,
  startSessionOf,
  tokenHash,
} from '#db/people/session.ts';
import { describeOnBothEngines } from '#tests/support/engines.ts';

const passwordHash = await hashPassword('a long enough password');
const given = (name: string) => ({ name, initials: 'AB', role: 'lead', aircraft: 'all', passwordHash }) as const;

describeOnBothEngines('people', (engine) => {
  it('[N1] of eight first runs at the same moment one makes an account', async () => {
    expect(await isFirstRun(engine.db())).toBe(true);
    const answers = await Promise.all(
      Array.from({ length: 8 }, (_, at) =>
        makeFirstPerson(engine.db(), { name: `First ${at}`, initials: 'AB', passwordHash }),
      ),
    );
    expect(answers.filter((answer) => answer.ok)).toHaveLength(1);
    for (const answer of answers) if (!answer.ok) expect(answer.refusal).toBe('first-run-done');
    expect(await listPeople(engine.db())).toHaveLength(1);
    expect(await isFirstRun(engine.db())).toBe(false);
  });

  it('[N12] a name is one person’s, whatever its case and outer blanks', async () => {
    expect(await makePerson(engine.db(), given('Zoë Ángel'))).toMatchObject({ ok: true });
    expect(await makePerson(engine.db(), given(' zoË ÁNGEL '))).toEqual({ ok: false, refusal: 'name-taken' });
    expect(await findToSignIn(engine.db(), 'zoë ángel')).toMatchObject({ passwordHash });
  });

  it('[N12] of two leads who demote each other at the same moment one stays', async () => {
    for (const person of await listPeople(engine.db()))
      if (person.role === 'lead') await changePerson(engine.db(), person.id, { role: 'viewer' });
    const [last] = (await listPeople(engine.db())).filter(({ role }) => role === 'lead');
    const other = await makePerson(engine.db(), given(`Lead ${randomUUID()}`));
    if (last === undefined || !other.ok) throw new Error('two leads are here');
    const answers = await Promise.all([
      changePerson(engine.db(), last.id, { role: 'crew' }),
      changePerson(engine.db(), other.person.id, { isActive: false }),
    ]);
    expect(answers.filter((answer) => answer.ok)).toHaveLength(1);
    expect((await listPeople(engine.db())).filter(({ role, isActive }) => role === 'lead' && isActive)).toHaveLength(1);
  });

  it('[N2] the database keeps a hash of the token and not the token', async () => {
    const made = await makePerson(engine.db(), given(`Ann ${randomUUID()}`));
    if (!made.ok) throw new Error(made.refusal);
    const token = await startSession(engine.db(), made.person.id, new Date());
    expect(Buffer.from(token, 'base64url')).toHaveLength(32);
    const rows = await engine.db().selectFrom('session').selectAll().where('person_id', '=', made.person.id).execute();
    expect(rows.map((row) => row.token_hash)).toEqual([createHash('sha256').update(token).digest('hex')]);
    expect(JSON.stringify(rows)).not.toContain(token);
  });

  it('[N2] a session ends after 12 hours without use and after 30 days with it', async () => {
    const made = await makePerson(engine.db(), given(`Ann ${randomUUID()}`));
    if (!made.ok) throw new Error(made.refusal);
    const start = Date.now();
    const at = (ms: number, isUse: boolean) =>
      personOfSession(engine.db(), hash, new Date(start + ms), isUse).then((person) => person !== undefined);
    const hash = tokenHash(await startSession(engine.db(), made.person.id, new Date(start)));
    expect(await at(IDLE_MS - 1000, false)).toBe(true);
    expect(await at(IDLE_MS + 1000, false)).toBe(false);
    for (let ms = 0; ms < LONGEST_MS; ms += IDLE_MS - 1000) expect(await at(ms, true)).toBe(true);
    expect(await at(LONGEST_MS + 1000, true)).toBe(false);
  });

  it('[N2] what has expired is taken away at the next sign-in, and an ended session is gone', async () => {
    const made = await makePerson(engine.db(), given(`Ann ${randomUUID()}`));
    if (!made.ok) throw new Error(made.refusal);
    const { id } = made.person;
    const old = new Date(Date.now() - IDLE_MS - 1000);
    await startSession(engine.db(), id, old);
    const token = await startSession(engine.db(), id, new Date());
    const mine = () => engine.db().selectFrom('session').select('token_hash').where('person_id', '=', id).execute();
    expect(await mine()).toEqual([{ token_hash: tokenHash(token) }]);
    await endSession(engine.db(), tokenHash(token));
    expect(await mine()).toEqual([]);
  });

  it('[N2] another password and inactivity end sessions, all but the one kept', async () => {
    const made = await makePerson(engine.db(), { ...given(`Ann ${randomUUID()}`), role: 'crew' });
    if (!made.ok) throw new Error(made.refusal);
    const { id } = made.person;
    const hashes: string[] = [];
    for (let count = 0; count < 3; count += 1) hashes.push(tokenHash(await startSession(engine.db(), id, new Date())));
    const alive = async () =>
      (await Promise.all(hashes.map((hash) => personOfSession(engine.db(), hash, new Date(), false)))).map(
        (person) => person !== undefined,
      );
    await changePerson(engine.db(), id, { passwordHash }, { own: { tokenHash: hashes[1], passwordHash } });
    expect(await alive()).toEqual([false, true, false]);
    await changePerson(engine.db(), id, { isActive: false });
    expect(await alive()).toEqual([false, false, false]);
    expect(await findToSignIn(engine.db(), made.person.name.toLowerCase())).toBeUndefined();
  });

  it('[N2] a session whose person is inactive is nobody’s, however it came to be', async () => {
    const made = await makePerson(engine.db(), { ...given(`Ann ${randomUUID()}`), role: 'crew' });
    if (!made.ok) throw new Error(made.refusal);
    const { id } = made.person;
    await changePerson(engine.db(), id, { isActive: false });
    const hash = tokenHash(await startSession(engine.db(), id, new Date()));
    expect(await personOfSession(engine.db(), hash, new Date(), true)).toBeUndefined();
  });

  it('[N2] no session starts with a password that is no longer the one, or for who is inactive', async () => {
    const made = await makePerson(engine.db(), { ...given(`Ann ${randomUUID()}`), role: 'crew' });
    if (!made.ok) throw new Error(made.refusal);
    const { id } = made.person;
    const start = (kept: string) => startSessionOf(engine.db(), { id, passwordHash: kept }, new Date());
    expect(await start(passwordHash)).toMatch(/^[\w-]{43}$/);
    const other = await hashPassword('another long password');
    await changePerson(engine.db(), id, { passwordHash: other });
    expect(await start(passwordHash)).toBeUndefined();
    expect(await start(other)).toMatch(/^[\w-]{43}$/);
    await changePerson(engine.db(), id, { isActive: false });
    expect(await start(other)).toBeUndefined();
  });

  if (engine.kind === 'postgres') {
    it('[N12] a lead who would leave while another one is leaving waits, and then is the last and stays', async () => {
      const [one, other] = [
        await makePerson(engine.db(), given(`Lead ${randomUUID()}`)),
        await makePerson(engine.db(), given(`Lead ${randomUUID()}`)),
      ];
      if (!one.ok || !other.ok) throw new Error('two leads are here');
      const both = [one.person.id, other.person.id];
      for (const { id, role } of await listPeople(engine.db()))
        if (role === 'lead' && !both.includes(id)) await changePerson(engine.db(), id, { role: 'viewer' });
      const leaving = await engine
        .db()
        .transaction()
        .execute(async (tx) => {
          await tx.updateTable('person').set({ role: 'crew' }).where('id', '=', other.person.id).execute();
          const attempt = changePerson(engine.db(), one.person.id, { role: 'crew' });
          // Time enough to count two leads, were they not locked.
          await sleep(300);
          return { attempt };
        });
      expect(await leaving.attempt).toEqual({ ok: false, refusal: 'last-lead' });
    });

    it('[N2] a session that starts while the password is being changed waits, and then does not start', async () => {
      const made = await makePerson(engine.db(), { ...given(`Ann ${randomUUID()}`), role: 'crew' });
      if (!made.ok) throw new Error(made.refusal);
      const { id } = made.person;
      const starting = await engine
        .db()
        .transaction()
        .execute(async (tx) => {
          await tx.updateTable('person').set({ password_hash: 'another' }).where('id', '=', id).execute();
          const attempt = startSessionOf(engine.db(), { id, passwordHash }, new Date());
          // Time enough to read the old password, were it not locked.
          await sleep(300);
          await tx.deleteFrom('session').where('person_id', '=', id).execute();
          return { attempt };
        });
      expect(await starting.attempt).toBeUndefined();
    });
  }

  it('[N3] a password is kept as Argon2id with its parameters, never as itself', async () => {
    const made = await makePerson(engine.db(), given(`Ann ${randomUUID()}`));
    if (!made.ok) throw new Error(made.refusal);
    const kept = await passwordHashOf(engine.db(), made.person.id);
    expect(kept).toMatch(/^\$argon2id\$v=19\$m=65536,t=3,p=1\$[A-Za-z0-9+/]{22}\$[A-Za-z0-9+/]{43}$/);
    expect(await hashPassword('a long enough password')).not.toBe(kept);
    expect(await passwordFits('a long enough password', kept)).toBe(true);
    expect(await passwordFits('a long enough passwore', kept)).toBe(false);
  });

  it('[N3] a hash kept with other parameters still fits', async () => {
    // argon2id, 32 KiB, 2 passes, from the reference vectors' manner: made here with Node's own function.
    const { argon2Sync } = await import('node:crypto');
    const nonce = Buffer.from('somesaltsomesalt');
    const tag = argon2Sync('argon2id', {
      message: Buffer.from('kept long ago'),
      nonce,
      memory: 32,
      passes: 2,
      parallelism: 1,
      tagLength: 32,
    });
    const text = (bytes: Buffer) => bytes.toString('base64').replaceAll('=', '');
    expect(await passwordFits('kept long ago', `$argon2id$v=19$m=32,t=2,p=1$${text(nonce)}$${text(tag)}`)).toBe(true);
  });

  it('[N3] letters are the same however they are composed', async () => {
    expect(await passwordFits('cafe\u0301 au lait', await hashPassword('caf\u00e9 au lait'))).toBe(true);
  });

  it('[N3] only a few passwords are looked at at once: a crowd is told to wait', async () => {
    const answers = await Promise.allSettled(
      Array.from({ length: 40 }, () => passwordFits('a long enough password', passwordHash)),
    );
    const refused = answers.filter((answer) => answer.status === 'rejected');
    expect(refused).toHaveLength(22);
    for (const answer of refused) expect(answer.reason).toBeInstanceOf(TooBusy);
  });
});
