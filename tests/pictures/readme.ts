/** The pictures of the README: the demonstration as a lead sees it. */
import { mkdir } from 'node:fs/promises';
import type { Browser, Page } from 'playwright-core';
import { makeFirstAccount, startServer } from '#tests/browser/shop-floor.ts';
import { settled, watch } from './settled.ts';
import { Doors } from './shop/doors.ts';
import { DRAFT_WORDS } from './shop/on-scales.ts';

const FOLDER = 'client/pictures';

type Picture = {
  readonly name: string;
  readonly width: number;
  readonly height: number;
  /** From the demonstration's ledger to what is to be seen. */
  readonly go: (page: Page) => Promise<void>;
};

const PICTURES: readonly Picture[] = [
  { name: 'ledger', width: 1280, height: 900, go: async () => {} },
  { name: 'parts', width: 1280, height: 800, go: (page) => follow(page, 'Parts') },
  {
    name: 'weigh',
    width: 1024,
    height: 768,
    async go(page) {
      await page.getByRole('link', { name: 'Weigh', exact: true }).click();
      await page.getByRole('searchbox').fill('W-22');
      await page.locator('.part-buttons button').first().click();
      await page.getByText('as released', { exact: true }).click();
      await page
        .getByLabel(/^Gross/)
        .first()
        .fill('7.06');
      await page.getByText(/Predicted empty weight,/).waitFor();
    },
  },
  {
    name: 'lay-up',
    width: 1366,
    height: 860,
    async go(page) {
      await follow(page, 'Parts');
      await page.getByLabel('Search the parts').fill('W-11');
      await page.getByRole('link', { name: 'W-11', exact: true }).click();
      await page.getByRole('link', { name: 'Open the lay-up' }).click();
      await page.getByRole('heading', { name: 'Lay-up of W-11' }).waitFor();
    },
  },
  { name: 'processes', width: 1280, height: 820, go: (page) => follow(page, 'Processes') },
  {
    ...{ name: 'loading', width: 1280, height: 860 },
    async go(page) {
      await follow(page, 'Loading');
      await page.getByRole('heading', { name: /^Every permitted loading/ }).waitFor();
      await page.mouse.wheel(0, 90);
    },
  },
  {
    ...{ name: 'aircraft-weighing', width: 1280, height: 900 },
    async go(page) {
      const [origin = '', aircraftId = ''] = page.url().split(/\/aircraft\/|\/ledger/);
      const aircraft = new Doors(page.request, origin).of(aircraftId);
      await aircraft.send('/aircraft-weighings/draft', { after: 0, words: DRAFT_WORDS });
      await follow(page, 'Aircraft weighing');
      await page.getByText('agree').first().waitFor();
    },
  },
  {
    ...{ name: 'brief', width: 1280, height: 900 },
    async go(page) {
      await follow(page, 'Brief');
      await page.getByRole('link', { name: /^Draft/ }).click();
      await page.getByRole('button', { name: 'Issue the brief' }).click();
      await page.getByRole('button', { name: 'Issue it' }).click();
      await page.getByRole('heading', { name: /^Brief 2/ }).waitFor();
    },
  },
  {
    ...{ name: 'labels', width: 1280, height: 900 },
    async go(page) {
      await follow(page, 'Parts');
      await page.getByLabel('Search the parts').fill('W-1');
      await page.getByRole('link', { name: 'Labels', exact: true }).click();
      await page.locator('.part-label').first().waitFor();
      await page.mouse.wheel(0, 330);
    },
  },
];

async function follow(page: Page, link: string): Promise<void> {
  await page.getByRole('link', { name: link, exact: true }).click();
  await page.getByRole('heading', { level: 1 }).waitFor();
}

export async function takeReadme(browser: Browser): Promise<void> {
  const server = await startServer({ wantsCode: true });
  try {
    await mkdir(FOLDER, { recursive: true });
    const context = await browser.newContext({ reducedMotion: 'reduce' });
    const page = await context.newPage();
    watch(page);
    await makeFirstAccount(page, server);
    await page.getByRole('button', { name: 'Look round with Dabchick' }).click();
    await page.getByRole('heading', { name: 'Predicted empty weight' }).waitFor();
    const home = page.url();
    for (const { name, width, height, go } of PICTURES) {
      await page.setViewportSize({ width, height });
      await page.goto(home);
      await page.getByRole('heading', { name: 'Predicted empty weight' }).waitFor();
      await go(page);
      await settled(page);
      await page.screenshot({ path: `${FOLDER}/${name}.png` });
      process.stdout.write(`${FOLDER}/${name}.png\n`);
    }
  } finally {
    await server.stop();
  }
}
