/** Every address of an aircraft. */
import type { Page } from 'playwright-core';
import { AIRCRAFT } from '../shop/shop.ts';
import { type Screen, traceOf, WITH_PARTS } from './screen.ts';

const SET_UP = [
  'aircraft',
  'targets',
  'groups',
  'allowances',
  'materials',
  'scales',
  'people',
  'access',
  'verify',
  'acts',
  'carry',
  'backup',
] as const;
const PROJECTOR = traceOf(({ brief }) => `/brief/${brief}/projector`);

export const PAGES: readonly Screen[] = [
  plain('ledger'),
  plain('open'),
  plain('where'),
  plain('parts'),
  plain('weigh'),
  plain('processes'),
  plain('lay-up-accuracy'),
  plain('what-if'),
  plain('loading'),
  plain('aircraft-weighing'),
  plain('brief'),
  plain('bring'),
  plain('labels'),
  ...SET_UP.map((section): Screen => ({ name: `set-up-${section}`, of: AIRCRAFT, at: () => `/set-up/${section}` })),
  { name: 'ledger-all', of: WITH_PARTS, at: () => '/ledger', go: showAllOfLedger },
  { name: 'part', of: WITH_PARTS, at: traceOf(({ part }) => `/parts/${part}`) },
  { name: 'lay-up', of: WITH_PARTS, at: traceOf(({ layUpPart }) => `/parts/${layUpPart}/lay-up`) },
  {
    ...{ name: 'weigh-part', of: WITH_PARTS, at: () => '/weigh' },
    async go(page) {
      await page.getByLabel('Which part is on the scale?').fill('3');
      await page.locator('[aria-label="Find the part"] > .part-buttons button').first().click();
      await page.getByText('trimmed', { exact: true }).click();
      await page.getByLabel('Gross').first().fill('7.5');
      await page.getByRole('region', { name: 'Judgement' }).waitFor();
    },
  },
  {
    ...{ name: 'what-if-change', of: WITH_PARTS, at: () => '/what-if' },
    async go(page) {
      await page.getByRole('button', { name: 'Add a change' }).click();
      await page.keyboard.press('Tab');
      await page.keyboard.type(await firstNumber(page));
      await page.keyboard.press('Tab');
      await page.keyboard.type('8,5');
    },
  },
  { name: 'brief-page', of: WITH_PARTS, at: traceOf(({ brief }) => `/brief/${brief}`) },
  { name: 'projector', of: WITH_PARTS, at: PROJECTOR },
  { name: 'projector-3', of: WITH_PARTS, at: PROJECTOR, go: (page) => forward(page, 2) },
  { name: 'projector-6', of: WITH_PARTS, at: PROJECTOR, go: (page) => forward(page, 5) },
  { name: 'weighing-report', of: ['long'], at: () => '/aircraft-weighing', go: openReport },
  { name: 'weighing-begun', of: ['empty', 'large'], at: () => '/aircraft-weighing', go: beginWeighing },
  { name: 'bring-review', of: ['demonstration', 'long'], at: () => '/bring', go: bringCells },
];

function plain(name: string): Screen {
  return { name, of: AIRCRAFT, at: () => `/${name}` };
}

async function forward(page: Page, count: number): Promise<void> {
  await page.locator('.projector').waitFor();
  for (let at = 0; at < count; at += 1) await page.keyboard.press('PageDown');
}

/** Findings all, charts as tables, and what is folded away. */
async function showAllOfLedger(page: Page): Promise<void> {
  await page.locator('.entry').first().waitFor();
  const folded = page.locator('main details:not([open]) > summary');
  while ((await folded.count()) > 0) await folded.first().click();
}

async function firstNumber(page: Page): Promise<string> {
  const at = page
    .url()
    .replace(/\/what-if$/, '/parts')
    .replace('/aircraft/', '/api/aircraft/');
  const { parts } = (await (await page.request.get(at)).json()) as { parts: readonly { number: string }[] };
  return parts[2]?.number ?? '';
}

async function openReport(page: Page): Promise<void> {
  await page.getByRole('link', { name: 'Report to print' }).first().click();
  await page.locator('main h1').first().waitFor();
}

async function beginWeighing(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Nosewheel and two mains' }).click();
  await page.getByLabel('Reference', { exact: true }).waitFor();
}

const CELLS = [
  ['number', 'name', 'group', 'process', 'estimate [kg]', 'x [mm]'],
  ['N-1', 'Fairing of the pylon', 'wing', 'prepreg', '4.2', '2510'],
  ['N-1', 'Flügelstreckenverbindungsbeschlagsverkleidungsabdeckblechhalterung', 'wing', 'glued', 'heavy', '2510'],
];

async function bringCells(page: Page): Promise<void> {
  await page
    .locator('main textarea')
    .first()
    .fill(CELLS.map((row) => row.join('\t')).join('\n'));
  await page.getByRole('button', { name: 'Read the cells' }).click();
  await page.getByRole('region', { name: 'Problems' }).waitFor();
}
