/** What spans the whole aircraft, on the screens: the open list and what closes it, what changed by group and by part, where the mass is. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { expectNoBarriers, expectReflow } from './barriers.ts';
import { beginBox, type Shop } from './box-shop.ts';
import { makeFirstAccount, openBrowser, type RunningServer, startServer } from './shop-floor.ts';

describe('the whole aircraft', () => {
  let browser: Browser;
  let server: RunningServer;
  let page: Page;
  let shop: Shop;
  const faults: string[] = [];
  beforeAll(async () => {
    [browser, server] = await Promise.all([openBrowser(), startServer({ wantsCode: true })]);
    const context = await browser.newContext({ viewport: { width: 1280, height: 900 }, reducedMotion: 'reduce' });
    page = await context.newPage();
    page.setDefaultTimeout(20_000);
    page.on('pageerror', (error) => faults.push(String(error)));
    await makeFirstAccount(page, server);
    await page.getByRole('heading', { name: 'How do you want to begin?' }).waitFor();
    shop = await beginBox(page, server.address);
    await shop.send({
      kind: 'scale',
      scale: 'Bench',
      capacity: '30 kg',
      'calibration due': '2026-01-31',
      happenedOn: '2025-02-01',
    });
    await shop.send({ kind: 'part added', number: 'CAP', name: 'Cap', group: 'wing', process: 'machined' });
    await shop.send({ kind: 'part added', number: 'PIN', name: 'Pin', group: 'wing', process: 'machined' });
    await shop.send({ kind: 'estimate', part: 'PIN', estimate: '0.2 kg' });
    const weighing = { kind: 'weighing', part: 'SKIN', gross: '4.700 kg', condition: 'finished' };
    await shop.send({ ...weighing, happenedOn: '2026-02-03' });
  });
  afterAll(async () => {
    await browser.close();
    await server.stop();
  });

  const rows = () => page.getByRole('region', { name: 'The open list' }).locator('tbody tr');
  const counted = () => page.getByRole('navigation', { name: 'Screens' }).getByRole('link', { name: /^Open/ });

  it('[D6] the open list has what the door has, costliest first, counted in the bar, without a barrier', async () => {
    await page.goto(`${shop.address}/ledger`);
    await counted().click();
    await rows().first().waitFor();
    const { items } = await shop.get<{ items: { what: string; subject: string }[] }>('/open');
    const told = await rows().locator('th').allTextContents();
    expect(told.map((words) => words.replace(/\s+/g, ' '))).toEqual(
      items.map(({ what, subject }) => expect.stringContaining(`${what}${subject}`)),
    );
    expect(await counted().textContent()).toBe(`Open${items.length}`);
    expect(await page.locator('main').textContent()).not.toMatch(/NaN|undefined/);
    await expectOpen('the open list');
    await page.getByLabel('Show').selectOption('estimate missing');
    await expect.poll(() => rows().count()).toBe(1);
    expect(await rows().first().textContent()).toContain('CAP');
    await page.getByLabel('Show').selectOption('');
    await expect.poll(() => rows().count()).toBe(items.length);
  });

  it('[D6] by keyboard alone an item is reached with one press and closed with a second one', async () => {
    const before = await rows().count();
    const state = page.getByRole('button', { name: 'State the cause: SKIN' });
    await tabTo('State the cause: SKIN');
    await page.keyboard.press('Enter');
    await page.getByRole('dialog', { name: 'Why is SKIN heavy?' }).waitFor();
    await tabTo('Cause');
    await page.keyboard.type('resin-rich');
    await tabTo('Record the cause');
    await page.keyboard.press('Enter');
    await page.getByText(/^Recorded: entry \d+\./).waitFor();
    await expect.poll(() => rows().count()).toBe(before - 1);
    await expect.poll(() => counted().textContent()).toBe(`Open${before - 1}`);
    expect(await state.count()).toBe(0);
    const focused = () => page.evaluate('document.activeElement?.textContent');
    await expect.poll(focused).toBe('What is open');
  });

  it.each([
    ['Decide: SKIN', async () => page.getByText('accepted', { exact: true }).click(), 'Record the decision'],
    ['State the station: PIN', async () => page.getByLabel('Station x').fill('2 m'), 'Record it'],
    [
      'State the estimate: CAP',
      async () => {
        await page.getByLabel('Installed mass, each').fill('0.4 kg');
        await page.getByText('estimated', { exact: true }).click();
      },
      'Record it',
    ],
  ])(
    '[D6] %s: the form is there at once with what is known, and the row is gone when it is recorded',
    async (act, fill, main) => {
      await page.getByRole('button', { name: act }).click();
      await page.getByRole('dialog').waitFor();
      await expectOpen(`the form of ${act}`);
      await fill();
      await page.getByRole('button', { name: main }).click();
      await expect.poll(() => page.getByRole('button', { name: act }).count()).toBe(0);
      expect(await page.getByRole('dialog').count()).toBe(0);
    },
  );

  it('[D6] a calibration that has run out is stated anew from the list', async () => {
    await page.getByRole('button', { name: 'New calibration: Bench' }).click();
    expect(await page.getByLabel('Name of the scale').inputValue()).toBe('Bench');
    await expect.poll(() => page.getByLabel('Capacity').inputValue()).toContain('30');
    await page.getByLabel('Calibrated on').fill('2026-02-10');
    await page.getByLabel('Valid until').fill('2099-02-10');
    await page.getByRole('button', { name: 'Record it' }).click();
    await expect.poll(() => page.getByRole('button', { name: 'New calibration: Bench' }).count()).toBe(0);
    expect(faults).toEqual([]);
  });

  it('[D6] a proposal that is overdue is in the list, its filter, its count and the headline, and closed in two presses', async () => {
    await rows().first().waitFor();
    const before = await rows().count();
    const kept = await page.request.post(`${shop.address.replace('/aircraft/', '/api/aircraft/')}/proposals`, {
      data: {
        ...{ id: crypto.randomUUID(), title: 'Thinner rib', owner: 'Robin Lead', saving: '0.25 kg' },
        ...{ likelihood: '50', due: '2026-01-31' },
      },
    });
    expect(kept.status()).toBe(201);
    await page.goto(`${shop.address}/ledger`);
    await page.getByRole('listitem').filter({ hasText: 'proposal overdue' }).getByText('Thinner rib').waitFor();
    await expect.poll(() => counted().textContent()).toBe(`Open${before + 1}`);
    await counted().click();
    await page.getByLabel('Show').selectOption('proposal overdue');
    await expect.poll(() => rows().count()).toBe(1);
    expect(await rows().first().textContent()).toMatch(
      /Thinner rib.*due on 2026-01-31, owner Robin Lead.*2026-02-01.*−0\.250/s,
    );
    await page.getByLabel('Show').selectOption('');
    await expect.poll(() => rows().count()).toBe(before + 1);
    await expectOpen('the open list with a proposal');
    await page.getByRole('link', { name: 'Thinner rib', exact: true }).click();
    await expect.poll(() => page.evaluate('document.activeElement?.tagName')).toBe('TR');
    await counted().click();
    await page.getByRole('link', { name: 'Say how it stands: Thinner rib' }).click();
    const form = page.getByRole('dialog', { name: 'Change the proposal' });
    await form.getByText('done', { exact: true }).click();
    await form.getByRole('button', { name: 'Keep the change' }).click();
    await page.getByText('Kept: Thinner rib.').waitFor();
    await expect.poll(() => counted().textContent()).toBe(`Open${before}`);
    expect(new URL(page.url()).search).toBe('');
    await counted().click();
    await expect.poll(() => rows().count()).toBe(before);
    expect(await page.getByText('Thinner rib').count()).toBe(0);
    expect(faults).toEqual([]);
  });

  it('[D6] a CG out of its range leads to What if first, and to the targets second', async () => {
    const range = { 'cg forward': '2.5 m', 'cg aft': '2.6 m' };
    await shop.send({ kind: 'targets', 'empty mass': '5.5 kg', ...range, reason: 'a new range' });
    const [first, second] = ['Try what would help: CG', 'Revise the targets: CG'];
    const row = rows().filter({ hasText: 'CG out of range' });
    await row.waitFor();
    const acts = await row.locator('.open-acts > *').all();
    const told = await Promise.all(acts.map((act) => act.getAttribute('aria-label')));
    expect(told).toEqual([first, second]);
    await page.setViewportSize({ width: 1366, height: 900 });
    expect(await page.evaluate('document.documentElement.scrollWidth - innerWidth')).toBeLessThanOrEqual(0);
    await page.getByRole('button', { name: second }).click();
    await page.getByRole('dialog').waitFor();
    await page.getByRole('button', { name: 'Cancel' }).click();
    await page.getByRole('link', { name: first }).click();
    await page.getByRole('heading', { name: 'What if', exact: true }).waitFor();
    expect(faults).toEqual([]);
  });

  it('[V1] the screens stand in one row beside an aircraft with a long name, and scroll where they do not fit', async () => {
    const bar = page.locator('.top-bar');
    const screens = page.getByRole('navigation', { name: 'Screens' });
    await page.request.post(`${server.address}/api/aircraft`, {
      data: { name: 'Shearwater with the long name of a second wing', datum: 'bow', massUnit: 'kg', lengthUnit: 'm' },
    });
    await page.goto(`${shop.address}/open`);
    await page.getByLabel('Aircraft').selectOption({ label: 'Shearwater with the long name of a second wing' });
    await screens.getByRole('link', { name: 'Set-up' }).waitFor();
    const size = () =>
      page.evaluate<{ hidden: number; high: number }>(`(() => {
        const row = document.querySelector('.top-bar nav');
        return { hidden: row.scrollWidth - row.clientWidth, high: row.clientHeight };
      })()`);
    await page.setViewportSize({ width: 1366, height: 900 });
    const wide = await size();
    expect(wide.hidden).toBe(0);
    expect((await bar.boundingBox())?.height).toBeLessThan(wide.high + 20);
    const last = screens.getByRole('link', { name: 'Set-up' });
    for (const width of [820, 360]) {
      await page.setViewportSize({ width, height: 900 });
      expect((await size()).high).toBe(wide.high);
      await screens.getByRole('link', { name: 'Ledger' }).focus();
      await last.focus();
      await expect.poll(async () => (await last.boundingBox())?.x).toBeLessThan(width - 40);
    }
    await page.setViewportSize({ width: 1280, height: 900 });
  });

  it.each(['group', 'part'])('[L6] what changed, by %s, adds up on the screen', async (by) => {
    await page.goto(`${shop.address}/ledger`);
    await page.getByText('entries', { exact: true }).click();
    await page.getByRole('textbox', { name: 'After entry' }).fill('5');
    await page.getByRole('radiogroup', { name: 'Told apart by' }).getByText(by, { exact: true }).click();
    const title = `Change in predicted weight, by ${by}`;
    await page.getByRole('heading', { name: title }).waitFor();
    await page.locator('figure', { hasText: title }).getByText('As a table').click();
    const table = page.getByRole('region', { name: `${title}, as a table` });
    const figures = async () => {
      const cells = await table.locator('td:nth-child(2)').allTextContents();
      return cells.map((text) => Number(text.replace('\u2212', '-')));
    };
    const [from = 0, ...rest] = await figures();
    const to = rest.pop() ?? 0;
    expect(rest.length).toBeGreaterThan(1);
    expect(from + rest.reduce((sum, one) => sum + one, 0)).toBeCloseTo(to, 2);
    expect(await table.textContent()).toContain(by === 'group' ? 'wing' : 'SKIN');
    await expectOpen(`what changed by ${by}`);
    expect(faults).toEqual([]);
  });

  it('[R5] where the mass is: three pictures with their tables, and a part that is found', async () => {
    await shop.send({ kind: 'estimate', part: 'TIP', estimate: '0.3 kg', x: '3.4 m', z: '0.4 m' });
    await page.goto(`${shop.address}/ledger`);
    await page.getByRole('link', { name: /^Where the mass is/ }).click();
    await page.getByRole('heading', { name: 'Where the mass is' }).waitFor();
    // The pictures come one after another.
    await expect.poll(() => page.getByText('As a table').count()).toBe(3);
    for (const table of await page.getByText('As a table').all()) await table.click();
    const along = page.getByRole('region', { name: 'Predicted weight along the fuselage, by group, as a table' });
    const where = await shop.get<{ predictedKg: number; masses: { massKg: number; xM?: number }[] }>('/where');
    const left = where.masses.filter(({ xM }) => xM === undefined).reduce((sum, { massKg }) => sum + massKg, 0);
    expect(left).toBeGreaterThan(0);
    const cells = await along.locator('tbody td:last-child').allTextContents();
    const sumKg = cells.reduce((sum, text) => sum + Number(text), 0);
    expect(sumKg + left).toBeCloseTo(where.predictedKg, 2);
    const side = page.getByRole('region', { name: 'The parts from the side, by mass and flag, as a table' });
    expect(await side.locator('tbody tr').count()).toBeGreaterThan(3);
    await page.getByLabel('Find a part').fill('tip');
    await page.getByText('1 found, one has its ring.').waitFor();
    expect(await side.locator('tbody tr').allTextContents()).toEqual([expect.stringContaining('TIP')]);
    await page.getByLabel('Find a part').fill('no such part');
    await page.getByText('Nothing is called so.').waitFor();
    await page.getByLabel('Find a part').fill('');
    expect(await page.locator('main').textContent()).not.toMatch(/NaN|undefined/);
    await expectOpen('where the mass is');
    expect(faults).toEqual([]);
  });

  it('[R5] without a mass, and without a station, it says so', async () => {
    const made = await page.request.post(`${server.address}/api/aircraft`, {
      data: { name: 'Curlew', datum: 'tip of the spinner', massUnit: 'lb', lengthUnit: 'in' },
    });
    const { id } = (await made.json()) as { id: string };
    const at = `${server.address}/aircraft/${id}/where`;
    await page.goto(at);
    await page.getByRole('heading', { name: 'There is no mass to show yet' }).waitFor();
    await expectOpen('where no mass is');
    const send = (data: object) =>
      page.request.post(`${server.address}/api/aircraft/${id}/entries`, { data: { id: crypto.randomUUID(), ...data } });
    await send({ kind: 'part added', number: 'A-1', group: 'wing' });
    await send({ kind: 'estimate', part: 'A-1', estimate: '2 lb', allowance: '0 %' });
    await page.goto(at);
    await page.getByText('No mass has a station yet, so there is no CG.').waitFor();
    await page.getByText('No part has a station and a height yet.').waitFor();
    expect(await page.locator('main').textContent()).not.toMatch(/NaN|undefined/);
    await expectOpen('where no station is');
    expect(faults).toEqual([]);
  });

  it('[D5] [D6] many small ones are closed where they stand: opened with one press, stated and sent', async () => {
    for (const number of ['N-1', 'N-2', 'N-3']) {
      await shop.send({ kind: 'part added', number, group: 'nose', process: 'bought' });
      const estimate = { estimate: '4 kg', 'std uncertainty': '40 g', x: '1 m' };
      await shop.send({ kind: 'estimate', part: number, allowance: '0 %', ...estimate });
      await shop.send({ kind: 'weighing', part: number, gross: '4.100 kg', condition: 'finished' });
    }
    await page.goto(`${shop.address}/open`);
    await page.getByLabel('Show').selectOption('many small ones');
    await expect.poll(() => rows().count()).toBe(2);
    const row = rows().filter({ hasText: 'nose' });
    await row.waitFor();
    await page.getByRole('button', { name: 'State the cause: nose' }).click();
    const form = page.getByRole('dialog', { name: 'Why do small differences add up in the group nose?' });
    await form.waitFor();
    await expectOpen('the cause of many small ones');
    await form.getByLabel('Cause').selectOption('resin-rich');
    await form.getByRole('button', { name: 'Record the cause' }).click();
    await expect.poll(() => rows().count()).toBe(1);
    expect(await row.count()).toBe(0);
    await page.goto(`${shop.address}/ledger#what-drifts`);
    const finding = page
      .getByRole('region', { name: 'Many small ones' })
      .getByRole('listitem')
      .filter({ hasText: 'nose' });
    await finding.waitFor();
    expect(await finding.textContent()).toContain('resin-rich');
    await finding.getByRole('button', { name: 'Change the cause of the group nose' }).waitFor();
  });

  /** Goes on with the Tab key until what has the keyboard is called so. */
  async function tabTo(name: string): Promise<void> {
    const called = () =>
      page.evaluate<string>(`(() => {
        const at = document.activeElement;
        return at?.getAttribute('aria-label') ?? at?.labels?.[0]?.textContent ?? at?.textContent ?? '';
      })()`);
    for (let presses = 0; presses < 80; presses += 1) {
      if ((await called()).startsWith(name)) return;
      await page.keyboard.press('Tab');
    }
    throw new Error(`the keyboard does not come to ${name}`);
  }

  async function expectOpen(where: string): Promise<void> {
    await expectNoBarriers(page, where);
    await expectReflow(page, where);
  }
});
