/** Requests that drip in at a real socket are given up, and the server serves others meanwhile (rule N20). */
import { connect } from 'node:net';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { RunningServer } from '#api/start-server.ts';
import { startMemoryServer } from '#tests/support/memory-server.ts';

const DRIP_EVERY_MS = 50;

describe('slow requests', () => {
  let server: RunningServer;
  beforeAll(async () => {
    server = await startMemoryServer(undefined, { patience: { headersMs: 3_000, requestMs: 5_000 } });
  });
  afterAll(() => server.stop());

  /** Sends the beginning and then a letter at a time; what came back by the time the server had enough. */
  function dripping(beginning: string): Promise<string> {
    return new Promise((resolve) => {
      const socket = connect(server.port, '127.0.0.1', () => socket.write(beginning));
      const drip = setInterval(() => socket.write('x'), DRIP_EVERY_MS);
      let got = '';
      socket.on('data', (chunk) => {
        got += String(chunk);
      });
      socket.on('error', () => undefined);
      socket.on('close', () => {
        clearInterval(drip);
        resolve(got);
      });
    });
  }

  it.each([
    ['headers', 'GET /api/session HTTP/1.1\r\nHost: 127.0.0.1\r\nX-Slow: '],
    [
      'a body',
      'POST /api/sign-in HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: application/json\r\nContent-Length: 100000\r\n\r\n{',
    ],
  ])('[N20] %s without an end are given up, forty at once, and others are served', async (_, beginning) => {
    const slow = Promise.all(Array.from({ length: 40 }, () => dripping(beginning)));
    const served = await fetch(`http://127.0.0.1:${server.port}/api/session`);
    expect(served.status).toBe(200);
    for (const answer of await slow) expect(answer).toMatch(/^$|^HTTP\/1\.1 408 /);
    expect((await fetch(`http://127.0.0.1:${server.port}/api/session`)).status).toBe(200);
  });
});
