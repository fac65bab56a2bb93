/** What opens in front of a screen. */
import type { Page } from 'playwright-core';
import { type Screen, traceOf, WITH_PARTS } from './screen.ts';

export const DIALOGS: readonly Screen[] = [
  { name: 'record-dialog', of: ['demonstration', 'empty'], at: () => '/ledger', go: openRecord },
  {
    ...{ name: 'record-weighing', of: ['demonstration', 'long'], at: () => '/ledger' },
    async go(page) {
      await openRecord(page);
      await page
        .locator('.kind-buttons button')
        .filter({ hasText: /Estimate|estimate/ })
        .first()
        .click();
      await page.getByRole('button', { name: 'Record it' }).click();
      await page.getByRole('dialog').getByRole('alert').waitFor();
    },
  },
  {
    ...{ name: 'correct-dialog', of: ['demonstration', 'long'], at: () => '/ledger' },
    async go(page) {
      await page.getByLabel('Kind of entry').selectOption('weighing');
      await page
        .locator('.entry')
        .first()
        .getByText(/^weighing: /)
        .waitFor();
      await press(page, /^Correct entry/);
      await page.getByRole('dialog').waitFor();
    },
  },
  {
    ...{ name: 'cause-dialog', of: WITH_PARTS, at: () => '/ledger' },
    async go(page) {
      await press(page, /^State the cause/);
      await page.getByRole('dialog').waitFor();
    },
  },
  {
    ...{ name: 'open-act', of: WITH_PARTS, at: () => '/open' },
    async go(page) {
      await page.locator('.open-table tbody button').first().click();
      await page.getByRole('dialog').waitFor();
    },
  },
  {
    ...{ name: 'photo-dialog', of: ['demonstration', 'long'], at: traceOf(({ part }) => `/parts/${part}`) },
    async go(page) {
      await page.locator('.photos button').first().click();
      await page.getByRole('dialog').waitFor();
    },
  },
  {
    ...{ name: 'keys', of: ['demonstration'], at: () => '/ledger' },
    go: (page) => press(page, 'Keys of the keyboard (?)'),
  },
  {
    ...{ name: 'own-account', of: ['demonstration'], at: () => '/ledger' },
    go: (page) => press(page, /: your account$/),
  },
  {
    ...{ name: 'set-up-material', of: ['demonstration', 'long'], at: () => '/set-up/materials' },
    go: (page) => press(page, 'Describe a material'),
  },
];

async function openRecord(page: Page): Promise<void> {
  await press(page, 'Record an entry');
  await page.getByRole('dialog').waitFor();
}

function press(page: Page, name: string | RegExp): Promise<void> {
  return page.getByRole('button', { name }).first().click();
}
