/** Numbers every request, and tells whoever watches what became of it. */
import { randomBytes } from 'node:crypto';
import type { MiddlewareHandler } from 'hono';
import { requestId } from 'hono/request-id';
import { matchedRoutes } from 'hono/route';
import type { DoorContext, DoorEnv } from '#api/door.ts';

/** A number that a proxy has given is kept, if it is one; else it gets one that can be read out over a telephone. */
export function numberRequests(): MiddlewareHandler<DoorEnv> {
  return requestId({ limitLength: 64, generator: () => randomBytes(6).toString('hex') });
}

export const tellRequests: MiddlewareHandler<DoorEnv> = async (c, next) => {
  const beganAtMs = performance.now();
  await next();
  const { watch, standing } = c.get('services');
  // Who comes back on the same connection would find nobody there.
  if (standing.isStopping) c.header('Connection', 'close');
  watch.request({
    requestId: c.get('requestId'),
    method: c.req.method,
    route: routeOf(c),
    status: c.res.status,
    durationMs: performance.now() - beganAtMs,
    personId: c.get('person')?.id,
  });
};

/** The pattern of the door that was meant, also where something before it has refused. What has no door is `*`, with whatever address. */
function routeOf(c: DoorContext): string {
  return matchedRoutes(c).find(({ method }) => method !== 'ALL')?.path ?? '*';
}
