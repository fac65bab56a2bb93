/**
 * A lead's way through the demonstration in one go: from the ledger to the process that drifts, to the part its chart names, to its cause, to
 * a proposal against it, to the forecast with that proposal. What each screen has besides is in the tests of that screen.
 */
import type { Browser, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { ForecastReport } from '#shared/contract/forecast.ts';
import { ProposalsReport } from '#shared/contract/proposal.ts';
import { ODD_ENTRIES } from '#tests/api/forecast/odd-aircraft.ts';
import { LEAD, makeFirstAccount, openBrowser, type RunningServer, startServer } from './shop-floor.ts';

const SAVING_KG = 2.5;
const LIKELIHOOD = 0.4;
const TITLE = 'Dry the fabric before it is laid';

let browser: Browser;
let server: RunningServer;
let page: Page;
const faults: string[] = [];
beforeAll(async () => {
  [browser, server] = await Promise.all([openBrowser(), startServer({ wantsCode: true })]);
  page = await (
    await browser.newContext({ viewport: { width: 1280, height: 900 }, reducedMotion: 'reduce' })
  ).newPage();
  page.setDefaultTimeout(20_000);
  page.on('pageerror', (error) => faults.push(String(error)));
  await makeFirstAccount(page, server);
  await page.getByRole('button', { name: 'Look round with Dabchick' }).click();
  await page.getByRole('heading', { name: /^Dabchick/ }).waitFor();
});
afterAll(async () => {
  await browser.close();
  await server.stop();
});

it('[D4] [D6] [F8] [F9] from the ledger to the drifting process, its chart, its cause, a proposal, and the forecast with it', {
  timeout: 180_000,
}, async () => {
  const home = page.url().replace(/\/ledger.*$/, '');
  const api = home.replace('/aircraft/', '/api/aircraft/');
  const screens = page.getByRole('navigation', { name: 'Screens' });
  const openCount = async () => Number((await screens.getByRole('link', { name: /^Open/ }).textContent())?.slice(4));

  // The ledger names the process and leads to its charts.
  const changed = page.getByRole('region', { name: 'Processes that changed' });
  const item = changed.getByRole('listitem').filter({ hasText: 'resin-infused' });
  await item.getByText(/Called at H-16/).waitFor();
  await expect.poll(openCount).toBeGreaterThan(0);
  const before = await openCount();
  await item.getByRole('link', { name: 'resin-infused' }).click();

  // Its chart names the part, in words and in the table beside it; there it is outside, and nowhere before.
  const process = page.getByRole('region', { name: 'resin-infused', exact: true });
  const average = process.getByRole('figure', { name: 'Running average of resin-infused and its limits' });
  await average.getByText('As a table').click();
  const rows = await cellsOf(average.locator('tbody tr'));
  const outside = rows.filter((cells) => Math.abs(figureOf(cells.at(-3))) > figureOf(cells.at(-1)));
  expect(outside[0]?.[0]).toBe('H-16');
  expect(await process.textContent()).toMatch(
    /Called at H-16 on 20\d\d-\d\d-\d\d by both charts; the change began at H-15/,
  );

  // Its cause closes what was open of it.
  await screens.getByRole('link', { name: /^Open/ }).click();
  const state = page.getByRole('button', { name: 'State the cause: resin-infused' });
  await state.click();
  await page.getByRole('combobox', { name: 'Cause' }).selectOption('resin-rich');
  await page.getByLabel('What was found').fill('Damp fabric');
  await page.getByRole('button', { name: 'Record it', exact: true }).click();
  await expect.poll(openCount).toBe(before - 1);
  await expect.poll(() => state.count()).toBe(0);

  // What is done about it: an owner, a saving, how likely, by when. The demonstration has proposals of its own.
  const proposed = async () =>
    ProposalsReport.parse(await (await page.request.get(`${api}/proposals`)).json()).forecast;
  const own = await proposed();
  expect(own.count).toBe(2);
  await screens.getByRole('link', { name: 'What if' }).click();
  await page.getByRole('button', { name: 'A proposal without changes' }).click();
  const form = page.getByRole('dialog', { name: 'Keep as a proposal' });
  await form.getByLabel('Title').fill(TITLE);
  expect(await form.getByLabel('Owner').inputValue()).toBe(LEAD.name);
  await form.getByLabel('Owner').fill('Bo Laminate');
  await form.getByLabel('Expected saving').fill(String(SAVING_KG));
  await form.getByLabel('Likelihood').fill(String(LIKELIHOOD * 100));
  await form.getByLabel('Due').fill('2099-03-31');
  await form.getByRole('button', { name: 'Keep the proposal' }).click();
  const row = page.getByRole('table', { name: 'Proposals', exact: true }).getByRole('row', { name: TITLE });
  await row.getByText('stated').waitFor();
  expect(plain(await row.textContent())).toMatch(/open.*Bo Laminate.*2\.500.*40 %.*2099-03-31/s);

  // The forecast as it is, with all of it, and by its likelihood; the cause and the proposal moved the forecast itself by nothing.
  const { forecastKg } = ForecastReport.parse(await (await page.request.get(`${api}/forecast`)).json());
  const forecast = await proposed();
  expect(forecast.today.forecastKg).toBeCloseTo(forecastKg, 9);
  const [allKg, likelyKg] = [own.allSavingKg + SAVING_KG, own.weightedSavingKg + SAVING_KG * LIKELIHOOD];
  expect(forecast.weighted.forecastKg).toBeCloseTo(forecastKg - likelyKg, 6);
  const told = page
    .getByRole('table', { name: 'Forecast with the proposals', exact: true })
    .getByRole('row', { name: 'Forecast empty weight' });
  const cells = (await told.locator('td').allTextContents()).map(plain);
  for (const [at, saving] of [0, allKg, likelyKg].entries())
    expect(cells[at]).toContain(`${(forecastKg - saving).toFixed(1)} ± `);
  expect(cells[1]).toContain(`−${allKg.toFixed(3)} kg`);
  expect(cells[2]).toContain(`−${likelyKg.toFixed(3)} kg`);
  // Whether it comes true is part of what is not known.
  const spread = (cell: string | undefined) => Number(/± ([\d.]+)/.exec(cell ?? '')?.[1]);
  expect(spread(cells[2])).toBeGreaterThanOrEqual(spread(cells[1]));
  expect(await page.locator('main').textContent()).not.toMatch(/NaN|undefined|Infinity/);
  expect(faults).toEqual([]);
});

it('[V1] [F2] an aircraft whose forecast stands on nonsense shows figures or says that there are none, on every screen of it', {
  timeout: 180_000,
}, async () => {
  const post = async (path: string, data: object) => {
    const answer = await page.request.post(`${server.address}${path}`, { data });
    expect(answer.status(), JSON.stringify(data)).toBe(201);
    return (await answer.json()) as { id: string };
  };
  const wordsShown = async () => (await page.locator('main').textContent()) ?? '';
  const { id } = await post('/api/aircraft', { name: 'Oddbill', datum: 'the bow', massUnit: 'kg', lengthUnit: 'm' });
  for (const entry of ODD_ENTRIES) await post(`/api/aircraft/${id}/entries`, { id: crypto.randomUUID(), ...entry });
  for (const [screen, there] of [
    ['ledger', page.getByRole('heading', { name: 'Change in predicted weight, by cause' })],
    ['processes', page.getByRole('region', { name: 'What to weigh next' }).locator('tbody tr').first()],
    ['what-if', page.getByRole('table', { name: 'As it is and with the changes' })],
    ['open', page.getByRole('region', { name: 'The open list' }).locator('tbody tr').first()],
    ['where', page.getByRole('heading', { level: 1 })],
  ] as const) {
    await page.goto(`${server.address}/aircraft/${id}/${screen}`);
    await there.waitFor();
    await expect.poll(() => page.locator('main [aria-busy="true"], main .waiting').count()).toBe(0);
    for (const shut of await page.getByText('As a table').all()) await shut.click();
    await expect.poll(async () => (await wordsShown()).length, { message: screen }).toBeGreaterThan(200);
    expect(await wordsShown(), screen).not.toMatch(/NaN|Infinity|undefined|null/);
  }
  expect(faults).toEqual([]);
});

async function cellsOf(rows: Locator): Promise<string[][]> {
  return Promise.all((await rows.all()).map((row) => row.locator('td').allTextContents()));
}

function figureOf(cell: string | undefined): number {
  return Number((cell ?? '').replace('−', '-'));
}

/** Spaces that do not break are spaces. */
function plain(text: string | null): string {
  return (text ?? '').replaceAll('\u00a0', ' ');
}
