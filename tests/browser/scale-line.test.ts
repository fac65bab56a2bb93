/** A scale's line pasted, or typed by a scale that acts as a keyboard, on Weigh and on the weighing of the aircraft (rule W13). */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { expectNoBarriers, expectReflow } from './barriers.ts';
import { beginBox, type Shop } from './box-shop.ts';
import { makeFirstAccount, openBrowser, type RunningServer, startServer } from './shop-floor.ts';

describe('lines of a scale', () => {
  let browser: Browser;
  let server: RunningServer;
  let page: Page;
  let shop: Shop;
  beforeAll(async () => {
    [browser, server] = await Promise.all([openBrowser(), startServer({ wantsCode: true })]);
    const context = await browser.newContext({ viewport: { width: 820, height: 1180 }, reducedMotion: 'reduce' });
    await context.grantPermissions(['clipboard-read', 'clipboard-write']);
    page = await context.newPage();
    page.setDefaultTimeout(20_000);
    await makeFirstAccount(page, server);
    await page.getByRole('heading', { name: 'How do you want to begin?' }).waitFor();
    shop = await beginBox(page, server.address);
  });
  beforeEach(async () => {
    await page.goto('about:blank');
    await page.goto(`${shop.address}/weigh?part=SKIN`);
    await gross().waitFor();
    const drop = page.getByRole('button', { name: 'Drop it' });
    if (await drop.isVisible()) await drop.click();
    await page.getByText('trimmed', { exact: true }).click();
    await gross().fill('');
    await tare().fill('');
  });
  afterAll(() => Promise.all([browser.close(), server.stop()]));

  const gross = () => page.getByLabel('Gross', { exact: true });
  const tare = () => page.getByLabel('Tare (fixture)');
  const said = () => page.locator('.line-question');
  const press = (name: string) => page.getByRole('button', { name, exact: true }).click();
  async function paste(text: string): Promise<void> {
    await page.evaluate(`navigator.clipboard.writeText(${JSON.stringify(text)})`);
    await page.keyboard.press('Control+V');
  }

  /** Eight thousandths of a second from key to key, however long the page takes over each. */
  async function typeAsAScale(text: string): Promise<void> {
    const keys = await page.context().newCDPSession(page);
    const startS = Date.now() / 1000;
    for (const [at, sign] of [...text, '\r'].entries())
      await keys.send('Input.dispatchKeyEvent', {
        type: 'keyDown',
        text: sign,
        key: sign === '\r' ? 'Enter' : sign,
        timestamp: startS + at * 0.008,
      });
    await keys.detach();
  }

  it('[W13] a line that was pasted is put into the field as number and unit, and judged', async () => {
    await gross().focus();
    await paste('ST,GS,+  0004.05kg\r\n');
    expect(await gross().inputValue()).toBe('4.05 kg');
    expect((await said().textContent())?.replaceAll('\u00a0', ' ')).toBe(
      'Read from the scale: 4.05 kg, at rest, gross',
    );
    await page.locator('.verdict').waitFor();
    await expectNoBarriers(page, 'a line that was read');
  });

  it('[W13] a line without a unit, or from a scale that moves, is asked about first; what was typed stays meanwhile', async () => {
    await gross().fill('3.9');
    await paste('US,  4.05');
    await said().getByText('gives no unit').waitFor();
    await said().getByText('was not at rest').waitFor();
    expect(await gross().inputValue()).toBe('3.9');
    await expectNoBarriers(page, 'a line that is asked about');
    await expectReflow(page, 'a line that is asked about');
    await press('Take 4.05\u00a0lb');
    expect(await gross().inputValue()).toBe('4.05 lb');
    await gross().fill('');
    await paste('ST,  4.05');
    await press('Leave it');
    expect(await gross().inputValue()).toBe('');
    expect(await said().textContent()).toBe('');
  });

  it('[W13] a line that cannot be read says why, and a comma that can be two things is asked about', async () => {
    await gross().focus();
    await paste('OL,+9999999 kg');
    await said().getByText('more is on it than it can weigh').waitFor();
    await paste('4,050 kg');
    await press('It is 4.050');
    expect(await gross().inputValue()).toBe('4.050 kg');
  });

  it('[W13] a scale that types its line is read when it presses Enter, wherever the keyboard was, and saves nothing by it', async () => {
    await gross().focus();
    await page.getByText('trimmed', { exact: true }).click();
    await page.keyboard.type('ST,GS,   4.15 kg');
    await page.keyboard.press('Enter');
    expect(await gross().inputValue()).toBe('4.15 kg');
    expect(await tare().evaluate((field) => field.matches(':focus'))).toBe(true);
    await page.keyboard.type('ST,NT,   0.10 kg');
    await page.keyboard.press('Enter');
    expect(await tare().inputValue()).toBe('0.10 kg');
    await page.locator('.verdict').waitFor();
    expect(page.url()).toContain('part=SKIN');
  });

  it('[W13] a sign before the figure is not lost on the way from the page to the field', async () => {
    await gross().focus();
    await page.getByText('trimmed', { exact: true }).click();
    await page.keyboard.type('-0.12 lb');
    expect(await gross().inputValue()).toBe('-0.12 lb');
  });

  it('[W13] figures typed faster than by a hand, without a unit, are asked about; those of a hand have the unit of the field', async () => {
    await gross().focus();
    await typeAsAScale('4.05');
    await said().getByText('gives no unit').waitFor();
    await press('Take 4.05\u00a0kg');
    expect(await gross().inputValue()).toBe('4.05 kg');
    await gross().fill('');
    await page.keyboard.type('4.05', { delay: 90 });
    await page.waitForTimeout(90);
    await page.keyboard.press('Enter');
    expect(await gross().inputValue()).toBe('4.05');
    expect(await said().textContent()).toBe('');
  });

  it('[W13] a net beside a tare, and a tare in the place of the gross, are asked about', async () => {
    await tare().fill('0.5');
    await gross().focus();
    await paste('ST,NT,  4.05 kg');
    await said().getByText('would come off as well').waitFor();
    await press('Leave it');
    await gross().focus();
    await paste('TARE 0.50 kg');
    await said().getByText('that this is a tare').waitFor();
  });

  it('[W13] the weighing of the aircraft takes the same lines', async () => {
    await page.goto(`${shop.address}/aircraft-weighing`);
    await page.getByRole('button', { name: 'Nosewheel and two mains' }).click();
    const field = page.locator('.reading-pair input').first();
    await field.focus();
    await paste('ST,GS,+  185.5kg');
    expect(await field.inputValue()).toBe('185.5 kg');
    await page.locator('.reading-pair input').nth(1).focus();
    await paste('  2.5');
    await page.locator('.line-question').getByText('gives no unit').waitFor();
    await expectNoBarriers(page, 'a line on the weighing of the aircraft');
  });
});
