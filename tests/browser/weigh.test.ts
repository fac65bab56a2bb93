/** The Weigh screen with slips at it: what it asks, the answers it offers, and what outlives leaving it (rules W4, W9). */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { expectNoBarriers, expectReflow } from './barriers.ts';
import { beginBox, type Shop } from './box-shop.ts';
import { makeFirstAccount, openBrowser, type RunningServer, startServer } from './shop-floor.ts';

type Newest = { seq: number; entries: { entry: Record<string, unknown> }[] };

describe('slips at the scale', () => {
  let browser: Browser;
  let server: RunningServer;
  let page: Page;
  let shop: Shop;
  beforeAll(async () => {
    [browser, server] = await Promise.all([openBrowser(), startServer({ wantsCode: true })]);
    const context = await browser.newContext({ viewport: { width: 820, height: 1180 }, reducedMotion: 'reduce' });
    page = await context.newPage();
    page.setDefaultTimeout(20_000);
    await makeFirstAccount(page, server);
    await page.getByRole('heading', { name: 'How do you want to begin?' }).waitFor();
    shop = await beginBox(page, server.address);
  });
  beforeEach(() => page.goto(`${shop.address}/weigh`));
  afterAll(() => Promise.all([browser.close(), server.stop()]));

  const gross = () => page.getByLabel('Gross', { exact: true });
  const question = () => page.getByRole('alert').filter({ hasText: 'Sure?' });
  const press = (name: string) => page.getByRole('button', { name, exact: true }).click();
  const condition = (name: string) => page.getByText(name, { exact: true }).click();
  const isChosen = (name: string) => page.getByRole('radio', { name }).isChecked();
  const newest = () => shop.get<Newest>('/entries?limit=1');
  async function open(number: string): Promise<void> {
    await page.getByLabel('Which part is on the scale?').fill(number);
    await page.locator('.part-buttons button').first().click();
    await page.getByRole('heading', { name: new RegExp(`^${number}`) }).waitFor();
  }

  it('[W4] figures typed after a press on a condition go to the highlighted field, a note keeps its own', async () => {
    await open('SKIN');
    await condition('trimmed');
    await page.keyboard.type('5,05');
    expect(await gross().inputValue()).toBe('5,05');
    await condition('trimmed');
    await page.keyboard.press('Backspace');
    expect(await gross().inputValue()).toBe('5,0');
    await page.getByLabel('Tare (fixture)').focus();
    await condition('trimmed');
    await page.keyboard.type('0.5');
    expect(await page.getByLabel('Tare (fixture)').inputValue()).toBe('0.5');
    await page.getByLabel('Note').fill('bay ');
    await page.keyboard.type('7');
    expect(await page.getByLabel('Note').inputValue()).toBe('bay 7');
    expect(await gross().inputValue()).toBe('5,0');
  });

  it('[W4] the part stands in the address, and the reading is kept over back, a new load and another part', async () => {
    await page.getByText('Typed today and not saved yet').waitFor();
    await press('SKIN: 5,0 kg');
    await page.getByText('Typed before and not saved yet').waitFor();
    expect(page.url()).toContain('/weigh?part=SKIN');
    const asTyped = async () => {
      await page.getByText('Typed before and not saved yet').waitFor();
      expect([await gross().inputValue(), await page.getByLabel('Tare (fixture)').inputValue()]).toEqual([
        '5,0',
        '0.5',
      ]);
      expect(await isChosen('trimmed')).toBe(true);
      await page.getByLabel('Note').waitFor();
      expect(await page.getByLabel('Note').inputValue()).toBe('bay 7');
    };
    await asTyped();
    await page.reload();
    await asTyped();
    await expectNoBarriers(page, 'a reading that was kept');
    await page.goBack();
    await page.getByLabel('Which part is on the scale?').waitFor();
    await page.goForward();
    await asTyped();
    await press('‹ Another part');
    await expectNoBarriers(page, 'a reading that is not saved yet');
    await open('SKIN');
    await asTyped();
    await press('Drop it');
    expect(await gross().inputValue()).toBe('');
    await page.reload();
    await gross().waitFor();
    expect(await gross().inputValue()).toBe('');
    expect(await page.getByText('Typed before').count()).toBe(0);
  });

  it('[W4] what is saved is told with net, flag and projection, leads to its entry, and is corrected from there', async () => {
    await open('SKIN');
    await condition('fitted');
    await gross().fill('4.5');
    await page.getByText('drifting heavy').first().waitFor();
    await press('Save the weighing');
    const saved = page.getByRole('status').filter({ hasText: 'Saved: ' });
    await saved.waitFor();
    const { seq } = await newest();
    const words = (await saved.textContent())?.replaceAll('\u00a0', ' ');
    expect(words).toContain(`Saved: SKIN is entry ${seq}. Net 4.500 kg, fitted. Projected installed 4.500 kg.`);
    expect(words).toContain('drifting heavy +0.500 kg');
    expect(await saved.getByRole('link', { name: `entry ${seq}` }).getAttribute('href')).toContain(`entry=${seq}`);
    expect(page.url()).not.toContain('part=');
    expect(await page.getByText('Typed today').count()).toBe(0);
    await expectNoBarriers(page, 'a weighing that is saved');
    await expectReflow(page, 'a weighing that is saved');

    await press('Correct it');
    const dialog = page.getByRole('dialog', { name: `Correct entry ${seq}` });
    await dialog.getByLabel('Gross', { exact: true }).fill('4.1');
    await dialog.getByLabel('Reason').fill('misread');
    await dialog.getByRole('button', { name: 'Record the correction' }).click();
    await page.getByText(`Recorded: entry ${seq + 1}`).waitFor();
    expect((await newest()).entries[0]?.entry).toMatchObject({ kind: 'correction' });
  });

  it('[W9] what will not count is told before it is saved, with the ways out', async () => {
    await open('SKIN');
    await page.getByText(/Last weighed 4\.100\skg, fitted/).waitFor();
    // What it was last weighed in is chosen already.
    expect(await isChosen('fitted')).toBe(true);
    const { seq } = await newest();
    await condition('as released');
    await page.keyboard.type('4');
    await question().waitFor();
    expect((await question().textContent())?.replaceAll('\u00a0', ' ')).toContain(
      `This will not count: a fitted weighing of 4.100 kg stands (entry ${seq}).`,
    );
    expect(await page.getByRole('button', { name: 'Save the weighing' }).isDisabled()).toBe(true);
    await expectNoBarriers(page, 'a weighing that will not count');
    await press(`Correct entry ${seq}`);
    await page.getByRole('dialog', { name: `Correct entry ${seq}` }).waitFor();
    await page.getByRole('button', { name: 'Cancel' }).click();
    await press('It was weighed finished');
    await question().waitFor({ state: 'detached' });
    expect(await isChosen('finished')).toBe(true);
    await condition('trimmed');
    await press('Keep it, although it does not count');
    await press('Save the weighing');
    await page.getByText('It does not count: a weighing in a later condition stands.').waitFor();
    expect((await newest()).entries[0]?.entry).toMatchObject({ kind: 'weighing', condition: 'trimmed' });
  });

  it('[W4] a weighing that takes the place of another asks, and the same again need not be saved', async () => {
    const { seq } = await newest();
    await open('SKIN');
    await gross().fill('3.95');
    await question().getByText('It takes the place of entry').waitFor();
    await gross().fill('4.1');
    await question().getByText('of the same day says the same').waitFor();
    await press('It is entered twice: do not save');
    await page.getByLabel('Which part is on the scale?').waitFor();
    expect(await page.getByText('Typed today').count()).toBe(0);
    expect((await newest()).seq).toBe(seq);
  });

  it('[W4] all pieces on the scale are ticked by the answer that says so, large enough for a glove', async () => {
    await open('RIB');
    // Nothing of its process was weighed yet.
    expect(await page.getByRole('radio', { checked: true }).count()).toBe(1);
    const all = page.getByRole('button', { name: 'both', exact: true });
    const one = page.getByRole('button', { name: 'piece 1', exact: true });
    expect((await all.boundingBox())?.height).toBe((await one.boundingBox())?.height);
    await condition('trimmed');
    await gross().fill('1.02');
    await press('All 2 pieces stood on the scale');
    await question().waitFor({ state: 'detached' });
    await page.getByRole('region', { name: 'Judgement' }).getByText('in line').waitFor();
    await press('Save the weighing');
    await page.getByText('Saved: RIB, all 2 pieces, is entry').waitFor();
    expect((await newest()).entries[0]?.entry).toMatchObject({ pieces: [1, 2], netKg: 1.02 });
  });

  it('[H5] of several pieces the first touch takes the place of the one that is offered, and what is saved names it', async () => {
    const piece = (at: number) => page.getByRole('button', { name: new RegExp(`^piece ${at}`) });
    const pressed = async () =>
      Promise.all([1, 2, 3].map(async (at) => (await piece(at).getAttribute('aria-pressed')) === 'true'));
    await shop.send({
      kind: 'part added',
      number: 'LUG',
      name: 'Lug',
      group: 'tail',
      process: 'machined',
      quantity: '3',
    });
    await shop.send({ kind: 'estimate', part: 'LUG', estimate: '0.2 kg' });
    await page.goto(`${shop.address}/weigh?part=LUG`);
    await page.getByText('Which pieces are on the scale?').waitFor();
    expect(await pressed()).toEqual([true, false, false]);
    await piece(2).click();
    expect(await pressed()).toEqual([false, true, false]);
    await piece(3).click();
    expect(await pressed()).toEqual([false, true, true]);
    await piece(3).click();
    await condition('finished');
    await gross().fill('0.2');
    await page.getByRole('region', { name: 'Judgement' }).getByText('in line').waitFor();
    await press('Save the weighing');
    await page.getByText('Saved: LUG piece 2 is entry').waitFor();
    // A label names its piece: what is touched then comes to it.
    await page.goto(`${shop.address}/weigh?part=LUG&piece=3`);
    await piece(1).click();
    expect(await pressed()).toEqual([true, false, true]);
  });

  it('[W4] a figure that fits a part of nearly the same number goes over to that part', async () => {
    await shop.send({ kind: 'part added', number: 'RIM', name: 'Rim', group: 'tail', process: 'wet lay-up' });
    await shop.send({ kind: 'estimate', part: 'RIM', estimate: '0.3 kg', allowance: '10 %' });
    await page.reload();
    await open('RIB');
    await gross().fill('0.3');
    await press('It was RIM');
    await page.getByRole('heading', { name: /^RIM/ }).waitFor();
    expect(await gross().inputValue()).toBe('0.3');
    await page.getByRole('region', { name: 'Judgement' }).getByText('in line').waitFor();
    // The shop last weighed a part of this process trimmed.
    expect(await isChosen('trimmed')).toBe(true);
    await press('Save the weighing');
    await page.getByText('Saved: RIM is entry').waitFor();
    expect(await page.getByText('Typed today').count()).toBe(0);
  });

  it('[W4] that the allowance makes the predicted weight fall is said where it does, and not of a correction', async () => {
    const falls = page.getByText('needs no allowance any more');
    await open('TIP');
    await condition('finished');
    await gross().fill('0.31');
    await falls.waitFor();
    await press('Save the weighing');
    await page.getByText('Saved: TIP is entry').waitFor();
    await press('Correct it');
    const dialog = page.getByRole('dialog');
    await dialog.getByLabel('Gross', { exact: true }).fill('0.305');
    await dialog.getByText(/Projected installed: 0\.305/).waitFor();
    expect(await falls.count()).toBe(0);
  });

  it('[N4] crew are told who corrects, and are not offered it; what another person typed is not theirs', async () => {
    await open('TIP');
    await gross().fill('0.31');
    await question().waitFor();
    const who = { name: 'Chris Crew', initials: 'CC', password: 'hands at the mould' };
    const made = await page.request.post(`${server.address}/api/people`, {
      data: { ...who, role: 'crew', aircraft: 'all' },
    });
    expect(made.status()).toBe(201);
    // The same tablet, with somebody else at it.
    await page.context().clearCookies();
    await page.goto(`${shop.address}/weigh?part=TIP`);
    await page.getByLabel('Name').fill(who.name);
    await page.getByLabel('Password').fill(who.password);
    await press('Sign in');
    await gross().waitFor();
    expect(await gross().inputValue()).toBe('');
    await condition('as released');
    await page.keyboard.type('0.3');
    await question()
      .getByText(/An engineer can correct entry \d+\./)
      .waitFor();
    await press('Keep it, although it does not count');
    await press('Save the weighing');
    await page.getByText('Is it wrong? An engineer corrects it.').waitFor();
    expect(await page.getByRole('button', { name: /^Correct/ }).count()).toBe(0);
  });
});
