/** PINs and shared tablets as the database keeps them (rule N15). */
import { randomUUID } from 'node:crypto';
import { sql } from 'kysely';
import { expect, it, vi } from 'vitest';
import { changePerson, makePerson } from '#db/people/change-people.ts';
import { MOST_WRONG_PINS, setPin, startPinSession, takePinTry } from '#db/people/pin.ts';
import { noteTouch, sessionOf, startSession, startSessionOf, tokenHash } from '#db/people/session.ts';
import { changeTablet, listTablets, makeTablet, peopleWithPin, tabletOf, takeTabletAway } from '#db/people/tablet.ts';
import { describeOnBothEngines } from '#tests/support/engines.ts';

/** These tests are of what is kept, and not of how it is hashed. */
const passwordHash = 'kept of a password';
const pinHash = 'kept of a PIN';
const MINUTE = 60_000;

vi.setConfig({ testTimeout: 300_000, hookTimeout: 300_000 });

describeOnBothEngines('PINs and shared tablets', (engine) => {
  const db = () => engine.db();
  const now = new Date('2026-11-30T08:00:00Z');
  const at = (minutes: number) => new Date(now.getTime() + minutes * MINUTE);

  async function somebody(role: 'crew' | 'lead' = 'crew') {
    const made = await makePerson(db(), {
      name: `Ann ${randomUUID()}`,
      initials: 'AN',
      role,
      aircraft: 'all',
      passwordHash,
    });
    if (!made.ok) throw new Error(made.refusal);
    return made.person;
  }
  async function withPin(role: 'crew' | 'lead' = 'crew') {
    const person = await somebody(role);
    expect(await setPin(db(), person.id, { passwordHash, pinHash })).toBe(true);
    return person;
  }
  async function tablet(idleMinutes = 5) {
    const lead = await somebody('lead');
    const sessionHash = tokenHash(await startSession(db(), lead.id, now));
    const given = { name: 'Bench', idleMinutes, madeBy: lead.id, sessionHash, address: '10.0.0.1', before: undefined };
    const token = await makeTablet(db(), given, now);
    const here = await tabletOf(db(), tokenHash(token), { now, address: '10.0.0.2' });
    if (here === undefined) throw new Error('the tablet was made');
    return { ...here, token, sessionHash };
  }
  const signIn = async (personId: string, tabletId: string, when = now) => {
    const token = await startPinSession(db(), { personId, pinHash, tabletId }, when);
    return token === undefined ? undefined : tokenHash(token);
  };
  const stands = async (hash: string | undefined, when = now) =>
    hash !== undefined && (await sessionOf(db(), hash, when, true)) !== undefined;

  it('[N15] of thirty tries at the same moment ten are judged', async () => {
    const { id } = await withPin();
    const tries = await Promise.all(Array.from({ length: 30 }, () => takePinTry(db(), id)));
    expect(tries.filter((one) => one === pinHash)).toHaveLength(MOST_WRONG_PINS);
    expect(tries.filter((one) => one === 'off')).toHaveLength(30 - MOST_WRONG_PINS);
    await startSessionOf(db(), { id, passwordHash }, now);
    expect(await takePinTry(db(), id)).toBe(pinHash);
  });

  it('[N15] a right PIN begins the count anew; nobody, no PIN and a closed account give nothing to judge', async () => {
    const [{ id }, { id: without }, { id: gone }, { id: tabletId }] = [
      await withPin(),
      await somebody(),
      await withPin(),
      await tablet(),
    ];
    for (let count = 1; count < MOST_WRONG_PINS; count += 1) await takePinTry(db(), id);
    expect(await signIn(id, tabletId)).toBeDefined();
    for (let count = 0; count < MOST_WRONG_PINS; count += 1) expect(await takePinTry(db(), id)).toBe(pinHash);
    expect(await takePinTry(db(), id)).toBe('off');
    await changePerson(db(), gone, { isActive: false });
    for (const none of [without, gone, randomUUID()]) expect(await takePinTry(db(), none)).toBeUndefined();
    await changePerson(db(), gone, { isActive: true });
    expect(await takePinTry(db(), gone)).toBeUndefined();
    expect((await peopleWithPin(db())).map((one) => one.id)).not.toContain(gone);
  });

  it('[N15] no session begins with a PIN or on a tablet that was taken away since it was looked at', async () => {
    const [{ id }, { id: tabletId }] = [await withPin(), await tablet()];
    await takeTabletAway(db(), tabletId);
    expect(await signIn(id, tabletId)).toBeUndefined();
    const other = await tablet();
    await setPin(db(), id, { passwordHash, pinHash: 'kept of another' });
    expect(await signIn(id, other.id)).toBeUndefined();
    expect(await setPin(db(), id, { passwordHash: 'no longer the one', pinHash })).toBe(false);
  });

  it('[N15] another PIN ends the sessions begun with one, a tablet taken away those begun on it, and both no others', async () => {
    const [{ id }, first, second] = [await withPin(), await tablet(), await tablet()];
    const own = tokenHash(await startSession(db(), id, now));
    const [onFirst, onSecond] = [await signIn(id, first.id), await signIn(id, second.id)];
    const byPassword = tokenHash((await startSessionOf(db(), { id, passwordHash }, now, second.id)) ?? '');
    await takeTabletAway(db(), first.id);
    expect([await stands(onFirst), await stands(onSecond), await stands(byPassword), await stands(own)]).toEqual([
      false,
      true,
      true,
      true,
    ]);
    await setPin(db(), id, { passwordHash, pinHash: null });
    expect([await stands(onSecond), await stands(byPassword), await stands(own)]).toEqual([false, true, true]);
    expect(await takeTabletAway(db(), first.id)).toBeUndefined();
    expect(await stands(first.sessionHash)).toBe(false);
  });

  it('[N15] a session on a tablet ends by the tablet’s minutes, is kept by a touch alone, and does not come back', async () => {
    const [{ id: leadId }, here] = [await withPin('lead'), await tablet(5)];
    const hash = await signIn(leadId, here.id);
    if (hash === undefined) throw new Error('the PIN fits');
    expect(await sessionOf(db(), hash, at(4.9), true)).toMatchObject({
      byPin: true,
      hasPin: true,
      person: { role: 'crew' },
      tablet: { id: here.id, name: 'Bench', idleMinutes: 5 },
    });
    expect(await stands(await signIn(leadId, here.id), at(5))).toBe(false);
    await noteTouch(db(), hash, at(4.9));
    expect(await stands(hash, at(9.8))).toBe(true);
    const seen = await signIn(leadId, here.id, at(9));
    expect(await changeTablet(db(), here.id, { idleMinutes: 60 }, at(10))).toBe(true);
    expect([await stands(hash, at(10)), await stands(seen, at(10))]).toEqual([false, true]);
    expect(await changeTablet(db(), randomUUID(), { name: 'none' }, now)).toBe(false);
  });

  it('[N15] the list has each tablet once, with its last use; its token is nowhere', async () => {
    const here = await tablet();
    await tabletOf(db(), tokenHash(here.token), { now: at(90), address: '10.0.0.9' });
    const found = (await listTablets(db(), tokenHash(here.token))).filter(({ id }) => id === here.id);
    expect(found).toMatchObject([{ lastUsedAt: at(90).toISOString(), lastAddress: '10.0.0.9', isHere: true }]);
    const rows = await sql`select row_to_json(t)::text as row from public.shared_tablet t`.execute(db());
    expect(JSON.stringify(rows.rows)).not.toContain(here.token);
    expect(await tabletOf(db(), tokenHash('made up'), { now, address: '' })).toBeUndefined();
  });

  it('[N15] the database itself refuses a session by PIN off any tablet, and minutes that are none', async () => {
    const { id } = await withPin();
    await expect(startSession(db(), id, now, { byPin: true })).rejects.toThrow(/session_pin_on_tablet/);
    const here = await tablet();
    await expect(changeTablet(db(), here.id, { idleMinutes: 0 }, now)).rejects.toThrow(/shared_tablet_idle_range/);
  });
});
