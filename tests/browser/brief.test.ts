/** The brief as a team meets it (rule B5): made, remarked on and issued, shown on a projector by keys without scrolling, and put on paper. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeDatabase } from '#tests/support/engines.ts';
import { expectNoBarriers, expectReflow } from './barriers.ts';
import { PAPERS, printedPages } from './paper.ts';
import { makeFirstAccount, openBrowser, type RunningServer, startServer } from './shop-floor.ts';

/** What of the page ends beyond its right edge. */
const CUT = `(() => {
  const width = document.documentElement.clientWidth;
  const all = document.querySelectorAll('.brief-page :is(table, canvas, p, dd, h1, h2)');
  return [...all]
    .filter((one) => one.getBoundingClientRect().width > 0 && one.getBoundingClientRect().right > width + 1)
    .map((one) => one.tagName + ' ' + one.textContent.slice(0, 40));
})()`;

/** How many dots of the colour of what is predicted the first two pictures have above their keys. */
const POINTS = `[...document.querySelectorAll('.brief-page canvas')].slice(0, 2).map((canvas) => {
  const colour = getComputedStyle(document.documentElement).getPropertyValue('--chart-predicted').trim();
  const [red, green, blue] = [1, 3, 5].map((at) => parseInt(colour.slice(at, at + 2), 16));
  const { data } = canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height * 0.7);
  let seen = 0;
  for (let at = 0; at < data.length; at += 4)
    if (data[at] === red && data[at + 1] === green && data[at + 2] === blue) seen += 1;
  return seen;
})`;

/** How wide each picture is once the browser is about to print. */
const ON_PAPER = `(async () => {
  dispatchEvent(new Event('beforeprint'));
  await new Promise((resolve) => setTimeout(resolve, 200));
  const widths = [...document.querySelectorAll('.brief-page canvas')].map(({ style }) => style.width);
  dispatchEvent(new Event('afterprint'));
  return widths;
})()`;

/** By how much each holds more than it shows, down and across. */
const OVER = `['html', 'body', '.projector', '.slide'].map((name) => {
  const one = document.querySelector(name);
  return one === null ? -1 : Math.max(one.scrollHeight - one.clientHeight, one.scrollWidth - one.clientWidth);
})`;

