/**
 * The address a request comes from, as the socket has it: a header could say anything. Only where the server was told that it stands behind a
 * proxy is it the last one in `X-Forwarded-For`, which that proxy has put there itself; what stands before it is what its sender says.
 */
import { isIP } from 'node:net';
import { getConnInfo } from '@hono/node-server/conninfo';
import type { DoorContext } from '#api/door.ts';

export function addressOf(c: DoorContext): string {
  return (c.get('services').isBehindProxy ? forwardedFor(c) : undefined) ?? socketAddress(c);
}

function forwardedFor(c: DoorContext): string | undefined {
  const last = c.req.header('X-Forwarded-For')?.split(',').at(-1)?.trim() ?? '';
  return isIP(last) === 0 ? undefined : last;
}

function socketAddress(c: DoorContext): string {
  try {
    return getConnInfo(c).remote.address ?? 'unknown';
  } catch {
    // Asked without a socket, as tests do.
    return 'unknown';
  }
}
