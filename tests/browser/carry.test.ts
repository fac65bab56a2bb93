/** On Set-up a whole aircraft goes out as a ZIP and one is refused in words; on its page a part gets a photo, which is seen and removed. */
import { readFile } from 'node:fs/promises';
import type { Browser, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { unzipArchive, zipArchive } from '#db/archive/zip.ts';
import { pngOf } from '#tests/api/photo/make-pictures.ts';
import { forged } from '#tests/db/archive/carried.ts';
import { makeDatabase, removePlace } from '#tests/support/engines.ts';
import { expectNoBarriers, expectReflow } from './barriers.ts';
import { beginBox, type Shop } from './box-shop.ts';
import { makeFirstAccount, openBrowser, type RunningServer, startServer } from './shop-floor.ts';

describe('carrying and photos', () => {
  let browser: Browser;
  let server: RunningServer;
  let url: string;
  let page: Page;
  let shop: Shop;
  beforeAll(async () => {
    url = await makeDatabase();
    [browser, server] = await Promise.all([openBrowser(), startServer({ url, wantsCode: true })]);
    page = await (
      await browser.newContext({ viewport: { width: 820, height: 1180 }, reducedMotion: 'reduce' })
    ).newPage();
    page.setDefaultTimeout(30_000);
    await makeFirstAccount(page, server);
    await page.getByRole('heading', { name: 'How do you want to begin?' }).waitFor();
    shop = await beginBox(page, server.address);
  });
  afterAll(async () => {
    await Promise.all([browser.close(), server.stop()]);
    await removePlace({ kind: 'postgres', url });
  });

  it('[X5] Set-up carries the aircraft out; what was damaged, and one that is here, are refused with their places', {
    timeout: 180_000,
  }, async () => {
    await page.goto(`${shop.address}/set-up/carry`);
    const download = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Carry out as ZIP' }).click();
    const zip = await readFile(await (await download).path());
    const unpacked = unzipArchive(zip);
    if (!unpacked.ok) throw new Error('the browser saved another file');
    const damaged = forged(unpacked.value, 'part-added.csv', (text) => text.replace(',tail,', ',wing,'));
    await bring(Buffer.from(zipArchive(damaged, new Date('2026-01-01T00:00:00Z'))));
    await page.getByText('part-added.csv, line 2, column').first().waitFor();
    await expectNoBarriers(page);
    await expectReflow(page, 'a damaged aircraft');
    await bring(zip);
    await page.getByText('This very aircraft is here already.').waitFor();
  });

  it('[X6] a part gets a photo on its page by the keyboard; it is seen large and removed with a reason', {
    timeout: 180_000,
  }, async () => {
    await page.goto(`${shop.address}/parts`);
    await page.getByRole('link', { name: /SKIN/ }).first().click();
    await page.getByText('No photo yet.').waitFor();
    const chooser = page.waitForEvent('filechooser');
    await page.getByRole('button', { name: 'Add a photo' }).focus();
    await page.keyboard.press('Enter');
    await (await chooser).setFiles({ name: 'a.png', mimeType: 'image/png', buffer: Buffer.from(pngOf(3_000, 1_500)) });
    await page.getByText('The photo is kept.').waitFor();
    const small = page.getByRole('img', { name: /^SKIN, photo/ });
    await expect.poll(() => widthOf(small)).toBe(320);
    await expectNoBarriers(page);
    await expectReflow(page, 'a part with a photo');
    await page.getByRole('button', { name: /^SKIN, photo/ }).focus();
    await page.keyboard.press('Enter');
    const dialog = page.getByRole('dialog');
    const large = dialog.getByRole('img');
    await expect.poll(() => widthOf(large)).toBe(2_000);
    await dialog.getByRole('button', { name: 'Remove it' }).click();
    await dialog.getByLabel('Why it is removed').fill('blurred');
    await expectNoBarriers(page);
    await dialog.getByRole('button', { name: 'Remove the photo' }).click();
    await page.getByText('No photo yet.').waitFor();
  });

  async function widthOf(image: Locator): Promise<number> {
    return image.evaluate((one) => (one as unknown as { naturalWidth: number }).naturalWidth);
  }

  async function bring(buffer: Buffer): Promise<void> {
    const chooser = page.waitForEvent('filechooser');
    await page.getByRole('button', { name: 'Choose the ZIP file' }).click();
    await (await chooser).setFiles({ name: 'aircraft.zip', mimeType: 'application/zip', buffer });
  }
});
