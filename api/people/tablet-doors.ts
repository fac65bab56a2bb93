/**
 * The doors of tablets that several people share (rule N15): a lead makes a browser one and takes it away; on it people sign in with their PIN,
 * which is set behind the password and opens nowhere else.
 */
import { createRoute, z } from '@hono/zod-openapi';
import { noteHere } from '#api/audit/note.ts';
import { type DoorApp, json, jsonBody, mustHavePassword, needs, personAt, REFUSED } from '#api/door.ts';
import { Problem } from '#api/problem/problem.ts';
import { hashPassword, passwordFits } from '#db/people/password.ts';
import { passwordHashOf } from '#db/people/person.ts';
import { setPin, startPinSession, takePinTry } from '#db/people/pin.ts';
import { noteTouch, tokenHash } from '#db/people/session.ts';
import { changeTablet, listTablets, makeTablet, peopleWithPin, takeTabletAway } from '#db/people/tablet.ts';
import { PersonId, SessionReport } from '#shared/contract/people.ts';
import {
  PinRequest,
  PinSignInRequest,
  TabletChange,
  TabletList,
  TabletReport,
  TabletRequest,
} from '#shared/contract/tablet.ts';
import { addressOf } from './address.ts';
import { giveTablet, tabletHashOf } from './session-cookie.ts';
import { addressKey, begin, nameOf, slow, stand, tabletAt } from './session-doors.ts';

const here = createRoute({
  method: 'get',
  path: '/api/tablet',
  summary: 'Whether this browser is a shared tablet, and who can sign in on it with a PIN',
  ...needs('public'),
  responses: { 200: json(TabletReport, 'The tablet'), ...REFUSED },
});

const pinSignIn = createRoute({
  method: 'post',
  path: '/api/pin-sign-in',
  summary: 'Sign in with a PIN, on a shared tablet',
  ...needs('public'),
  request: jsonBody(PinSignInRequest),
  responses: { 200: json(SessionReport, 'Signed in'), ...REFUSED },
});

const touch = createRoute({
  method: 'post',
  path: '/api/tablet/touch',
  summary: 'Somebody has touched this shared tablet: it does not lock yet',
  ...needs('viewer'),
  responses: { 200: json(SessionReport, 'The session'), ...REFUSED },
});

const pin = createRoute({
  method: 'post',
  path: '/api/pin',
  summary: 'Set the own PIN, or take it away; sessions begun with the one before end',
  ...needs('viewer'),
  request: jsonBody(PinRequest),
  responses: { 200: json(SessionReport, 'Set'), ...REFUSED },
});

const list = createRoute({
  method: 'get',
  path: '/api/tablets',
  summary: 'Every shared tablet, with its last use',
  ...needs('lead'),
  responses: { 200: json(TabletList, 'The tablets, by name'), ...REFUSED },
});

const make = createRoute({
  method: 'post',
  path: '/api/tablets',
  summary: 'Make this browser a shared tablet',
  ...needs('lead'),
  request: jsonBody(TabletRequest),
  responses: { 201: json(TabletList, 'The tablets'), ...REFUSED },
});

const change = createRoute({
  method: 'patch',
  path: '/api/tablets/{tabletId}',
  summary: 'Change name or idle time of a shared tablet',
  ...needs('lead'),
  request: { params: z.object({ tabletId: z.string() }), ...jsonBody(TabletChange) },
  responses: { 200: json(TabletList, 'The tablets'), ...REFUSED },
});

const takeAway = createRoute({
  method: 'post',
  path: '/api/tablets/{tabletId}/take-away',
  summary: 'Let a tablet be shared no longer: every session on it ends',
  ...needs('lead'),
  request: { params: z.object({ tabletId: z.string() }) },
  responses: { 200: json(TabletList, 'The tablets'), ...REFUSED },
});

