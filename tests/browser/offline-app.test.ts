/** The app kept on the device: it opens with no server, and an older page says that the server has a newer one (rule O1). */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { expectNoBarriers } from './barriers.ts';
import { MortalServer } from './cut-off.ts';
import { Gate } from './gate.ts';
import { makeFirstAccount, openBrowser } from './shop-floor.ts';

const TABLET = { viewport: { width: 820, height: 1180 }, reducedMotion: 'reduce' } as const;

describe('the app on the device', { timeout: 120_000 }, () => {
  let browser: Browser;
  let server: MortalServer;
  let gate: Gate;
  let page: Page;
  beforeAll(async () => {
    [browser, server] = await Promise.all([openBrowser(), MortalServer.start()]);
    gate = await Gate.before(server);
    page = await (await browser.newContext(TABLET)).newPage();
    await makeFirstAccount(page, { address: gate.address, code: server.code });
    await page.getByRole('heading', { name: 'How do you want to begin?' }).waitFor();
    await page.evaluate('navigator.serviceWorker.ready.then(() => undefined)');
  });
  afterAll(async () => {
    await browser.close();
    await gate.end();
    await server.end();
  });

  it('[O1] can be installed: a manifest with a name, and icons that are what they are said to be', async () => {
    const answer = await page.request.get(`${gate.address}/tarebook.webmanifest`);
    const manifest = (await answer.json()) as { icons: { src: string; sizes: string; purpose?: string }[] };
    expect(manifest).toMatchObject({ name: 'Tarebook', start_url: '/', display: 'standalone' });
    expect(manifest.icons.map(({ sizes, purpose }) => `${sizes} ${purpose ?? 'any'}`)).toEqual([
      'any any',
      '192x192 any',
      '512x512 any',
      '512x512 maskable',
    ]);
    for (const { src, sizes } of manifest.icons.slice(1)) {
      const drawn = await page.evaluate(
        `(async () => { const image = await createImageBitmap(await (await fetch('${src}')).blob()); return image.width + 'x' + image.height; })()`,
      );
      expect(drawn).toBe(sizes);
    }
  });

  it('[O1] says that the server has a newer app, takes it when asked, and has the new one without a server', async () => {
    const build = await page.evaluate<string>(BUILD);
    const next = 'a-newer-build';
    gate.rewrite = (_path, text) => text.replaceAll(build, next);
    // The line to the server breaks, as it does when the server is started anew.
    gate.shut();
    gate.open();
    const notice = page.getByRole('status').filter({ hasText: 'There is a newer Tarebook' });
    await notice.waitFor({ timeout: 40_000 });
    await expectNoBarriers(page, 'a newer app is on the server');
    await notice.getByRole('button', { name: 'Load it now' }).click();
    await page.waitForFunction(`${BUILD} === '${next}'`);
    await notice.waitFor({ state: 'detached' });
    await expect.poll(() => page.evaluate('caches.keys()'), { timeout: 20_000 }).toContain(`tarebook app ${next}`);
    await server.kill();
    await page.reload();
    expect(await page.evaluate(BUILD)).toBe(next);
    await page.getByRole('heading', { name: 'How do you want to begin?' }).waitFor({ timeout: 20_000 });
    await page.getByText('Not connected').waitFor({ timeout: 20_000 });
    await server.revive();
  });

  it('[O1] no answer of a door is kept by the worker', async () => {
    const kept = await page.evaluate(`(async () => {
      const names = await caches.keys();
      const requests = await Promise.all(names.map(async (name) => (await caches.open(name)).keys()));
      return requests.flat().map((request) => new URL(request.url).pathname);
    })()`);
    expect(kept).toContain('/');
    expect((kept as string[]).filter((path) => path.startsWith('/api'))).toEqual([]);
  });
});

/** Which build the page is of. */
const BUILD = `document.querySelector('meta[name="tarebook-build"]').content`;
