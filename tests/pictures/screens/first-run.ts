/** What a newcomer meets, before there is anybody or any aircraft: from a store of its own. */
import type { Browser } from 'playwright-core';
import { LEAD, makeFirstAccount, startServer } from '#tests/browser/shop-floor.ts';
import { type Look, shoot } from '../shoot.ts';

export const FIRST_RUN = ['first-run', 'first-run-refused', 'first-choice'] as const;

export async function takeFirstRun(browser: Browser, look: Look): Promise<void> {
  const server = await startServer({ wantsCode: true });
  try {
    const page = await (await browser.newContext({ reducedMotion: 'reduce', serviceWorkers: 'block' })).newPage();
    await page.goto(server.address);
    await page.getByLabel('Code from the console').waitFor();
    await shoot(page, 'first-run', look);
    await page.getByLabel('Code from the console').fill('WRONG-CODE');
    await page.getByLabel('Your name').fill(LEAD.name);
    await page.getByLabel('Initials').fill(LEAD.initials);
    await page.getByLabel('Password').fill('short');
    await page.getByRole('button', { name: 'Make the account' }).click();
    await page.getByText('10 characters').nth(1).waitFor();
    await shoot(page, 'first-run-refused', look);
    await makeFirstAccount(page, server);
    await page.getByRole('heading', { name: 'How do you want to begin?' }).waitFor();
    await shoot(page, 'first-choice', look);
    await page.context().close();
  } finally {
    await server.stop();
  }
}
