/**
 * The set-up of an aircraft by its lead: targets revised, a slip of the hand asked about, a scale calibrated and checked, the datum moved,
 * the ledger walked. In a real browser, before a real server.
 */
import { readFile } from 'node:fs/promises';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { isGenuine } from '#db/checkpoint/checkpoint.ts';
import { pageRead } from '#tests/db/checkpoint/make-checkpoint.ts';
import { LEAD, makeFirstAccount, openBrowser, type RunningServer, startServer } from './shop-floor.ts';

const UNITS = { massUnit: 'kg', lengthUnit: 'm' } as const;

describe('set-up', () => {
  let browser: Browser;
  let server: RunningServer;
  let page: Page;
  let aircraft: string;
  beforeAll(async () => {
    [browser, server] = await Promise.all([openBrowser(), startServer({ wantsCode: true })]);
    page = await (
      await browser.newContext({ viewport: { width: 1280, height: 1024 }, reducedMotion: 'reduce' })
    ).newPage();
    await makeFirstAccount(page, server);
    await page.getByRole('heading', { name: 'How do you want to begin?' }).waitFor();
    aircraft = await post('/api/aircraft', { name: 'Curlew', datum: 'tip of the spinner', ...UNITS });
    await record({ kind: 'part added', number: 'W-1', name: 'Spar', group: 'wing', process: 'prepreg' });
    await record({ kind: 'estimate', part: 'W-1', estimate: '100 kg', allowance: '0 %', x: '2.5 m' });
    await record({ kind: 'part added', number: 'T-1', name: 'Fin', group: 'tail', process: 'prepreg' });
    await record({ kind: 'estimate', part: 'T-1', estimate: '20 kg', allowance: '0 %', x: '6.5 m' });
    await record({ kind: 'targets', 'empty mass': '125 kg', 'cg forward': '3.0 m', 'cg aft': '3.4 m' });
  });
  afterAll(() => Promise.all([browser.close(), server.stop()]));

  it('[R1] targets are revised with a reason; every revision stays with its margin today', async () => {
    await open('Targets');
    await page.getByRole('button', { name: 'Revise the targets' }).click();
    expect(await page.getByLabel('Empty-weight target').inputValue()).toBe('125 kg');
    await page.getByLabel('Empty-weight target').fill('130 kg');
    await page.getByLabel('Reserve').fill('2 kg');
    expect(await page.getByRole('row', { name: 'Sum' }).count()).toBe(0);
    await page.getByLabel('Target of wing').fill('98');
    expect(await page.getByRole('row', { name: 'Sum' }).textContent()).toBe('Sum98.000');
    await page.getByLabel('Target of tail').fill('23 kg');
    await page.getByText(spaced('Margin with these: +8.000 kg; now +5.000 kg.')).waitFor();
    await page.getByText(spaced('The groups add up to 121.000 kg; 9.000 kg of the empty-weight target')).waitFor();
    await page.getByRole('button', { name: 'Record the revision' }).click();
    await page.getByText('this revision gives no reason').waitFor();
    expect(await page.getByLabel('Target of wing').inputValue()).toBe('98');
    await page.getByLabel('Why').fill('the engine is heavier');
    await page.getByRole('button', { name: 'Record the revision' }).click();
    await page.getByText('Revision 2 is recorded').waitFor();

    await expect.poll(() => page.getByRole('table').getByRole('row').count()).toBe(3);
    const rows = await page.getByRole('table').getByRole('row').allTextContents();
    expect(rows[1]).toMatch(/^2 · in force.*130\.000.*2\.000.*\+8\.000.*3\.000 to 3\.400.*the engine is heavier/);
    expect(rows[2]).toMatch(/^1.*125\.000.*\+5\.000/);
    expect(await newest()).toMatchObject({
      kind: 'targets',
      emptyMassKg: 130,
      groups: [
        { group: 'wing', massKg: 98 },
        { group: 'tail', massKg: 23 },
      ],
      typed: { 'group wing': '98 kg' },
    });
  });

  it('[R4] a starter set becomes rows to choose from; those kept are the aircraft\u2019s, with a target or without', async () => {
    await open('Groups');
    await page.getByRole('button', { name: 'Add these to the list: By function' }).click();
    expect(await page.getByLabel('Target of wing').inputValue()).toBe('98 kg');
    await page.getByRole('button', { name: 'Take finish off the list' }).click();
    expect(await page.getByRole('button', { name: 'Take wing off the list' }).count()).toBe(0);
    await page.getByLabel('Another group').fill('floats');
    await page.getByRole('button', { name: 'Add to the table' }).click();
    await page.getByLabel('Target of floats').fill('3 kg');
    await page.getByLabel('Why').fill('groups of the weight statement');
    await page.getByRole('button', { name: 'Record the revision' }).click();
    await page.getByText('Revision 3 is recorded').waitFor();
    const cells = async (name: string) => page.getByRole('row', { name }).getByRole('cell').allTextContents();
    await expect.poll(() => cells('body')).toEqual(['0', '–', '–', '–', '–', '–']);
    expect(await cells('floats')).toEqual(['0', '0.000', '0.000', '–', '3.000', '+3.000']);
    expect(await cells('wing')).toEqual(['1', '100.0 ± 3.0', '100.0 ± 8.5', '0.0\u00a0%', '98.000', '−2.000▲ over']);
    expect(await page.getByRole('row', { name: 'finish' }).count()).toBe(0);
  });

  it('[W4] a target in pounds that was typed as kilograms is asked about, by name, before it is recorded', async () => {
    await open('Targets');
    await page.getByRole('button', { name: 'Revise the targets' }).click();
    await page.getByLabel('Empty-weight target').fill('265 kg');
    const question = page.getByRole('alert');
    await question.getByText('Empty-weight target, 265 kg').waitFor();
    expect(await question.textContent()).toContain('It fits if the figure was in pounds and kilograms were typed.');
    const save = page.getByRole('button', { name: 'Record the revision' });
    const before = await newest();
    await save.click();
    // It is not sent: the keyboard is at the question.
    await expect.poll(() => page.evaluate('document.activeElement.textContent')).toBe('It is 265 lb');
    await page.getByLabel('Target of tail').fill('46 kg');
    await question.getByText('tail, 46 kg').waitFor();
    await page.getByRole('button', { name: 'The figures are right' }).click();
    await question.getByText('Taken as it is.').waitFor();
    // Another figure is another question.
    await page.getByLabel('Target of tail').fill('45');
    await question.getByText('tail, 45 kg').waitFor();
    expect(await question.getByText('Taken as it is.').count()).toBe(0);
    await page.getByRole('button', { name: 'It is 265 lb' }).click();
    expect(await page.getByLabel('Empty-weight target').inputValue()).toBe('265 lb');
    await page.getByRole('button', { name: 'It is 45 lb' }).click();
    await expect.poll(() => question.count()).toBe(0);
    expect(await newest()).toEqual(before);
    await page.getByRole('button', { name: 'Cancel' }).click();
    // The keyboard is where it was before the form.
    await expect.poll(() => page.evaluate('document.activeElement.textContent')).toBe('Revise the targets');
  });

  it('[U1] a calibration is recorded only when it is said whether its figure is k = 1 or 2', async () => {
    await open('Scales');
    await page.getByRole('button', { name: 'Describe a scale' }).click();
    await page.getByLabel('Name of the scale').fill('bench');
    await page.getByLabel('Capacity').fill('150 kg');
    await page.getByLabel('Resolution').fill('5 g');
    await page.getByLabel('Calibrated on').fill('2026-01-12');
    await page.getByLabel('Valid until').fill('2099-01-12');
    await page.getByLabel('Uncertainty on the certificate').fill('0.04 %');
    await page.getByRole('button', { name: 'Record the scale' }).click();
    await page.getByText('It is not said whether the uncertainty of the calibration').waitFor();
    await page.getByLabel('Coverage factor k').fill('2');
    await page.getByRole('button', { name: 'Record the scale' }).click();
    const bench = page.getByRole('region', { name: 'Scale bench' });
    await bench.getByText(spaced('± 0.02 % of what it shows (k = 1), of 2026-01-12, until 2099-01-12')).waitFor();
    expect(await newest()).toMatchObject({ kind: 'scale', gainStd: 0.0002, happenedOn: '2026-01-12' });

    await bench.getByRole('button', { name: 'New calibration' }).click();
    expect(await page.getByLabel('Capacity').inputValue()).toBe('150 kg');
    await page.getByLabel('Calibrated on').fill('2026-02-12');
    await page.getByLabel('Uncertainty on the certificate').fill('30 g');
    await page.getByLabel('Coverage factor k').fill('1');
    await page.getByRole('button', { name: 'Record the calibration' }).click();
    await bench.getByText('of 2026-02-12').waitFor();
    expect(await newest()).toMatchObject({
      kind: 'scale',
      gainStd: expect.closeTo(0.0002, 12),
      calibratedOn: '2026-02-12',
    });
  });

  it('[W12] a check weight is answered plainly; one that fails names the weighings in doubt', async () => {
    const weighing = await record({
      kind: 'weighing',
      part: 'T-1',
      gross: '20.1 kg',
      condition: 'finished',
      scale: 'bench',
    });
    await open('Scales');
    const bench = page.getByRole('region', { name: 'Scale bench' });
    await bench.getByRole('button', { name: 'Record a check weight' }).click();
    await page.getByLabel('The check weight is').fill('20 kg');
    await page.getByLabel('The scale shows').fill('heavy');
    await page.getByRole('button', { name: 'Record the check weight' }).click();
    await page.getByText('is not a number').waitFor();
    await page.getByLabel('The scale shows').fill('20.06');
    // What was put right is no longer told as wrong.
    expect(await page.getByText('is not a number').count()).toBe(0);
    await page.getByRole('button', { name: 'Record the check weight' }).click();
    await bench.getByText('Failed.').waitFor();
    await bench.getByText(`In doubt since the last check that passed: entry ${weighing}.`).waitFor();
    await bench.getByText('One weighing is in doubt').waitFor();

    await bench.getByRole('button', { name: 'Record a check weight' }).click();
    await page.getByLabel('The check weight is').fill('20 kg');
    await page.getByLabel('The scale shows').fill('20.005 kg');
    await page.getByRole('button', { name: 'Record the check weight' }).click();
    await bench.getByText('Passed.').waitFor();
  });

  it('[L8] the datum is moved after a look at what every arm becomes', async () => {
    await open('Aircraft');
    await page.getByRole('button', { name: 'Move the datum' }).click();
    await page.getByLabel('By how much').fill('-500 mm');
    await page.getByText(spaced('0.500 m forward, towards the nose: every arm becomes 0.500 m larger')).waitFor();
    await page.getByLabel('By how much').fill('500 mm');
    await page.getByText(spaced('0.500 m aft, towards the tail: every arm becomes 0.500 m smaller')).waitFor();
    await page.getByText('The arms of all 2 parts').click();
    await expect.poll(() => rowOf('T-1 Fin')).toMatch(/6\.500.*6\.000/);
    expect(await rowOf('CG range, forward end')).toMatch(/3\.000.*2\.500/);
    await page.getByLabel('The new datum in words').fill('front face of the firewall');
    await page.getByLabel('Why').fill('drawings count from there');
    await page.getByRole('button', { name: 'Move the datum' }).click();
    await page.getByText('The datum is moved').waitFor();
    await page.getByText(spaced('0.500 m aft, to: front face of the firewall')).waitFor();
    expect(await page.getByRole('definition').allTextContents()).toContain('front face of the firewall');
    await open('Targets');
    await page
      .getByRole('cell', { name: spaced('2.500 to 2.900') })
      .first()
      .waitFor();
  });

  it('[L2] what was mistyped of the aircraft is corrected, about the datum of its own time', async () => {
    await open('Aircraft');
    await page.getByRole('button', { name: 'Change the aircraft' }).click();
    expect(await page.getByLabel('Datum').inputValue()).toBe('front face of the firewall');
    await page.getByRole('button', { name: 'Cancel' }).click();
    await page.getByRole('button', { name: 'Correct entry 1', exact: true }).click();
    expect(await page.getByLabel('Datum').inputValue()).toBe('tip of the spinner');
    await page.getByText('counted from the datum of that time').waitFor();
    await page.getByLabel('MAC', { exact: true }).fill('1.2');
    await page.getByLabel('Leading edge of MAC').fill('3.1 m');
    await page.getByRole('button', { name: 'Record the correction' }).click();
    await page.getByText('Nothing is given here. Fill it in.').waitFor();
    await page.getByLabel('Reason for the correction').fill('left out');
    await page.getByRole('button', { name: 'Record the correction' }).click();
    await page.getByText('Corrected: entry').waitFor();
    await page.getByText(spaced('station 2.600 m')).waitFor();
    expect(await newest()).toMatchObject({ kind: 'correction', replacement: { statement: { lemacM: 3.1 } } });
  });

  it('[L2] a revision of the targets that was corrected says so, with the way to the entry that says it now', async () => {
    await open('Targets');
    const first = page.getByRole('row', { name: '1 20' });
    const before = (await newestSeq()) + 1;
    await first.getByRole('button', { name: 'Correct entry 6' }).click();
    await page.getByLabel('Empty-weight target').fill('265 kg');
    await page.getByLabel('Reason for the correction').fill('misread');
    await page.getByRole('button', { name: 'Record the correction' }).click();
    await expect.poll(() => page.evaluate('document.activeElement.textContent')).toBe('It is 265 lb');
    await page.getByLabel('Empty-weight target').fill('126 kg');
    await page.getByText('Margin with these:').waitFor();
    await page.getByLabel('Reason for the correction').fill('misread');
    await page.getByRole('button', { name: 'Record the correction' }).click();
    await page.getByText(`Corrected: entry ${before}`).waitFor();
    await first.getByText('126.000').waitFor();
    expect(await first.getByText('corrected by').textContent()).toContain(`entry 6, corrected by entry ${before}`);
    await first.getByRole('link', { name: `entry ${before}` }).click();
    await page.getByText(spaced(`From entry ${before} backwards`)).waitFor();
    const entries = page.getByRole('region', { name: 'Entries' }).getByRole('listitem');
    await expect.poll(() => entries.first().textContent()).toContain('correction of 6');
    await page.goBack();
    await first.getByRole('link', { name: 'entry 6' }).click();
    await page.getByText('From entry 6 backwards').waitFor();
    await expect.poll(() => entries.count()).toBe(6);
    await page.getByRole('button', { name: 'All entries' }).click();
    await expect.poll(() => entries.count()).toBe(before);
  });

  it('[E1] a lead sets the shop\u2019s own allowances, and estimates afterwards take them', async () => {
    await open('Allowances');
    await page.getByText('common practice, no source: adjust to your shop.').waitFor();
    const prepreg = page.getByRole('row', { name: 'prepreg' });
    expect(await prepreg.getByRole('cell').allTextContents()).toEqual(['24.0', '6.0']);
    await page.getByRole('button', { name: 'Set the shop\u2019s own' }).click();
    await page.getByLabel('prepreg, estimated').fill('much');
    await page.getByRole('button', { name: 'Record the allowances' }).click();
    await page.getByText('is not a number').waitFor();
    await page.getByLabel('prepreg, estimated').fill('12.5');
    await page.getByRole('button', { name: 'Record the allowances' }).click();
    await page.getByText('Estimates that are recorded from now on take them.').waitFor();
    await expect.poll(() => prepreg.getByRole('cell').allTextContents()).toEqual(['own 12.5', '6.0']);
    expect(await newest()).toMatchObject({ kind: 'allowances', shares: [{ process: 'prepreg', growth: 0.125 }] });
    await record({ kind: 'estimate', part: 'T-1', estimate: '21 kg' });
    expect(await newest()).toMatchObject({ growth: 0.125, growthFrom: 'shop default' });

    await page.getByRole('button', { name: 'Revise the shop\u2019s own' }).click();
    expect(await page.getByLabel('prepreg, estimated').inputValue()).toBe('12.5 %');
    await page.getByLabel('prepreg, estimated').fill('');
    await page.getByRole('button', { name: 'Record the allowances' }).click();
    await page.getByText('this revision gives no reason').waitFor();
    await page.getByLabel('Why').fill('too few parts to say');
    await page.getByRole('button', { name: 'Record the allowances' }).click();
    await page.getByText('too few parts to say · in force').waitFor();
    await page.getByText('back to common practice').waitFor();
  });

  it('[L5] the ledger is walked: whole, or the entry that does not fit and what to do', async () => {
    await open('Verify the ledger');
    await page.getByRole('button', { name: 'Walk the ledger' }).click();
    await page.getByText('The ledger is whole.').waitFor();
    const { headHash } = (await (await page.request.get(`${server.address}${aircraft}/verify`)).json()) as {
      headHash: string;
    };
    await page.getByText(headHash).waitFor();
    const broken = { ok: false, seq: 4, fault: 'hash', words: 'Its text does not give its hash.' };
    await page.route('**/verify', (route) => route.fulfill({ json: broken }));
    await page.getByRole('button', { name: 'Walk it again' }).click();
    await page.getByText('Entry 4 does not fit.').waitFor();
    await page.getByText('Entries 1 to 3 fit each other').waitFor();
    await page.getByText('Record nothing more').waitFor();
    await page.unroute('**/verify');
  });

  it('[L10] the lead makes a checkpoint, which is saved as a file', async () => {
    await open('Verify the ledger');
    const [saved] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Make a checkpoint' }).click(),
    ]);
    expect(saved.suggestedFilename()).toMatch(/ checkpoint\.txt$/);
    const checkpoint = pageRead(await readFile(await saved.path(), 'utf8'));
    expect(isGenuine(checkpoint)).toBe(true);
    expect(aircraft).toContain(checkpoint.aircraftId);
  });

  it('[N4] who may not change it reads it, and the crew records check weights', async () => {
    const crew = { name: 'Casey Crew', initials: 'CC', password: 'here to weigh parts' };
    const made = await page.request.post(`${server.address}/api/people`, {
      data: { ...crew, role: 'crew', aircraft: 'all' },
    });
    expect(made.status()).toBe(201);
    const own = await (await browser.newContext()).newPage();
    await own.goto(server.address);
    await own.getByLabel('Name').fill(crew.name);
    await own.getByLabel('Password').fill(crew.password);
    await own.getByRole('button', { name: 'Sign in' }).click();
    await own.getByRole('link', { name: 'Set-up' }).click();
    await own.getByText('The lead changes what stands here').waitFor();
    await own.getByText('tip of the spinner').or(own.getByText('front face of the firewall')).first().waitFor();
    expect(await own.getByRole('button', { name: 'Move the datum' }).count()).toBe(0);
    await own.getByRole('link', { name: 'Targets' }).click();
    await own.getByRole('heading', { name: 'Targets by revision' }).waitFor();
    expect(await own.getByRole('button', { name: 'Revise the targets' }).count()).toBe(0);
    await own.getByRole('link', { name: 'Allowances' }).click();
    await own.getByRole('heading', { name: 'Growth allowances' }).waitFor();
    expect(await own.getByRole('button', { name: /the shop.s own/ }).count()).toBe(0);
    expect(await own.getByRole('button', { name: /^Correct/ }).count()).toBe(0);
    await own.getByRole('link', { name: 'Scales' }).click();
    await own.getByRole('button', { name: 'Record a check weight' }).waitFor();
    expect(await own.getByRole('button', { name: 'New calibration' }).count()).toBe(0);
    await own.context().close();
  });

  async function open(section: string): Promise<void> {
    await page.goto(`${server.address}${aircraft.replace('/api', '')}/ledger`);
    await page.getByRole('link', { name: 'Set-up' }).click();
    await page.getByRole('navigation', { name: 'Set-up' }).getByRole('link', { name: section }).click();
  }

  /** The path of the new aircraft's doors. */
  async function post(path: string, data: unknown): Promise<string> {
    const answer = await page.request.post(`${server.address}${path}`, { data });
    expect(answer.status(), await answer.text()).toBe(201);
    return `/api/aircraft/${((await answer.json()) as { id: string }).id}`;
  }

  async function record(words: Readonly<Record<string, string>>): Promise<number> {
    const answer = await page.request.post(`${server.address}${aircraft}/entries`, {
      data: { id: crypto.randomUUID(), ...words },
    });
    expect(answer.status(), await answer.text()).toBe(201);
    return ((await answer.json()) as { entry: { seq: number } }).entry.seq;
  }

  async function newestSeq(): Promise<number> {
    const answer = await page.request.get(`${server.address}${aircraft}/entries?limit=1`);
    return ((await answer.json()) as { seq: number }).seq;
  }

  async function newest(): Promise<unknown> {
    const answer = await page.request.get(`${server.address}${aircraft}/entries?limit=1`);
    const { entries } = (await answer.json()) as { entries: { entry: { by: string } }[] };
    expect(entries[0]?.entry.by).toBe(LEAD.initials);
    return entries[0]?.entry;
  }

  async function rowOf(name: string): Promise<string> {
    return (await page.getByRole('row', { name }).first().textContent()) ?? '';
  }
});

/** The words with whatever space stands between them. */
function spaced(words: string): RegExp {
  return new RegExp(words.replace(/[.*+?^${}()|[\]\\]/g, '\\$&').replace(/ /g, '\\s'));
}
