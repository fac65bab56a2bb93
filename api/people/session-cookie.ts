/**
 * The cookie that carries a session's token. Under TLS it has the prefix `__Host-`, which a browser takes only from this very host, with
 * Secure and for the whole path; over plain http (this machine, or the shop's own network) it cannot.
 */
import { getCookie, setCookie } from 'hono/cookie';
import type { DoorContext } from '#api/door.ts';
import { LONGEST_MS, tokenHash } from '#db/people/session.ts';

const NAME = 'tarebook';

export function sessionHashOf(c: DoorContext): string | undefined {
  const { isSecure } = c.get('services');
  const token = isSecure ? getCookie(c, NAME, 'host') : getCookie(c, NAME);
  return token === undefined || token === '' ? undefined : tokenHash(token);
}

export function giveSession(c: DoorContext, token: string): void {
  write(c, token, LONGEST_MS / 1000);
}

export function takeSession(c: DoorContext): void {
  write(c, '', 0);
}

function write(c: DoorContext, token: string, maxAge: number): void {
  const { isSecure } = c.get('services');
  const common = { path: '/', httpOnly: true, sameSite: 'Strict', maxAge } as const;
  if (isSecure) setCookie(c, NAME, token, { ...common, secure: true, prefix: 'host' });
  else setCookie(c, NAME, token, common);
}
