/**
 * A small proxy before several servers, as a shop would put one there: in turn to those that say that they are ready, the next one where nobody
 * listens, and 502 where a server took a request and gave no answer.
 */
import { once } from 'node:events';
import { createServer, type IncomingMessage, request, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';

const LOOK_EVERY_MS = 100;

export type Proxy = { readonly at: string; readyCount(): number; close(): void };

export async function proxyBefore(targets: readonly string[]): Promise<Proxy> {
  let ready: readonly string[] = [];
  let turn = 0;
  const look = async () => {
    const answers = await Promise.all(
      targets.map((target) =>
        fetch(`${target}/api/ready`, { signal: AbortSignal.timeout(5_000) })
          .then(async (answer) => [target, (await answer.text()) !== '' && answer.ok] as const)
          .catch(() => [target, false] as const),
      ),
    );
    ready = answers.filter(([, isReady]) => isReady).map(([target]) => target);
  };
  let isClosed = false;
  const keepLooking = async () => {
    while (!isClosed) {
      await look();
      await new Promise((resolve) => setTimeout(resolve, LOOK_EVERY_MS));
    }
  };
  const server = createServer(async (near, answer) => {
    const body = await bytesOf(near);
    turn += 1;
    const inTurn = ready.map((_, at) => ready[(turn + at) % ready.length] ?? '');
    passOn(near, body, answer, inTurn);
  });
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  await look();
  void keepLooking();
  return {
    at: `http://127.0.0.1:${(server.address() as AddressInfo).port}`,
    readyCount: () => ready.length,
    close: () => {
      isClosed = true;
      server.close();
      server.closeAllConnections();
    },
  };
}

function passOn(
  near: IncomingMessage,
  body: Buffer,
  answer: ServerResponse,
  [target, ...others]: readonly string[],
): void {
  if (target === undefined) return void answer.writeHead(503).end();
  const { method, url, headers } = near;
  const far = request(new URL(url ?? '/', target), { method, headers: { ...headers, connection: 'close' } }, (got) => {
    const { connection: _, ...rest } = got.headers;
    answer.writeHead(got.statusCode ?? 502, rest);
    got.pipe(answer);
    got.on('error', () => answer.destroy());
  });
  far.on('error', (error: NodeJS.ErrnoException) => {
    if (answer.headersSent) answer.destroy();
    else if (error.code === 'ECONNREFUSED') passOn(near, body, answer, others);
    else answer.writeHead(502).end();
  });
  answer.on('close', () => far.destroy());
  far.end(body);
}

async function bytesOf(message: IncomingMessage): Promise<Buffer> {
  const pieces: Buffer[] = [];
  for await (const piece of message) pieces.push(piece as Buffer);
  return Buffer.concat(pieces);
}
