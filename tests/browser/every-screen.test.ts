/**
 * Every screen and every dialog, in the states people meet them: axe finds nothing on any, in either theme, and none has to be pushed
 * sideways on a narrow screen.
 */
import { readFile } from 'node:fs/promises';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { begunWith } from '#shared/aircraft-weighing/draft.ts';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import { settled, watch } from '#tests/pictures/settled.ts';
import { expectNoBarriers, expectReflow } from './barriers.ts';
import { LEAD, makeFirstAccount, openBrowser, type RunningServer, signIn, startServer } from './shop-floor.ts';

/** Visited by the other tests here: an address that is missing from all lists is told. */
const ELSEWHERE = ['/', '/people', '/aircraft/:aircraftId/ledger', '/aircraft/:aircraftId/weigh'];
const OF_AIRCRAFT = [
  ...['/open', '/where', '/aircraft-weighing', '/parts', '/lay-up-accuracy', '/processes', '/set-up/:section?'],
  ...['/what-if', '/loading', '/brief', '/labels', '/bring'],
];
const OF_ONE_THING = [
  ...['/parts/:partId', '/parts/:partId/lay-up', '/brief/:briefId', '/brief/:briefId/projector'],
  '/aircraft-weighing/report/:which',
];
const VIEWER = { name: 'Vic Viewer', initials: 'VV', password: 'only here to look' };

