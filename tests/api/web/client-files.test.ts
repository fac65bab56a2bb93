/** The built browser app as the server gives it out. */
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { brotliCompressSync, brotliDecompressSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openStore, type Store } from '#db/engine/open-store.ts';
import { openShop, problemOf, type Shop } from '#tests/api/door-shop.ts';

describe('the browser app', () => {
  let folder = '';
  let store: Store | undefined;
  let opened: Shop | undefined;
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'tarebook-client-'));
    await mkdir(join(folder, 'dist/assets'), { recursive: true });
    await writeFile(join(folder, 'dist/index.html'), '<html><head><title>App</title></head><body></body></html>');
    await writeFile(join(folder, 'dist/assets/main-a1b2.js'), 'export const a = 1;');
    await writeFile(join(folder, 'dist/assets/main-a1b2.js.br'), brotliCompressSync('export const a = 1;'));
    await writeFile(join(folder, 'dist/mark.svg'), '<svg xmlns="http://www.w3.org/2000/svg"/>');
    await writeFile(join(folder, 'dist/service-worker.js'), 'addEventListener("fetch", () => {});');
    await writeFile(join(folder, 'dist/tarebook.webmanifest'), '{"name":"Tarebook"}');
    await writeFile(join(folder, 'secret.json'), '{"secret":true}');
    store = await openStore({ kind: 'memory' });
    opened = openShop(store, { clientFolder: join(folder, 'dist') });
  });
  afterAll(async () => {
    opened?.close();
    await store?.close();
    await rm(folder, { recursive: true, force: true });
  });
  const get = (path: string) => {
    if (opened === undefined) throw new Error('the shop opens in beforeAll');
    return opened.call('GET', path);
  };

  it('[N14] every address of the app is answered with its page, which is asked for anew each time', async () => {
    for (const path of ['/', '/index.html', '/weigh', '/aircraft/7/ledger?x=1']) {
      const answer = await get(path);
      expect(answer.status).toBe(200);
      expect(answer.headers.get('cache-control')).toBe('no-cache');
      expect(await answer.text()).toContain('<title>App</title>');
    }
  });

  it('[N8] a page carries a nonce of its own for the styles its controls add', async () => {
    const nonces = new Set<string>();
    for (let count = 0; count < 3; count += 1) {
      const answer = await get('/');
      const nonce = /<meta property="csp-nonce" nonce="([^"]+)">/.exec(await answer.text())?.[1] ?? '';
      expect(answer.headers.get('content-security-policy')).toContain(`style-src 'self' 'nonce-${nonce}'`);
      expect(answer.headers.get('content-security-policy')).toContain("script-src 'self';");
      nonces.add(nonce);
    }
    expect(nonces.size).toBe(3);
  });

  it('[N14] a file with a hash in its name is kept by the browser, another one is asked for again', async () => {
    const hashed = await get('/assets/main-a1b2.js');
    expect(hashed.headers.get('content-type')).toBe('text/javascript; charset=utf-8');
    expect(hashed.headers.get('cache-control')).toBe('public, max-age=31536000, immutable');
    const mark = await get('/mark.svg');
    expect(mark.headers.get('content-type')).toBe('image/svg+xml');
    expect(mark.headers.get('cache-control')).toBe('no-cache');
    await problemOf(await get('/assets/gone-c3d4.js'), 404, 'not-found');
  });

  it('[N14] who takes it gets a file as the build has packed it, and anybody else the file itself', async () => {
    const of = (encodings?: string) =>
      opened?.call(
        'GET',
        '/assets/main-a1b2.js',
        encodings === undefined ? {} : { headers: { 'accept-encoding': encodings } },
      );
    const packed = await of('gzip, deflate, br');
    expect(packed?.headers.get('content-encoding')).toBe('br');
    expect(packed?.headers.get('vary')).toContain('Accept-Encoding');
    expect(packed?.headers.get('content-type')).toBe('text/javascript; charset=utf-8');
    const bytes = Buffer.from((await packed?.arrayBuffer()) ?? new ArrayBuffer());
    expect(brotliDecompressSync(bytes).toString('utf8')).toBe('export const a = 1;');
    for (const encodings of [undefined, 'br;q=0', 'identity']) {
      const plain = await of(encodings);
      expect(plain?.headers.get('content-encoding')).toBeNull();
      expect(plain?.headers.get('vary')).toContain('Accept-Encoding');
      expect(await plain?.text()).toBe('export const a = 1;');
    }
    expect((await of('br;q=0, gzip'))?.headers.get('content-encoding')).toBe('gzip');
  });

  it('[O1] the worker that keeps the app on a device is asked for anew each time, and may fetch from this server alone', async () => {
    const worker = await get('/service-worker.js');
    expect(worker.headers.get('content-type')).toBe('text/javascript; charset=utf-8');
    expect(worker.headers.get('cache-control')).toBe('no-cache');
    expect(worker.headers.get('content-security-policy')).toContain("connect-src 'self';");
    const page = (await get('/')).headers.get('content-security-policy');
    expect(page).toContain("worker-src 'self';");
    expect(page).toContain("manifest-src 'self';");
    const manifest = await get('/tarebook.webmanifest');
    expect(manifest.headers.get('content-type')).toBe('application/manifest+json');
    expect(manifest.headers.get('cache-control')).toBe('no-cache');
  });

  it('[N8] no address leads out of the folder', async () => {
    for (const path of [
      '/../secret.json',
      '/%2e%2e/secret.json',
      '/..%2fsecret.json',
      '/assets/..%2f..%2fsecret.json',
      '/%2e%2e%5csecret.json',
      '/assets/%00secret.json',
      '/%E0%A4%A.json',
    ]) {
      const answer = await get(path);
      expect({ path, text: await answer.text() }).not.toMatchObject({ text: expect.stringContaining('secret"') });
      expect(answer.status).toBe(404);
    }
  });

  it('[N14] without a build a plain page says what to do', async () => {
    const bare = openShop(store as Store);
    const answer = await bare.call('GET', '/');
    expect(answer.status).toBe(503);
    expect(await answer.text()).toContain('npm start');
    bare.close();
  });
});
