/** The doors of first run, sign-in, sign-out and the own password. Every sign-in makes a new token; an old one is never carried on. */
import { createRoute } from '@hono/zod-openapi';
import type { Kysely } from 'kysely';
import { noteHere } from '#api/audit/note.ts';
import {
  type DoorApp,
  type DoorContext,
  json,
  jsonBody,
  mustHavePassword,
  needs,
  personAt,
  REFUSED,
} from '#api/door.ts';
import { Problem } from '#api/problem/problem.ts';
import type { Database } from '#db/database.ts';
import { nameKey } from '#db/ledger/aircraft.ts';
import { changePerson, isFirstRun, makeFirstPerson } from '#db/people/change-people.ts';
import { hashPassword, passwordFits } from '#db/people/password.ts';
import { findPerson, findToSignIn, passwordHashOf } from '#db/people/person.ts';
import { endSession, personOfSession, sessionOf, startSession, startSessionOf, tokenHash } from '#db/people/session.ts';
import { type TabletHere, tabletOf } from '#db/people/tablet.ts';
import { FirstRunRequest, PasswordRequest, SessionReport, SignInRequest } from '#shared/contract/people.ts';
import { addressOf } from './address.ts';
import { giveSession, sessionHashOf, tabletHashOf, takeSession } from './session-cookie.ts';
import type { ThrottleKey } from './throttle.ts';

const session = createRoute({
  method: 'get',
  path: '/api/session',
  summary: 'Where this browser stands: first run, signed out, or signed in',
  ...needs('public'),
  responses: { 200: json(SessionReport, 'The session'), ...REFUSED },
});

const firstRun = createRoute({
  method: 'post',
  path: '/api/first-run',
  summary: 'Make the first account, with the code that the server shows',
  ...needs('public'),
  request: jsonBody(FirstRunRequest),
  responses: { 201: json(SessionReport, 'Signed in as the first lead'), ...REFUSED },
});

const signIn = createRoute({
  method: 'post',
  path: '/api/sign-in',
  summary: 'Sign in',
  ...needs('public'),
  request: jsonBody(SignInRequest),
  responses: { 200: json(SessionReport, 'Signed in'), ...REFUSED },
});

const signOut = createRoute({
  method: 'post',
  path: '/api/sign-out',
  summary: 'End this session',
  ...needs('public'),
  responses: { 200: json(SessionReport, 'Signed out'), ...REFUSED },
});

const password = createRoute({
  method: 'post',
  path: '/api/password',
  summary: 'Change the own password; all other sessions end',
  ...needs('viewer'),
  request: jsonBody(PasswordRequest),
  responses: { 200: json(SessionReport, 'Changed'), ...REFUSED },
});

