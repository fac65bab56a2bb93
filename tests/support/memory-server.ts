/** A server at a real socket, on a store in memory. */
import type { ServerOptions } from '#api/server-options.ts';
import { type RunningServer, startServer } from '#api/start-server.ts';

export function startMemoryServer(
  log: (text: string) => unknown = () => undefined,
  others: Partial<ServerOptions> = {},
): Promise<RunningServer> {
  return startServer(
    {
      place: { kind: 'memory' },
      backups: { folder: 'tarebook-backups', everyHours: undefined, keep: 1 },
      host: '127.0.0.1',
      port: 0,
      tls: { kind: 'none' },
      ...others,
    },
    { out: { write: () => undefined }, err: { write: log } },
  );
}
