/** The list of keys, and the row of screens on a phone (rule V1). */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { expectNoBarriers, expectReflow } from './barriers.ts';
import { makeFirstAccount, openBrowser, type RunningServer, startServer } from './shop-floor.ts';

describe('the keyboard', () => {
  let browser: Browser;
  let server: RunningServer;
  let page: Page;
  beforeAll(async () => {
    [browser, server] = await Promise.all([openBrowser(), startServer({ wantsCode: true })]);
    page = await (await browser.newContext({ reducedMotion: 'reduce' })).newPage();
  });
  afterAll(() => Promise.all([browser.close(), server.stop()]));

  it('[V1] a question mark shows the keys of every screen, and the keyboard is back where it was', async () => {
    await makeFirstAccount(page, server);
    await page.getByRole('button', { name: 'Look round with Dabchick' }).click();
    await page.locator('.entry').first().waitFor({ timeout: 30_000 });
    const parts = page.getByRole('link', { name: 'Parts', exact: true });
    await parts.focus();
    await page.keyboard.press('?');
    const dialog = page.getByRole('dialog', { name: 'Keys of the keyboard' });
    await dialog.waitFor();
    for (const screen of ['Everywhere', 'Weigh', 'Parts, in the table'])
      expect(await dialog.getByRole('region', { name: screen }).locator('dt').count()).toBeGreaterThan(2);
    await expectNoBarriers(page, 'the keys');
    await expectReflow(page, 'the keys');
    await page.keyboard.press('Escape');
    await dialog.waitFor({ state: 'detached' });
    await page.locator('a:focus', { hasText: 'Parts' }).waitFor();

    const button = page.getByRole('button', { name: 'Keys of the keyboard' });
    await button.focus();
    await page.keyboard.press('Enter');
    await dialog.getByRole('button', { name: 'Done' }).click();
    await dialog.waitFor({ state: 'detached' });
    await page.locator('button:focus', { hasText: 'Keys of the keyboard' }).waitFor();
  });

  it('[V1] a question mark that is typed into a field stays there', async () => {
    const search = page.getByRole('searchbox').first();
    await search.fill('');
    await search.press('?');
    expect(await search.inputValue()).toBe('?');
    expect(await page.getByRole('dialog').count()).toBe(0);
    await search.fill('');
  });

  it('[V1] on a phone the screens are one row, and each comes in sight when the keyboard reaches it', async () => {
    await page.setViewportSize({ width: 360, height: 740 });
    const links = page.getByRole('navigation', { name: 'Screens' }).getByRole('link');
    const boxes = async () => Promise.all((await links.all()).map((link) => link.boundingBox()));
    expect(new Set((await boxes()).map((box) => box?.y)).size).toBe(1);
    await expectReflow(page, 'the screens on a phone');
    for (const link of await links.all()) {
      await link.focus();
      await expect
        .poll(async () => {
          const box = await link.boundingBox();
          return box !== null && box.x >= 0 && box.x + box.width <= 360;
        })
        .toBe(true);
    }
  });
});