export function sessionDoors(app: DoorApp): void {
  app.openapi(session, async (c) => c.json(await stand(c), 200));

  app.openapi(firstRun, async (c) => {
    const { db, firstRunCode, throttle, now } = c.get('services');
    const { code, password, ...who } = c.req.valid('json');
    if (!(await isFirstRun(db))) throw new Problem('first-run-done');
    slow(throttle.take([addressKey(c, 10)], now()));
    if (!firstRunCode.fits(code)) throw new Problem('code-wrong');
    const answer = await makeFirstPerson(db, { ...who, passwordHash: await hashPassword(password) }, (tx, { id }) =>
      noteHere(c, { kind: 'first account made', personId: id, aboutPersonId: id }, tx),
    );
    if (!answer.ok) throw new Problem('first-run-done');
    firstRunCode.forget();
    return c.json(await begin(c, await startSession(db, answer.person.id, now())), 201);
  });

  app.openapi(signIn, async (c) => {
    const { db, throttle, now } = c.get('services');
    const { name, password } = c.req.valid('json');
    const keys = [{ key: `name ${nameKey(name)}`, free: 5 }, addressKey(c, 25)] as const;
    slow(throttle.take(keys, now()));
    // No name holds a NUL, and the database would take offence at one.
    const found = name.includes('\0') ? undefined : await findToSignIn(db, nameKey(name));
    const fits = await passwordFits(password, found?.passwordHash);
    const person = fits && found !== undefined ? await findPerson(db, found.id) : undefined;
    const tablet = await tabletAt(c);
    const token =
      person === undefined || found === undefined ? undefined : await startSessionOf(db, found, now(), tablet?.id);
    if (person === undefined || token === undefined) {
      // Whose account it was about, where there is one; never what was typed.
      await noteHere(c, { kind: 'sign-in refused', aboutPersonId: found?.id, detail: { with: 'password' } });
      throw new Problem('sign-in-wrong');
    }
    throttle.succeed(keys[0].key, keys[1].key);
    await noteHere(c, { kind: 'signed in', personId: person.id, detail: { with: 'password', ...nameOf(tablet) } });
    return c.json(await begin(c, token), 200);
  });

  app.openapi(signOut, async (c) => {
    const { db, lines, now } = c.get('services');
    const hash = sessionHashOf(c);
    const person = hash === undefined ? undefined : await personOfSession(db, hash, now(), false);
    if (hash !== undefined) await endSession(db, hash);
    if (person !== undefined) await noteHere(c, { kind: 'signed out', personId: person.id });
    takeSession(c);
    lines.recheck();
    return c.json(await signedOut(c), 200);
  });

  app.openapi(password, async (c) => {
    const { db, throttle, lines, now } = c.get('services');
    mustHavePassword(c);
    const person = personAt(c);
    const { current, next } = c.req.valid('json');
    const key = `password ${person.id}`;
    slow(throttle.take([{ key, free: 5 }], now()));
    const kept = await passwordHashOf(db, person.id);
    if (!(await passwordFits(current, kept))) throw new Problem('password-wrong');
    throttle.succeed(key);
    const own = { tokenHash: c.get('tokenHash'), passwordHash: kept };
    const along = (tx: Kysely<Database>) => noteHere(c, { kind: 'password changed' }, tx);
    const passwordHash = await hashPassword(next);
    const answer = await changePerson(db, person.id, { passwordHash }, { own, along });
    if (!answer.ok) throw new Problem('password-wrong');
    lines.recheck();
    return c.json(await stand(c), 200);
  });
}

/** Where this browser stands. */
export async function stand(c: DoorContext, hash = sessionHashOf(c)): Promise<SessionReport> {
  const { db, now } = c.get('services');
  const session = hash === undefined ? undefined : await sessionOf(db, hash, now(), true);
  if (session === undefined) return (await isFirstRun(db)) ? { state: 'first run' } : signedOut(c);
  const { person, hasPin, byPin, tablet } = session;
  return { state: 'signed in', person, hasPin, byPin, ...(tablet === undefined ? {} : { tablet: shownOf(tablet) }) };
}

/** The shared tablet that this browser is, or undefined. */
export async function tabletAt(c: DoorContext): Promise<TabletHere | undefined> {
  const { db, now } = c.get('services');
  const hash = tabletHashOf(c);
  return hash === undefined ? undefined : tabletOf(db, hash, { now: now(), address: addressOf(c) });
}

/** Gives the browser a new session; the one it had before ends. */
export async function begin(c: DoorContext, token: string): Promise<SessionReport> {
  const { db, lines } = c.get('services');
  const before = sessionHashOf(c);
  if (before !== undefined) await endSession(db, before);
  giveSession(c, token);
  lines.recheck();
  return stand(c, tokenHash(token));
}

export function addressKey(c: DoorContext, free: number): ThrottleKey {
  return { key: `address ${addressOf(c)}`, free };
}

export function slow(waitS: number | undefined): void {
  if (waitS !== undefined) throw new Problem('throttled', { retryAfterS: waitS });
}

async function signedOut(c: DoorContext): Promise<SessionReport> {
  const tablet = await tabletAt(c);
  return { state: 'signed out', ...(tablet === undefined ? {} : { tablet: shownOf(tablet) }) };
}

/** As a fact of an act. */
export function nameOf(tablet: { readonly name: string } | undefined): { readonly tablet?: string } {
  return tablet === undefined ? {} : { tablet: tablet.name };
}

function shownOf({ name, idleMinutes }: TabletHere) {
  return { name, idleMinutes };
}
