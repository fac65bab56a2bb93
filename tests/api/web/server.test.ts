/** The server as a process: started with a word, spoken to over sockets, stopped with a signal. */
import { execFile } from 'node:child_process';
import { X509Certificate } from 'node:crypto';
import { mkdtemp, rm } from 'node:fs/promises';
import { get as httpGet } from 'node:http';
import { get as httpsGet } from 'node:https';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { makeDatabase, removePlace } from '#tests/support/engines.ts';
import { startServerProcess as start } from '#tests/support/server-process.ts';

const SERVER = join(import.meta.dirname, '../../../api/server.ts');

type Answer = { status: number | undefined; headers: Record<string, unknown>; text: string };

function fetched(url: string, ca?: string): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const options = ca === undefined ? { agent: false as const } : { agent: false as const, ca };
    (url.startsWith('https') ? httpsGet : httpGet)(url, options, (answer) => {
      let text = '';
      answer.on('data', (chunk) => {
        text += String(chunk);
      });
      answer.on('end', () => resolve({ status: answer.statusCode, headers: answer.headers, text }));
    }).on('error', reject);
  });
}

describe('the server', () => {
  let folder = '';
  let data = '';
  beforeEach(async () => {
    folder = await mkdtemp(join(tmpdir(), 'tarebook-server-'));
    data = join(folder, 'data');
  });
  afterEach(() => rm(folder, { recursive: true, force: true }));

  it('[N14] it prepares a new folder, says where it is and the code, and stops cleanly with a line open', async () => {
    const server = start(['--data', data, '--port', '0']);
    const [, address = ''] = await server.until(/Tarebook is at (http:\/\/127\.0\.0\.1:\d+)\//);
    await server.until(/Code for the first one: [A-Z0-9]{4}-[A-Z0-9]{4}\n/);
    expect(server.said()).toContain('Preparing a new data folder');
    expect(await fetched(`${address}/api/session`)).toMatchObject({ status: 200, text: '{"state":"first run"}' });
    const [, code = ''] = await server.until(/first one: (\S+)/);
    const made = await fetch(`${address}/api/first-run`, {
      method: 'POST',
      headers: { 'Content-Type': 'application/json' },
      body: JSON.stringify({ code, name: 'Ann', initials: 'AN', password: 'a long enough password' }),
    });
    expect(made.status).toBe(201);
    const cookie = made.headers.get('set-cookie')?.split(';')[0] ?? '';
    const line = await fetch(`${address}/api/live`, { headers: { Cookie: cookie } });
    expect(line.status).toBe(200);
    const ended = line.text();
    expect(await server.stop()).toBe(0);
    expect(await ended).toContain('retry:');

    const again = start(['--port', '0'], { TAREBOOK_DATA: data });
    const [, second = ''] = await again.until(/Tarebook is at (\S+)\//);
    expect(await fetched(`${second}/api/session`)).toMatchObject({ text: '{"state":"signed out"}' });
    expect(again.said()).not.toMatch(/Preparing|Code/);
    expect(await again.stop()).toBe(0);
  });

  it('[N11] with a local authority it serves https, and over plain http the way to trust it alone', async () => {
    const server = start(['--data', data, '--port', '0', '--tls', 'local', '--http-port', '0']);
    const [, address = '', port = ''] = await server.until(/Tarebook is at (https:\/\/127\.0\.0\.1:(\d+))\//);
    const [, plain = ''] = await server.until(/learns to trust this server at (http:\/\/\S+)\/trust/);
    const [, fingerprint = ''] = await server.until(/SHA-256\): (\S+)/);
    const authority = await fetched(`${plain}/trust/authority.crt`);
    expect(authority).toMatchObject({ status: 200, headers: { 'content-type': 'application/x-x509-ca-cert' } });
    const page = await fetched(`${plain}/trust`);
    expect(page.text).toContain(fingerprint);
    // The name under which a tablet lists it.
    expect(page.text).toContain(new X509Certificate(authority.text).subject.replace('CN=', ''));
    expect(page.headers).toMatchObject({ 'x-frame-options': 'DENY', 'x-content-type-options': 'nosniff' });
    expect(page.headers['set-cookie']).toBeUndefined();
    expect((await fetched(`${plain}/`)).status).toBe(404);
    expect((await fetched(`${plain}/api/session`)).status).toBe(404);
    expect(await fetched(`https://localhost:${port}/api/session`, authority.text)).toMatchObject({ status: 200 });
    expect((await fetched(`${address}/trust`, authority.text)).status).toBe(200);
    await expect(fetched(`https://localhost:${port}/api/session`)).rejects.toThrow(/certificate/);
    expect(await server.stop()).toBe(0);
  });

  it('[N14] on PostgreSQL it needs no folder, and two of them show the same', async () => {
    const url = await makeDatabase();
    const servers = [start(['--port', '0'], { DATABASE_URL: url }), start(['--port', '0'], { DATABASE_URL: url })];
    for (const server of servers) {
      const [, address = ''] = await server.until(/Tarebook is at (\S+)\//);
      expect(await fetched(`${address}/api/health`)).toMatchObject({ status: 200 });
      expect(server.said()).not.toContain('Preparing');
    }
    for (const server of servers) expect(await server.stop()).toBe(0);
    await removePlace({ kind: 'postgres', url });
  });

  it('[N14] what it cannot do is said in words, with an exit status of 2', async () => {
    const tries: readonly (readonly [string[], RegExp])[] = [
      [['--port', 'many'], /--port takes a number/],
      [['--colour', 'red'], /See --help/],
      [['--tls', 'global'], /the word "local" only/],
      [['--tls-cert', 'a.pem'], /give both/],
      [['--tls', 'local', '--tls-cert', 'a.pem', '--tls-key', 'b.pem'], /not both/],
      [['--data', data, '--tls-cert', SERVER, '--tls-key', SERVER], /certificate and its key cannot be used/],
      [['--data', data, '--tls-cert', join(folder, 'none'), '--tls-key', SERVER], /cannot be read/],
      [['--http-port', '80'], /goes with --tls local/],
      [['--data', '/dev/null'], /./],
    ];
    for (const [args, words] of tries) {
      const said = await new Promise<{ code: unknown; stderr: string }>((resolve) => {
        execFile(
          process.execPath,
          [SERVER, ...args],
          { env: { ...process.env, DATABASE_URL: '' } },
          (error, _, stderr) => resolve({ code: error === null ? 0 : (error as { code?: unknown }).code, stderr }),
        );
      });
      expect({ args, ...said }).toMatchObject({ args, code: 2, stderr: expect.stringMatching(words) });
      expect(said.stderr).not.toContain('    at ');
    }
  });

  it('[N14] a port that is taken is said, and the folder is free again', async () => {
    const first = start(['--data', data, '--port', '0']);
    const [, port = ''] = await first.until(/127\.0\.0\.1:(\d+)/);
    const second = start(['--data', join(folder, 'other'), '--port', port]);
    expect(await second.ended).toBe(2);
    expect(second.said()).toContain('Cannot listen at 127.0.0.1');
    const plain = start(['--data', join(folder, 'other'), '--port', '0', '--tls', 'local', '--http-port', port]);
    expect(await plain.ended).toBe(2);
    expect(plain.said()).toContain('Cannot listen');
    const third = start(['--data', join(folder, 'other'), '--port', '0']);
    await third.until(/Tarebook is at/);
    expect(await third.stop()).toBe(0);
    expect(await first.stop()).toBe(0);
  });
});
