/** Every section of the set-up and every form of it: axe finds nothing on any, in either theme, and none has to be pushed sideways. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { expectNoBarriers, expectReflow } from './barriers.ts';
import { openShop, type RunningServer } from './shop-floor.ts';

describe('every section of the set-up', () => {
  let browser: Browser;
  let server: RunningServer;
  let page: Page;
  beforeAll(async () => {
    ({ browser, server, page } = await openShop({ width: 768, height: 1024 }));
    await page.getByRole('button', { name: 'Look round with Dabchick' }).click();
    await page.getByRole('heading', { name: /^Dabchick/ }).waitFor({ timeout: 30_000 });
  });
  afterAll(() => Promise.all([browser.close(), server.stop()]));

  it('[V1] Set-up has no barrier: each section, its forms, what is refused and what is asked twice', {
    timeout: 180_000,
  }, async () => {
    await page.getByRole('link', { name: 'Set-up' }).click();
    const section = (name: string) =>
      page.getByRole('navigation', { name: 'Set-up' }).getByRole('link', { name }).click();
    const press = (name: string) => page.getByRole('button', { name }).first().click();
    await page.getByRole('heading', { name: 'Aircraft', exact: true }).waitFor();
    await expectOpen('Set-up, the aircraft');
    await press('Change the aircraft');
    await page.getByLabel('MAC', { exact: true }).fill('long');
    await press('Record the change');
    await page.getByText('is not a number').first().waitFor();
    await expectOpen('the aircraft, refused');
    await press('Cancel');
    await press('Move the datum');
    await page.getByLabel('By how much').fill('0.5 m');
    await page.getByText(/The arms of all/).click();
    await page.getByText('every arm becomes').waitFor();
    await expectOpen('the datum, as it would be moved');
    await press('Cancel');

    await section('Targets');
    await page
      .getByText(/9 groups/)
      .first()
      .click();
    await expectOpen('the revisions of the targets');
    for (const width of [1366, 1281, 1024]) {
      await page.setViewportSize({ width, height: 900 });
      await expect.poll(() => page.evaluate<number>('document.documentElement.scrollWidth')).toBe(width);
    }
    await page.setViewportSize({ width: 768, height: 1024 });
    await press('Revise the targets');
    await page.getByLabel('Empty-weight target').fill('820 kg');
    await page.getByText('Sure?').waitFor();
    await expectOpen('a target that is asked about');
    await page.getByLabel('Empty-weight target').fill('372 stone');
    await page.getByLabel('Target of wing').fill('65 stone');
    await press('Record the revision');
    await page.getByText('is not a unit that is known').nth(1).waitFor();
    await expectOpen('targets, refused');
    await press('Cancel');

    await section('Groups');
    await page.getByRole('heading', { name: 'Groups in use' }).waitFor();
    await expectOpen('the groups');
    await press('Add these to the list: By function');
    await page.getByRole('heading', { name: /^Revision/ }).waitFor();
    await expectOpen('a set of groups in the form');
    await press('Cancel');
    await section('Allowances');
    await page.getByText('common practice, no source: adjust to your shop.').waitFor();
    await expectOpen('the allowances');
    await press('Set the shop');
    await page.getByLabel('wiring, calculated').fill('9');
    await expectOpen('the allowances, as they are set');
    await press('Record the allowances');
    await page.getByText('the first of its own').waitFor();
    await expectOpen('the shop’s own allowances');
    await section('Scales');
    await press('Describe another scale');
    await page.getByLabel('Uncertainty on the certificate').fill('0.02 %');
    await press('Record the scale');
    await page.getByText('whether the uncertainty of the calibration').waitFor();
    await expectOpen('a scale, refused');
    await press('Cancel');
    await press('Record a check weight');
    await page.getByLabel('The check weight is').fill('5 kg');
    await page.getByLabel('The scale shows').fill('5.5 kg');
    await page.getByLabel('It passes within').fill('5 g');
    await press('Record the check weight');
    await page.getByText('Failed.').waitFor();
    await expectOpen('the scales, one that failed its check');
    await section('People');
    await page.getByRole('link', { name: 'Open People' }).waitFor();
    await expectOpen('who may what');
    await section('Verify the ledger');
    await press('Walk the ledger');
    await page.getByText('The ledger is whole.').waitFor();
    await expectOpen('the ledger, walked');
  });

  async function expectOpen(where: string): Promise<void> {
    await expectNoBarriers(page, where);
    await expectReflow(page, where);
  }
});
