/** A way to a database that can be shut, as if its machine had gone, and opened again: sockets carried on to the real server. */
import { once } from 'node:events';
import { type AddressInfo, connect, createServer, type Socket } from 'node:net';

export async function wayTo(url: string): Promise<{ url: string; shut(): void; open(): Promise<void> }> {
  const { hostname, port } = new URL(url);
  const sockets = new Set<Socket>();
  const server = createServer((near) => {
    const far = connect(Number(port), hostname);
    for (const [one, other] of [
      [near, far],
      [far, near],
    ] as const) {
      sockets.add(one);
      one.on('error', () => other.destroy());
      one.on('close', () => {
        sockets.delete(one);
        other.destroy();
      });
      one.pipe(other);
    }
  });
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  const at = (server.address() as AddressInfo).port;
  const way = new URL(url);
  way.hostname = '127.0.0.1';
  way.port = `${at}`;
  return {
    url: way.href,
    shut: () => {
      server.close();
      for (const socket of sockets) socket.destroy();
    },
    open: async () => {
      server.listen(at, '127.0.0.1');
      await once(server, 'listening');
    },
  };
}
