/** A weighing put right on the ledger screen. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeFirstAccount, openBrowser, type RunningServer, signIn, startServer } from './shop-floor.ts';

/** What the list or another program stated, and the dialog does not ask for. */
const KEPT = {
  scale: 'bench 1',
  fixture: 'cradle B',
  lot: 'roll 7',
  batch: 'resin 31',
  operator: 'WEO',
  cause: 'resin-rich',
  resolution: '0.002 kg',
};

describe('a correction', () => {
  let browser: Browser;
  let server: RunningServer;
  beforeAll(async () => {
    [browser, server] = await Promise.all([openBrowser(), startServer({ wantsCode: true })]);
  });
  afterAll(() => Promise.all([browser.close(), server.stop()]));

  it('[L2] says what the dialog was told, and keeps of the old entry what it does not ask for', async () => {
    const page = await (await browser.newContext({ reducedMotion: 'reduce' })).newPage();
    await makeFirstAccount(page, server);
    await page.getByRole('button', { name: 'Look round with Dabchick' }).click();
    await page.locator('.entry').first().waitFor({ timeout: 30_000 });
    const path = page.url().replace(/^.*\/aircraft\/([^/]+).*$/, '/api/aircraft/$1');
    const weighing = { kind: 'weighing', part: 'H-33', gross: '3.61 kg', tare: '0.2 kg', condition: 'trimmed' };
    const made = { temperature: '70 °F', humidity: '55 %' };
    const answer = await page.request.post(`${server.address}${path}/entries`, {
      data: { id: '5f0c6e0a-7f5f-4c1e-9a57-0a4ff0f0a001', ...weighing, ...KEPT, ...made },
    });
    expect(answer.status()).toBe(201);

    const seq = ((await answer.json()) as { entry: { seq: number } }).entry.seq;
    await page.getByRole('button', { name: `Correct entry ${seq}` }).click();
    await page.getByLabel('Gross', { exact: true }).fill('3.16 kg');
    await page.getByLabel('Reason').fill('digits turned round');
    await page.getByRole('button', { name: 'Record the correction' }).click();
    await page.getByText(`Correction of ${seq}`).waitFor();
    await page.getByRole('dialog').waitFor({ state: 'detached' });

    const { resolution: _, ...stated } = KEPT;
    expect(await newest(page, `${server.address}${path}/entries?limit=1`)).toMatchObject({
      kind: 'correction',
      reason: 'digits turned round',
      replacement: {
        statement: {
          ...stated,
          condition: 'trimmed',
          grossResolutionKg: 0.002,
          humidityFraction: 0.55,
          readings: [{ grossKg: 3.16, tareKg: 0.2, typed: { gross: '3.16 kg', tare: '0.2 kg' } }],
          typed: made,
        },
      },
    });
    await page.context().close();
  });

  it('[W4] is judged before it is sent, and a slip that it looks like is asked about', async () => {
    const page = await (await browser.newContext({ reducedMotion: 'reduce' })).newPage();
    await signIn(page, server.address);
    await page.locator('.entry').first().waitFor({ timeout: 30_000 });
    const path = page.url().replace(/^.*\/aircraft\/([^/]+).*$/, '/api/aircraft/$1');
    const entries = `${server.address}${path}/entries`;
    const weighing = { kind: 'weighing', part: 'H-33', gross: '3.38 kg', condition: 'fitted' };
    const answer = await page.request.post(entries, {
      data: { id: '5f0c6e0a-7f5f-4c1e-9a57-0a4ff0f0a002', ...weighing },
    });
    const { seq } = ((await answer.json()) as { entry: { seq: number } }).entry;
    await page.getByRole('button', { name: `Correct entry ${seq}` }).click();
    const dialog = page.getByRole('dialog');
    const judgement = dialog.getByRole('region', { name: 'Judgement' });
    await judgement.getByText('Projected installed').waitFor();
    // The entry itself is not "the same reading again".
    expect(await judgement.textContent()).not.toContain('Sure?');

    await dialog.getByLabel('Gross', { exact: true }).fill('3380 kg');
    await dialog.getByLabel('Reason').fill('the display showed grams');
    await dialog.getByRole('button', { name: 'Record the correction' }).click();
    await judgement.getByText('kilograms were typed').waitFor();
    const showed = judgement.getByRole('button', { name: 'The scale showed g' });
    await expect.poll(() => showed.evaluate((button) => button.matches(':focus'))).toBe(true);
    expect(await newest(page, `${entries}?limit=1`)).toMatchObject({ kind: 'weighing' });

    await showed.click();
    expect(await dialog.getByLabel('Gross', { exact: true }).inputValue()).toBe('3380 g');
    await judgement.getByText('Sure?').waitFor({ state: 'detached' });
    await dialog.getByRole('button', { name: 'Record the correction' }).click();
    await dialog.waitFor({ state: 'detached' });
    expect(await newest(page, `${entries}?limit=1`)).toMatchObject({ kind: 'correction' });
    await page.context().close();
  });
});

async function newest(page: Page, address: string): Promise<unknown> {
  const { entries } = (await (await page.request.get(address)).json()) as { entries: { entry: unknown }[] };
  return entries[0]?.entry;
}
