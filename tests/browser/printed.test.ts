/**
 * What a shop prints: every page of every screen with figures carries the cautions, clear of what stands above them, on both sizes of paper.
 */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { PAPERS, printedPages } from './paper.ts';
import { makeFirstAccount, openBrowser, type RunningServer, startServer } from './shop-floor.ts';

/** Which screens, and the least number of pages each takes: a foot on the last page alone would not be found on one. */
const SCREENS = [
  ['ledger', 5],
  ['loading', 4],
  ['processes', 3],
  ['parts', 3],
  ['open', 2],
  ['what-if', 1],
  ['where', 1],
  ['set-up', 1],
] as const;

describe('on paper', () => {
  let browser: Browser;
  let server: RunningServer;
  let page: Page;
  let aircraft: string;
  beforeAll(async () => {
    [browser, server] = await Promise.all([openBrowser(), startServer({ wantsCode: true })]);
    page = await (await browser.newContext({ viewport: { width: 1280, height: 900 }, colorScheme: 'dark' })).newPage();
    page.setDefaultTimeout(90_000);
    await makeFirstAccount(page, server);
    await page.getByRole('button', { name: 'Look round with Dabchick' }).click();
    await page.getByRole('heading', { name: 'Predicted empty weight' }).waitFor();
    aircraft = page.url().replace(/\/ledger$/, '');
  }, 240_000);
  afterAll(() => Promise.all([browser.close(), server.stop()]));

  for (const [screen, least] of SCREENS)
    it(`[V10] ${screen}: every page has the cautions, below all else`, { timeout: 180_000 }, async () => {
      await open(screen);
      for (const paper of PAPERS) expect((await printedPages(page, paper)).length).toBeGreaterThanOrEqual(least);
    });

  it('[V10] Parts puts every part on paper, and not those in sight alone', { timeout: 180_000 }, async () => {
    await open('parts');
    const foot = (await page.getByText(/\d+ parts in sight/).textContent()) ?? '';
    const count = Number(/\d+/.exec(foot)?.[0]);
    const numbers = (await printedPages(page, 'A4')).flat().filter((words) => /^[A-Z]-\d\d$/.test(words));
    expect(count).toBeGreaterThan(100);
    expect(new Set(numbers).size).toBe(count);
  });

  it('[V10] a dark screen is printed dark on light, and is dark again', { timeout: 180_000 }, async () => {
    await open('what-if');
    const theme = 'document.documentElement.dataset.theme';
    expect(await page.evaluate(theme)).toBe('dark');
    await page.evaluate(`addEventListener('beforeprint', () => { window.onPaper = ${theme}; })`);
    await printedPages(page, 'A4');
    expect(await page.evaluate('window.onPaper')).toBe('light');
    await page.locator('html[data-theme="dark"]').waitFor();
  });

  async function open(screen: string): Promise<void> {
    await page.goto(`${aircraft}/${screen}`);
    await page.locator('main h1:not(.hidden-words)').first().waitFor();
    await page.locator('main .waiting').first().waitFor({ state: 'hidden' });
    // Charts are drawn after the figures have come.
    await page.waitForTimeout(1000);
  }
});
