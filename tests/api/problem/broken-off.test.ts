/** Somebody who goes away in the middle of a request is no trouble of the database, and the log does not say so (N6). */
import { connect } from 'node:net';
import { setTimeout as sleep } from 'node:timers/promises';
import { expect, it } from 'vitest';
import { startMemoryServer } from '#tests/support/memory-server.ts';

const LENGTHS = ['Content-Length: 1000', 'Transfer-Encoding: chunked'];

it('[N6] a sender that breaks off in its body has nothing logged against the server, whichever way it said its length', async () => {
  const logged: string[] = [];
  const server = await startMemoryServer((text) => logged.push(String(text)));
  try {
    for (const length of LENGTHS) {
      const socket = connect(server.port, '127.0.0.1');
      const head = ['POST /api/session HTTP/1.1', 'Host: a', 'Content-Type: application/json', length];
      socket.write(`${head.join('\r\n')}\r\n\r\n10\r\n{"name":"`);
      await sleep(200);
      socket.destroy();
    }
    await sleep(300);
    expect(logged.join('')).not.toMatch(/database|fault|aborted/i);
  } finally {
    await server.stop();
  }
});
