/** On Set-up a lead closes an aircraft to all but the named, and finds that in the list of who did what. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, it } from 'vitest';
import { expectNoBarriers, expectReflow } from './barriers.ts';
import { beginBox } from './box-shop.ts';
import { openShop, type RunningServer } from './shop-floor.ts';

describe('access', () => {
  let browser: Browser;
  let server: RunningServer;
  let page: Page;
  beforeAll(async () => {
    ({ browser, server, page } = await openShop({ width: 360, height: 900 }));
    await page.getByRole('button', { name: 'your account' }).waitFor();
  });
  afterAll(() => Promise.all([browser.close(), server.stop()]));

  it('[N17] a lead names who may see a closed aircraft, on a phone, without a barrier', {
    timeout: 120_000,
  }, async () => {
    const shop = await beginBox(page, server.address);
    const account = {
      name: 'Kim Crew',
      initials: 'KC',
      role: 'crew',
      aircraft: 'all',
      password: 'a long enough password',
    };
    await page.request.post(`${server.address}/api/people`, { data: account });
    await page.goto(`${shop.address}/set-up/access`);
    await page.getByText('● Open to everybody, as set.').waitFor();
    await page.getByText('Closed to all but the named').first().click();
    await page.getByLabel('Kim Crew may').selectOption('see');
    await expectNoBarriers(page);
    await expectReflow(page, 'access');
    await page.getByRole('button', { name: 'Set who may see it' }).click();
    await page.getByText('● Closed to all but the named, as set.').waitFor();
    await page.reload();
    await page.getByText('● Closed to all but the named, as set.').waitFor();

    // [N18] The act stands in the list, with who is named.
    await page.goto(`${shop.address}/set-up/acts`);
    await page.getByText('changed who may see and write').waitFor();
    await page.getByText('closed to all but the named; to see: KC').waitFor();
    await expectNoBarriers(page);
    await expectReflow(page, 'who did what');
  });
});
