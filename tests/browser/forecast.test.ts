/**
 * Where the aircraft will end, as a lead reads it in the demonstration: the forecast beside the predicted weight, pictures that can be saved,
 * and the process that drifts, from its call to its stated cause.
 */
import { readFile } from 'node:fs/promises';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ForecastReport } from '#shared/contract/forecast.ts';
import { expectNoBarriers, expectReflow } from './barriers.ts';
import { makeFirstAccount, openBrowser, type RunningServer, startServer } from './shop-floor.ts';

type Drawn = { title: string; words: string[]; paths: number; strange: string[] };

describe('the forecast on the screens', () => {
  let browser: Browser;
  let server: RunningServer;
  let page: Page;
  let home = '';
  const faults: string[] = [];
  beforeAll(async () => {
    [browser, server] = await Promise.all([openBrowser(), startServer({ wantsCode: true })]);
    page = await (
      await browser.newContext({ viewport: { width: 820, height: 1024 }, reducedMotion: 'reduce' })
    ).newPage();
    page.setDefaultTimeout(20_000);
    page.on('pageerror', (error) => faults.push(String(error)));
    await makeFirstAccount(page, server);
    await page.getByRole('button', { name: 'Look round with Dabchick' }).click();
    await page.getByRole('heading', { name: /^Dabchick/ }).waitFor();
    home = page.url().replace(/\/ledger.*$/, '');
  });
  afterAll(async () => {
    await browser.close();
    await server.stop();
  });

  it('[F2] the headline tells the forecast with its band, how likely the targets are, and what it does not know', async () => {
    const card = page.locator('.figure', { has: page.getByRole('heading', { name: 'Forecast empty weight' }) });
    await card.getByText('less likely than not').waitFor();
    const text = plain(await card.textContent());
    const answer = await page.request.get(`${home.replace('/aircraft/', '/api/aircraft/')}/forecast`);
    const { forecastKg, forecastStdKg, targets } = ForecastReport.parse(await answer.json());
    // Nine in ten of a normal figure lie within 1.645 standard deviations; the demonstration's ± is of kilograms, so one decimal is told.
    const ends = [-1.645, 1.645].map((times) => (forecastKg + times * forecastStdKg).toFixed(1));
    expect(text).toContain(`${forecastKg.toFixed(1)} ± ${forecastStdKg.toFixed(1)} kg`);
    expect(text).toContain(`${ends[0]} to ${ends[1]} kg`);
    const told = (name: string) => Number(new RegExp(`${name}about (\\d+) %`).exec(text)?.[1]);
    expect(Math.abs(told('within the target') - 100 * (targets?.withinTarget ?? 0))).toBeLessThanOrEqual(2.5);
    expect(Math.abs(told('CG within its range') - 100 * (targets?.cgInRange ?? 0))).toBeLessThanOrEqual(2.5);
    expect(text).toContain('It covers the parts that are listed, and no others');
  });

  it('[F4] the picture of the growth has the forecast and its band, and its table says the same', async () => {
    const picture = page.getByRole('figure').filter({ hasText: 'Predicted and forecast empty weight' });
    await picture.getByText('As a table').click();
    // The forecast by the day comes after the days themselves.
    await expect.poll(async () => (await cellsOf(picture.locator('tbody tr')))[0]?.[3]).not.toBe('–');
    const [newest = []] = await cellsOf(picture.locator('tbody tr'));
    const [forecast = 0, low = 0, high = 0] = newest.slice(3, 6).map(Number);
    expect(low).toBeLessThan(forecast);
    // Each is rounded to a tenth.
    expect(Math.abs((low + high) / 2 - forecast)).toBeLessThan(0.11);
    await page.getByRole('button', { name: 'As it stood then' }).nth(20).click();
    await page.getByText('This is the ledger as it stood').waitFor();
    await expect.poll(async () => (await cellsOf(picture.locator('tbody tr')))[0]?.[0]).not.toBe(newest[0]);
    const [then = []] = await cellsOf(picture.locator('tbody tr'));
    expect(then[0]?.localeCompare(newest[0] ?? '')).toBe(-1);
    expect(Number(then[4])).toBeLessThan(Number(then[3]));
    await page.getByRole('button', { name: 'Back to now' }).click();
  });

  it('[V1] every picture is saved as PNG, as SVG and its table as CSV', async () => {
    await page.getByRole('heading', { name: 'Change in predicted weight, by cause' }).waitFor();
    const pictures = page.getByRole('figure');
    expect(await pictures.count()).toBe(3);
    for (const picture of await pictures.all()) {
      const title = (await picture.getByRole('heading').first().textContent()) ?? '';
      const png = await saved(picture, 'PNG');
      expect(png.name).toBe(`${title}.png`);
      expect([...png.bytes.subarray(0, 4)]).toEqual([0x89, 0x50, 0x4e, 0x47]);
      const drawn = await readSvg((await saved(picture, 'SVG')).bytes.toString('utf8'));
      expect(drawn.title).toBe(title);
      // Axes and legend are words, every one of them; what is drawn is lines and areas.
      expect(drawn.words).toContain(title);
      expect(drawn.words.length).toBeGreaterThan(8);
      expect(drawn.paths).toBeGreaterThan(8);
      expect(drawn.strange).toEqual([]);
      const csv = (await saved(picture, 'CSV')).bytes.toString('utf8').replace('\uFEFF', '');
      const rows = csv.trimEnd().split('\r\n');
      expect(rows.length).toBe(await picture.locator('tr').count());
      expect(csv).not.toMatch(/[\u2212\u00a0]/);
    }
  });

  it('[D4] the ledger names the process that changed and the part it was called at, and takes its cause', async () => {
    await page.goto(`${home}/ledger`);
    const open = page.locator('.figure', { has: page.getByRole('heading', { name: 'Open', exact: true }) });
    await open.getByText('process that changed, without a cause').waitFor();
    expect(await open.textContent()).toContain('resin\u2011infused');
    const changed = page.getByRole('region', { name: 'Processes that changed' });
    await changed.getByText(/Called at H-16 on 20\d\d-\d\d-\d\d by both charts; the change began at H-15/).waitFor();
    await changed.getByText('not stated').waitFor();
    await changed.getByRole('link', { name: 'All processes with their charts' }).click();
    await page.getByRole('heading', { name: 'Processes', level: 1 }).waitFor();

    const process = page.getByRole('region', { name: 'resin-infused', exact: true });
    await process.getByText('heavier than estimate and allowance together').waitFor();
    await process.getByText('about one call in 370 releases').waitFor();
    // The shift comes with the forecast.
    await expect
      .poll(async () => plain(await process.textContent()))
      .toMatch(/its shift now\+11\.\d ± 1\.0 %adds to the forecast\+1\.\d\d ± 0\.1\d kg/);
    await process.getByText('As a table').first().click();
    const rows = process.locator('figure').first().locator('tbody tr');
    expect(await rows.count()).toBe(28);
    await process.getByRole('button', { name: 'State the cause of resin-infused' }).click();
    await page.getByRole('combobox', { name: 'Cause' }).selectOption('other');
    await page.getByRole('button', { name: 'Record the cause' }).click();
    await page.getByText('Nothing is given here.').waitFor();
    await expectOpen('the cause of a process, refused');
    await page.getByLabel('What was found').fill('New roll of fabric, wetter at the same vacuum');
    await page.getByRole('button', { name: 'Record the cause' }).click();
    await process.getByText('New roll of fabric').waitFor();
    await page.getByRole('link', { name: 'Ledger', exact: true }).click();
    await page.getByRole('button', { name: 'Change the cause of resin-infused' }).waitFor();
    await expect
      .poll(() => page.locator('.entry .entry-words').first().textContent())
      .toMatch(/^cause stated of the process resin-infused: other; New roll/);
    await expect.poll(() => open.textContent()).not.toContain('process that changed');
  });

  it('[F5] what to weigh next leads to the part and to the scale, and says what it takes away', async () => {
    await page.goto(`${home}/processes`);
    const next = page.getByRole('region', { name: 'What to weigh next' });
    await next.locator('tbody tr').first().waitFor();
    const [first] = await next.locator('tbody tr').all();
    const cells = (await first?.locator('td').allTextContents()) ?? [];
    expect(cells[0]).toContain('P-16 Propeller');
    const [takesAway, leaves] = [Number(cells[3]), Number(cells[4])];
    expect(takesAway).toBeGreaterThan(15);
    expect(takesAway).toBeLessThan(30);
    // What is left of a variance of which that share goes: the ± of the headline is some 2.7 kg.
    expect(leaves).toBeGreaterThan(2);
    expect(leaves).toBeLessThan(2.7 * Math.sqrt(1 - (takesAway - 1) / 100));
    await first?.getByRole('link', { name: 'Weigh P-16' }).click();
    await page.getByRole('heading', { level: 2, name: /P-16/ }).waitFor();
  });

  it('[W10] differences are split by lot, by temperature and the rest; [W9] what was weighed twice is told with its offers', async () => {
    await page.goto(`${home}/processes`);
    const split = page.getByRole('region', { name: 'What the pieces had in common' });
    for (const key of ['lot', 'batch', 'operator', 'temperature', 'humidity']) {
      await split.getByLabel('Split the differences by').selectOption(key);
      await split.getByRole('heading', { name: `Differences from the estimates, by ${key}` }).waitFor();
      expect(await split.locator('tbody tr').count()).toBeGreaterThan(1);
    }
    const offers = page.getByRole('region', { name: 'Estimates that this would change', exact: true });
    await offers.getByRole('link', { name: 'W-22' }).first().click();
    await page.getByRole('heading', { name: /W-22/ }).first().waitFor();
  });

  it('[V1] Processes has no barrier, with every chart and table shown', { timeout: 120_000 }, async () => {
    await page.goto(`${home}/processes`);
    await page.getByRole('region', { name: 'What to weigh next' }).waitFor();
    const shut = page.getByRole('button', { name: /^Show the charts of/ });
    while ((await shut.count()) > 0) await shut.first().click();
    await page.getByText('As a table').first().click();
    await expectOpen('all processes');
  });

  async function saved(picture: ReturnType<Page['locator']>, kind: string) {
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      picture.getByRole('button', { name: `Save as ${kind}` }).click(),
    ]);
    return { name: download.suggestedFilename(), bytes: await readFile(await download.path()) };
  }

  /** As a browser reads it: not well-formed, it would have no title. */
  function readSvg(svg: string): Promise<Drawn> {
    return page.evaluate(`(() => {
      const text = ${JSON.stringify(svg)};
      const read = new DOMParser().parseFromString(text, 'image/svg+xml');
      return {
        title: read.querySelector('title')?.textContent,
        words: [...read.querySelectorAll('text')].map((one) => one.textContent),
        paths: read.querySelectorAll('path').length,
        strange: text.match(/NaN|undefined|object /g) ?? [],
      };
    })()`);
  }

  async function cellsOf(rows: ReturnType<Page['locator']>): Promise<string[][]> {
    return Promise.all((await rows.all()).slice(0, 1).map((row) => row.locator('td').allTextContents()));
  }

  async function expectOpen(where: string): Promise<void> {
    await expectNoBarriers(page, where);
    await expectReflow(page, where);
  }

  it('[V1] nothing failed on the way', async () => {
    await expectOpen('the ledger with its forecast');
    expect(home).not.toBe('');
    expect(faults).toEqual([]);
  });
});

/** Spaces that do not break are spaces. */
function plain(text: string | null): string {
  return (text ?? '').replaceAll('\u00a0', ' ');
}
