/** What one weighing hands on to the next at a tablet, and that it is seen (rule H5). */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { expectNoBarriers, expectReflow } from './barriers.ts';
import { beginBox, type Shop } from './box-shop.ts';
import { makeFirstAccount, openBrowser, type RunningServer, startServer } from './shop-floor.ts';

describe('what is kept from the weighing before', () => {
  let browser: Browser;
  let server: RunningServer;
  let page: Page;
  let shop: Shop;
  beforeAll(async () => {
    [browser, server] = await Promise.all([openBrowser(), startServer({ wantsCode: true })]);
    const context = await browser.newContext({ viewport: { width: 820, height: 1180 }, reducedMotion: 'reduce' });
    page = await context.newPage();
    page.setDefaultTimeout(20_000);
    await makeFirstAccount(page, server);
    await page.getByRole('heading', { name: 'How do you want to begin?' }).waitFor();
    shop = await beginBox(page, server.address);
    for (const [number, estimate] of [
      ['SKIN-2', '3 kg'],
      ['SKIN-3', '3 kg'],
    ] as const) {
      await shop.send({ kind: 'part added', number, name: number, group: 'tail', process: 'resin-infused' });
      await shop.send({ kind: 'estimate', part: number, estimate, allowance: '10 %' });
    }
  });
  afterAll(() => Promise.all([browser.close(), server.stop()]));

  const gross = () => page.getByLabel('Gross', { exact: true });
  const tare = () => page.getByLabel('Tare (fixture)');
  const press = (name: string) => page.getByRole('button', { name, exact: true }).first().click();
  const choose = (name: string) => page.getByText(name, { exact: true }).click();
  const unit = (name: string) =>
    page
      .locator('.readings .choice-option')
      .filter({ hasText: new RegExp(`^${name}$`) })
      .click();
  const open = async (number: string, at = shop) => {
    await page.goto(`${at.address}/weigh?part=${number}`);
    await gross().waitFor();
  };
  const save = async () => {
    await press('Save the weighing');
    await page.getByRole('status').filter({ hasText: 'Saved: ' }).waitFor();
  };
  const net = async () => {
    const { entries } = await shop.get<{ entries: { entry: { netKg: number } }[] }>('/entries?limit=1');
    return entries[0]?.entry.netKg;
  };

  it('[H5] the tare of the part before stands under the field with its part, keeps its unit in another, and is seen on the condition too', async () => {
    await open('SKIN');
    await choose('trimmed');
    await gross().fill('6.10');
    await tare().fill('2.10');
    await page.getByRole('region', { name: 'Judgement' }).getByText('in line').waitFor();
    await save();
    await open('SKIN-2');
    await page.getByText('Kept: 2.10 kg, the tare of SKIN').waitFor();
    await page.getByText('Kept from SKIN, the last of this process: trimmed.').waitFor();
    await expectNoBarriers(page, 'a tare that was kept');
    await expectReflow(page, 'a tare that was kept');
    await unit('g');
    await gross().fill('5100');
    await page.getByRole('region', { name: 'Judgement' }).getByText('in line').waitFor();
    await save();
    expect(await net()).toBeCloseTo(3, 9);
  });

  it('[H5] one touch takes it away, no key moves, and the next begins without one', async () => {
    await open('SKIN-3');
    await unit('kg');
    await page.getByText('Kept: 2.10 kg, the tare of SKIN-2').waitFor();
    const seven = page.getByRole('button', { name: '7', exact: true });
    const before = await seven.boundingBox();
    await press('Nothing under it');
    await page.getByText('Kept: 2.10 kg').waitFor({ state: 'hidden' });
    expect(await tare().inputValue()).toBe('');
    expect(await seven.boundingBox()).toEqual(before);
    await gross().fill('3.01');
    await page.getByRole('region', { name: 'Judgement' }).getByText('in line').waitFor();
    await save();
    await open('SKIN-2');
    expect(await tare().inputValue()).toBe('');
    expect(await page.getByText('the tare of').count()).toBe(0);
  });

  it('[H5] the pad types another tare in the place of a kept one', async () => {
    await open('SKIN-3');
    await gross().fill('4.51');
    await tare().fill('1.5');
    await press('It is a reading of its own');
    await save();
    await open('SKIN-2');
    await page.getByText('Kept: 1.5 kg, the tare of SKIN-3').waitFor();
    await tare().click();
    await press('7');
    expect(await tare().inputValue()).toBe('7');
  });

  it('[H5] a part of another process, and of another aircraft, begins without it', async () => {
    await open('TIP');
    expect(await tare().inputValue()).toBe('');
    const other = await beginBox(page, server.address, 'Wigeon');
    await open('SKIN', other);
    expect(await tare().inputValue()).toBe('');
    expect(await page.getByText('the tare of').count()).toBe(0);
    // It is still that of its own process.
    await open('SKIN-3');
    expect(await tare().inputValue()).toBe('1.5 kg');
  });

  it('[H5] a fixture brings its tare back, says so, and takes it along', async () => {
    const fixture = page.getByLabel('Fixture', { exact: true });
    await open('RIB');
    await choose('trimmed');
    await gross().fill('1.3');
    await tare().fill('0.8');
    await page.getByText('More about this weighing').click();
    await fixture.fill('Cradle 1');
    await page.getByRole('region', { name: 'Judgement' }).getByText('in line').waitFor();
    await save();
    await open('TIP');
    await page.getByText('More about this weighing').click();
    expect(await fixture.inputValue()).toBe('');
    await fixture.fill('Cradle 1');
    await page.getByText('Kept: 0.8 kg, the tare of Cradle 1').waitFor();
    expect(await tare().inputValue()).toBe('0.8 kg');
    await fixture.fill('Cradle 12');
    expect(await tare().inputValue()).toBe('');
  });
});
