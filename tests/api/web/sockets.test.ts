/** The server at its socket: requests that no browser sends, answered or dropped, and the next one is served as if nothing had been. */
import { connect } from 'node:net';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { RunningServer } from '#api/start-server.ts';
import { startMemoryServer } from '#tests/support/memory-server.ts';

const HOST = 'Host: 127.0.0.1\r\n';
const CLOSE = 'Connection: close\r\n';
const JSON_TYPE = 'Content-Type: application/json\r\n';

describe('the socket', () => {
  let server: RunningServer | undefined;
  const logged: string[] = [];
  beforeAll(async () => {
    server = await startMemoryServer((text) => logged.push(text));
  });
  afterAll(async () => {
    await server?.stop();
  });

  /** What comes back for these bytes, until the server closes or has been silent for a while. */
  function raw(text: string): Promise<string> {
    return new Promise((resolve) => {
      const socket = connect(server?.port ?? 0, '127.0.0.1', () => socket.write(text));
      let got = '';
      socket.setTimeout(1_000, () => socket.destroy());
      socket.on('data', (chunk) => {
        got += String(chunk);
      });
      socket.on('error', () => undefined);
      socket.on('close', () => resolve(got));
    });
  }
  const statusOf = (answer: string) => Number(/^HTTP\/1\.1 (\d{3})/.exec(answer)?.[1] ?? 0);
  const alive = async () =>
    expect(statusOf(await raw(`GET /api/session HTTP/1.1\r\n${HOST}${CLOSE}\r\n`)), 'served as before').toBe(200);

  it('[N8] a request whose host, form or length is doubtful is refused, and none hides in another', async () => {
    const post = `POST /api/sign-out HTTP/1.1\r\n${HOST}${JSON_TYPE}`;
    for (const request of [
      `GET /api/session HTTP/1.1\r\n${CLOSE}\r\n`,
      `GET /api/session HTTP/1.1\r\nHost: a b/..@elsewhere\r\n${CLOSE}\r\n`,
      `GET /api/session HTTP/1.1\r\nHost: elsewhere@127.0.0.1\r\n${CLOSE}\r\n`,
      `GET /session HTTP/1.1\r\nHost: 127.0.0.1/api\r\n${CLOSE}\r\n`,
      `GET /api/session HTTP/1.1\nHost: 127.0.0.1\n\n`,
      `GET /api/session HTTP/1.1\r\n${HOST}X-A: a\rSet-Cookie: x=1\r\n${CLOSE}\r\n`,
      `OPTIONS * HTTP/1.1\r\n${HOST}${CLOSE}\r\n`,
      `BREW /api HTTP/1.1\r\n${HOST}\r\n`,
      `${post}Content-Length: 4\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n`,
      `${post}Content-Length: 2\r\nContent-Length: 3\r\n\r\n{}`,
      `${post}Content-Length: -1\r\n\r\n{}`,
      `${post}Transfer-Encoding: chunked, identity\r\n\r\n0\r\n\r\n`,
    ])
      expect({ request, status: statusOf(await raw(request)) }).toEqual({ request, status: 400 });
    await alive();
  });

  it('[N7] ten megabytes are refused at the socket, with their length said and in pieces', async () => {
    const head = `POST /api/sign-in HTTP/1.1\r\n${HOST}${JSON_TYPE}${CLOSE}`;
    expect(statusOf(await raw(`${head}Content-Length: 10000000\r\n\r\n`))).toBe(413);
    const piece = `10000\r\n${' '.repeat(65_536)}\r\n`;
    expect(statusOf(await raw(`${head}Transfer-Encoding: chunked\r\n\r\n${piece.repeat(160)}0\r\n\r\n`))).toBe(413);
    expect(statusOf(await raw(`GET /api/session HTTP/1.1\r\n${HOST}X-A: ${'a'.repeat(100_000)}\r\n\r\n`))).toBe(431);
    await alive();
  });

  it('[N8] no other method comes to a door, and none ends the server', async () => {
    for (const method of ['TRACE', 'PUT', 'DELETE', 'PROPFIND', 'PATCH', 'OPTIONS']) {
      const answer = await raw(
        `${method} /api/session HTTP/1.1\r\n${HOST}${JSON_TYPE}Content-Length: 2\r\n${CLOSE}\r\n{}`,
      );
      expect({ method, is: [404, 405].includes(statusOf(answer)), answer }).toMatchObject({ method, is: true });
      expect(answer).not.toContain('first run');
    }
    expect(await raw(`CONNECT elsewhere:80 HTTP/1.1\r\n${HOST}\r\n`)).toBe('');
    const override = `X-HTTP-Method-Override: GET\r\n${JSON_TYPE}Content-Length: 2\r\n`;
    expect(statusOf(await raw(`POST /api/session HTTP/1.1\r\n${HOST}${override}${CLOSE}\r\n{}`))).toBe(404);
    const upgrade = `Upgrade: websocket\r\nConnection: Upgrade\r\n`;
    expect(statusOf(await raw(`GET /api/live HTTP/1.1\r\n${HOST}${upgrade}\r\n`))).toBe(401);
    await alive();
  });

  it('[N8] no path leads to a file beside the built app', async () => {
    for (const path of [
      '/../package.json',
      '/assets/../../../package.json',
      '/assets/..%2f..%2f..%2fpackage.json',
      '/%2e%2e/%2e%2e/package.json',
      '/%252e%252e/package.json',
      '/..%5c..%5cpackage.json',
      '//package.json',
      '/./package.json',
    ]) {
      const answer = await raw(`GET ${path} HTTP/1.1\r\n${HOST}${CLOSE}\r\n`);
      expect({ path, status: statusOf(answer) }).toEqual({ path, status: 404 });
    }
    await alive();
  });

  it('[N8] nothing that is sent comes back as a header', async () => {
    const inject = '%0d%0aSet-Cookie:%20x=1';
    for (const path of [`/api/aircraft/${inject}`, `/api/session?x=${inject}`, `/${inject}`, `/assets/${inject}.js`]) {
      const [head = ''] = (
        await raw(`GET ${path} HTTP/1.1\r\n${HOST}Cookie: tarebook=${inject}\r\n${CLOSE}\r\n`)
      ).split('\r\n\r\n');
      expect({ path, status: statusOf(head) > 0, head }).toMatchObject({ path, status: true });
      expect(head.toLowerCase()).not.toContain('set-cookie');
      expect(head.toLowerCase()).not.toContain('\nlocation');
    }
    await alive();
    expect(logged).toEqual([]);
  });
});
