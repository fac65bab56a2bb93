/**
 * Refuses what changes something and was sent from another site's page. The cookie's SameSite keeps such requests without a session;
 * this also stops those that need none. Programs send neither of the two headers, and no browser leaves out both.
 */
import { isUtf8 } from 'node:buffer';
import type { MiddlewareHandler } from 'hono';
import type { DoorEnv } from '#api/door.ts';
import { Problem } from '#api/problem/problem.ts';

const SAFE = new Set(['GET', 'HEAD', 'OPTIONS']);

export const sameSiteOnly: MiddlewareHandler<DoorEnv> = async (c, next) => {
  if (!SAFE.has(c.req.method) && isForeign(c.req.raw.headers, new URL(c.req.url).host, c.get('services').isSecure))
    throw new Problem('other-site');
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

/**
 * JSON is UTF-8 (RFC 8259, 8.1). Other bytes would be recorded with marks in place of letters, and what was typed would be lost.
 * Stands behind the limit of a body's size: it reads the body.
 */
export const utf8Only: MiddlewareHandler<DoorEnv> = async (c, next) => {
  if (!SAFE.has(c.req.method) && !isUtf8(await c.req.arrayBuffer())) throw new Problem('not-json');
  await next();
};

/** `isSecure`: a page that came over plain http may be anybody's, also where it bears this host's name. */
function isForeign(headers: Headers, ownHost: string, isSecure: boolean): boolean {
  const site = headers.get('sec-fetch-site');
  if (site !== null && site !== 'same-origin' && site !== 'none') return true;
  const origin = headers.get('origin');
  if (origin === null) return false;
  const host = headers.get('host') ?? ownHost;
  if (!URL.canParse(origin)) return true;
  const from = new URL(origin);
  return from.host !== host || (isSecure && from.protocol !== 'https:');
}
