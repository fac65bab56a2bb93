/**
 * The local authority before a real browser and its own judge of certificates. The browser keeps the authorities that its user trusts in its
 * profile; this writes the shop's among them, as the settings page does, and looks at the same server before and after.
 */
import { createPrivateKey, createPublicKey, X509Certificate } from 'node:crypto';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { createServer } from 'node:https';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type BrowserContext, chromium } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type RunningServer, startServer } from '#api/start-server.ts';
import { forServer, makeCertificate, makeKeys } from '#api/tls/certificate.ts';
import type { Pair } from '#api/tls/local-authority.ts';
import { CHROMIUM_ARGS, findChromium } from '#tests/support/chromium.ts';
import { trustIn } from '#tests/support/trust.ts';

const DAY_MS = 24 * 60 * 60 * 1000;
const ACCOUNT = { name: 'Ann', initials: 'AN', password: 'a long enough password' };

describe('a browser before the local authority', () => {
  let folder = '';
  let said = '';
  let server: RunningServer | undefined;
  const address = (host: string, port = server?.port) => `https://${host}:${port}/api`;

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'tarebook-trust-'));
    server = await startServer(
      {
        place: { kind: 'memory' },
        backups: { folder: 'tarebook-backups', everyHours: undefined, keep: 1 },
        host: '127.0.0.1',
        port: 0,
        tls: { kind: 'local', folder: join(folder, 'tls'), httpPort: undefined },
      },
      {
        out: {
          write: (text) => {
            said += text;
          },
        },
        err: process.stderr,
      },
    );
  }, 500_000);
  afterAll(async () => {
    await server?.stop();
    await rm(folder, { recursive: true, force: true });
  });

  /** The browser with the profile of this test; its user's folder is the test's as well, so that no trust of the machine is seen. */
  async function browse<T>(work: (context: BrowserContext) => Promise<T>): Promise<T> {
    const context = await chromium.launchPersistentContext(join(folder, 'profile'), {
      executablePath: findChromium(),
      args: [...CHROMIUM_ARGS, '--host-resolver-rules=MAP bank.example 127.0.0.1, MAP other-pc.local 127.0.0.1'],
      env: { ...definedEnv(), HOME: folder },
    });
    try {
      return await work(context);
    } finally {
      await context.close();
    }
  }

  /** 'open', or the browser's word for why it does not show the page. */
  async function opens(context: BrowserContext, url: string): Promise<string> {
    const page = await context.newPage();
    try {
      const answer = await page.goto(url);
      return answer?.ok() === true ? 'open' : `answered ${answer?.status()}`;
    } catch (error) {
      return /net::(\w+)/.exec(String(error))?.[1] ?? String(error);
    } finally {
      await page.close();
    }
  }

  /** A server whose certificate the authority's own key has signed for these names, as a thief of that key would. */
  async function forged(names: { dns: string[]; ip: string[] }): Promise<{ port: number; close(): void }> {
    const authority = await readFile(join(folder, 'tls', 'authority.crt'), 'utf8');
    const key = createPrivateKey(await readFile(join(folder, 'tls', 'authority.key'), 'utf8'));
    const keys = makeKeys();
    const pair: Pair = {
      key: keys.privateKey.export({ type: 'pkcs8', format: 'pem' }).toString(),
      cert: makeCertificate({
        subject: 'forged',
        issuer: new X509Certificate(authority).subject.replace('CN=', ''),
        from: new Date(Date.now() - DAY_MS),
        until: new Date(Date.now() + DAY_MS),
        publicKey: keys.publicKey,
        signedBy: { privateKey: key, publicKey: createPublicKey(key) },
        extensions: forServer(names),
      }),
    };
    const listening = createServer(pair, (_, answer) => answer.end('here'));
    await new Promise<void>((resolve) => listening.listen(0, '127.0.0.1', resolve));
    return {
      port: (listening.address() as AddressInfo).port,
      close: () => {
        listening.closeAllConnections();
        listening.close();
      },
    };
  }

  it('[N11] it refuses the server until the authority is trusted; then it is a secure context with a secure cookie', {
    timeout: 600_000,
  }, async () => {
    const hosts = ['localhost', '127.0.0.1'];
    const before = await browse(async (context) => {
      const told = [];
      for (const host of hosts) told.push(await opens(context, address(host)));
      return told;
    });
    expect(before).toEqual(hosts.map(() => 'ERR_CERT_AUTHORITY_INVALID'));

    const authority = await readFile(join(folder, 'tls', 'authority.crt'), 'utf8');
    trustIn(join(folder, 'profile'), authority);
    const [publicSite, local] = [
      await forged({ dns: ['bank.example'], ip: [] }),
      await forged({ dns: ['other-pc.local'], ip: [] }),
    ];
    await browse(async (context) => {
      for (const host of hosts) expect({ host, is: await opens(context, address(host)) }).toEqual({ host, is: 'open' });
      // A name that is not in the certificate, and a public one that the authority may not vouch for though its key has signed it.
      expect(await opens(context, address('app.localhost'))).toBe('ERR_CERT_COMMON_NAME_INVALID');
      expect(await opens(context, address('bank.example', publicSite.port))).toBe('ERR_CERT_INVALID');
      expect(await opens(context, address('other-pc.local', local.port))).toBe('open');

      const page = await context.newPage();
      const answer = await page.goto(address('localhost'));
      expect(await answer?.securityDetails()).toMatchObject({
        issuer: new X509Certificate(authority).subject.replace('CN=', ''),
        protocol: 'TLS 1.3',
      });
      expect(await page.evaluate('[isSecureContext, location.protocol]')).toEqual([true, 'https:']);
      const code = /first one: (\S+)/.exec(said)?.[1];
      const made = await page.evaluate(
        async (sent) => {
          const headers = { 'Content-Type': 'application/json' };
          return (await fetch('/api/first-run', { method: 'POST', headers, body: JSON.stringify(sent) })).status;
        },
        { ...ACCOUNT, code },
      );
      expect(made).toBe(201);
      expect(await context.cookies()).toMatchObject([
        { name: '__Host-tarebook', domain: 'localhost', path: '/', secure: true, httpOnly: true, sameSite: 'Strict' },
      ]);
      // The page's own scripts cannot read it, and it goes back to the server.
      expect(await page.evaluate('document.cookie')).toBe('');
      expect(await page.evaluate(`fetch('/api/session').then((answer) => answer.json())`)).toMatchObject({
        state: 'signed in',
      });
    });
    publicSite.close();
    local.close();
  });
});

function definedEnv(): Record<string, string> {
  return Object.fromEntries(
    Object.entries(process.env).flatMap(([name, value]) => (value === undefined ? [] : [[name, value]])),
  );
}
