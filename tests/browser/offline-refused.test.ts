/** What becomes of a weighing that is refused on arrival, of another person's, and where the device can keep nothing (rules O4, O5). */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeDatabase } from '#tests/support/engines.ts';
import { expectNoBarriers, expectReflow } from './barriers.ts';
import { beginBox, findPart, PARTS, type Shop } from './box-shop.ts';
import { Gate } from './gate.ts';
import { LEAD, makeFirstAccount, openBrowser, type RunningServer, startServer } from './shop-floor.ts';

type Entries = { entries: { seq: number; entry: { kind: string; by: string; number?: string; netKg?: number } }[] };

const PATIENCE_MS = 40_000;
const CREW = { name: 'Kim Crew', initials: 'KC', password: 'another long password' };

const TABLET = { viewport: { width: 820, height: 1180 }, reducedMotion: 'reduce' } as const;

describe('what the server does not take', { timeout: 300_000 }, () => {
  let browser: Browser;
  let server: RunningServer;
  let gate: Gate;
  let page: Page;
  let shop: Shop;
  beforeAll(async () => {
    const url = await makeDatabase();
    [browser, server] = await Promise.all([openBrowser(), startServer({ url, wantsCode: true })]);
    gate = await Gate.before({ port: Number(new URL(server.address).port) });
    page = await (await browser.newContext(TABLET)).newPage();
    page.setDefaultTimeout(PATIENCE_MS);
    await makeFirstAccount(page, { address: gate.address, code: server.code });
    await page.getByRole('heading', { name: 'How do you want to begin?' }).waitFor();
    shop = await beginBox(page, gate.address);
    const made = await page.request.post(`${gate.address}/api/people`, {
      data: { ...CREW, role: 'crew', aircraft: 'all' },
    });
    expect(made.status()).toBe(201);
    await page.goto(`${shop.address}/weigh`);
    await finder().waitFor();
    // Before the app is kept on the device, the way to the server cannot be cut: what Weigh shows next would have to come through it.
    await page.evaluate('navigator.serviceWorker.ready.then(() => undefined)');
    await page.waitForFunction('navigator.serviceWorker.controller !== null');
  }, 300_000);
  afterAll(async () => {
    await browser.close();
    await gate.end();
    await server.stop();
  });

  const finder = () => page.getByLabel('Which part is on the scale?');
  const card = () => page.getByRole('region', { name: 'On this device, not in the ledger yet' });
  const items = () => card().getByRole('listitem');
  const press = (name: string) => page.getByRole('button', { name, exact: true }).click();
  const entries = async () => (await shop.get<Entries>('/entries?limit=60')).entries;
  const weighed = async () => (await entries()).flatMap(({ entry }) => (entry.kind === 'weighing' ? [entry] : []));
  /** Also where it is asked about first. */
  const pressSave = async () => {
    const sure = page.getByRole('button', { name: 'The reading is right' });
    const button = page.getByRole('button', { name: 'Save the weighing' });
    await expect
      .poll(async () => (await sure.isVisible()) || (await button.isEnabled()), { timeout: PATIENCE_MS })
      .toBe(true);
    if (await sure.isVisible()) await sure.click();
    await button.click();
  };
  const weigh = async (number: string, gross: string, piece?: number) => {
    await findPart(page, number);
    if (piece !== undefined) await page.getByText(`${piece}`, { exact: true }).first().click();
    await page.getByText('trimmed', { exact: true }).click();
    await page.getByLabel('Gross', { exact: true }).fill(gross);
    await pressSave();
    await finder().waitFor();
  };

  it('[O4] shows the refusal with its remedy to who weighed; its part waits, others go on; put right it goes in, dropped it is asked about', async () => {
    // The rib had two pieces when the tablet last heard of it; in the meantime it has one.
    const rib = (await entries()).find(({ entry }) => entry.kind === 'part added' && entry.number === 'RIB');
    gate.shut();
    await weigh('RIB', '0.52');
    await weigh('RIB', '0.51');
    await weigh('SKIN', '4.05');
    expect(await items().count()).toBe(3);
    const fewer = { ...PARTS[2], quantity: '1' };
    const direct = await page.request.post(`${server.address}/api/sign-in`, {
      data: { name: LEAD.name, password: LEAD.password },
    });
    expect(direct.status()).toBe(200);
    const corrected = await page.request.post(
      `${server.address}${new URL(shop.address).pathname.replace('/aircraft', '/api/aircraft')}/entries`,
      {
        data: { kind: 'correction', id: crypto.randomUUID(), entry: rib?.seq, reason: 'one rib', replacement: fewer },
      },
    );
    expect(corrected.status(), await corrected.text()).toBe(201);
    gate.open();
    await press('Send now');
    await expect.poll(() => items().count(), { timeout: PATIENCE_MS }).toBe(1);
    const refused = items().first();
    await refused.getByRole('alert').filter({ hasText: 'Not taken.' }).waitFor();
    expect(await refused.textContent()).toMatch(/RIB.*piece.2/);
    expect((await refused.getByRole('alert').textContent())?.length).toBeGreaterThan(40);
    await page.getByText('1 weighing was not taken.').waitFor();
    await expectNoBarriers(page, 'a refused weighing');
    await expectReflow(page, 'a refused weighing');
    expect((await weighed()).map(({ netKg }) => netKg)).toEqual([4.05, 0.52]);

    // Put right by keyboard alone, it stays at its place until it is in.
    await refused.getByRole('button', { name: 'Put it right' }).focus();
    await page.keyboard.press('Enter');
    await page.getByText('and not taken:').waitFor();
    expect(await page.getByLabel('Gross', { exact: true }).inputValue()).toBe('0.51');
    await expectNoBarriers(page, 'a refused weighing that is put right');
    await page.getByRole('button', { name: '‹ Another part' }).click();
    await finder().waitFor();
    expect(await items().count()).toBe(1);

    await items()
      .first()
      .getByRole('button', { name: /^Drop it/ })
      .click();
    const question = page.getByRole('dialog', { name: 'Drop this weighing of RIB?' });
    await question.waitFor();
    await expectNoBarriers(page, 'dropping a weighing');
    await question.getByRole('button', { name: 'Keep it' }).click();
    expect(await items().count()).toBe(1);
    // The engineer has added the piece after all: sent again as it is, it goes in.
    const again = (await entries()).find(({ entry }) => entry.kind === 'correction');
    await shop.send({
      kind: 'correction',
      entry: again?.seq,
      reason: 'two after all',
      replacement: { ...fewer, quantity: '2' },
    });
    await press('Send it again as it is');
    await expect.poll(() => card().count(), { timeout: PATIENCE_MS }).toBe(0);
    expect((await weighed()).map(({ netKg }) => netKg)).toEqual([0.51, 4.05, 0.52]);
  });

  it('[O5] [O4] signing out warns of what waits and keeps it; it goes in under the name of who weighed it, and not under another', async () => {
    gate.shut();
    await weigh('TIP', '0.31');
    // Somebody else has signed in on another page of this browser.
    const signedIn = await page.request.post(`${server.address}/api/sign-in`, {
      data: { name: CREW.name, password: CREW.password },
    });
    expect(signedIn.status()).toBe(200);
    gate.open();
    await press('Send now');
    await card().getByText('Somebody else has signed in on another page').waitFor();
    await page.reload();
    await page.getByText('1 weighing of RL waits until RL signs in here.').waitFor();
    await card().getByText('it goes in under their name').waitFor();
    await expectNoBarriers(page, 'a weighing of another person');
    expect((await weighed()).map(({ netKg }) => netKg)).not.toContain(0.31);

    gate.shut();
    await weigh('SKIN', '4.10');
    await page.getByRole('button', { name: /^KC/ }).click();
    await press('Sign out');
    const warning = page.getByRole('dialog', { name: 'Sign out with weighings not sent?' });
    await warning.getByText('1 weighing of yours is on this device').waitFor();
    await expectNoBarriers(page, 'signing out with weighings not sent');
    await warning.getByRole('button', { name: 'Stay signed in' }).click();
    await warning.waitFor({ state: 'detached' });
    // The account it was asked from is open behind it; it hears a key once it has the keyboard again.
    const isShut = async () => {
      await page.keyboard.press('Escape');
      return page.getByRole('button', { name: 'Sign out', exact: true }).count();
    };
    await expect.poll(isShut, { timeout: PATIENCE_MS, interval: 300 }).toBe(0);
    gate.open();
    await expect.poll(() => items().count(), { timeout: PATIENCE_MS }).toBe(1);

    await page.getByRole('button', { name: /^KC/ }).click();
    await press('Sign out');
    await page.getByText('1 weighing of RL waits until RL signs in here.').waitFor();
    await page.getByLabel('Name').fill(LEAD.name);
    await page.getByLabel('Password').fill(LEAD.password);
    await press('Sign in');
    await expect
      .poll(weighed, { timeout: PATIENCE_MS })
      .toEqual(
        expect.arrayContaining([
          expect.objectContaining({ netKg: 0.31, by: 'RL' }),
          expect.objectContaining({ netKg: 4.1, by: 'KC' }),
        ]),
      );
  });

  it('[O5] a device with no room says so on Weigh before anybody relies on it, and sends all the same', async () => {
    // What a browser does when the disk is full, without filling this machine's.
    await page.addInitScript(`IDBObjectStore.prototype.put = () => {
      throw new DOMException('The quota has been exceeded.', 'QuotaExceededError');
    }`);
    await page.goto(`${shop.address}/weigh`);
    await page.getByRole('alert').filter({ hasText: 'This device has no room left' }).waitFor();
    await expectNoBarriers(page, 'a device with no room');
    await weigh('TIP', '0.32');
    await page.getByText(/is entry \d+/).waitFor();
    gate.shut();
    await findPart(page, 'TIP');
    await page.getByLabel('Gross', { exact: true }).fill('0.33');
    await pressSave();
    await page.getByText('Not saved yet: the server cannot be reached.').waitFor();
    gate.open();
  });
});
