/**
 * A scale at a serial port on Weigh (rule W13). The port is the standard's interface with a real stream, played in the page: no browser gives a
 * page a port without somebody at its own dialog.
 */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { expectNoBarriers, expectReflow } from './barriers.ts';
import { beginBox, type Shop } from './box-shop.ts';
import { makeFirstAccount, openBrowser, type RunningServer, startServer } from './shop-floor.ts';

const PLAYED = `(() => {
  const played = { opened: [], allowed: true };
  const port = {
    readable: null,
    async open(options) {
      played.opened.push(options);
      port.readable = new ReadableStream({ start(sender) { played.sender = sender; } });
    },
    async close() { port.readable = null; },
  };
  played.send = (text) => played.sender.enqueue(new TextEncoder().encode(text));
  played.unplug = () => { port.readable = null; played.sender.error(new DOMException('lost', 'NetworkError')); };
  Object.defineProperty(navigator, 'serial', { configurable: true, value: {
    async getPorts() { return []; },
    async requestPort() {
      if (!played.allowed) throw new DOMException('none chosen', 'NotFoundError');
      return port;
    },
  } });
  window.played = played;
})()`;

describe('a scale on a cable', { timeout: 240_000 }, () => {
  let browser: Browser;
  let server: RunningServer;
  let page: Page;
  let shop: Shop;
  beforeAll(async () => {
    [browser, server] = await Promise.all([openBrowser(), startServer({ wantsCode: true })]);
    const context = await browser.newContext({ viewport: { width: 820, height: 1180 }, reducedMotion: 'reduce' });
    page = await context.newPage();
    page.setDefaultTimeout(30_000);
    await page.addInitScript(PLAYED);
    await makeFirstAccount(page, server);
    await page.getByRole('heading', { name: 'How do you want to begin?' }).waitFor();
    shop = await beginBox(page, server.address);
    await page.goto(`${shop.address}/weigh?part=SKIN`);
    await page.getByText('Scale on a cable').click();
  }, 240_000);
  afterAll(() => Promise.all([browser.close(), server.stop()]));

  const gross = () => page.getByLabel('Gross', { exact: true });
  const panel = () => page.locator('.scale-port');
  const press = (name: string) => page.getByRole('button', { name, exact: true }).click();
  const play = (script: string) => page.evaluate(`window.played.${script}`);

  it('[W13] that no port was chosen is said, and the settings are kept on the device', async () => {
    await play('allowed = false');
    await press('Connect');
    await panel().getByText('No port was chosen').waitFor();
    await panel().getByLabel('Speed (baud)').selectOption('2400');
    await panel().getByText('even', { exact: true }).click();
    await panel().getByText('7', { exact: true }).click();
    await expectNoBarriers(page, 'the settings of a scale on a cable');
    await expectReflow(page, 'the settings of a scale on a cable');
    await page.reload();
    await page.getByText('Scale on a cable').click();
    await press('Connect');
    await panel().getByText('Nothing has come yet').waitFor();
    expect(await play('opened')).toEqual([{ baudRate: 2400, parity: 'even', dataBits: 7 }]);
  });

  it('[W13] its figure is seen while it changes, and taken at a press; what moves is asked about', async () => {
    await page.waitForTimeout(600);
    await play(`send('US,GS,   3.9')`);
    await play(`send('7kg\\r\\n')`);
    await panel().getByText('3.97\u00a0kg, not at rest, gross').waitFor();
    await press('Take it: Gross');
    await page.locator('.line-question').getByText('was not at rest').waitFor();
    expect(await gross().inputValue()).toBe('');
    await press('Leave it');
    await play(`send('ST,GS,   4.05kg\\r\\n')`);
    await panel().getByText('4.05\u00a0kg, at rest, gross').waitFor();
    await expectNoBarriers(page, 'a scale on a cable');
    expect(await gross().inputValue()).toBe('');
    await press('Take it: Gross');
    expect(await gross().inputValue()).toBe('4.05 kg');
  });

  it('[W13] by itself it is taken only where that is asked for, at rest, with a unit, once for each load', async () => {
    await gross().fill('');
    await panel().getByText('Take it by itself').click();
    await play(`send('US,GS,   4.10kg\\r\\nST,GS,   4.10\\r\\nST,GS,   0.00kg\\r\\n')`);
    await panel().getByText('0.00\u00a0kg').waitFor();
    expect(await gross().inputValue()).toBe('');
    await play(`send('ST,GS,   4.11kg\\r\\n')`);
    await page.locator('.line-question').getByText('4.11').waitFor();
    expect(await gross().inputValue()).toBe('4.11 kg');
    await gross().fill('');
    await play(`send('ST,GS,   4.11kg\\r\\n')`);
    await page.waitForTimeout(300);
    expect(await gross().inputValue()).toBe('');
  });

  it('[W13] an overload is told, and so is that the scale was unplugged; what is typed stays', async () => {
    await gross().fill('4.2');
    await play(`send('OL\\r\\n')`);
    await panel().getByText('more is on it than it can weigh').waitFor();
    await play('unplug()');
    await panel().getByText('The scale is unplugged').waitFor();
    expect(await gross().inputValue()).toBe('4.2');
    await press('Connect');
    await panel().getByText('Nothing has come yet').waitFor();
    await press('Disconnect');
    await panel().getByText('Not connected').waitFor();
  });
});
