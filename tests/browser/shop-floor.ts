/** A server in a process of its own and a real browser before it, as a shop has them. */
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Browser, chromium, type Page } from 'playwright-core';
import { inject } from 'vitest';
import { CHROMIUM_ARGS } from '#tests/support/chromium.ts';
import { readyFolder } from '#tests/support/ready-folder.ts';

export type RunningServer = {
  readonly address: string;
  readonly code: string | undefined /** Answers the exit status. */;
  stop(): Promise<number | null>;
};

/** Starts `api/server.ts` on a free port and waits for its address; `code` is the first-run code if it printed one. `data` is a folder that stays. */
export async function startServer(options: {
  readonly url?: string;
  readonly data?: string;
  readonly wantsCode: boolean;
  /** More of its surroundings. */
  readonly env?: Readonly<Record<string, string>>;
}): Promise<RunningServer> {
  const folder = await mkdtemp(join(tmpdir(), 'tarebook-browser-'));
  const data = options.data ?? (options.url === undefined ? await readyFolder(join(folder, 'data')) : '');
  const where = options.url === undefined ? ['--data', data] : [];
  const child = spawn(process.execPath, ['api/server.ts', '--port', '0', ...where], {
    env: {
      ...process.env,
      DATABASE_URL: options.url ?? '',
      TAREBOOK_BACKUP_FOLDER: join(folder, 'backups'),
      ...options.env,
    },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  const said = await hasSaid(child, options.wantsCode);
  return {
    ...said,
    async stop() {
      child.kill('SIGTERM');
      await new Promise((resolve) => (child.exitCode === null ? child.once('exit', resolve) : resolve(undefined)));
      await rm(folder, { recursive: true, force: true });
      return child.exitCode;
    },
  };
}

export function hasSaid(
  child: ChildProcess,
  wantsCode: boolean,
): Promise<{ address: string; code: string | undefined }> {
  return new Promise((resolve, reject) => {
    let text = '';
    const hear = (chunk: Buffer) => {
      text += chunk.toString('utf8');
      const address = /https?:\/\/[^\s]+?(?=[\s/]|$)/m.exec(text)?.[0];
      const code = /code[^\n]*?:\s*([A-Z0-9-]{6,})/i.exec(text)?.[1];
      if (address !== undefined && (code !== undefined || !wantsCode)) resolve({ address, code });
    };
    child.stdout?.on('data', hear);
    child.stderr?.on('data', hear);
    child.once('exit', (status) => reject(new Error(`the server ended with ${status}: ${text}`)));
    setTimeout(() => reject(new Error(`the server did not say where it is: ${text}`)), 150_000).unref();
  });
}

export function openBrowser(): Promise<Browser> {
  return chromium.launch({ executablePath: inject('chromiumPath'), args: CHROMIUM_ARGS });
}

export const LEAD = { name: 'Robin Lead', initials: 'RL', password: 'a long enough password' };

/** Fills the first page: code, account. */
export async function makeFirstAccount(page: Page, server: Pick<RunningServer, 'address' | 'code'>): Promise<void> {
  await page.goto(server.address);
  await page.getByLabel('Code from the console').fill(server.code ?? '');
  await page.getByLabel('Your name').fill(LEAD.name);
  await page.getByLabel('Initials').fill(LEAD.initials);
  await page.getByLabel('Password').fill(LEAD.password);
  await page.getByRole('button', { name: 'Make the account' }).click();
}

export async function signIn(page: Page, address: string): Promise<void> {
  await page.goto(address);
  await page.getByLabel('Name').fill(LEAD.name);
  await page.getByLabel('Password').fill(LEAD.password);
  await page.getByRole('button', { name: 'Sign in' }).click();
}

/** A browser before a new shop, with the first account made. */
export async function openShop(viewport: { readonly width: number; readonly height: number }) {
  const [browser, server] = await Promise.all([openBrowser(), startServer({ wantsCode: true })]);
  const page = await (await browser.newContext({ viewport, reducedMotion: 'reduce' })).newPage();
  await makeFirstAccount(page, server);
  return { browser, server, page };
}
