/** What the ledger calls open is what Open counts (rule D6), before anything is weighed and after a flag has its cause and its decision. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { expectNoBarriers } from './barriers.ts';
import { beginBox, type Shop } from './box-shop.ts';
import { makeFirstAccount, openBrowser, type RunningServer, startServer } from './shop-floor.ts';

describe('the card of what is open', () => {
  let browser: Browser;
  let server: RunningServer;
  let page: Page;
  let shop: Shop;
  beforeAll(async () => {
    [browser, server] = await Promise.all([openBrowser(), startServer({ wantsCode: true })]);
    page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
    page.setDefaultTimeout(20_000);
    await makeFirstAccount(page, server);
    await page.getByRole('heading', { name: 'How do you want to begin?' }).waitFor();
    shop = await beginBox(page, server.address);
    await shop.send({ kind: 'estimate', part: 'BOX', estimate: '0.1 kg', allowance: '10 %', x: '3.1 m' });
  });
  afterAll(() => Promise.all([browser.close(), server.stop()]));

  const card = () => page.locator('.figure').filter({ has: page.getByRole('heading', { name: 'Open', exact: true }) });
  async function expectAsOpen(): Promise<void> {
    const badge = page.locator('.screen-count');
    const inBar = async () => ((await badge.count()) === 0 ? 0 : Number(await badge.textContent()));
    const onCard = async () =>
      (await card().locator('.open-count').allTextContents()).reduce((sum, count) => sum + Number(count), 0);
    await expect.poll(async () => (await onCard()) === (await inBar())).toBe(true);
    expect(await card().evaluate((one) => one.classList.contains('warn'))).toBe((await inBar()) > 0);
  }

  it('[D6] before anything is weighed neither nothing drifts nor everything is in line', async () => {
    await page.goto(`${shop.address}/ledger`);
    await card().getByText('nothing open, nothing weighed yet').waitFor();
    await page.getByText('Nothing is weighed yet: what drifts shows from the first weighing on.').waitFor();
    expect(await page.getByText('Nothing drifts').count()).toBe(0);
    await expectAsOpen();
  });

  it('[D6] a drifting part is open until it has its cause and its decision, and drifts all the same', async () => {
    const seq = await shop.send({ kind: 'weighing', part: 'SKIN', gross: '4.5 kg', condition: 'finished' });
    await page.goto(`${shop.address}/ledger`);
    await card().getByText('flagged without a decision').waitFor();
    await expectAsOpen();
    await expectNoBarriers(page, 'a ledger with something open');
    await shop.send({
      kind: 'correction',
      entry: String(seq),
      reason: 'cause found',
      replacement: { part: 'SKIN', gross: '4.5 kg', condition: 'finished', cause: 'resin-rich' },
    });
    await shop.send({ kind: 'disposition', part: 'SKIN', decision: 'accepted' });
    await page.goto(`${shop.address}/ledger`);
    await card().getByText('1 drifting, 0 to watch.').waitFor();
    await expectAsOpen();
    await card().getByText('● nothing open').waitFor();
    await page.goto(`${shop.address}/open`);
    await page.getByText('Nothing is open: every flag has its cause and its decision').waitFor();
  });
});
