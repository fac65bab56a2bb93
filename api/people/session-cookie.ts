/**
 * The cookies that carry a session's token and that of a shared tablet. Under TLS it has the prefix `__Host-`, which a browser takes only from this very host, with
 * Secure and for the whole path; over plain http (this machine, or the shop's own network) it cannot.
 */
import { getCookie, setCookie } from 'hono/cookie';
import type { DoorContext } from '#api/door.ts';
import { LONGEST_MS, tokenHash } from '#db/people/session.ts';

const SESSION = 'tarebook';
const TABLET = 'tarebook-tablet';
/** The longest that browsers keep one (RFC 6265bis, 5.5). */
const TABLET_S = 400 * 24 * 60 * 60;

export function sessionHashOf(c: DoorContext): string | undefined {
  return hashIn(c, SESSION);
}

export function tabletHashOf(c: DoorContext): string | undefined {
  return hashIn(c, TABLET);
}

export function giveSession(c: DoorContext, token: string): void {
  write(c, SESSION, token, LONGEST_MS / 1000);
}

export function takeSession(c: DoorContext): void {
  write(c, SESSION, '', 0);
}

export function giveTablet(c: DoorContext, token: string): void {
  write(c, TABLET, token, TABLET_S);
}

function hashIn(c: DoorContext, name: string): string | undefined {
  const token = c.get('services').isSecure ? getCookie(c, name, 'host') : getCookie(c, name);
  return token === undefined || token === '' ? undefined : tokenHash(token);
}

function write(c: DoorContext, name: string, token: string, maxAge: number): void {
  const { isSecure } = c.get('services');
  const common = { path: '/', httpOnly: true, sameSite: 'Strict', maxAge } as const;
  if (isSecure) setCookie(c, name, token, { ...common, secure: true, prefix: 'host' });
  else setCookie(c, name, token, common);
}
