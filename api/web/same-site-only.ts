/**
 * Refuses what changes something and was sent from another site's page. The cookie's SameSite keeps such requests without a session;
 * this also stops those that need none. Programs send neither of the two headers, and no browser leaves out both.
 */
import type { MiddlewareHandler } from 'hono';
import type { DoorEnv } from '#api/door.ts';
import { Problem } from '#api/problem/problem.ts';

const SAFE = new Set(['GET', 'HEAD', 'OPTIONS']);

export const sameSiteOnly: MiddlewareHandler<DoorEnv> = async (c, next) => {
  if (!SAFE.has(c.req.method) && isForeign(c.req.raw.headers, new URL(c.req.url).host)) throw new Problem('other-site');
  await next();
};

/**
 * What changes something says that it is JSON, also where nothing needs to be said with it: a form of another page cannot say so without
 * asking first.
 */
export const saysJson: MiddlewareHandler<DoorEnv> = async (c, next) => {
  const type = c.req.header('Content-Type') ?? '';
  if (!SAFE.has(c.req.method) && !/^application\/json\s*(;|$)/i.test(type)) throw new Problem('media-type');
  await next();
};

function isForeign(headers: Headers, ownHost: string): boolean {
  const site = headers.get('sec-fetch-site');
  if (site !== null && site !== 'same-origin' && site !== 'none') return true;
  const origin = headers.get('origin');
  if (origin === null) return false;
  const host = headers.get('host') ?? ownHost;
  return !URL.canParse(origin) || new URL(origin).host !== host;
}
