/**
 * The demonstration aircraft on its scales, from the bar to the ledger: what was signed off is the basis of every figure, the parts that were not
 * aboard go on counting, and the loading is held against it. In a real browser, before a real server. All figures are invented.
 */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { LedgerReport } from '#shared/contract/aircraft.ts';
import { LoadingReport } from '#shared/contract/loading.ts';
import { PAPERS, printedPages } from './paper.ts';
import { makeFirstAccount, openBrowser, type RunningServer, startServer } from './shop-floor.ts';

const NOSE_M = 1;
const MAINS_M = 3.9;

describe('the demonstration aircraft on its scales', () => {
  let browser: Browser;
  let server: RunningServer;
  let page: Page;
  let at: string;
  beforeAll(async () => {
    [browser, server] = await Promise.all([openBrowser(), startServer({ wantsCode: true })]);
    page = await (await browser.newContext({ viewport: { width: 1180, height: 820 } })).newPage();
    await makeFirstAccount(page, server);
    await page.getByRole('button', { name: 'Look round with Dabchick' }).click();
    await page.getByRole('heading', { name: /Dabchick/ }).waitFor();
    at = new URL(page.url()).pathname.split('/')[2] ?? '';
  });
  afterAll(() => Promise.all([browser.close(), server.stop()]));

  it('[A4] [A3] is weighed and signed off, held against its parts, and what it weighs is what the ledger goes by', {
    timeout: 300_000,
  }, async () => {
    const before = await aircraft();
    const loadingBefore = await loading();
    // Two kilograms more than what is built in is known to weigh, and the CG where it is predicted. Some of that stands in the tail, which as a
    // whole is not on yet: it is taken to be missing, and the scales find that much more.
    const weighedKg = Math.round((before.headline.installedKg + 2) * 10) / 10;
    const noseKg = Math.round(((weighedKg * (MAINS_M - (before.headline.cg.xM ?? 0))) / (MAINS_M - NOSE_M)) * 10) / 10;
    const mainKg = Math.round(((weighedKg - noseKg) / 2) * 100) / 100;
    await page.getByRole('link', { name: 'Aircraft weighing' }).click();
    await page.getByRole('button', { name: 'Nosewheel and two mains' }).click();
    await page.getByLabel('Reference', { exact: true }).fill('bow');
    await page.getByLabel('Its station').fill('0');
    await support('Nose', NOSE_M, '0');
    await support('Left main', MAINS_M, '-1.1');
    await support('Right main', MAINS_M, '1.1');
    for (const run of ['Run 1', 'Run 2']) {
      const group = page.getByRole('group', { name: run, exact: true });
      for (const [name, kg] of [
        ['Nose', noseKg],
        ['Left main', mainKg],
        ['Right main', mainKg],
      ] as const)
        await group.getByLabel(`${name}, gross`).fill(String(kg));
    }
    for (const answer of await page.getByRole('region', { name: 'Checklist' }).getByText('yes', { exact: true }).all())
      await answer.click();
    await page.getByLabel('Signed by').fill('I. Nvented');
    await page
      .getByRole('region', { name: 'Against the ledger' })
      .getByText(/The scales find/)
      .first()
      .waitFor();
    await page.getByText('● Kept on the server').waitFor({ timeout: 20_000 });
    await page.getByRole('button', { name: 'Sign off …' }).click();
    await page.getByRole('dialog').getByRole('button', { name: 'Sign off', exact: true }).click();
    await page.getByText(/Recorded: entry \d+/).waitFor();

    await page.getByRole('link', { name: 'Report to print' }).first().click();
    await page.getByRole('heading', { name: /^Weight and balance report of Dabchick/ }).waitFor();
    for (const paper of PAPERS) {
      const sheets = await printedPages(page, paper);
      expect(sheets.length).toBeGreaterThan(1);
      expect(sheets.flat()).not.toContain('DRAFT');
    }

    const after = await aircraft();
    const change = after.headline.predictedKg - before.headline.predictedKg;
    // What was ticked off and is taken to be missing stays ticked off: it is in the tail.
    expect(after.headline.installedKg).toBeGreaterThan(noseKg + 2 * mainKg - 1e-6);
    expect(change).toBeGreaterThan(0);
    expect(change).toBeLessThan(4);
    await page.getByRole('link', { name: 'Ledger', exact: true }).click();
    const entry = page.locator('.entry').first();
    await entry
      .getByText(/aircraft weighed/)
      .first()
      .waitFor();
    const words = ((await entry.textContent()) ?? '').replaceAll('\u00a0', ' ');
    expect(words).toMatch(/aircraft weighed\+[23]\.\d+ kg/);

    const [predicted] = (await loading()).answers;
    expect(predicted?.empty.massKg).toBeCloseTo(after.headline.predictedKg, 9);
    expect(predicted?.empty.massKg).not.toBe(loadingBefore.answers[0]?.empty.massKg);
    await page.getByRole('link', { name: 'Loading' }).click();
    await page.getByText(/On the predicted empty weight/).waitFor();
  });

  it('[A1] [A6] is weighed once more on two mains and a tailwheel, read as a draft in print, and that is given up', {
    timeout: 300_000,
  }, async () => {
    const before = await aircraft();
    await page.getByRole('navigation', { name: 'Screens' }).getByRole('link', { name: 'Aircraft weighing' }).click();
    await page.getByRole('button', { name: 'Two mains and a tailwheel' }).click();
    await page.getByLabel('Reference', { exact: true }).fill('bow');
    await page.getByLabel('Its station').fill('0');
    await support('Left main', 3.2, '-1.1');
    await support('Right main', 3.2, '1.1');
    await support('Tail', 7.6, '0');
    for (const run of ['Run 1', 'Run 2']) {
      const group = page.getByRole('group', { name: run, exact: true });
      for (const [at, [name, gross, tare]] of (
        [
          ['Left main', '173.1', '0.6'],
          ['Right main', '172.1', '0.6'],
          ['Tail', '31.4', '2.4'],
        ] as const
      ).entries()) {
        await group.getByLabel(`${name}, gross`).fill(gross);
        await group.getByLabel('tare', { exact: true }).nth(at).fill(tare);
      }
    }
    // By hand: 172.5 + 171.5 + 29 = 373 kg; (344 x 3.2 + 29 x 7.6)/373 = 3.5421 m; (171.5 - 172.5) x 1.1/373 = -0.0029 m.
    const result = page.getByRole('region', { name: 'Result', exact: true });
    await result
      .getByText(/373\.0.*kg/)
      .first()
      .waitFor();
    const found = ((await result.textContent()) ?? '').replaceAll('\u00a0', ' ');
    expect(found).toMatch(/3\.542/);
    expect(found).toMatch(/−0\.0029/);
    await page.getByText('● Kept on the server').waitFor({ timeout: 20_000 });
    await page.getByRole('link', { name: 'Draft to print' }).click();
    await page.getByRole('heading', { name: /^DRAFT: Weight and balance report of Dabchick/ }).waitFor();
    const sheets = await printedPages(page, 'A4');
    expect(sheets.length).toBeGreaterThan(1);
    expect(sheets.every((pieces) => pieces.includes('DRAFT'))).toBe(true);
    await page.goBack();
    await page.getByRole('button', { name: 'Give it up …' }).click();
    await page.getByRole('button', { name: 'Give it up', exact: true }).click();
    await page.getByRole('button', { name: 'Two mains and a tailwheel' }).waitFor();
    expect((await aircraft()).headline).toEqual(before.headline);
  });

  async function support(name: string, xM: number, y: string): Promise<void> {
    const group = page.getByRole('group', { name, exact: true });
    await group.getByLabel('Station x').fill(String(xM));
    await group.getByLabel('y, right positive').fill(y);
  }

  async function aircraft(): Promise<ReturnType<typeof LedgerReport.parse>> {
    return LedgerReport.parse(await (await page.request.get(`${server.address}/api/aircraft/${at}`)).json());
  }

  async function loading(): Promise<LoadingReport> {
    return LoadingReport.parse(await (await page.request.get(`${server.address}/api/aircraft/${at}/loading`)).json());
  }
});
