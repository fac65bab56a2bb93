/** The pages to hang up: each on one sheet, whatever the paper, and without a barrier on the screen. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { expectNoBarriers, expectReflow } from './barriers.ts';
import { makeFirstAccount, openBrowser, type RunningServer, startServer } from './shop-floor.ts';

describe('the pages to hang up', () => {
  let browser: Browser;
  let server: RunningServer;
  let page: Page;
  beforeAll(async () => {
    [browser, server] = await Promise.all([openBrowser(), startServer({ wantsCode: true })]);
    page = await browser.newPage();
    await makeFirstAccount(page, server);
    await page.getByRole('heading', { name: 'How do you want to begin?' }).waitFor();
  });
  afterAll(async () => {
    await browser.close();
    await server.stop();
  });

  it.each([
    ['One page for the crew', 'A part on the scale'],
    ['One page for the lead', 'The weight of the aircraft'],
  ])(
    '[V1] "%s" is reached from the foot of any page and prints on one sheet',
    { timeout: 60_000 },
    async (link, title) => {
      await page.goto(server.address);
      await page.getByRole('link', { name: link }).click();
      await page.getByRole('heading', { level: 1, name: title }).waitFor();
      await expectNoBarriers(page, link);
      await expectReflow(page, link);
      for (const format of ['A4', 'Letter']) {
        const pdf = await page.pdf({ format, margin: { top: '12mm', bottom: '12mm', left: '14mm', right: '14mm' } });
        expect(sheetsOf(pdf), `${link} on ${format}`).toBe(1);
      }
    },
  );
});

/** Chromium names every sheet as an object of its own. */
function sheetsOf(pdf: Buffer): number {
  return pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)?.length ?? 0;
}
