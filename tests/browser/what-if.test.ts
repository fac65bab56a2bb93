/** What if, as an engineer and a viewer meet it: changes tried, kept, seen by the other, overtaken by the ledger; without a barrier. */
import type { Browser, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ProposalsReport } from '#shared/contract/proposal.ts';
import { expectNoBarriers, expectReflow } from './barriers.ts';
import { makeFirstAccount, openBrowser, type RunningServer, startServer } from './shop-floor.ts';

const VIEWER = { name: 'Vic Viewer', initials: 'VV', password: 'only here to look' };

describe('What if', () => {
  let browser: Browser;
  let server: RunningServer;
  let page: Page;
  let other: Page;
  let at: string;
  beforeAll(async () => {
    [browser, server] = await Promise.all([openBrowser(), startServer({ wantsCode: true })]);
    page = await newPage();
    await makeFirstAccount(page, server);
    await page.getByRole('heading', { name: 'How do you want to begin?' }).waitFor();
    const made = await page.request.post(`${server.address}/api/aircraft`, {
      data: { name: 'Curlew', datum: 'tip of the spinner', massUnit: 'kg', lengthUnit: 'm' },
    });
    const { id } = (await made.json()) as { id: string };
    at = `/aircraft/${id}`;
    await page.request.post(`${server.address}/api/people`, { data: { ...VIEWER, role: 'viewer', aircraft: 'all' } });
  });
  afterAll(async () => {
    await browser.close();
    await server.stop();
  });

  const changes = (on = page) => on.getByRole('region', { name: 'Changes to try' });
  const change = (number: number): Locator => page.getByRole('listitem', { name: `Change ${number}` });
  const figure = (table: string, row: string, on = page) =>
    on.getByRole('table', { name: table, exact: true }).getByRole('row', { name: row });
  const tried = (row: string) => figure('As it is and with the changes', row);
  const proposals = (on = page) => on.getByRole('table', { name: 'Proposals', exact: true });

  it('[V1] an aircraft without parts says what comes first', async () => {
    await page.goto(`${server.address}${at}/what-if`);
    await page.getByRole('heading', { name: 'There are no parts to change yet' }).waitFor();
    await expectOpen(page, 'What if without parts');
    await record({ kind: 'targets', 'empty mass': '20 kg', reserve: '1 kg', 'cg forward': '1.9 m', 'cg aft': '2.1 m' });
    for (const [number, x] of [
      ['W-1', '2 m'],
      ['W-2', '2.5 m'],
    ]) {
      await record({ kind: 'part added', number, name: `Skin ${number}`, group: 'wing', process: 'machined' });
      await record({ kind: 'estimate', part: number, estimate: '10 kg', allowance: '0 %', x });
    }
  });

  it('[F6] a change made by the keyboard moves the margin, and stays on the device', { timeout: 120_000 }, async () => {
    await page.goto(`${server.address}${at}/ledger`);
    await page.getByRole('link', { name: 'Try what would help' }).click();
    await tried('Margin').getByText('▲ −1.000 kg').waitFor();
    await expectOpen(page, 'What if without a change');
    await page.getByRole('button', { name: 'Add a change' }).focus();
    await page.keyboard.press('Enter');
    await expect.poll(() => page.evaluate('document.activeElement?.tagName')).toBe('SELECT');
    await page.keyboard.press('Tab');
    await page.keyboard.type('w-1');
    await page.keyboard.press('Tab');
    await page.keyboard.type('8,5');
    await tried('Margin').getByText('● +0.500 kg').waitFor();
    await change(1).getByText('−1.500 kg').waitFor();
    expect(await tried('Forecast empty weight').textContent()).toMatch(/18\.5\s±\s1\.5\skg−1\.500/);

    await page.getByRole('button', { name: 'Add a change' }).click();
    await change(2).getByRole('combobox', { name: 'Change 2' }).selectOption({ label: 'Moved by' });
    await change(2).getByRole('combobox', { name: 'Part' }).fill('W-2');
    await page.keyboard.press('Tab');
    await change(2).getByText('not counted yet').waitFor();
    await expectOpen(page, 'a change that is not whole');
    await change(2).getByRole('textbox', { name: 'Along x by' }).fill('far');
    await change(2).getByText('is not a number').waitFor();
    await page.getByText('Not all changes can be made').waitFor();
    expect(await page.getByRole('button', { name: 'Keep as a proposal' }).isDisabled()).toBe(true);
    await expectOpen(page, 'a change, refused');
    await change(2).getByRole('textbox', { name: 'Along x by' }).fill('-0.4');
    await tried('Chance: CG in its range').waitFor();
    await change(2).getByText('CG −0.2162 m').waitFor();
    await expectOpen(page, 'two changes tried');

    await page.getByRole('link', { name: 'Parts', exact: true }).click();
    await page.getByRole('link', { name: 'What if' }).click();
    await change(2).getByText('CG −0.2162 m').waitFor();
    await page.reload();
    await change(2).getByText('CG −0.2162 m').waitFor();
  });

  it('[F7] ballast is told for the aircraft as it is and with the changes, or why it cannot help', async () => {
    const ballast = page.getByRole('region', { name: 'Ballast' });
    await ballast.getByLabel('Ballast station x').fill('0.5');
    await ballast.getByText(/1\.875\skg bring it from 2\.250\sm to 2\.100\sm/).waitFor();
    await ballast.getByText(/None: the forecast CG, 2\.054\sm, is in its range/).waitFor();
    await ballast.getByLabel('Ballast station x').fill('5');
    await ballast.getByText('Choose a station forward of that').first().waitFor();
    await expectOpen(page, 'ballast, refused');
    await ballast.getByLabel('Ballast station x').fill('');
  });

  it('[F8] kept as a proposal it is in the list and in the forecast, on the other screen too', {
    timeout: 120_000,
  }, async () => {
    other = await newPage();
    await other.goto(`${server.address}${at}/what-if`);
    await other.getByLabel('Name').fill(VIEWER.name);
    await other.getByLabel('Password').fill(VIEWER.password);
    await other.getByRole('button', { name: 'Sign in' }).click();
    await other.getByText('Nothing is proposed yet').waitFor();
    expect(await other.getByRole('button', { name: 'A proposal without changes' }).count()).toBe(0);

    await page.getByRole('button', { name: 'Keep as a proposal' }).click();
    await page.getByLabel('Likelihood').fill('140');
    await page.getByRole('button', { name: 'Keep the proposal' }).click();
    await page.getByText('Give a value from 0 % to 100 %').waitFor();
    await expectOpen(page, 'a proposal, refused');
    await page.getByLabel('Title').fill('Thinner skin');
    await page.getByLabel('Likelihood').fill('50');
    await page.getByLabel('Due').fill('2026-01-31');
    await page.getByRole('button', { name: 'Keep the proposal' }).click();
    await page.getByText('Kept as a proposal: Thinner skin').waitFor();
    await changes().getByText('No change yet').waitFor();
    for (const screen of [page, other]) {
      const row = proposals(screen).getByRole('row', { name: 'Thinner skin' });
      await row.locator('td').getByText('1.500').waitFor();
      expect(await row.textContent()).toMatch(
        /W-1: 8\.500\skg.*W-2: moved by x\s−0\.400\sm.*open.*Robin Lead.*50\s%.*overdue/s,
      );
      await screen.getByText('One proposal is overdue').waitFor();
      const margin = figure('Forecast with the proposals', 'Margin', screen);
      expect(await margin.textContent()).toMatch(/−1\.000\skg.*\+0\.500\skg.*−0\.250\skg/);
    }
    await expectOpen(page, 'a proposal in the list');
    await expectOpen(other, 'proposals for who only reads');
  });

  it('[F8] a proposal is changed, doubted by the ledger, tried again and dropped with a reason', {
    timeout: 120_000,
  }, async () => {
    await page.getByRole('button', { name: 'A proposal without changes' }).click();
    await page.getByLabel('Title').fill('Less paint');
    await page.getByLabel('Expected saving').fill('0.4');
    await page.getByLabel('Likelihood').fill('100');
    await page.getByLabel('Due').fill('2099-01-31');
    await page.getByRole('button', { name: 'Keep the proposal' }).click();
    const row = (title: string, on = page) => proposals(on).getByRole('row', { name: title });
    await row('Less paint', other).getByText('stated').waitFor();

    await record({ kind: 'weighing', part: 'W-1', gross: '9.000 kg', condition: 'finished' });
    await row('Thinner skin', other).getByText('No longer fits: W-1 has been weighed since').waitFor();
    await expectOpen(other, 'a proposal that no longer fits');
    expect(await figure('Forecast with the proposals', 'Forecast empty weight', other).textContent()).toMatch(
      /−0\.400\skg.*−0\.400\skg/,
    );

    await row('Thinner skin')
      .getByRole('button', { name: /^Try above/ })
      .click();
    await change(1).getByText('−0.500 kg').waitFor();
    await page.getByRole('button', { name: 'Keep in “Thinner skin”' }).click();
    await page.getByRole('dialog').getByText('agreed', { exact: true }).click();
    await page.getByRole('button', { name: 'Keep the change' }).click();
    await row('Thinner skin', other).getByText('agreed', { exact: true }).waitFor();
    expect(await row('Thinner skin', other).getByText('No longer fits').count()).toBe(0);
    await row('Thinner skin', other).getByText('Revision 2 by RL').click();
    await expectOpen(other, 'the revisions of a proposal');

    await row('Less paint')
      .getByRole('button', { name: /^Change/ })
      .click();
    await page.getByRole('dialog').getByText('dropped', { exact: true }).click();
    await page.getByRole('button', { name: 'Keep the change' }).click();
    await page.getByText('Nothing is given here').waitFor();
    await page.getByLabel('Why it is dropped').fill('the finish would suffer');
    await page.getByRole('button', { name: 'Keep the change' }).click();
    await row('Less paint', other).locator('td').getByText('the finish would suffer').waitFor();
    const { proposals: kept, seq } = ProposalsReport.parse(
      await (await page.request.get(`${server.address}/api${at}/proposals`)).json(),
    );
    expect(kept.map(({ title, state, revision }) => [title, state, revision])).toEqual([
      ['Thinner skin', 'agreed', 2],
      ['Less paint', 'dropped', 2],
    ]);
    // The aircraft, its targets, two parts with estimates, one weighing: no proposal is in the ledger.
    expect(seq).toBe(7);
  });

  it('[F8] who changes what another has just changed is told so, and keeps what was typed', async () => {
    const row = proposals().getByRole('row', { name: 'Thinner skin' });
    await row.getByRole('button', { name: /^Change/ }).click();
    const { proposals: kept } = ProposalsReport.parse(
      await (await page.request.get(`${server.address}/api${at}/proposals`)).json(),
    );
    const words = { title: 'Thinner skin', owner: 'Bo', likelihood: '60', due: '2027-01-31', state: 'agreed' };
    await page.request.post(`${server.address}/api${at}/proposals/${kept[0]?.proposalId}/revisions`, {
      data: { id: crypto.randomUUID(), after: 2, ...words },
    });
    // Behind the dialog nothing has a role.
    await page.locator('.proposals').getByText('Bo', { exact: true }).waitFor();
    await page.getByLabel('Title').fill('Thinnest skin');
    await page.getByRole('button', { name: 'Keep the change' }).click();
    await page.getByText('it is at revision 3').waitFor();
    expect(await page.getByLabel('Title').inputValue()).toBe('Thinnest skin');
  });

  async function newPage(): Promise<Page> {
    return (await browser.newContext({ viewport: { width: 1280, height: 900 }, reducedMotion: 'reduce' })).newPage();
  }

  async function record(words: Record<string, unknown>): Promise<void> {
    const answer = await page.request.post(`${server.address}/api${at}/entries`, {
      data: { id: crypto.randomUUID(), ...words },
    });
    expect(answer.status()).toBe(201);
  }

  async function expectOpen(on: Page, where: string): Promise<void> {
    await expectNoBarriers(on, where);
    await expectReflow(on, where);
    expect(await on.locator('body').textContent(), where).not.toMatch(/NaN|undefined|Infinity/);
  }
});
