/** A server and a browser that are killed and started again on the same folder, as a power cut and a dead battery do it. */
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Browser, chromium, type Page } from 'playwright-core';
import { inject } from 'vitest';
import { CHROMIUM_ARGS } from '#tests/support/chromium.ts';
import { hasSaid } from './shop-floor.ts';

export class MortalServer {
  readonly port: number;
  readonly folder: string;
  readonly #more: readonly string[];
  #child: ChildProcess | undefined;
  address = '';
  code: string | undefined;

  private constructor(port: number, folder: string, more: readonly string[]) {
    this.port = port;
    this.folder = folder;
    this.#more = more;
  }

  /** `more`: further words of the server's command. */
  static async start(...more: readonly string[]): Promise<MortalServer> {
    const folder = await mkdtemp(join(tmpdir(), 'tarebook-cut-off-'));
    const server = new MortalServer(await freePort(), folder, more);
    await server.revive(true);
    return server;
  }

  async revive(wantsCode = false): Promise<void> {
    const where = ['--port', String(this.port), '--data', join(this.folder, 'data')];
    const child = spawn(process.execPath, ['api/server.ts', ...where, ...this.#more], {
      env: { ...process.env, DATABASE_URL: '' },
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    this.#child = child;
    const said = await hasSaid(child, wantsCode);
    this.address = said.address;
    this.code ??= said.code;
  }

  /** No time to say goodbye. */
  async kill(): Promise<void> {
    const child = this.#child;
    if (child === undefined || child.exitCode !== null || child.signalCode !== null) return;
    const ended = new Promise((resolve) => child.once('exit', resolve));
    child.kill('SIGKILL');
    await ended;
  }

  async end(): Promise<void> {
    await this.kill();
    await rm(this.folder, { recursive: true, force: true });
  }
}

async function freePort(): Promise<number> {
  const probe = createServer();
  await new Promise<void>((resolve) => probe.listen(0, '127.0.0.1', resolve));
  const address = probe.address();
  await new Promise((resolve) => probe.close(resolve));
  if (address === null || typeof address === 'string') throw new Error('no free port');
  return address.port;
}

/** A browser with its profile on the disk. */
export class MortalTablet {
  readonly folder: string;
  #child: ChildProcess | undefined;
  #browser: Browser | undefined;

  private constructor(folder: string) {
    this.folder = folder;
  }

  static async make(): Promise<MortalTablet> {
    return new MortalTablet(await mkdtemp(join(tmpdir(), 'tarebook-tablet-')));
  }

  /** Starts it; answers a page of the profile. */
  async wake(): Promise<Page> {
    const own = ['--headless=new', '--remote-debugging-port=0', `--user-data-dir=${this.folder}`, '--no-first-run'];
    const child = spawn(inject('chromiumPath'), [...CHROMIUM_ARGS, ...own, 'about:blank'], {
      detached: true,
      stdio: ['ignore', 'ignore', 'pipe'],
    });
    this.#child = child;
    const address = await new Promise<string>((resolve, reject) => {
      let text = '';
      child.stderr?.on('data', (chunk: Buffer) => {
        text += chunk.toString('utf8');
        const found = /DevTools listening on (ws:\S+)/.exec(text)?.[1];
        if (found !== undefined) resolve(found);
      });
      child.once('exit', () => reject(new Error(`the browser ended: ${text}`)));
    });
    this.#browser = await chromium.connectOverCDP(address);
    const [context] = this.#browser.contexts();
    if (context === undefined) throw new Error('the profile has no context');
    const page = await context.newPage();
    await page.setViewportSize({ width: 820, height: 1180 });
    await page.emulateMedia({ reducedMotion: 'reduce' });
    return page;
  }

  /** The battery is empty: every process of it ends at once. */
  async die(): Promise<void> {
    const child = this.#child;
    if (child?.pid === undefined || child.exitCode !== null || child.signalCode !== null) return;
    const ended = new Promise((resolve) => child.once('exit', resolve));
    process.kill(-child.pid, 'SIGKILL');
    await ended;
    await this.#browser?.close().catch(() => undefined);
  }

  async end(): Promise<void> {
    await this.die();
    await rm(this.folder, { recursive: true, force: true, maxRetries: 5 });
  }
}
