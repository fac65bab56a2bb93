/**
 * What a browser may do with the pages: run and load this server's own files and nothing else. No page holds a script or a style in
 * itself, with one exception: the browser app's controls put small style elements into the page, which carry the nonce that
 * `client-files.ts` gives with each page.
 */
import type { MiddlewareHandler } from 'hono';
import type { DoorEnv } from '#api/door.ts';

/** Thirty days, of this host alone: a shop that goes back to http waits no longer than that. */
const HTTPS_ALONE = 'max-age=2592000';

export const securityHeaders: MiddlewareHandler<DoorEnv> = async (c, next) => {
  await next();
  const { headers } = c.res;
  if (c.get('services')?.isHttpsAlone === true) headers.set('Strict-Transport-Security', HTTPS_ALONE);
  headers.set('X-Content-Type-Options', 'nosniff');
  headers.set('X-Frame-Options', 'DENY');
  headers.set('Referrer-Policy', 'no-referrer');
  headers.set('Cross-Origin-Opener-Policy', 'same-origin');
  headers.set('Cross-Origin-Resource-Policy', 'same-origin');
  headers.set('Permissions-Policy', 'geolocation=(), microphone=(), payment=()');
  if (!headers.has('Content-Security-Policy')) headers.set('Content-Security-Policy', contentPolicy());
};

export function contentPolicy(styleNonce?: string): string {
  const style = styleNonce === undefined ? "'self'" : `'self' 'nonce-${styleNonce}'`;
  return [
    "default-src 'none'",
    "script-src 'self'",
    `style-src ${style}`,
    "img-src 'self' data: blob:",
    "font-src 'self'",
    "connect-src 'self'",
    "worker-src 'self'",
    "manifest-src 'self'",
    "base-uri 'none'",
    "form-action 'self'",
    "frame-ancestors 'none'",
  ].join('; ');
}
