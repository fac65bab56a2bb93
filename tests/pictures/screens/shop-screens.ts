/** Screens that are about no aircraft, and those in front of which somebody has yet to sign in. */
import type { BrowserContext, Page } from 'playwright-core';
import { LEAD } from '#tests/browser/shop-floor.ts';
import { PEOPLE } from '../shop/people.ts';
import type { Shop } from '../shop/shop.ts';
import type { Screen } from './screen.ts';

const ONE = { of: undefined } as const;

export const SHOP_SCREENS: readonly Screen[] = [
  { ...ONE, name: 'people', at: () => '/people' },
  {
    ...{ ...ONE, name: 'people-add', at: () => '/people' },
    go: (page) => page.getByRole('button', { name: 'Add somebody' }).click(),
  },
  { ...ONE, name: 'guide-crew', at: () => '/guide/crew' },
  { ...ONE, name: 'guide-lead', at: () => '/guide/lead' },
  { ...ONE, name: 'new-aircraft', at: () => '/new' },
  { ...ONE, name: 'nowhere', at: () => '/nowhere' },
  { ...ONE, name: 'sign-in', at: () => '/', as: (shop) => shop.stranger() },
  {
    ...{ ...ONE, name: 'sign-in-refused', at: () => '/', as: (shop) => shop.stranger() },
    async go(page) {
      await page.getByLabel('Name').fill(PEOPLE[2].name);
      await page.getByLabel('Password').fill('not this one');
      await page.getByRole('button', { name: 'Sign in' }).click();
      await page.getByRole('alert').waitFor();
    },
  },
  { ...ONE, name: 'tablet', at: () => '/', as: sharedTablet },
  {
    ...{ ...ONE, name: 'tablet-pin', at: () => '/', as: sharedTablet },
    go: (page) => page.getByRole('button', { name: new RegExp(`^${PEOPLE[2].name}`) }).click(),
  },
  {
    ...{ ...ONE, name: 'session-ended', at: () => '/people' },
    async go(page) {
      await page.context().clearCookies();
      await page.getByRole('checkbox', { name: 'all aircraft' }).first().click();
      await page.getByRole('dialog', { name: 'Your session has ended' }).waitFor();
    },
  },
  { name: 'queue', of: ['demonstration'], at: () => '/weigh', go: keepOnDevice },
];

/** One weighing that the server has not got. */
async function keepOnDevice(page: Page): Promise<void> {
  await page.getByLabel('Which part is on the scale?').fill('canopy frame');
  await page.locator('.part-buttons button').first().click();
  await page.getByText('finished', { exact: true }).click();
  await page.getByLabel('Gross').fill('3.41');
  await page.getByRole('region', { name: 'Judgement' }).getByText('in line').waitFor();
  await page.context().setOffline(true);
  await page.getByRole('button', { name: 'Save the weighing' }).click();
  await page.getByText('Kept on this device').waitFor();
}

async function sharedTablet(shop: Shop): Promise<BrowserContext> {
  const context = await shop.stranger();
  const lead = { name: LEAD.name, password: LEAD.password };
  await context.request.post(`${shop.server.address}/api/sign-in`, { data: lead });
  const data = { name: 'Trim bench', idleMinutes: 5 };
  await context.request.post(`${shop.server.address}/api/tablets`, { data });
  await context.request.post(`${shop.server.address}/api/sign-out`, { data: {} });
  return context;
}