export function tabletDoors(app: DoorApp): void {
  app.openapi(here, async (c) => {
    const tablet = await tabletAt(c);
    // Who is not before a shared tablet learns no name.
    if (tablet === undefined) return c.json({ people: [] }, 200);
    const { name, idleMinutes } = tablet;
    return c.json({ tablet: { name, idleMinutes }, people: await peopleWithPin(c.get('services').db) }, 200);
  });

  app.openapi(pinSignIn, async (c) => {
    const { db, throttle, now } = c.get('services');
    const given = c.req.valid('json');
    const address = addressKey(c, 25);
    const tablet = await tabletAt(c);
    if (tablet === undefined) {
      // Made-up tokens are slowed down as made-up names are.
      slow(throttle.take([address], now()));
      throw new Problem('not-shared');
    }
    const keys = [
      { key: `pin ${given.personId.toLowerCase()}`, free: 5 },
      { key: `tablet ${tablet.id}`, free: 10 },
      address,
    ] as const;
    slow(throttle.take(keys, now()));
    const personId = PersonId.safeParse(given.personId);
    const kept = personId.success ? await takePinTry(db, personId.data) : undefined;
    const refused = () =>
      noteHere(c, {
        kind: 'sign-in refused',
        // A PIN under an id that nobody has is about nobody.
        aboutPersonId: kept === undefined ? undefined : personId.data,
        detail: { with: 'PIN', ...nameOf(tablet) },
      });
    if (kept === 'off') {
      await refused();
      throw new Problem('pin-off');
    }
    const fits = await passwordFits(given.pin, kept);
    const token =
      fits && personId.success && kept !== undefined
        ? await startPinSession(db, { personId: personId.data, pinHash: kept, tabletId: tablet.id }, now())
        : undefined;
    if (token === undefined) {
      await refused();
      throw new Problem('pin-wrong');
    }
    throttle.succeed(keys[0].key, keys[1].key);
    throttle.giveBack(address.key);
    await noteHere(c, { kind: 'signed in', personId: personId.data, detail: { with: 'PIN', ...nameOf(tablet) } });
    return c.json(await begin(c, token), 200);
  });

  app.openapi(touch, async (c) => {
    const { db, now } = c.get('services');
    const hash = c.get('tokenHash');
    if (hash !== undefined) await noteTouch(db, hash, now());
    return c.json(await stand(c), 200);
  });

  app.openapi(pin, async (c) => {
    mustHavePassword(c);
    const { db, throttle, lines, now } = c.get('services');
    const person = personAt(c);
    const given = c.req.valid('json');
    // The same count as for a change of the password: it is the same secret that could be guessed here.
    const key = `password ${person.id}`;
    slow(throttle.take([{ key, free: 5 }], now()));
    const passwordHash = await passwordHashOf(db, person.id);
    if (passwordHash === undefined || !(await passwordFits(given.password, passwordHash)))
      throw new Problem('password-wrong');
    throttle.succeed(key);
    const pinHash = given.pin === null ? null : await hashPassword(given.pin);
    if (!(await setPin(db, person.id, { passwordHash, pinHash }))) throw new Problem('password-wrong');
    await noteHere(c, { kind: pinHash === null ? 'PIN taken away' : 'PIN set' });
    lines.recheck();
    return c.json(await stand(c), 200);
  });

  app.openapi(list, async (c) => c.json({ tablets: await listTablets(c.get('services').db, tabletHashOf(c)) }, 200));

  app.openapi(make, async (c) => {
    const { db, now } = c.get('services');
    const sessionHash = c.get('tokenHash');
    if (sessionHash === undefined) throw new Error('a lead has a session');
    const given = {
      ...c.req.valid('json'),
      madeBy: personAt(c).id,
      sessionHash,
      address: addressOf(c),
      before: tabletHashOf(c),
    };
    const token = await makeTablet(db, given, now());
    await noteHere(c, { kind: 'tablet shared', detail: { tablet: given.name } });
    giveTablet(c, token);
    return c.json({ tablets: await listTablets(db, tokenHash(token)) }, 201);
  });

  app.openapi(change, async (c) => {
    const { db, lines, now } = c.get('services');
    const id = tabletIdOf(c.req.valid('param').tabletId);
    if (!(await changeTablet(db, id, c.req.valid('json'), now()))) throw new Problem('not-found');
    const changed = (await listTablets(db, undefined)).find((one) => one.id === id);
    await noteHere(c, { kind: 'tablet changed', detail: nameOf(changed) });
    lines.recheck();
    return c.json({ tablets: await listTablets(db, tabletHashOf(c)) }, 200);
  });

  app.openapi(takeAway, async (c) => {
    const { db, lines } = c.get('services');
    const name = await takeTabletAway(db, tabletIdOf(c.req.valid('param').tabletId));
    if (name === undefined) throw new Problem('not-found');
    await noteHere(c, { kind: 'tablet taken away', detail: { tablet: name } });
    lines.recheck();
    return c.json({ tablets: await listTablets(db, tabletHashOf(c)) }, 200);
  });
}

function tabletIdOf(text: string): string {
  const id = z.uuid().safeParse(text);
  if (!id.success) throw new Problem('not-found');
  return id.data;
}
