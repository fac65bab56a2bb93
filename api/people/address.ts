/** The address a request comes from, as the socket has it: a header could say anything. */
import { getConnInfo } from '@hono/node-server/conninfo';
import type { DoorContext } from '#api/door.ts';

export function addressOf(c: DoorContext): string {
  try {
    return getConnInfo(c).remote.address ?? 'unknown';
  } catch {
    // Asked without a socket, as tests do.
    return 'unknown';
  }
}
