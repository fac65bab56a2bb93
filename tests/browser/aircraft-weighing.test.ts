/**
 * The whole aircraft weighed on a tablet and in the office at once: nosewheel and mains, bad readings told at their place, signed off, held against
 * the parts and printed; tailwheel in pounds, printed as a draft. In a real browser, before a real server. All figures are invented.
 */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { AircraftWeighingsReport } from '#shared/contract/aircraft-weighing.ts';
import { expectNoBarriers, expectReflow } from './barriers.ts';
import { printedPages } from './paper.ts';
import { makeFirstAccount, openBrowser, type RunningServer, signIn, startServer } from './shop-floor.ts';

const METRIC = { name: 'Shelduck', datum: 'the bow', massUnit: 'kg', lengthUnit: 'm', mac: '1.4 m', lemac: '2 m' };
const POUNDS = { name: 'Garganey', datum: 'the firewall', massUnit: 'lb', lengthUnit: 'in' };

describe('the aircraft on its scales', () => {
  let browser: Browser;
  let server: RunningServer;
  let page: Page;
  let aircraft: string;
  beforeAll(async () => {
    [browser, server] = await Promise.all([openBrowser(), startServer({ wantsCode: true })]);
    page = await newPage();
    await makeFirstAccount(page, server);
    await page.getByRole('heading', { name: 'How do you want to begin?' }).waitFor();
    aircraft = await begin(METRIC);
    await record({ kind: 'targets', 'empty mass': '380 kg', 'cg forward': '2 m', 'cg aft': '2.3 m' });
    for (const [number, x, kg] of [
      ['HULL', '2.1 m', '260 kg'],
      ['TAIL', '6.2 m', '20 kg'],
      ['ENGINE', '1.2 m', '90 kg'],
      ['RADIO', '1.5 m', '3 kg'],
    ] as const) {
      await record({ kind: 'part added', number, group: 'body', process: 'bought' });
      await record({ kind: 'estimate', part: number, estimate: kg, 'std uncertainty': '0.5 kg', x, allowance: '10 %' });
    }
    for (const part of ['HULL', 'TAIL', 'ENGINE']) await record({ kind: 'piece installed', part, piece: '1' });
  });
  afterAll(() => Promise.all([browser.close(), server.stop()]));

  it('[A1] the result stands as it is typed, parts that are not built in are taken to be missing, and slips are asked about', {
    timeout: 120_000,
  }, async () => {
    await page.goto(`${server.address}/aircraft/${aircraft}/aircraft-weighing`);
    await page.getByRole('button', { name: 'Nosewheel and two mains' }).waitFor();
    await look('no weighing yet');
    await page.getByRole('button', { name: 'Nosewheel and two mains' }).click();
    await page.getByText('the result stands here as you type').waitFor();
    await page.getByText('3 of 4 parts are in it').waitFor();
    // Nothing is wrong with what was just begun, and what is wrong is told before the reference is named.
    await support('Nose', '0', '0');
    await support('Left main', '0.5', '0');
    await support('Right main', '1', '0');
    const noResult = page.getByRole('region', { name: 'Result', exact: true }).getByText('stand in one line');
    await noResult.waitFor();
    expect(await page.locator('[aria-invalid=true]').count()).toBe(0);
    await page.getByLabel('Reference', { exact: true }).fill('main frame, front face');
    await page.getByLabel('Its station').fill('2');
    await support('Nose', '-1.5', '0');
    await support('Left main', '0.5', '-1');
    await support('Right main', '0.5', '1');
    await reading('Run 1', { Nose: '80', 'Left main': '151', 'Right main': '149' });
    const result = page.getByRole('region', { name: 'Result', exact: true });
    // By hand: 2 + (80 x -1.5 + 300 x 0.5)/380 = 2.0789 m, which is 5.6 % of the chord.
    await result
      .getByText(/380\.00.*kg/)
      .first()
      .waitFor();
    expect(await result.textContent()).toContain('2.078');
    expect(await result.textContent()).toContain('One run counts');
    await reading('Run 2', { Nose: '80.2', 'Left main': '150.8', 'Right main': '149.2' });
    await result.getByText('Runs ● agree').waitFor();
    await page.getByRole('group', { name: 'Run 1', exact: true }).getByLabel('tare').first().fill('0.5');
    await result.getByText('Was it forgotten?').first().waitFor();
    await look('a weighing, a tare forgotten');
    await page.getByRole('group', { name: 'Run 1', exact: true }).getByLabel('tare').first().fill('');
    await page.getByRole('button', { name: 'Fluid aboard' }).click();
    const fuel = page.getByRole('group', { name: 'Fuel', exact: true });
    await fuel.getByLabel('Volume as dipped').fill('10');
    await fuel.getByLabel('Density', { exact: true }).fill('0.72');
    await fuel.getByLabel('Station x').fill('2.4');
    await result
      .getByText(/372\.9/)
      .first()
      .waitFor();
    await kept();
  });

  it('[A1] bad readings and supports are told at their place, and nothing is signed with them', {
    timeout: 120_000,
  }, async () => {
    const run = page.getByRole('group', { name: 'Run 2', exact: true });
    await run.getByLabel('Left main, gross').fill('heavy');
    await run.getByText('“heavy” is not a number').waitFor();
    await run.getByLabel('Left main, gross').fill('170');
    await page.getByText('The runs do not agree').waitFor();
    await page.getByText('Runs ▲ do not agree').waitFor();
    await look('runs that do not agree');
    await page.getByRole('button', { name: 'Set aside … Run 2' }).click();
    await page.getByText('One run counts: there is nothing').waitFor();
    await page.getByLabel('Why it does not count').fill('somebody leaned on the wing');
    await page.getByText('The runs do not agree').waitFor({ state: 'detached' });
    await page.getByRole('button', { name: 'Let it count again: Run 2' }).click();
    await run.getByLabel('Left main, gross').fill('150.8');
    const left = page.getByRole('group', { name: 'Left main', exact: true });
    await left.getByLabel('y, right positive').fill('0');
    await page.getByRole('group', { name: 'Right main', exact: true }).getByLabel('y, right positive').fill('0');
    await page.getByText('the supports stand in one line').first().waitFor();
    await left.getByLabel('y, right positive').fill('-1');
    await page.getByRole('group', { name: 'Right main', exact: true }).getByLabel('y, right positive').fill('1');
    await page.getByText('the supports stand in one line').first().waitFor({ state: 'detached' });
    await run.getByLabel('tare').nth(1).fill('900');
    await run.getByText('is not above the tare').waitFor();
    await run.getByLabel('tare').nth(1).fill('');
    await page.getByRole('button', { name: 'Sign off …' }).click();
    await page.getByText('It is not signed').waitFor();
    await page.getByText('The checklist is not answered').first().waitFor();
    await look('a weighing that cannot be signed');
  });

  it('[A6] the office types into the same weighing, and both hands are put together', {
    timeout: 120_000,
  }, async () => {
    const office = await newPage();
    await signIn(office, server.address);
    await office.getByRole('link', { name: 'Ledger' }).waitFor();
    await office.goto(`${server.address}/aircraft/${aircraft}/aircraft-weighing`);
    await office.getByLabel('Reference', { exact: true }).waitFor();
    expect(await office.getByLabel('Reference', { exact: true }).inputValue()).toBe('main frame, front face');
    await office.getByLabel('Licence or authority').fill('authority 12');
    await expect
      .poll(() => page.getByLabel('Licence or authority').inputValue(), { timeout: 15_000 })
      .toBe('authority 12');
    await page.getByLabel('Signed by').fill('A. Signer');
    await expect.poll(() => office.getByLabel('Signed by').inputValue(), { timeout: 15_000 }).toBe('A. Signer');
    await office.context().close();
    await page.context().setOffline(true);
    await page.getByLabel('Remark').fill('weighed indoors');
    await page.getByText('Not on the server yet').waitFor();
    await page.context().setOffline(false);
    await kept();
  });

  it('[A3] it is signed off once, held against the parts, and printed', { timeout: 180_000 }, async () => {
    for (const answer of await page.getByRole('region', { name: 'Checklist' }).getByText('yes', { exact: true }).all())
      await answer.click();
    await page
      .getByRole('region', { name: 'Against the ledger' })
      .getByText(/The scales find|agree/)
      .first()
      .waitFor();
    await kept();
    await page.getByRole('button', { name: 'Sign off …' }).click();
    const dialog = page.getByRole('dialog', { name: 'Sign off this weighing?' });
    await dialog.getByText('A. Signer signs: empty weight').waitFor();
    await look('signing');
    await dialog.getByRole('button', { name: 'Sign off', exact: true }).click();
    await page.getByText(/Recorded: entry \d+/).waitFor();
    const found = page.getByRole('region', { name: 'What the scales found' });
    // By hand: 372.9 kg on the scales, 370 kg of hull, tail and engine; the radio was not aboard.
    await found.getByText(/The scales find 2\.9/).waitFor();
    expect(await found.textContent()).toContain('It must sit at x');
    await look('a weighing that is signed');
    const { signed, draft } = await weighings();
    expect(draft).toBeUndefined();
    expect(signed).toHaveLength(1);
    expect(signed[0]).toMatchObject({ notAboard: 'RADIO', statement: { signedAs: 'authority 12' } });
    await page.getByRole('link', { name: 'Report to print' }).click();
    await page.getByRole('heading', { name: 'Weight and balance report of Shelduck', exact: true }).waitFor();
    await look('the report');
    const report = await printed();
    for (const words of [
      ...['Empty weight and CG', '14 CFR 23.29', 'Oil is part of the empty weight', 'main frame, front face'],
      ...[
        'Left main',
        'avgas',
        'HULL',
        'A. Signer',
        'authority 12',
        'Lifting and weighing an airframe can injure people',
      ],
      ...['Resolution of the scales', 'RADIO', 'The scales find 2.9'],
    ])
      expect(report.words).toContain(words);
    expect(report.words).not.toContain('DRAFT');
    expect(report.pages).toBeGreaterThan(1);
  });

  it('[A1] a tailwheel aircraft in pounds, and its report says DRAFT until it is signed', {
    timeout: 120_000,
  }, async () => {
    aircraft = await begin(POUNDS);
    await page.goto(`${server.address}/aircraft/${aircraft}/aircraft-weighing`);
    await page.getByRole('button', { name: 'Two mains and a tailwheel' }).click();
    await support('Left main', '7.5', '-30');
    await support('Right main', '7.5', '30');
    await support('Tail', '229.5', '0');
    await reading('Run 1', { 'Left main': '575.5', 'Right main': '575.5', Tail: '67' });
    const result = page.getByRole('region', { name: 'Result', exact: true });
    // FAA-H-8083-1 series, chapter 3: 1,218 lb and 19.7 in (inputs read, answer memory).
    await result
      .getByText(/1,218\.0.*lb/)
      .first()
      .waitFor();
    expect(await result.textContent()).toContain('19.71');
    await kept();
    await page.getByRole('link', { name: 'Draft to print' }).click();
    await page.getByRole('heading', { name: 'DRAFT: Weight and balance report of Garganey' }).waitFor();
    await look('a draft to print');
    const report = await printed();
    expect(report.words).toContain('This weighing is not signed');
    expect(report.isMarkedOnEveryPage).toBe(true);
    await page.goBack();
    await page.getByRole('button', { name: 'Give it up …' }).click();
    await look('giving it up');
    await page.getByRole('button', { name: 'Give it up', exact: true }).click();
    await page.getByRole('button', { name: 'Two mains and a tailwheel' }).waitFor();
    expect((await weighings()).draft).toBeUndefined();
  });

  async function newPage(): Promise<Page> {
    const context = await browser.newContext({ viewport: { width: 1180, height: 820 }, reducedMotion: 'reduce' });
    return context.newPage();
  }

  async function look(where: string): Promise<void> {
    await expectNoBarriers(page, where);
    await expectReflow(page, where);
  }

  /** The report as it is printed to A4 and Letter: its words, how many pages it has, and that no table runs out of the page. */
  async function printed() {
    const before = page.viewportSize();
    await page.emulateMedia({ media: 'print' });
    expect(await page.locator('.top-bar').isVisible()).toBe(false);
    for (const widthPx of [703, 725]) {
      // A4 and Letter less their margins of 12 mm, at 96 dots an inch.
      await page.setViewportSize({ width: widthPx, height: 900 });
      const cut = await page.evaluate<number>(`[...document.querySelectorAll('.weighing-report table')].filter(
        (table) => table.getBoundingClientRect().right > document.documentElement.clientWidth + 1,
      ).length`);
      expect(cut).toBe(0);
    }
    const words = ((await page.locator('.weighing-report').textContent()) ?? '').replaceAll('\u00a0', ' ');
    const sheets = [await printedPages(page, 'A4'), await printedPages(page, 'Letter')];
    await page.emulateMedia({ media: 'screen' });
    if (before !== null) await page.setViewportSize(before);
    const isMarked = (pieces: readonly string[]) => pieces.includes('DRAFT');
    return { words, pages: sheets[0]?.length, isMarkedOnEveryPage: sheets.flat().every(isMarked) };
  }

  async function support(name: string, x: string, y: string): Promise<void> {
    const group = page.getByRole('group', { name, exact: true });
    await group.getByLabel('Station x').fill(x);
    await group.getByLabel('y, right positive').fill(y);
  }

  async function reading(run: string, gross: Readonly<Record<string, string>>): Promise<void> {
    const group = page.getByRole('group', { name: run, exact: true });
    for (const [name, text] of Object.entries(gross)) await group.getByLabel(`${name}, gross`).fill(text);
  }

  async function kept(): Promise<void> {
    await page.getByText('● Kept on the server').waitFor({ timeout: 20_000 });
  }

  async function weighings(): Promise<AircraftWeighingsReport> {
    const answer = await page.request.get(`${server.address}/api/aircraft/${aircraft}/aircraft-weighings`);
    return AircraftWeighingsReport.parse(await answer.json());
  }

  async function begin(words: object): Promise<string> {
    const answer = await page.request.post(`${server.address}/api/aircraft`, { data: words });
    expect(answer.status(), await answer.text()).toBe(201);
    return ((await answer.json()) as { id: string }).id;
  }

  async function record(entry: object): Promise<void> {
    const data = { id: crypto.randomUUID(), happenedOn: '2026-05-01', ...entry };
    const answer = await page.request.post(`${server.address}/api/aircraft/${aircraft}/entries`, { data });
    expect(answer.status(), await answer.text()).toBe(201);
  }
});
