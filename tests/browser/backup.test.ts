/** On Set-up a lead backs everything up in one touch; the browser saves a file that can be restored, and the list has it. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { checkBackup } from '#db/backup/restore-backup.ts';
import { makeDatabase, removePlace } from '#tests/support/engines.ts';
import { expectNoBarriers, expectReflow } from './barriers.ts';
import { beginBox, type Shop } from './box-shop.ts';
import { makeFirstAccount, openBrowser, type RunningServer, startServer } from './shop-floor.ts';

describe('backing up', () => {
  let browser: Browser;
  let server: RunningServer;
  let url: string;
  let page: Page;
  let shop: Shop;
  beforeAll(async () => {
    url = await makeDatabase();
    [browser, server] = await Promise.all([openBrowser(), startServer({ url, wantsCode: true })]);
    const context = await browser.newContext({ viewport: { width: 820, height: 1180 }, reducedMotion: 'reduce' });
    page = await context.newPage();
    page.setDefaultTimeout(30_000);
    await makeFirstAccount(page, server);
    await page.getByRole('heading', { name: 'How do you want to begin?' }).waitFor();
    shop = await beginBox(page, server.address);
  });
  afterAll(async () => {
    await Promise.all([browser.close(), server.stop()]);
    await removePlace({ kind: 'postgres', url });
  });

  it('[Z6] one touch makes a backup and saves it, and it can be saved once more from the list', {
    timeout: 180_000,
  }, async () => {
    await page.goto(`${shop.address}/set-up/backup`);
    await page.getByText('There is none yet.').waitFor();
    await expectNoBarriers(page);
    const first = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Back up and save' }).focus();
    await page.keyboard.press('Enter');
    const saved = await first;
    expect(saved.suggestedFilename()).toMatch(/^tarebook-\d{8}T\d{9}Z-asked\.tar$/);
    const { manifest } = checkBackup(await saved.path());
    expect(manifest.aircraft).toHaveLength(1);
    await page.getByText(/● Backed up: \d+ entries of 1 aircraft, 0\.\d MB/).waitFor();
    await page.getByRole('cell', { name: 'somebody asked' }).waitFor();
    const second = page.waitForEvent('download');
    await page.getByRole('link', { name: 'Save on this device' }).click();
    expect(checkBackup(await (await second).path()).manifest).toEqual(manifest);
    await expectNoBarriers(page);
    await expectReflow(page, 'the backups');
  });
});
