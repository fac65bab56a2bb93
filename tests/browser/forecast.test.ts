/**
 * Where the aircraft will end, as a lead reads it in the demonstration: the forecast beside the predicted weight, pictures that can be saved,
 * and the process that drifts, from its call to its stated cause.
 */
import { readFile } from 'node:fs/promises';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
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
    page.setDefaultTimeout(12_000);
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
    // 373.909 with a standard uncertainty of 2.671: nine in ten lie within 1.645 of these. The door says 0.237 and 0.820 of the chances.
    expect(text).toContain('373.9 ± 2.7 kg');
    expect(text).toContain('369.5 to 378.3 kg');
    expect(text).toMatch(/within the targetabout 25 %/);
    expect(text).toMatch(/CG within its rangeabout 80 %/);
    expect(text).toContain('parts that are not listed yet');
  });

  it('[F4] the picture of the growth has the forecast and its band, and its table says the same', async () => {
    const picture = page.getByRole('figure').filter({ hasText: 'Predicted and forecast empty weight' });
    await picture.getByText('As a table').click();
    const [newest = []] = await cellsOf(picture.locator('tbody tr'));
    expect(newest.slice(3, 6).map(Number)).toEqual([373.9, 369.5, 378.3]);
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
