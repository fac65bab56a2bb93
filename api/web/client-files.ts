/**
 * The built browser app. Files under `assets/` carry a hash in their names and never change; the page itself is asked for anew each time,
 * and answers every address that is not the API's, since the app finds its own way from there.
 */
import { randomBytes } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { extname, join, normalize } from 'node:path';
import { accepts } from 'hono/accepts';
import { html } from 'hono/html';
import type { DoorApp, DoorContext } from '#api/door.ts';
import { Problem } from '#api/problem/problem.ts';
import { page } from './page.ts';
import { contentPolicy } from './security-headers.ts';

const TYPES: Readonly<Record<string, string>> = {
  '.css': 'text/css; charset=utf-8',
  '.html': 'text/html; charset=utf-8',
  '.ico': 'image/x-icon',
  '.js': 'text/javascript; charset=utf-8',
  '.json': 'application/json',
  '.map': 'application/json',
  '.png': 'image/png',
  '.svg': 'image/svg+xml',
  '.txt': 'text/plain; charset=utf-8',
  '.wasm': 'application/wasm',
  '.webmanifest': 'application/manifest+json',
  '.woff2': 'font/woff2',
};

export function clientFiles(app: DoorApp, folder: string): void {
  app.get('*', async (c) => {
    const { path } = c.req;
    if (path === '/api' || path.startsWith('/api/')) throw new Problem('not-found');
    const type = TYPES[extname(path)];
    if (type === undefined || path === '/index.html') return appPage(c, folder);
    const isHashed = path.startsWith('/assets/');
    const headers = {
      'Content-Type': type,
      'Cache-Control': isHashed ? 'public, max-age=31536000, immutable' : 'no-cache',
      ...(isHashed ? { Vary: 'Accept-Encoding' } : {}),
    };
    // What the build has packed goes as it is; anything else is packed on its way, or not at all.
    if (isHashed && takesBrotli(c)) {
      const packed = await contentOf(folder, `${path}.br`);
      if (packed !== undefined) return c.body(packed, 200, { ...headers, 'Content-Encoding': 'br' });
    }
    const bytes = await contentOf(folder, path);
    if (bytes === undefined) throw new Problem('not-found');
    return c.body(bytes, 200, headers);
  });
}

function takesBrotli(c: DoorContext): boolean {
  return accepts(c, { header: 'Accept-Encoding', supports: ['br', 'identity'], default: 'identity' }) === 'br';
}

async function appPage(c: DoorContext, folder: string): Promise<Response> {
  const bytes = await contentOf(folder, '/index.html');
  c.header('Cache-Control', 'no-cache');
  if (bytes === undefined)
    return c.html(
      page(
        'The browser app has not been built',
        html`<p>The server runs, but there is no built app beside it. Stop it and start it with <code>npm start</code>, which builds the app
first. The doors of the server are <a href="/api">listed here</a>.</p>`,
      ),
      503,
    );
  const nonce = randomBytes(16).toString('base64');
  c.header('Content-Security-Policy', contentPolicy(nonce));
  // The app's controls look for a nonce in this very element.
  const text = new TextDecoder().decode(bytes);
  return c.html(text.replace('</head>', `<meta property="csp-nonce" nonce="${nonce}"></head>`));
}

/** The content of a file of the folder, or undefined; never of one outside of it. */
async function contentOf(folder: string, path: string): Promise<Uint8Array<ArrayBuffer> | undefined> {
  const inside = normalize(decoded(path));
  if (inside.includes('\0') || inside.split(/[\\/]/).includes('..')) return undefined;
  try {
    return new Uint8Array(await readFile(join(folder, inside)));
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? error.code : undefined;
    if (code === 'ENOENT' || code === 'EISDIR' || code === 'ENOTDIR' || code === 'ENAMETOOLONG') return undefined;
    throw error;
  }
}

function decoded(path: string): string {
  try {
    return decodeURIComponent(path);
  } catch {
    return path;
  }
}
