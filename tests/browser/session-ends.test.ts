/**
 * A session that ends while somebody is typing. It ends on the server, as it does after half a day without use; the page learns of
 * it from a refusal, and what was typed must outlive that.
 */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { settled, watch } from '#tests/pictures/settled.ts';
import { makeDatabase, onServer } from '#tests/support/engines.ts';
import { LEAD, makeFirstAccount, openBrowser, type RunningServer, startServer } from './shop-floor.ts';

const NOTE = 'two spots of dry cloth at the trailing edge';

describe('a session that ends in mid-form', () => {
  let browser: Browser;
  let server: RunningServer;
  let url: string;
  beforeAll(async () => {
    url = await makeDatabase();
    [browser, server] = await Promise.all([openBrowser(), startServer({ url, wantsCode: true })]);
  });
  afterAll(() => Promise.all([browser.close(), server.stop()]));

  it('[N2] loses nothing that was typed on Weigh, and after a new sign-in the weighing is saved, once', {
    timeout: 120_000,
  }, async () => {
    const page = await (
      await browser.newContext({ viewport: { width: 768, height: 1024 }, reducedMotion: 'reduce' })
    ).newPage();
    watch(page);
    await page.clock.install();
    await makeFirstAccount(page, server);
    await page.getByRole('button', { name: 'Look round with Dabchick' }).click();
    await page.getByRole('heading', { name: /^Dabchick/ }).waitFor({ timeout: 30_000 });
    await page.getByRole('link', { name: 'Weigh', exact: true }).click();
    await page.getByLabel('Which part is on the scale?').fill('canopy frame');
    await page.locator('.part-buttons button').first().click();
    await page.getByText('trimmed', { exact: true }).click();
    await page.getByText('lb', { exact: true }).click();
    await page.getByLabel('Gross').fill('10.');
    await page.getByLabel('Tare (fixture)').fill('1.25');
    await page.getByLabel('Gross').press('End');
    await page.getByLabel('Gross').pressSequentially('2');
    await page.getByLabel('Why?').selectOption('resin-rich');
    await page.getByLabel('Note').fill(NOTE);

    // A key, or the save, is the first thing that the server refuses.
    await settled(page);
    await letSessionsGrowOld(url);
    await page.getByRole('button', { name: '5', exact: true }).click();
    await signInAgain(page);
    await expectAsTyped(page);

    await expect.poll(() => page.getByRole('button', { name: 'Save the weighing' }).isEnabled()).toBe(true);
    // Nothing else that the page still asks is to be refused before it.
    await settled(page);
    await letSessionsGrowOld(url);
    await page.getByRole('button', { name: 'Save the weighing' }).click();
    await signInAgain(page);
    await expectAsTyped(page);

    // Or the tablet was laid down overnight, and asks for everything anew when it wakes.
    await letSessionsGrowOld(url);
    await page.clock.fastForward('13:00:00');
    await page.evaluate(`document.dispatchEvent(new Event('visibilitychange', { bubbles: true }))`);
    await signInAgain(page);
    await expectAsTyped(page);

    await expect.poll(() => page.getByRole('button', { name: 'Save the weighing' }).isEnabled()).toBe(true);
    await page.getByRole('button', { name: 'Save the weighing' }).click();
    await page.getByText(/is entry \d+/).waitFor();

    await page.getByRole('link', { name: 'Ledger' }).click();
    await page.getByLabel('Search the entries').fill(NOTE);
    const kept = page.locator('.entry', { hasText: NOTE });
    await expect.poll(() => page.locator('.entry').count()).toBe(1);
    expect((await kept.textContent())?.replaceAll('\u00a0', ' ')).toContain('trimmed, 10.25 lb − 1.25 lb');
    await page.context().close();
  });
});

/** Half a day without use, for everybody who is signed in. */
async function letSessionsGrowOld(url: string): Promise<void> {
  await onServer((client) => client.query(`update session set last_seen_at = now() - interval '13 hours'`), url);
}

async function signInAgain(page: Page): Promise<void> {
  const dialog = page.getByRole('dialog', { name: 'Your session has ended' });
  await dialog.waitFor();
  expect(await dialog.getByLabel('Name').inputValue()).toBe(LEAD.name);
  await dialog.getByLabel('Password').fill(LEAD.password);
  await dialog.getByRole('button', { name: 'Sign in' }).click();
  await dialog.waitFor({ state: 'detached' });
}

async function expectAsTyped(page: Page): Promise<void> {
  expect(await page.getByRole('heading', { level: 2 }).first().textContent()).toContain('Canopy frame');
  expect(await page.getByLabel('Gross').inputValue()).toBe('10.25');
  expect(await page.getByLabel('Tare (fixture)').inputValue()).toBe('1.25');
  expect(await page.getByRole('radio', { name: 'trimmed' }).isChecked()).toBe(true);
  expect(await page.getByRole('radio', { name: 'lb' }).isChecked()).toBe(true);
  // Why and note stand below the judgement, which comes back by itself.
  await page.getByLabel('Why?').waitFor();
  expect(await page.getByLabel('Why?').inputValue()).toBe('resin-rich');
  expect(await page.getByLabel('Note').inputValue()).toBe(NOTE);
}
