/** Weighings without a server: kept on the tablet, sent once and in order, refused with words (rules O2 to O5). */
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { expectNoBarriers, expectReflow } from './barriers.ts';
import { beginBox, findPart, type Shop } from './box-shop.ts';
import { MortalServer, MortalTablet } from './cut-off.ts';
import { Gate } from './gate.ts';
import { LEAD, makeFirstAccount } from './shop-floor.ts';

type Entries = { entries: { seq: number; entry: { kind: string; partId?: string; netKg?: number } }[] };

const PATIENCE_MS = 40_000;

// Servers and browsers are killed and started over and over.
describe('weighings without a server', { timeout: 300_000 }, () => {
  let server: MortalServer;
  let gate: Gate;
  let tablet: MortalTablet;
  let page: Page;
  let shop: Shop;
  beforeAll(async () => {
    [server, tablet] = await Promise.all([MortalServer.start(), MortalTablet.make()]);
    gate = await Gate.before(server);
    page = await tablet.wake();
    page.setDefaultTimeout(PATIENCE_MS);
    await makeFirstAccount(page, { address: gate.address, code: server.code });
    await page.getByRole('heading', { name: 'How do you want to begin?' }).waitFor();
    shop = await beginBox(page, gate.address);
    await openWeigh();
    await page.evaluate('navigator.serviceWorker.ready.then(() => undefined)');
  }, 300_000);
  afterAll(async () => {
    await tablet.end();
    await gate.end();
    await server.end();
  });

  const openWeigh = async () => {
    await page.goto(`${shop.address}/weigh`);
    await page.getByLabel('Which part is on the scale?').waitFor();
  };
  const card = () => page.getByRole('region', { name: 'On this device, not in the ledger yet' });
  const items = () => card().getByRole('listitem');
  // Asked by the page that is there now: the one that began the aircraft has died.
  const get = async <Answer>(path: string): Promise<Answer> =>
    (await page.request.get(`${shop.address.replace('/aircraft/', '/api/aircraft/')}${path}`)).json();
  const weighings = async () =>
    (await get<Entries>('/entries?limit=50')).entries
      .filter(({ entry }) => entry.kind === 'weighing')
      .reverse()
      .map(({ entry }) => entry.netKg);
  /** The queue is empty; who is asked to sign in does. */
  const untilSent = async () => {
    const dialog = page.getByRole('dialog', { name: 'Your session has ended' });
    await expect
      .poll(
        async () => {
          if (await dialog.isVisible()) {
            await dialog.getByLabel('Password').fill(LEAD.password);
            await dialog.getByRole('button', { name: 'Sign in' }).click();
            await dialog.waitFor({ state: 'detached' });
          }
          return card().count();
        },
        { timeout: 60_000, interval: 500 },
      )
      .toBe(0);
  };
  const weigh = async (number: string, gross: string) => {
    await findPart(page, number);
    await page.getByText('trimmed', { exact: true }).click();
    await page.getByLabel('Gross', { exact: true }).fill(gross);
    const sure = page.getByRole('button', { name: 'The reading is right' });
    const save = page.getByRole('button', { name: 'Save the weighing' });
    await expect
      .poll(async () => (await sure.isVisible()) || (await save.isEnabled()), { timeout: PATIENCE_MS })
      .toBe(true);
    if (await sure.isVisible()) await sure.click();
    await save.click();
    await page.getByLabel('Which part is on the scale?').waitFor();
  };

  it('[O2] the app opens cold with no server; what is weighed is judged, kept over a reload and a dead battery, and goes up once, in order', async () => {
    await expect.poll(() => copied(page), { timeout: PATIENCE_MS }).toBeGreaterThan(7);
    await server.kill();
    await tablet.die();
    page = await tablet.wake();
    page.setDefaultTimeout(PATIENCE_MS);
    await openWeigh();
    await page.getByText('The server cannot be reached: parts and scales are those of').waitFor();
    await weigh('SKIN', '4.05');
    await page.getByText('Kept on this device:').waitFor();
    await page.getByText('1 weighing on this device waits to be sent.').waitFor();
    // The hands go on as after any other weighing (rule H3).
    const offered = (title: string) => page.getByRole('region', { name: title }).getByRole('button');
    await offered('Next on the scale').first().waitFor();
    expect(await offered('Next on the scale').allTextContents()).toEqual([expect.stringMatching(/^RIB/)]);
    expect(await offered('Weighed here last').allTextContents()).toEqual([
      expect.stringMatching(/^SKIN.*4\.05.kg, trimmed, piece.1: waits to be sent/),
    ]);

    await findPart(page, 'RIB');
    await page.getByText('trimmed', { exact: true }).click();
    await page.getByLabel('Gross', { exact: true }).fill('0.62');
    // By the rules of the ledger, from the copy on the device: 0.62 kg against 0.5 kg.
    await page.getByText('Judged on this device by the ledger as of entry').waitFor();
    await page.locator('.verdict-difference', { hasText: '+0.12' }).waitFor();
    await expectNoBarriers(page, 'a reading judged on the device');
    await page.getByRole('button', { name: '‹ Another part' }).click();
    await weigh('RIB', '0.52');
    // The first piece waits, so the second is offered.
    await weigh('RIB', '0.51');
    await page.getByText('3 weighings on this device wait to be sent.').waitFor();

    await page.reload();
    await expect.poll(() => items().count(), { timeout: PATIENCE_MS }).toBe(3);
    await tablet.die();
    page = await tablet.wake();
    page.setDefaultTimeout(PATIENCE_MS);
    await openWeigh();
    await expect
      .poll(() => items().allTextContents(), { timeout: PATIENCE_MS })
      .toEqual([
        expect.stringMatching(/SKIN.*4\.05.kg, trimmed, piece.1.*RL, Robin Lead, weighed/),
        expect.stringMatching(/RIB.*0\.52.kg, trimmed, piece.1/),
        expect.stringMatching(/RIB.*0\.51.kg, trimmed, piece.2/),
      ]);
    await expectNoBarriers(page, 'the queue');
    await expectReflow(page, 'the queue');
    await page.goto(`${shop.address}/ledger`);
    await page.getByText('3 weighings on this device wait to be sent.').waitFor();
    await page.getByRole('link', { name: 'See them on Weigh' }).click();

    await server.revive();
    await untilSent();
    expect(await weighings()).toEqual([4.05, 0.52, 0.51]);
    expect(await get('/verify')).toMatchObject({ ok: true });
  });

  it('[O2] an answer that is lost on its way back makes no second entry, nor do two tabs', async () => {
    const other = await page.context().newPage();
    await other.goto(`${shop.address}/weigh`);
    await other.getByLabel('Which part is on the scale?').waitFor();
    const before = gate.asked.length;
    let lost = 0;
    gate.loses = ({ method, url }) => {
      const isFirst = method === 'POST' && url?.endsWith('/entries') === true && lost === 0;
      if (isFirst) lost += 1;
      return isFirst;
    };
    await weigh('TIP', '0.31');
    await untilSent();
    await other.close();
    gate.loses = () => false;
    const posts = gate.asked.slice(before).filter(({ what }) => /^POST .*\/entries$/.test(what));
    expect(lost).toBe(1);
    expect(posts.map(({ status }) => status).slice(0, 2)).toEqual([201, 200]);
    expect((await weighings()).filter((netKg) => netKg === 0.31)).toEqual([0.31]);
  });
});

/** How many entries the device has a copy of. */
function copied(page: Page): Promise<number> {
  return page.evaluate(`new Promise((resolve, reject) => {
    const asked = indexedDB.open('tarebook');
    asked.onerror = () => reject(asked.error);
    asked.onsuccess = () => {
      const count = asked.result.transaction('entries').objectStore('entries').count();
      count.onsuccess = () => { asked.result.close(); resolve(count.result); };
    };
  })`);
}