describe('every screen', () => {
  let browser: Browser;
  let server: RunningServer;
  let page: Page;
  beforeAll(async () => {
    [browser, server] = await Promise.all([openBrowser(), startServer({ wantsCode: true })]);
    page = await newPage();
  });
  afterAll(async () => {
    await browser.close();
    await server.stop();
  });

  it('[V1] the first run, the first choice, a new aircraft and its empty ledger have no barrier', async () => {
    await page.goto(server.address);
    await page.getByLabel('Code from the console').waitFor();
    await expectOpen('the first run');
    await page.getByLabel('Code from the console').fill('WRONG-CODE');
    await page.getByLabel('Your name').fill(LEAD.name);
    await page.getByLabel('Initials').fill(LEAD.initials);
    await page.getByLabel('Password').fill('short');
    await page.getByRole('button', { name: 'Make the account' }).click();
    await page.getByText('10 characters').nth(1).waitFor();
    await expectOpen('the first run, refused');
    await makeFirstAccount(page, server);
    await page.getByRole('heading', { name: 'How do you want to begin?' }).waitFor();
    await expectOpen('the first choice');

    await page.getByRole('button', { name: 'Begin my own' }).click();
    await page.getByLabel('Name').fill('Curlew');
    await page.getByLabel('Datum').fill('200 mm ahead of the nose');
    await page.getByLabel('Empty-weight target').fill('heavy');
    await page.getByRole('button', { name: 'Begin', exact: true }).click();
    await page.getByText('is not a number').waitFor();
    await expectOpen('a new aircraft, refused');
    await page.getByLabel('Empty-weight target').fill('410');
    await page.getByRole('button', { name: 'Begin', exact: true }).click();
    await page.getByRole('heading', { name: 'No parts yet' }).waitFor();
    await expectOpen('the ledger of an aircraft without parts');
    await page.getByRole('link', { name: 'Weigh', exact: true }).click();
    await page.getByRole('heading', { name: 'There are no parts to weigh yet' }).waitFor();
    await expectOpen('Weigh without parts');
  });

  it('[V1] the ledger has no barrier: as it is, as it stood, searched, corrected', { timeout: 400_000 }, async () => {
    await page.evaluate(`fetch('/api/demonstration', {
      method: 'POST', headers: { 'content-type': 'application/json' }, body: '{}',
    })`);
    await page.goto(server.address);
    await page.getByLabel('Aircraft').selectOption({ label: 'Dabchick (invented demonstration)' });
    await page.locator('.entry').first().waitFor({ timeout: 30_000 });
    for (const table of await page.getByText('As a table').all()) await table.click();
    await expectOpen('the ledger, its charts as tables');

    await page
      .getByRole('button', { name: /^All \d+$/ })
      .first()
      .click();
    await page.getByText('effect on CG', { exact: true }).first().click();
    await expectOpen('all that drifts, by its effect on the CG');
    await page.getByRole('button', { name: 'Record an entry' }).click();
    await expectOpen('the kinds of entry');
    const kinds = page.locator('.kind-buttons button');
    for (let at = 0; at < (await kinds.count()); at += 1) {
      const kind = (await kinds.nth(at).locator('strong').textContent()) ?? '';
      await kinds.nth(at).click();
      await page.getByRole('button', { name: 'Record it' }).click();
      await page.getByRole('alert').waitFor();
      await expectOpen(`an empty form, refused: ${kind}`);
      await page.getByRole('button', { name: 'Another kind' }).click();
    }
    await page.getByRole('button', { name: 'Cancel' }).click();

    await page.getByRole('button', { name: 'As it stood then' }).nth(3).click();
    await page.getByText('This is the ledger as it stood').waitFor();
    await expectOpen('the ledger as it stood');
    await page.getByRole('button', { name: 'Back to now' }).click();

    await page.getByLabel('Search the entries').fill('no such words');
    await page.getByText('No entry fits the search.').waitFor();
    await expectOpen('a search that finds nothing');
    await page.getByLabel('Search the entries').fill('');
    await page.getByLabel('Kind of entry').selectOption('weighing');
    // Until the answer is here, the entries before it stand.
    await page
      .locator('.entry')
      .first()
      .getByText(/^weighing: /)
      .waitFor();
    await page
      .getByRole('button', { name: /^Correct entry/ })
      .first()
      .click();
    await page.getByLabel('Gross', { exact: true }).fill('-1 kg');
    await page.getByLabel('Reason').fill('misread');
    await page.getByRole('button', { name: 'Record the correction' }).click();
    await page.getByRole('alert').waitFor();
    await expectOpen('a correction, refused');
    await page.getByRole('button', { name: 'Cancel' }).click();
  });

  it('[V1] Weigh has no barrier: the find, the keys, each judgement, the doubt, the failure, the save', {
    timeout: 120_000,
  }, async () => {
    await page.getByRole('link', { name: 'Weigh', exact: true }).click();
    const find = page.getByLabel('Which part is on the scale?');
    await find.fill('no such part');
    await page.getByText('No part has').waitFor();
    await expectOpen('a part that is not found');
    await find.fill('sponson root fitting');
    await page.locator('.part-buttons button').first().click();
    await expectOpen('a part of several pieces on the scale');
    await page.getByRole('button', { name: 'Another part' }).click();
    await find.fill('canopy frame');
    await page.locator('.part-buttons button').first().click();
    await page.getByText('finished', { exact: true }).click();
    const judgement = page.getByRole('region', { name: 'Judgement' });
    for (const [gross, words] of [
      ['3.41', 'in line'],
      ['3.57', 'watch: heavy'],
      ['3.8', 'drifting heavy'],
      ['3.0', 'drifting light'],
      ['7.5', 'Sure?'],
      ['3,8 stone', 'is not a unit'],
    ] as const) {
      await page.getByLabel('Gross').fill(gross);
      await judgement.getByText(words).waitFor();
      await expectOpen(`a reading: ${words}`);
    }
    await page.getByLabel('Gross').fill('3.8');
    await page.getByLabel('Why?').waitFor();
    await page.context().setOffline(true);
    await page.getByRole('button', { name: 'Save the weighing' }).click();
    await page.getByText('Kept on this device').waitFor();
    await expectOpen('a reading that could not be sent');
    // It goes up by itself once the network is back.
    await page.context().setOffline(false);
    await page.getByRole('region', { name: 'On this device, not in the ledger yet' }).waitFor({ state: 'detached' });
    await find.fill('canopy frame');
    await page.locator('.part-buttons button').first().click();
    await page.getByText('finished', { exact: true }).click();
    await page.getByLabel('Gross').fill('3.81');
    await page.getByLabel('Why?').waitFor();
    const sure = page.getByRole('button', { name: 'The reading is right' });
    if (await sure.isVisible()) await sure.click();
    await page.getByRole('button', { name: 'Save the weighing' }).click();
    await page.getByText('Saved: ').waitFor();
    await expectOpen('a reading that is saved');
    await page.goto(page.url().replace(/weigh$/, 'labels'));
    await page.locator('.part-label').first().waitFor();
    await expectOpen('labels to print');
  });

  it('[V1] no address of an aircraft has a barrier: of one with a year of entries, and of one with none', {
    timeout: 600_000,
  }, async () => {
    watch(page);
    // There already where the ledger was looked at before.
    await page.request.post(`${server.address}/api/demonstration`, { data: {} });
    const visited = new Set(ELSEWHERE);
    const { aircraft } = (await (await page.request.get(`${server.address}/api/aircraft`)).json()) as {
      aircraft: AircraftReport[];
    };
    const visit = async (route: string, values: Readonly<Record<string, string>>) => {
      visited.add(route);
      const path = route.replace(/:(\w+)\??/g, (_, name: string) => values[name] ?? '');
      await page.goto(`${server.address}${path}`);
      await page.locator('main h1').first().waitFor();
      await settled(page);
      await expectOpen(path);
    };
    for (const { id: aircraftId, headSeq, isInvented } of aircraft) {
      for (const route of OF_AIRCRAFT) await visit(`/aircraft/:aircraftId${route}`, { aircraftId, section: 'carry' });
      if (!isInvented) continue;
      const at = `${server.address}/api/aircraft/${aircraftId}`;
      const { parts } = (await (await page.request.get(`${at}/parts`)).json()) as { parts: { partId: string }[] };
      const brief = await page.request.post(`${at}/briefs`, { data: { id: crypto.randomUUID(), entry: headSeq } });
      const { briefId } = (await brief.json()) as { briefId: string };
      const draft = { id: crypto.randomUUID(), after: 0, words: begunWith('nosewheel and two mains') };
      await page.request.post(`${at}/aircraft-weighings/draft`, { data: draft });
      const values = { aircraftId, partId: parts[0]?.partId ?? '', briefId, which: 'draft' };
      for (const route of OF_ONE_THING) await visit(`/aircraft/:aircraftId${route}`, values);
    }
    for (const of of ['crew', 'lead']) await visit('/guide/:of', { of });
    for (const route of ['/new', '/new/list']) await visit(route, {});
    const app = await readFile('client/frame/app.tsx', 'utf8');
    const routes = [...app.matchAll(/(?:<Route path="|useRoute\(')([^"'*]+)["']/g)].map(([, route]) => route);
    expect(routes.sort()).toEqual([...visited].sort());
  });

  it('[V1] people, the own account, the sign-in and the places without a right have no barrier', {
    timeout: 120_000,
  }, async () => {
    await page.getByRole('button', { name: 'your account' }).click();
    await page.getByRole('link', { name: 'People', exact: true }).click();
    await page.getByRole('button', { name: 'Add somebody' }).click();
    await page.getByLabel('Name').fill(VIEWER.name);
    await page.getByLabel('Initials').fill(VIEWER.initials);
    await page.getByLabel('First password').fill('short');
    await page.getByText('Viewer: reads').last().click();
    await page.getByRole('button', { name: 'Add', exact: true }).click();
    await page.getByText('10 characters').nth(1).waitFor();
    await expectOpen('somebody new, refused');
    await page.getByLabel('First password').fill(VIEWER.password);
    await page.getByRole('button', { name: 'Add', exact: true }).click();
    await page.getByRole('heading', { name: VIEWER.name }).waitFor();
    await page.getByRole('checkbox', { name: 'all aircraft' }).first().click();
    await page.getByRole('checkbox', { name: 'Curlew' }).waitFor();
    await expectOpen('people');

    await page.getByRole('button', { name: /your account/ }).click();
    await page.getByRole('dialog', { name: LEAD.name }).waitFor();
    await expectOpen('the own account');
    await page.getByRole('button', { name: 'Change password' }).click();
    await page.getByLabel('Present password').fill('not this one');
    await page.getByRole('textbox', { name: 'New password' }).fill('a new password of mine');
    await page.getByRole('button', { name: 'Change', exact: true }).click();
    await page.getByRole('alert').waitFor();
    await expectOpen('a password, refused');
    await page.getByRole('button', { name: 'Cancel' }).click();

    await page.context().clearCookies();
    await page.getByRole('checkbox', { name: 'Curlew' }).click();
    await page.getByRole('dialog', { name: 'Your session has ended' }).waitFor();
    await expectOpen('the sign-in in front of a screen');

    page = await newPage();
    await page.goto(server.address);
    await page.getByLabel('Name').fill(VIEWER.name);
    await page.getByLabel('Password').fill('not this one');
    await page.getByRole('button', { name: 'Sign in' }).click();
    await page.getByRole('alert').waitFor();
    await expectOpen('the sign-in, refused');
    await page.getByLabel('Password').fill(VIEWER.password);
    await page.getByRole('button', { name: 'Sign in' }).click();
    await page.getByRole('link', { name: 'Weigh', exact: true }).click();
    await page.getByRole('heading', { name: 'Your role reads only' }).waitFor();
    await expectOpen('Weigh for who only reads');
    for (const [path, heading] of [
      ['/people', 'Only the lead sees this page'],
      ['/new', 'Only the lead begins an aircraft'],
      ['/nowhere', 'There is nothing here'],
    ] as const) {
      await page.goto(`${server.address}${path}`);
      await page.getByRole('heading', { name: heading }).waitFor();
      await expectOpen(heading);
    }
  });

  it('[V1] a server that does not answer is told with words and a way on, without a barrier', async () => {
    page = await newPage();
    await signIn(page, server.address);
    await page.getByRole('heading', { name: 'Curlew' }).waitFor();
    const address = page.url().replace('/ledger', '');
    await page.route('**/api/aircraft', (route) => route.abort());
    // Also with nothing kept on the device from an earlier visit.
    await page.evaluate(`new Promise((done, fail) => {
      const asked = indexedDB.deleteDatabase('tarebook');
      asked.onsuccess = done;
      asked.onerror = fail;
    }).then(() => undefined)`);
    await page.reload();
    await page.getByText('The server cannot be reached.').waitFor({ timeout: 20_000 });
    await expectOpen('no answer');
    await page.unroute('**/api/aircraft');
    for (const [what, screen] of [
      ['/parts', 'weigh'],
      ['', 'ledger'],
    ]) {
      const question = new RegExp(`/api/aircraft/[^/?]+${what}$`);
      const answer = { title: 'A fault', status: 500, code: 'fault', type: 'about:blank' };
      const told = { detail: 'The server met a fault.', remedy: 'Try again.' };
      await page.route(question, (route) => route.fulfill({ status: 500, json: { ...answer, ...told } }));
      await page.goto(`${address}/${screen}`);
      await page.getByText('The server met a fault.').waitFor();
      await expectOpen(`a fault on ${screen}`);
      await page.unroute(question);
    }
    await page.getByRole('button', { name: 'Try again' }).click();
    await page.getByRole('heading', { name: 'No parts yet' }).waitFor();
    expect(await page.getByRole('alert').count()).toBe(0);

    // A page that was open while the server was given a new version asks for files that are no more.
    page = await newPage();
    await page.route('**/assets/ledger-screen*', (route) => route.fulfill({ status: 404 }));
    await signIn(page, server.address);
    await page.getByText('This page could not be shown').waitFor();
    await expectOpen('a screen that is no more');
    await page.unrouteAll();
    await page.getByRole('button', { name: 'Reload' }).click();
    await page.getByRole('heading', { name: 'No parts yet' }).waitFor();
  });

  async function newPage(): Promise<Page> {
    // What is not answered here is not answered by what the device has kept of the app either.
    const alone = { serviceWorkers: 'block' } as const;
    const look = { viewport: { width: 768, height: 1024 }, reducedMotion: 'reduce' } as const;
    return (await browser.newContext({ ...look, ...alone })).newPage();
  }

  async function expectOpen(where: string): Promise<void> {
    await expectNoBarriers(page, where);
    await expectReflow(page, where);
  }
});
