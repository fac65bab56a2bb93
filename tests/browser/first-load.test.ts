/** What a tablet that has never been here has to fetch before somebody can weigh, as it goes over the wire. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeFirstAccount, openBrowser, type RunningServer, startServer } from './shop-floor.ts';

/** The budget of the tablet at the mould. */
const MOST_BYTES = 250_000;

describe('the first load', () => {
  let browser: Browser;
  let server: RunningServer;
  let page: Page;
  let aircraft: string;
  beforeAll(async () => {
    [browser, server] = await Promise.all([openBrowser(), startServer({ wantsCode: true })]);
    page = await (await browser.newContext()).newPage();
    await makeFirstAccount(page, server);
    await page.getByRole('button', { name: 'Look round with Dabchick' }).click();
    await page.locator('.entry').first().waitFor();
    aircraft = new URL(page.url()).pathname.replace('/ledger', '');
  }, 300_000);
  afterAll(async () => {
    await browser.close();
    await server.stop();
  });

  it('[V1] Weigh needs at most 250 kB of packed script, and neither charts nor meshes', {
    timeout: 60_000,
  }, async () => {
    const weigh = await scriptsOf('weigh', () => page.getByRole('heading', { level: 1 }).first().waitFor());
    expect(weigh.bytes).toBeGreaterThan(50_000);
    expect(weigh.bytes, weigh.names.join(', ')).toBeLessThanOrEqual(MOST_BYTES);
    expect(weigh.hasCharts).toBe(false);
    const ledger = await scriptsOf('ledger', () => page.locator('canvas').first().waitFor());
    // The question can be answered with yes: the ledger has charts.
    expect(ledger.hasCharts).toBe(true);
  });

  /** The scripts that a load without any store fetches until nothing more is asked for, in bytes as they crossed the wire. */
  async function scriptsOf(screen: string, isUp: () => Promise<unknown>) {
    const wire = await page.context().newCDPSession(page);
    await wire.send('Network.enable');
    await wire.send('Network.setCacheDisabled', { cacheDisabled: true });
    await wire.send('Network.setBypassServiceWorker', { bypass: true });
    const names = new Map<string, string>();
    let bytes = 0;
    wire.on('Network.responseReceived', ({ requestId, type, response }) => {
      if (type === 'Script') names.set(requestId, new URL(response.url).pathname);
    });
    wire.on('Network.loadingFinished', ({ requestId, encodedDataLength }) => {
      if (names.has(requestId)) bytes += encodedDataLength;
    });
    await page.goto(`${server.address}${aircraft}/${screen}`);
    await isUp();
    // The line to the server stays open, so that no network is ever idle: what the screen still asks for comes soon after it is up.
    await page.waitForTimeout(1500);
    await wire.detach();
    const texts = await Promise.all(
      [...names.values()].map(async (path) => (await page.request.get(`${server.address}${path}`)).text()),
    );
    return {
      bytes,
      names: [...names.values()],
      hasCharts: texts.some((text) => text.includes('chartjs') || text.includes('Chart.js')),
    };
  }
});
