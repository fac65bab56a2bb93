/**
 * The product as people meet it: first run, the demonstration aircraft, a part weighed in pounds on a tablet, and everybody else seeing
 * it. In a real browser, before a real server; once on the embedded engine, once on two servers that share one PostgreSQL.
 */
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeDatabase } from '#tests/support/engines.ts';
import { expectNoBarriers } from './barriers.ts';
import { makeFirstAccount, openBrowser, type RunningServer, signIn, startServer } from './shop-floor.ts';

const TABLET = { width: 768, height: 1024 };
let browser: Browser;
beforeAll(async () => {
  browser = await openBrowser();
});
afterAll(() => browser.close());

describe('on the embedded engine', () => {
  let server: RunningServer;
  beforeAll(async () => {
    server = await startServer({ wantsCode: true });
  });

  it('[N14] the server serves the built app, and stops cleanly', async () => {
    expect(await (await fetch(server.address)).text()).toContain('<div id="app">');
    const other = await startServer({ wantsCode: true });
    expect(await other.stop()).toBe(0);
  });

  afterAll(() => server.stop());

  it('[V1] from the first run to a weighing in pounds that another window sees by itself', {
    timeout: 90_000,
  }, async () => {
    await walk(server, server);
  });
});

describe('on two servers before one PostgreSQL', () => {
  const servers: RunningServer[] = [];
  beforeAll(async () => {
    const url = await makeDatabase();
    servers.push(await startServer({ url, wantsCode: true }), await startServer({ url, wantsCode: true }));
  });
  afterAll(() => Promise.all(servers.map((server) => server.stop())));

  it('[V1] what is weighed at one server is seen at the other', { timeout: 90_000 }, async () => {
    const [first, second] = servers;
    if (first === undefined || second === undefined) throw new Error('two servers were started');
    await walk(first, second);
  });
});

async function walk(mould: RunningServer, office: RunningServer): Promise<void> {
  const tablet = await (await browser.newContext({ viewport: TABLET, reducedMotion: 'reduce' })).newPage();
  const faults: string[] = [];
  for (const event of ['pageerror'] as const) tablet.on(event, (error) => faults.push(String(error)));
  tablet.on('console', (message) => message.type() === 'error' && faults.push(message.text()));
  await makeFirstAccount(tablet, mould);
  await tablet.getByRole('button', { name: 'Look round with Dabchick' }).click();
  await tablet.getByRole('heading', { name: /^Dabchick/ }).waitFor();
  await expectNoBarriers(tablet);

  const screen = await (
    await browser.newContext({ viewport: { width: 1920, height: 1080 }, reducedMotion: 'reduce' })
  ).newPage();
  await signIn(screen, office.address);
  const predicted = screen
    .getByRole('heading', { name: 'Predicted empty weight' })
    .locator('xpath=following-sibling::p[1]');
  await predicted.waitFor();
  const before = await predicted.textContent();

  await tablet.getByRole('link', { name: 'Weigh', exact: true }).click();
  await tablet.locator('.part-buttons button', { hasText: 'not weighed' }).first().click();
  const number = ((await tablet.getByRole('heading', { level: 2 }).first().textContent()) ?? '').split(' ')[0] ?? '';
  await tablet.getByText('trimmed', { exact: true }).click();
  await tablet.getByText('lb', { exact: true }).click();
  for (const key of ['9', '9', '.', '5']) await tablet.getByRole('button', { name: key, exact: true }).click();
  const sure = tablet.getByRole('button', { name: 'The reading is right' });
  await sure.click();
  await tablet.getByRole('region', { name: 'Judgement' }).getByText('drifting heavy').waitFor();
  // What was answered stays answered while the cause is stated.
  await tablet.getByLabel('Why?').selectOption('estimate wrong');
  await expectNoBarriers(tablet);
  await tablet.getByRole('button', { name: 'Save the weighing' }).click();
  await tablet.getByText(new RegExp(`${number}\\b.* is entry`)).waitFor();

  // The other window: nobody touches it.
  await screen
    .getByText(new RegExp(`weighing: ${number}\\b.*99\\.5\\slb`))
    .first()
    .waitFor({ timeout: 15_000 });
  await expect.poll(() => predicted.textContent(), { timeout: 10_000 }).not.toBe(before);
  const row = screen.locator('.entry').first();
  expect(await row.textContent()).toMatch(/weighed against estimate\s*\+/);
  await expectNoBarriers(screen);
  expect(faults).toEqual([]);
  await tablet.context().close();
  await screen.context().close();
}
