/** The pages to hang up: each on one sheet, whatever the paper, and without a barrier on the screen. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Condition } from '#shared/ledger/entry.ts';
import { expectNoBarriers, expectReflow } from './barriers.ts';
import { makeFirstAccount, openBrowser, type RunningServer, startServer } from './shop-floor.ts';

const CONDITIONS = Condition.options;

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
    // As the buttons of Weigh and the fields of Set-up have it.
    [
      'One page for the crew',
      'A part on the scale',
      [`${CONDITIONS.slice(0, -1).join(', ')} or ${CONDITIONS.at(-1)}.`, '“Check weight”, beside the search'],
    ],
    ['One page for the lead', 'The weight of the aircraft', ['targets for empty weight and CG with a reserve']],
  ])(
    '[V1] "%s" is reached from the foot of any page and prints on one sheet',
    { timeout: 60_000 },
    async (link, title, says) => {
      await page.goto(server.address);
      await page.getByRole('link', { name: link }).click();
      await page.getByRole('heading', { level: 1, name: title }).waitFor();
      for (const words of says) await page.getByText(words).waitFor();
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
