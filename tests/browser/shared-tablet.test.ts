/** A tablet that two people share: names, PINs, locking, and whose typing it is (rule N15). */
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { expectNoBarriers, expectReflow } from './barriers.ts';
import { beginBox, type Shop } from './box-shop.ts';
import { LEAD, makeFirstAccount, openBrowser, type RunningServer, startServer } from './shop-floor.ts';

const PASSWORD = 'a long enough password';
const CREW = [
  { name: 'Kim Crew', initials: 'KC', pin: '4071' },
  { name: 'Noa Crew', initials: 'NC', pin: '8205' },
] as const;

describe('a shared tablet', { timeout: 240_000 }, () => {
  let browser: Browser;
  let server: RunningServer;
  let context: BrowserContext;
  let page: Page;
  let shop: Shop;
  beforeAll(async () => {
    [browser, server] = await Promise.all([openBrowser(), startServer({ wantsCode: true })]);
    context = await browser.newContext({ viewport: { width: 820, height: 1180 }, reducedMotion: 'reduce' });
    page = await context.newPage();
    page.setDefaultTimeout(30_000);
    await makeFirstAccount(page, server);
    await page.getByRole('heading', { name: 'How do you want to begin?' }).waitFor();
    shop = await beginBox(page, server.address);
    for (const { name, initials, pin } of CREW) {
      const data = { name, initials, role: 'crew', aircraft: 'all', password: PASSWORD };
      expect((await page.request.post(`${server.address}/api/people`, { data })).status()).toBe(201);
      const own = await browser.newContext();
      await own.request.post(`${server.address}/api/sign-in`, { data: { name, password: PASSWORD } });
      const set = await own.request.post(`${server.address}/api/pin`, { data: { password: PASSWORD, pin } });
      expect(set.status()).toBe(200);
      await own.close();
    }
  }, 240_000);
  afterAll(() => Promise.all([browser.close(), server.stop()]));

  const press = (name: string | RegExp) => page.getByRole('button', { name }).click();
  const whoAreYou = () => page.getByRole('list', { name: 'Who are you?' }).waitFor();
  async function choose({ name, pin }: (typeof CREW)[number]): Promise<void> {
    await press(new RegExp(`^${name}`));
    for (const digit of pin) await page.getByRole('button', { name: digit, exact: true }).click();
    await press('Sign in');
  }
  const gross = () => page.getByLabel('Gross', { exact: true });

  it('[N15] a lead makes the browser one, sees it in the list, and sets a PIN of their own', async () => {
    await page.goto(`${server.address}/people`);
    await press('Make this browser a shared tablet');
    await page.getByLabel('Name of the tablet').fill('Trim bench');
    await expectNoBarriers(page, 'making a shared tablet');
    await press('Make it one');
    await page.getByText('this browser', { exact: false }).first().waitFor();
    await expectNoBarriers(page, 'the list of shared tablets');
    await expectReflow(page, 'the list of shared tablets');
    await press(new RegExp(`${LEAD.name}: your account`));
    await press('Set a PIN');
    await page.getByLabel('Your password').fill(LEAD.password);
    await page.getByLabel('PIN', { exact: true }).fill('1234');
    await press('Set the PIN');
    await page.getByText('digits in a row such as 1234').waitFor();
    await page.getByLabel('PIN', { exact: true }).fill('7302');
    await expectNoBarriers(page, 'setting a PIN');
    await press('Set the PIN');
    await page.getByText('The PIN is set.').waitFor();
    await press('Done');
  });

  it('[N15] in one touch it asks who is next; name and PIN let in, to weigh and to read', async () => {
    await press('Switch person');
    await whoAreYou();
    await expectNoBarriers(page, 'a shared tablet that is locked');
    await expectReflow(page, 'a shared tablet that is locked');
    await press(/^Kim Crew/);
    await expectNoBarriers(page, 'asking for a PIN');
    await expectReflow(page, 'asking for a PIN');
    await page.getByLabel('PIN of Kim Crew').fill('9999');
    await press('Sign in');
    await page.getByText('This is not the PIN').waitFor();
    await press('Another name');
    await choose(CREW[0]);
    await page.getByRole('button', { name: /Kim Crew: your account/ }).waitFor();
    // The lead stood on People, which is no page of the crew.
    await page.getByLabel('Which part is on the scale?').waitFor();
    expect(await page.getByText('Only the lead sees this page').count()).toBe(0);
    await page.goto(`${shop.address}/weigh?part=SKIN`);
    await gross().fill('4.05');
    await press(/Kim Crew: your account/);
    await page.getByText('Signed in with a PIN on Trim bench').waitFor();
    expect(await page.getByRole('button', { name: 'Change password' }).count()).toBe(0);
    await press('Done');
  });

  it('[N15] another person does not find what was typed; the first one finds it again', async () => {
    await press('Switch person');
    await whoAreYou();
    expect(await gross().isVisible()).toBe(false);
    await choose(CREW[1]);
    await page.getByRole('button', { name: /Noa Crew: your account/ }).waitFor();
    await gross().waitFor();
    expect(await gross().inputValue()).toBe('');
    await gross().fill('3.9');
    await press('Switch person');
    await choose(CREW[0]);
    await page.getByRole('button', { name: /Kim Crew: your account/ }).waitFor();
    await gross().waitFor();
    expect(await gross().inputValue()).toBe('4.05');
  });

  it('[N15] crew who come after somebody begin at Weigh where the page is none of theirs, and at their own they go on', async () => {
    await page.goto(`${shop.address}/what-if`);
    await page.getByRole('heading', { level: 1 }).waitFor();
    await press('Switch person');
    await choose(CREW[0]);
    await page.getByRole('button', { name: /Kim Crew: your account/ }).waitFor();
    expect(page.url()).toBe(`${shop.address}/what-if`);
    await press('Switch person');
    await choose(CREW[1]);
    await page.getByRole('button', { name: /Noa Crew: your account/ }).waitFor();
    await page.waitForURL(`${shop.address}/weigh`);
    await page.goto(`${shop.address}/ledger`);
    await press('Switch person');
    await choose(CREW[0]);
    await page.getByRole('button', { name: /Kim Crew: your account/ }).waitFor();
    expect(page.url()).toBe(`${shop.address}/ledger`);
    await page.goto(`${shop.address}/weigh?part=SKIN`);
    await gross().waitFor();
    expect(await gross().inputValue()).toBe('4.05');
  });

  it('[N15] an entry carries the person who is signed in', async () => {
    await page.getByText('trimmed', { exact: true }).click();
    await page.locator('.verdict').waitFor();
    await press('Save the weighing');
    await page.getByRole('status').filter({ hasText: 'Saved: ' }).waitFor();
    const { entries } = await shop.get<{ entries: { entry: { by: string } }[] }>('/entries?limit=1');
    expect(entries[0]?.entry.by).toBe('KC');
  });

  it('[N15] without a touch it locks by itself, with a question that stood open behind it, and the server has ended the session', async () => {
    await page.goto(`${shop.address}/weigh?part=TIP`);
    await gross().fill('0.31');
    await press(/Kim Crew: your account/);
    await page.getByRole('dialog', { name: 'Kim Crew' }).waitFor();
    const { isHere, answer } = await page.evaluate<{ isHere: boolean; answer: number }>(
      `(async () => {
        const now = Date.now;
        const ahead = now() + 5 * 60_000 + 1_000;
        Date.now = () => ahead;
        document.dispatchEvent(new Event('visibilitychange'));
        Date.now = now;
        await new Promise((done) => setTimeout(done, 3_000));
        const reply = await fetch('/api/aircraft');
        return { isHere: true, answer: reply.status };
      })()`,
    );
    expect([isHere, answer]).toEqual([true, 401]);
    await whoAreYou();
    await choose(CREW[0]);
    await page.getByRole('dialog', { name: 'Kim Crew' }).waitFor();
    await press('Done');
    expect(await gross().inputValue()).toBe('0.31');
  });

  it('[N15] a lead signs in with the password for more, and takes the tablet away from anywhere', async () => {
    await press('Switch person');
    await press('Sign in with name and password');
    await page.getByLabel('Name').fill(LEAD.name);
    await page.getByLabel('Password').fill(LEAD.password);
    await press('Sign in');
    await page.getByRole('button', { name: /Robin Lead: your account/ }).waitFor();
    await page.goto(`${server.address}/people`);
    await press('Take away Trim bench');
    await page
      .getByText('Your session has ended')
      .or(page.getByRole('button', { name: 'Sign in' }))
      .first()
      .waitFor();
    await page.goto(server.address);
    await page.getByLabel('Password').waitFor();
    expect(await page.getByRole('list', { name: 'Who are you?' }).count()).toBe(0);
  });
});
