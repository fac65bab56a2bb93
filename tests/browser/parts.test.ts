/** Parts and one part, as an engineer meets them: in a real browser, before a real server, with the demonstration aircraft. */
import { readFile } from 'node:fs/promises';
import type { Browser, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { EntriesReport, PartsListReport, PartsReport } from '#shared/contract/aircraft.ts';
import { PartPageReport } from '#shared/contract/part.ts';
import { foldEntries } from '#shared/ledger/fold.ts';
import { readCsv } from '#shared/table/csv.ts';
import { importParts } from '#shared/table/parts-file.ts';
import { expectNoBarriers, expectReflow } from './barriers.ts';
import { makeFirstAccount, openBrowser, type RunningServer, startServer } from './shop-floor.ts';

describe('Parts', () => {
  let browser: Browser;
  let server: RunningServer;
  let page: Page;
  let aircraft: string;
  beforeAll(async () => {
    [browser, server] = await Promise.all([openBrowser(), startServer({ wantsCode: true })]);
    const context = await browser.newContext({ viewport: { width: 1600, height: 900 }, reducedMotion: 'reduce' });
    page = await context.newPage();
    await makeFirstAccount(page, server);
    await page.getByRole('button', { name: 'Look round with Dabchick' }).click();
    await page.locator('.entry').first().waitFor({ timeout: 30_000 });
    aircraft = /aircraft\/([^/]+)/.exec(page.url())?.[1] ?? '';
  });
  afterAll(async () => {
    await browser.close();
    await server.stop();
  });
  beforeEach(async () => {
    await page.goto(`${server.address}/aircraft/${aircraft}/parts`);
    await lines().first().waitFor();
  });

  const grid = () => page.getByRole('treegrid');
  const lines = () => page.locator('.parts-body [role=row]');
  const numbers = () => page.locator('.parts-body [role=rowheader] a').allTextContents();
  const heading = (name: string | RegExp) => page.getByRole('columnheader', { name });
  const search = (words: string) => page.getByLabel('Search the parts').fill(words);
  const pick = (name: string, value: string) => page.getByRole('combobox', { name }).selectOption(value);
  const get = async (path: string) =>
    (await page.request.get(`${server.address}/api/aircraft/${aircraft}${path}`)).json();
  const parts = async () => PartsReport.parse(await get('/parts')).parts;
  const partNamed = async (number: string) => {
    const part = (await parts()).find((one) => one.number === number);
    if (part === undefined) throw new Error(`no part ${number}`);
    return part;
  };
  const newest = async () => EntriesReport.parse(await get('/entries?limit=1')).entries[0];

  /** A cell by what stands in its line and the heading of its column. */
  async function cell(number: string, column: string): Promise<Locator> {
    const at = await page.locator('[role=columnheader]', { hasText: column }).first().getAttribute('aria-colindex');
    return lines().filter({ hasText: number }).locator(`[aria-colindex="${at}"]`);
  }

  /** The active cell by its own keys: from the first heading down and to the right. */
  async function goByKeys(down: number, right: number): Promise<void> {
    await heading('Number').focus();
    await page.keyboard.press('Control+Home');
    for (let step = 0; step < down; step += 1) await page.keyboard.press('ArrowDown');
    for (let step = 0; step < right; step += 1) await page.keyboard.press('ArrowRight');
  }

  it('[V2] a window of 1280 px shows number to arm x as they come first, and a flag whole', async () => {
    await page.setViewportSize({ width: 1280, height: 800 });
    const end = async (one: Locator) => {
      const box = await one.boundingBox();
      return (box?.x ?? Number.POSITIVE_INFINITY) + (box?.width ?? 0);
    };
    for (const name of [/^Predicted/, /^Flag/, /^Arm x/])
      expect(await end(heading(name))).toBeLessThan(await end(grid()));
    const flag = page.locator('.parts-body .flag', { hasText: 'drifting heavy' }).first();
    await flag.waitFor();
    const cut = await flag.evaluate(
      (one) => (one.closest('.cut')?.scrollWidth ?? 0) - (one.closest('.cut')?.clientWidth ?? 0),
    );
    expect(cut).toBeLessThanOrEqual(0);
    await page.setViewportSize({ width: 1600, height: 900 });
  });

  it('[V2] is sorted and filtered, and an assembly stays in sight while something in it does', async () => {
    const all = await parts();
    expect(await grid().getAttribute('aria-rowcount')).toBe(String(all.length + 1));
    await search('aileron, left');
    await expect.poll(numbers).toEqual(['W-00', 'W-31']);
    expect(await lines().nth(1).getAttribute('aria-level')).toBe('2');
    await page.getByRole('button', { name: 'Close W-00' }).click();
    await expect.poll(numbers).toEqual(['W-00']);
    await page.getByRole('button', { name: 'Open W-00' }).click();

    await page.getByRole('button', { name: 'Show all' }).click();
    await pick('Order', 'flat');
    await pick('Flag', 'drifting heavy');
    await heading(/^Difference \(kg\)/).click();
    await heading(/^Difference \(kg\)/).click();
    expect(await heading(/^Difference \(kg\)/).getAttribute('aria-sort')).toBe('descending');
    const expected = all
      .filter(({ flag }) => flag === 'drifting heavy')
      .sort((a, b) => (b.differenceKg ?? 0) - (a.differenceKg ?? 0))
      .map(({ number }) => number);
    expect(expected.length).toBeGreaterThan(3);
    await expect.poll(numbers).toEqual(expected);
    await pick('Open things', 'cause missing');
    await expect
      .poll(numbers)
      .toEqual(
        expected.filter((one) => all.some(({ number, open }) => number === one && open.includes('cause missing'))),
      );
  });

  it('[V2] the columns that were chosen are there again after a reload', async () => {
    expect(await heading('Arm z').count()).toBe(0);
    await page.getByRole('button', { name: 'Columns' }).click();
    await page.getByLabel('Arm z').check();
    await page.getByLabel('Target of group').uncheck();
    await page.getByRole('button', { name: 'Done' }).click();
    await page.reload();
    await heading(/^Arm z/).waitFor();
    expect(await heading(/^Target of group/).count()).toBe(0);
    await page.evaluate('localStorage.clear()');
  });

  it('[V2] an estimate is revised by keys alone: refused at its cell, put right, and nothing else of it changed', async () => {
    const { partId } = await partNamed('P-31');
    const before = PartPageReport.parse(await get(`/parts/${partId}`)).estimates[0];
    await search('cowling, upper');
    await expect.poll(numbers).toEqual(['P-00', 'P-31']);
    await goByKeys(1, 4);
    await page.keyboard.press('Enter');
    await page.keyboard.type('1,999 pounds');
    await page.keyboard.press('Enter');
    const refusal = page.getByRole('alert');
    await refusal.waitFor();
    const field = page.getByLabel('Estimate each (kg) of P-31');
    expect(await field.inputValue()).toBe('1,999 pounds');
    const [words, box] = [await refusal.boundingBox(), await field.boundingBox()];
    expect(Math.abs((words?.y ?? 0) - (box?.y ?? 0))).toBeLessThan(120);
    await field.fill('1.111');
    await page.keyboard.press('Enter');
    await expect.poll(async () => (await partNamed('P-31')).estimateKg).toBe(1.111);
    await expect.poll(async () => (await cell('P-31', 'Estimate')).textContent()).toBe('1.111');
    // The focus is where it was: the next key moves from there.
    expect(await page.evaluate(`document.activeElement.getAttribute('aria-colindex')`)).toBe('5');

    const [after] = PartPageReport.parse(await get(`/parts/${partId}`)).estimates;
    const rest = ({
      seq: _,
      happenedOn: __,
      by: ___,
      typed: ____,
      massKg: _____,
      ...others
    }: NonNullable<typeof after>) => others;
    if (before === undefined || after === undefined) throw new Error('an estimate');
    expect({ ...rest(after), massStdKg: 0 }).toEqual({ ...rest(before), massStdKg: 0 });
    expect(after.typed['estimate']).toBe('1.111 kg');

    await page.keyboard.press('ArrowRight');
    await page.keyboard.type('7');
    await page.keyboard.press('Escape');
    expect(await (await cell('P-31', 'Allowance')).textContent()).not.toBe('7');
    expect((await newest())?.seq).toBe(after.seq);
  });

  it('[V2] what was typed and not recorded is not lost by going elsewhere, and is not in the ledger', async () => {
    const { seq } = (await newest()) ?? { seq: 0 };
    await search('W-32');
    await expect.poll(numbers).toEqual(['W-00', 'W-32']);
    await (await cell('W-32', 'Arm x')).dblclick();
    await page.getByLabel('Arm x (m) of W-32').fill('3.33');
    await page.getByRole('link', { name: 'Ledger' }).click();
    await page.locator('.entry').first().waitFor();
    await page.getByRole('link', { name: 'Parts', exact: true }).click();
    await page.getByText('One cell is typed into and not recorded.').waitFor();
    expect(await (await cell('W-32', 'Arm x')).textContent()).toContain('3.33');
    await page.getByRole('button', { name: /^Go to W-32/ }).click();
    await page.keyboard.press('Enter');
    expect(await page.getByLabel('Arm x (m) of W-32').inputValue()).toBe('3.33');
    await page.keyboard.press('Escape');
    await expect.poll(() => page.getByText('typed into and not recorded').count()).toBe(0);
    expect((await newest())?.seq).toBe(seq);
  });

  it('[L2] what a part was added as is corrected with a reason, and its other words stay', async () => {
    const { partId, quantity, process } = await partNamed('W-32');
    await search('W-32');
    await expect.poll(numbers).toEqual(['W-00', 'W-32']);
    await (await cell('W-32', 'Name')).dblclick();
    await page.getByLabel('Name of W-32').fill('Aileron, starboard');
    await page.keyboard.press('Enter');
    await page.getByRole('dialog').getByLabel('Reason').fill('called so on the drawing');
    await page.getByRole('button', { name: 'Record the correction' }).click();
    await page.getByRole('dialog').waitFor({ state: 'detached' });
    expect(await partNamed('W-32')).toMatchObject({
      partId,
      quantity,
      process,
      name: 'Aileron, starboard',
      assembly: 'W-00',
    });
    expect((await newest())?.entry).toMatchObject({ kind: 'correction', reason: 'called so on the drawing' });
  });

  it('[V2] a part is added, its refused estimate put right, and it is removed with a reason', async () => {
    await page.getByRole('button', { name: 'Add a part' }).click();
    const dialog = page.getByRole('dialog');
    await dialog.getByLabel('Part number').fill('W-31');
    await dialog.getByLabel('Group').fill('wing');
    await dialog.getByLabel('Estimate each').fill('2 stone');
    await page.getByRole('button', { name: 'Add the part' }).click();
    await dialog.locator('.problem, [role=alert]').first().waitFor();
    await dialog.getByLabel('Part number').fill('W-99');
    await dialog.getByLabel('Is in').fill('W-00');
    await page.getByRole('button', { name: 'Add the part' }).click();
    await page.getByText(/W-99 is entry \d+\. Its estimate is not recorded yet/).waitFor();
    expect(await dialog.getByLabel('Estimate each').inputValue()).toBe('2 stone');
    await dialog.getByLabel('Estimate each').fill('2');
    await page.getByRole('button', { name: 'Record the estimate' }).click();
    await dialog.waitFor({ state: 'detached' });
    expect(await partNamed('W-99')).toMatchObject({ estimateKg: 2, assembly: 'W-00', open: ['arm missing'] });

    await search('W-99');
    await expect.poll(numbers).toEqual(['W-00', 'W-99']);
    await (await cell('W-99', 'Weighed')).click();
    await page.keyboard.press('Delete');
    await page.getByRole('dialog', { name: 'Remove W-99' }).getByLabel('Reason').fill('not needed');
    await page.getByRole('button', { name: 'Remove the part' }).click();
    await expect.poll(numbers).toEqual([]);
    expect((await newest())?.entry).toMatchObject({ kind: 'part removed', reason: 'not needed' });
  });

  it('[I4] the list goes out as a file that the import takes back', async () => {
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Export' }).click(),
    ]);
    expect(download.suggestedFilename()).toMatch(/^Dabchick.* parts\.csv$/);
    const text = await readFile(await download.path(), 'utf8');
    expect(text).toBe(`\uFEFF${PartsListReport.parse(await get('/parts-list')).csv}`);
    const table = readCsv(text);
    if (!table.ok) throw new Error(table.refusal.refusal.code);
    const ids = new Map<string, string>();
    const idOf = (name: string) => {
      const id = ids.get(name) ?? `00000000-0000-4000-8000-${String(ids.size).padStart(12, '0')}`;
      ids.set(name, id);
      return id;
    };
    const ledger = foldEntries([]);
    const outcome = importParts(table.value, {
      ledger,
      today: '2099-01-01',
      day: '2026-01-01',
      by: 'RL',
      revise: false,
      idOf,
    });
    expect([outcome.problems, outcome.entries.filter(({ kind }) => kind === 'part added').length]).toEqual([
      [],
      (await parts()).length,
    ]);
  });

  it('[V3] the page of a part: its arm measured on supports, a piece withdrawn, a note, and an entry struck out', async () => {
    const { partId, number, name } = await partNamed('H-26');
    await search(number);
    await page.getByRole('link', { name: number, exact: true }).click();
    await page.getByRole('heading', { name: `${number} ${name}` }).waitFor();
    const act = async (words: string, fill: Readonly<Record<string, string>>, record: string) => {
      await page.getByRole('button', { name: words }).click();
      if (words === 'Measure the arm') await page.getByText('Loads on two supports', { exact: true }).click();
      for (const [label, text] of Object.entries(fill))
        await page.getByRole('dialog').getByRole('textbox', { name: label, exact: true }).fill(text);
      await page.getByRole('button', { name: record }).click();
    };
    const supports = { 'Load F1': '0.5', 'Station x1': '0', 'Load F2': '0.5', 'Station x2': '2' };
    await act('Measure the arm', { ...supports, 'Station of the bench zero': 'far off' }, 'Record it');
    await page.getByRole('dialog').locator('.problem').waitFor();
    expect(await page.getByRole('textbox', { name: 'Load F1' }).inputValue()).toBe('0.5');
    await page.getByRole('textbox', { name: 'Station of the bench zero' }).fill('3.6');
    await page.getByRole('button', { name: 'Record it' }).click();
    await page.getByRole('region', { name: 'Measured arms', exact: true }).getByText('4.600').waitFor();
    await page.getByText('measured', { exact: true }).waitFor();

    await act('Add a note', { 'In words': 'skin sounds hollow at the edge' }, 'Record it');
    await page.locator('.entry', { hasText: 'skin sounds hollow' }).waitFor();
    await act('Withdraw a piece', { Why: 'hollow' }, 'Record it');
    await page.getByRole('region', { name: 'Pieces' }).getByText('The new one is not weighed yet').waitFor();
    const report = PartPageReport.parse(await get(`/parts/${partId}`));
    expect(report.part.weighed).toEqual([]);
    expect(report.pieces[0]?.lives.length).toBe(3);
    const shown = await page
      .locator('.entry')
      .evaluateAll((all) => all.map((entry) => Number(entry.getAttribute('value'))));
    const told = EntriesReport.parse(await get(`/entries?limit=50&part=${number}`)).entries.map(({ seq }) => seq);
    expect(shown).toEqual(told);

    await page
      .getByRole('button', { name: /^Correct entry/ })
      .first()
      .click();
    await page.getByText('It should never have been made').click();
    await page.getByRole('dialog').getByLabel('Reason').fill('misread');
    await page.getByRole('button', { name: 'Strike the entry out' }).click();
    await page.locator('.entry', { hasText: /struck out.*; misread/ }).waitFor();

    await page.getByRole('button', { name: 'Weigh it' }).click();
    await page.getByRole('heading', { level: 2, name: new RegExp(`^${number}`) }).waitFor();
  });

  it('[V1] Parts and the page of a part have no barrier: as they are, refused, empty, failed', {
    timeout: 180_000,
  }, async () => {
    const expectOpen = async (where: string) => {
      await expectNoBarriers(page, where);
      await expectReflow(page, where);
    };
    await expectOpen('Parts');
    await search('W-41');
    await expect.poll(numbers).toEqual(['W-00', 'W-41']);
    await (await cell('W-41', 'Estimate')).dblclick();
    await page.getByLabel('Estimate each (kg) of W-41').fill('a lot');
    await page.keyboard.press('Enter');
    await page.getByRole('alert').waitFor();
    await expectOpen('a figure refused at its cell');
    await search('W-4');
    await page.getByText('typed into and not recorded').waitFor();
    await expectOpen('a figure typed and left');
    await page.getByRole('button', { name: 'Drop it' }).click();
    await page.getByRole('button', { name: 'Remove W-41 …' }).click();
    await expectOpen('a part to be removed');
    await page.getByRole('button', { name: 'Cancel' }).click();
    for (const name of ['Columns', 'Add a part']) {
      await page.getByRole('button', { name }).click();
      await page.getByRole('dialog').waitFor();
      await expectOpen(name);
      await page.getByRole('button', { name: /^(Done|Cancel)$/ }).click();
    }
    await search('no such part');
    await page.getByText('No part fits').waitFor();
    await expectOpen('no part that fits');

    for (const number of ['W-41', 'H-26', 'W-00']) {
      await page.goto(`${server.address}/aircraft/${aircraft}/parts/${(await partNamed(number)).partId}`);
      await page.locator('.entry').first().waitFor();
      await expectOpen(`the page of ${number}`);
    }
    for (const name of ['Revise the estimate', 'Measure the arm', 'Withdraw a piece', 'Decide', 'Add a note']) {
      await page.getByRole('button', { name }).click();
      await page.getByRole('dialog').waitFor();
      await expectOpen(name);
      await page.getByRole('button', { name: 'Cancel' }).click();
    }
    await page.goto(`${server.address}/aircraft/${aircraft}/parts/${aircraft}`);
    await page.getByText('This part cannot be shown').waitFor();
    await expectOpen('a part that is not there');
    const empty = await page.request.post(`${server.address}/api/aircraft`, {
      data: { name: 'Curlew', datum: 'the bow', massUnit: 'lb', lengthUnit: 'in' },
    });
    await page.goto(`${server.address}/aircraft/${((await empty.json()) as { id: string }).id}/parts`);
    await page.getByRole('heading', { name: 'No parts yet' }).waitFor();
    await expectOpen('an aircraft without parts');
    const fault = {
      title: 'A fault',
      status: 500,
      code: 'fault',
      type: 'about:blank',
      detail: 'It broke.',
      remedy: 'Again.',
    };
    await page.route(/\/parts$/, (route) =>
      route.request().resourceType() === 'fetch' ? route.fulfill({ status: 500, json: fault }) : route.continue(),
    );
    await page.goto(`${server.address}/aircraft/${aircraft}/parts`);
    await page.getByText('It broke.').waitFor();
    await expectOpen('a fault on Parts');
    await page.unrouteAll();
  });
});
