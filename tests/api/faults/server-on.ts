/** The server as a process on a store, which does not outlive its test. */
import { onTestFinished } from 'vitest';
import type { StorePlace } from '#db/engine/open-store.ts';
import { type ServerProcess, startServerProcess } from '#tests/support/server-process.ts';

export function startServerOn(place: StorePlace): ServerProcess {
  const data = place.kind === 'folder' ? ['--data', place.path] : [];
  const server = startServerProcess([...data, '--port', '0'], {
    DATABASE_URL: place.kind === 'postgres' ? place.url : '',
  });
  onTestFinished(() => {
    server.child.kill('SIGKILL');
  });
  return server;
}

/** Starts it and waits until it listens. */
export async function serverOn(place: StorePlace): Promise<ServerProcess> {
  const server = startServerOn(place);
  await server.address();
  return server;
}
