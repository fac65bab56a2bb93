/** Every screen whose answer does not come says so in words and offers another try; when the answer comes, it is the screen again. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeFirstAccount, openBrowser, type RunningServer, startServer } from './shop-floor.ts';

const BROKEN = { type: 'about:blank', title: 'Server fault', status: 500, code: 'server-fault', detail: 'x at line 7' };

describe('when an answer does not come', () => {
  let browser: Browser;
  let server: RunningServer;
  let page: Page;
  let at: string;
  beforeAll(async () => {
    [browser, server] = await Promise.all([openBrowser(), startServer({ wantsCode: true })]);
    // What the worker passes on is not caught by a route: here it is the server that is to fail.
    page = await (
      await browser.newContext({ viewport: { width: 1280, height: 900 }, serviceWorkers: 'block' })
    ).newPage();
    await makeFirstAccount(page, server);
    await page.getByRole('heading', { name: 'How do you want to begin?' }).waitFor();
    const made = await page.request.post(`${server.address}/api/aircraft`, {
      data: { name: 'Curlew', datum: 'tip of the spinner', massUnit: 'kg', lengthUnit: 'm' },
    });
    const { id } = (await made.json()) as { id: string };
    at = `/aircraft/${id}`;
    await page.request.post(`${server.address}/api${at}/entries`, {
      data: { id: crypto.randomUUID(), kind: 'part added', number: 'W-1', group: 'wing' },
    });
  });
  afterAll(() => Promise.all([browser.close(), server.stop()]));

  it.each([
    ['the ledger', '/ledger', ''],
    ['the history', '/ledger', '/history'],
    ['the entries', '/ledger', '/entries'],
    ['what drifts', '/ledger', '/drift'],
    ['the open list', '/open', '/open'],
    ['where the mass is', '/where', '/where'],
    ['the parts', '/parts', '/parts'],
    ['lay-ups against the scale', '/lay-up-accuracy', '/lay-up-accuracy'],
    ['the parts to weigh', '/weigh', '/parts'],
    ['the parts to change', '/what-if', '/parts'],
    ['the forecast as it is', '/what-if', '/what-if'],
    ['the proposals', '/what-if', '/proposals'],
    ['the aircraft in Set-up', '/set-up/aircraft', '/set-up'],
    ['the targets', '/set-up/targets', '/set-up'],
    ['the groups', '/set-up/groups', '/breakdown/group'],
    ['the allowances', '/set-up/allowances', '/set-up'],
    ['the scales', '/set-up/scales', '/scales'],
  ])('[V1] %s: said in words, with another try that helps', async (_, screen, door) => {
    // A device that has kept nothing yet: another would show what it has.
    const storageState = await page.context().storageState();
    const context = await browser.newContext({ storageState, serviceWorkers: 'block' });
    const fresh = await context.newPage();
    const isDoor = (url: URL) => url.pathname === `/api${at}${door}`;
    await fresh.route(isDoor, (route) =>
      route.fulfill({ status: 500, contentType: 'application/problem+json', body: JSON.stringify(BROKEN) }),
    );
    await fresh.goto(`${server.address}${at}${screen}`);
    const told = fresh.getByRole('alert').first();
    await told.waitFor();
    expect(await told.textContent()).not.toMatch(/Error|undefined|line 7|\{|fetch/);
    await fresh.unroute(isDoor);
    await told.getByRole('button', { name: 'Try again' }).click();
    await expect.poll(() => fresh.getByRole('alert').count()).toBe(0);
    await context.close();
  });

  it.each([
    [500, BROKEN, 'Try again'],
    [404, { ...BROKEN, title: 'Not found', status: 404, code: 'no-such-door' }, undefined],
  ])(
    '[D6] the open list without its proposals (%i): the rest is there, and what is missing is said',
    async (status, body, again) => {
      const isDoor = (url: URL) => url.pathname === `/api${at}/proposals`;
      await page.route(isDoor, (route) =>
        route.fulfill({ status, contentType: 'application/problem+json', body: JSON.stringify(body) }),
      );
      await page.goto(`${server.address}${at}/open`);
      await page.getByText('Proposals that are overdue are missing').waitFor();
      const rows = page.getByRole('region', { name: 'The open list' }).locator('tbody tr');
      expect(await rows.allTextContents()).toEqual([expect.stringContaining('estimate missing')]);
      const counted = page.getByRole('navigation', { name: 'Screens' }).getByRole('link', { name: /^Open/ });
      await expect.poll(() => counted.textContent()).toBe('Open1');
      expect(await page.getByRole('alert').count()).toBe(1);
      await page.unroute(isDoor);
      if (again === undefined) return;
      await page.getByRole('button', { name: again }).click();
      await expect.poll(() => page.getByRole('alert').count()).toBe(0);
      expect(await page.getByText('Proposals that are overdue').count()).toBe(0);
      await expect.poll(() => rows.count()).toBe(1);
    },
  );

  it('[V1] a long ledger that the server is still reading: said with how far it has come, and the page goes on by itself', async () => {
    const isDoor = (url: URL) => url.pathname === '/api/aircraft';
    let done = 0;
    await page.route(isDoor, (route) => {
      if (done >= 120_000) return route.continue();
      done += 40_000;
      return route.fulfill({
        status: 503,
        contentType: 'application/problem+json',
        body: JSON.stringify({
          type: '/api#reading-ledger',
          title: 'Reading the ledger',
          status: 503,
          code: 'reading-ledger',
          detail: `Reading the ledger: ${done / 1000},000 of 200,000 entries.`,
          remedy: 'Ask again in a second.',
          progress: { done, of: 200_000 },
        }),
      });
    });
    await page.goto(`${server.address}${at}/ledger`);
    await page.getByRole('status').getByText('Reading the ledger: 80,000 of 200,000 entries.').waitFor();
    expect(await page.getByRole('progressbar', { name: 'Entries read' }).getAttribute('value')).toBe('80000');
    await page.getByRole('heading', { name: 'Curlew' }).first().waitFor();
    expect(await page.getByRole('alert').count()).toBe(0);
    await page.unroute(isDoor);
  });
});
