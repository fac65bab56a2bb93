/**
 * A tablet that has taken the shop's authority into its trust, before a server that serves https with it: the app is kept on it, opens with the server gone, and
 * what was weighed meanwhile goes up once (rules N11, O1 to O3).
 */
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { trustIn } from '#tests/support/trust.ts';
import { findPart, PARTS } from './box-shop.ts';
import { MortalServer, MortalTablet } from './cut-off.ts';
import { LEAD, makeFirstAccount } from './shop-floor.ts';

describe('weighing without a server, over https', { timeout: 300_000 }, () => {
  let server: MortalServer;
  let tablet: MortalTablet;
  let page: Page;
  beforeAll(async () => {
    [server, tablet] = await Promise.all([MortalServer.start('--tls', 'local'), MortalTablet.make()]);
    // The profile is made by the browser itself; it is changed while nobody has it.
    page = await tablet.wake();
    await page.goto('about:blank');
    await tablet.die();
    trustIn(tablet.folder, await readFile(join(server.folder, 'data', 'tls', 'authority.crt'), 'utf8'));
    page = await tablet.wake();
  }, 300_000);
  afterAll(async () => {
    await tablet.end();
    await server.end();
  });

  it('[O2] the app is kept over https, opens without the server, and what was weighed goes up once', async () => {
    expect(server.address).toMatch(/^https:/);
    await makeFirstAccount(page, server);
    await page.getByRole('heading', { name: 'How do you want to begin?' }).waitFor();
    const { id } = await post('/api/aircraft', { name: 'Shelduck', datum: 'the bow', massUnit: 'kg', lengthUnit: 'm' });
    for (const part of PARTS) await post(`/api/aircraft/${id}/entries`, { kind: 'part added', ...part });
    await post(`/api/aircraft/${id}/entries`, {
      kind: 'estimate',
      part: 'SKIN',
      estimate: '4 kg',
      allowance: '10 %',
      x: '3 m',
    });
    const weigh = `${server.address}/aircraft/${id}/weigh`;
    await page.goto(weigh);
    await page.getByLabel('Which part is on the scale?').waitFor();
    expect(await page.evaluate('isSecureContext')).toBe(true);
    await page.evaluate('navigator.serviceWorker.ready.then(() => undefined)');
    // The copy of the ledger is on the device once the worker and the page have fetched it.
    await page.reload();
    await page.getByLabel('Which part is on the scale?').waitFor();
    await page.waitForTimeout(3000);

    await server.kill();
    await tablet.die();
    page = await tablet.wake();
    await page.goto(weigh);
    await page.getByText('The server cannot be reached: parts and scales are those of').waitFor();
    await findPart(page, 'SKIN');
    await page.getByText('trimmed', { exact: true }).click();
    await page.getByLabel('Gross', { exact: true }).fill('4.05');
    const save = page.getByRole('button', { name: 'Save the weighing' });
    await expect.poll(() => save.isEnabled(), { timeout: 40_000 }).toBe(true);
    await save.click();
    await page.getByText('1 weighing on this device waits to be sent.').waitFor();

    await server.revive();
    // The battery was dead before the browser wrote its cookies down: who weighed may have to sign in again, and what waited goes up under their name.
    const dialog = page.getByRole('dialog', { name: 'Your session has ended' });
    const waits = page.getByRole('region', { name: 'On this device, not in the ledger yet' });
    const isSent = async () => {
      if (await dialog.isVisible()) {
        await dialog.getByLabel('Password').fill(LEAD.password);
        await dialog.getByRole('button', { name: 'Sign in' }).click();
        await dialog.waitFor({ state: 'detached' });
      }
      return (await waits.count()) === 0;
    };
    await expect.poll(isSent, { timeout: 90_000, interval: 500 }).toBe(true);
    const { entries } = (await page.evaluate(
      `fetch('/api/aircraft/${id}/entries?limit=50').then((answer) => answer.json())`,
    )) as { entries: { entry: { kind: string; netKg?: number } }[] };
    expect(entries.filter(({ entry }) => entry.kind === 'weighing').map(({ entry }) => entry.netKg)).toEqual([4.05]);
  });

  /** Asked by the page: it is the browser that trusts the server. */
  async function post(path: string, body: object): Promise<{ id: string }> {
    const sent = JSON.stringify('kind' in body ? { id: crypto.randomUUID(), ...body } : body);
    const answer = (await page.evaluate(
      `fetch(${JSON.stringify(path)}, { method: 'POST', headers: { 'content-type': 'application/json' }, body: ${JSON.stringify(sent)} })
        .then(async (answer) => ({ status: answer.status, told: await answer.json() }))`,
    )) as { status: number; told: { id: string } };
    expect(answer.status, JSON.stringify(answer.told)).toBe(201);
    return answer.told;
  }
});