describe('the brief', () => {
  let browser: Browser;
  let server: RunningServer;
  let page: Page;
  let at: string;
  let briefs: string;
  beforeAll(async () => {
    [browser, server] = await Promise.all([openBrowser(), startServer({ wantsCode: true, url: await makeDatabase() })]);
    const context = await browser.newContext({ viewport: { width: 1280, height: 720 }, reducedMotion: 'reduce' });
    page = await context.newPage();
    page.setDefaultTimeout(60_000);
    await makeFirstAccount(page, server);
    await page.getByRole('heading', { name: 'How do you want to begin?' }).waitFor();
    const data = { name: 'Curlew', datum: 'tip of the spinner', massUnit: 'kg', lengthUnit: 'm' };
    const made = await page.request.post(`${server.address}/api/aircraft`, { data });
    at = `/aircraft/${((await made.json()) as { id: string }).id}`;
    briefs = `${server.address}${at}/brief`;
    await record({ kind: 'targets', 'empty mass': '20 kg', reserve: '1 kg', 'cg forward': '1.9 m', 'cg aft': '2.1 m' });
    for (let number = 1; number <= 12; number += 1) {
      const part = `W-${number}`;
      await record({ kind: 'part added', number: part, name: `Skin ${number}`, group: 'wing', process: 'machined' });
      await record({ kind: 'estimate', part, estimate: '2 kg', allowance: '0 %', x: '2 m' });
    }
    for (let number = 1; number <= 10; number += 1)
      await record({ kind: 'weighing', part: `W-${number}`, gross: `${2.2 + number / 100} kg`, condition: 'finished' });
  }, 240_000);
  afterAll(async () => {
    await browser.close();
    await server.stop();
  });

  it('[B5] is made from now since the last one, remarked on, issued, and fixed', { timeout: 240_000 }, async () => {
    await page.goto(`${server.address}${at}/ledger`);
    await page.getByRole('link', { name: 'Brief', exact: true }).click();
    await page.getByLabel('As known at entry').fill('99');
    await page.getByText('Give the number of an entry, 1 to 36.').waitFor();
    await page.getByLabel('As known at entry').fill('10');
    await page.getByLabel('What came since entry').fill('11');
    await page.getByText('Give an entry that is not after 10.').waitFor();
    await expectOpen('the next brief, refused');
    await page.getByLabel('As known at entry').fill('36');
    await page.getByLabel('What came since entry').fill('0');
    await page.getByRole('button', { name: 'Make the brief' }).click();
    await page.getByText(/^Over target: Curlew is forecast at/).waitFor();
    await page.getByLabel('Remark: In general').fill('x'.repeat(1001));
    await page.getByText('Shorten it: 1001 of at most 1000').waitFor();
    await page.getByLabel('Remark: In general').fill('Ask the mill about W-10 first.');
    await page.getByRole('button', { name: 'Save the remarks' }).click();
    await page.getByText('Remark: Ask the mill about W-10 first.').waitFor();
    await page.getByLabel('Remark: What drifts').fill('All of one batch.');
    await expectOpen('a draft');
    await page.getByRole('button', { name: 'Issue the brief' }).click();
    await page.getByRole('button', { name: 'Issue it' }).click();
    await page.getByRole('heading', { name: 'Brief 1: Curlew' }).waitFor();
    await page.getByText('Remark: All of one batch.').waitFor();
    expect(await page.getByRole('button', { name: 'Save the remarks' }).count()).toBe(0);
    await expectOpen('an issued brief');

    const before = await page.locator('.brief-subject').allTextContents();
    await record({ kind: 'part removed', part: 'W-10', reason: 'not needed' });
    await page.reload();
    await page.getByRole('heading', { name: 'Brief 1: Curlew' }).waitFor();
    expect(await page.locator('.brief-subject').allTextContents()).toEqual(before);
    await page.getByRole('link', { name: 'All briefs' }).click();
    await page.getByText('The last issued brief ends at 36.').waitFor();
    expect(await page.getByLabel('What came since entry').inputValue()).toBe('36');
    await expectOpen('the list of briefs');
    await page.getByRole('link', { name: /^Brief 1/ }).click();
  });

  it('[B5] is shown one subject at a time by the keys of a clicker, and nothing scrolls', {
    timeout: 240_000,
  }, async () => {
    await page.goto(briefs);
    await page.getByRole('link', { name: /^Brief 1/ }).click();
    await page.getByRole('link', { name: 'Show on a projector' }).click();
    await page.getByText(/: 1 of 9$/).waitFor();
    const keys = ['PageDown', 'ArrowRight', 'Space', 'ArrowDown', 'PageDown', 'PageDown', 'PageDown', 'PageDown'];
    for (let slide = 1; slide <= 9; slide += 1) {
      await page.getByText(new RegExp(`: ${slide} of 9$`)).waitFor();
      await expectWhole(slide);
      await page.getByText('no flight on them').waitFor();
      if (slide === 1 || slide === 6) await expectNoBarriers(page, `slide ${slide}`);
      await page.keyboard.press(keys[slide - 1] ?? 'PageDown');
    }
    await page.keyboard.press('PageUp');
    await page.getByText(/: 8 of 9$/).waitFor();
    await page.keyboard.press('ArrowLeft');
    await page.getByText(/: 7 of 9$/).waitFor();
    await page.keyboard.press('Home');
    await page.getByText(/: 1 of 9$/).waitFor();
    await page.keyboard.press('Escape');
    await page.getByRole('heading', { name: 'Brief 1: Curlew' }).waitFor();
  });

  it('[B5] on A4 and on Letter no table, picture or word is cut', { timeout: 240_000 }, async () => {
    await page.goto(briefs);
    await page.getByRole('link', { name: /^Brief 1/ }).click();
    await page.getByText(/^Over target: Curlew/).waitFor();
    const points = await page.evaluate<number[]>(POINTS);
    for (const seen of points) expect(seen, 'of a single day every figure is a point').toBeGreaterThan(40);
    expect(points).toHaveLength(2);
    expect(await page.evaluate<string[]>(ON_PAPER)).toEqual(['660px', '660px', '660px']);
    for (const format of PAPERS) {
      const pages = await printedPages(page, format);
      expect(pages.length).toBeLessThanOrEqual(4);
      pages.forEach((pieces, at) => {
        expect(pieces.join('')).toContain(`Brief1:Curlew,asknownatentry36,page${at + 1}/${pages.length}`);
      });
    }
    for (const [format, widthPx] of [
      ['A4', 794],
      ['Letter', 816],
    ] as const) {
      const paper = await page.pdf({ format });
      expect(paper.subarray(0, 5).toString('latin1')).toBe('%PDF-');
      // The same layout as on paper, to be measured: the width of the paper less its margins.
      const before = page.viewportSize();
      await page.setViewportSize({ width: widthPx - 91, height: 1000 });
      await page.emulateMedia({ media: 'print' });
      const cut = await page.evaluate<string[]>(CUT);
      expect(cut, format).toEqual([]);
      await page.emulateMedia({ media: null });
      if (before !== null) await page.setViewportSize(before);
    }
  });

  /** The page and the slide hold all they have: nothing is pushed, nothing is cut. */
  async function expectWhole(slide: number): Promise<void> {
    const over = await page.evaluate<number[]>(OVER);
    expect(over, `slide ${slide}`).toEqual([0, 0, 0, 0]);
  }

  async function record(entry: Record<string, unknown>): Promise<void> {
    const id = crypto.randomUUID();
    const answer = await page.request.post(`${server.address}/api${at}/entries`, { data: { id, ...entry } });
    expect(answer.status(), await answer.text()).toBe(201);
  }

  async function expectOpen(where: string): Promise<void> {
    await expectNoBarriers(page, where);
    await expectReflow(page, where);
  }
});
