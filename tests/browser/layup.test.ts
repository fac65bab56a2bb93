/**
 * A lay-up built at the keyboard, from a list of materials that is empty to an estimate that is calculated; bad figures told at their place; the
 * mirror image for the other side; materials that move on. In a real browser, before a real server.
 */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { PartsReport } from '#shared/contract/aircraft.ts';
import { PartPageReport } from '#shared/contract/part.ts';
import { SetUpReport } from '#shared/contract/set-up.ts';
import { box, keptGeometry, textStl } from '#tests/shared/geometry/make-mesh.ts';
import { expectNoBarriers, expectReflow } from './barriers.ts';
import { makeFirstAccount, openBrowser, type RunningServer, startServer } from './shop-floor.ts';

const PARTS = [
  { number: 'FLAP-L', name: 'Flap skin, left', side: 'left' },
  { number: 'FLAP-R', name: 'Flap skin, right', side: 'right' },
] as const;

describe('the lay-up of a part', () => {
  let browser: Browser;
  let server: RunningServer;
  let page: Page;
  let aircraft: string;
  beforeAll(async () => {
    [browser, server] = await Promise.all([openBrowser(), startServer({ wantsCode: true })]);
    const context = await browser.newContext({ viewport: { width: 1366, height: 900 }, reducedMotion: 'reduce' });
    page = await context.newPage();
    await makeFirstAccount(page, server);
    await page.getByRole('heading', { name: 'How do you want to begin?' }).waitFor();
    const begun = { name: 'Shelduck', datum: 'the bow', massUnit: 'kg', lengthUnit: 'm' };
    aircraft = ((await post('/api/aircraft', begun)) as { id: string }).id;
    for (const part of PARTS) await record({ kind: 'part added', group: 'wing', process: 'resin-infused', ...part });
    await record({ kind: 'estimate', part: 'FLAP-L', estimate: '2 kg', x: '3 m', flash: '0.2 kg' });
  });
  afterAll(() => Promise.all([browser.close(), server.stop()]));

  it('[E3] the list takes starter rows that say they have no source, and a row is stated anew, withdrawn and put back', {
    timeout: 120_000,
  }, async () => {
    await page.goto(`${server.address}/aircraft/${aircraft}/set-up/materials`);
    await page.getByRole('heading', { name: 'No material yet' }).waitFor();
    await open('an empty list of materials');
    await page.getByRole('button', { name: 'Take the starter rows' }).press('Enter');
    await page.getByRole('dialog').getByText('Carbon twill 200 g/m²').waitFor();
    await open('the starter rows');
    await page.getByRole('checkbox', { name: /Threaded insert M5/ }).press('Space');
    await page.getByRole('button', { name: /^Take \d+ rows$/ }).press('Enter');
    await page.getByText(/materials are on the list/).waitFor();
    const twill = page.getByRole('row', { name: /^Carbon twill 200/ });
    expect(await twill.textContent()).toContain('common practice, no source: check your roll');
    expect(await page.getByRole('row', { name: /^Threaded insert M5/ }).count()).toBe(0);
    await open('the list of materials');

    await page.getByRole('button', { name: 'State anew: Glass 80 g/m²' }).press('Enter');
    const dialog = page.getByRole('dialog');
    await dialog.getByText('Estimates that were computed keep the figures').waitFor();
    await dialog.getByLabel('Dry mass per area').fill('0');
    await dialog.getByRole('button', { name: 'Record the new figures' }).press('Enter');
    await dialog.getByText('“0 g/m²” lies outside').waitFor();
    await open('a material, refused');
    expect((await materials()).find(({ material }) => material.name === 'Glass 80 g/m²')?.material).toMatchObject({
      arealKgM2: 0.08,
    });
    await dialog.getByLabel('Dry mass per area').fill('82');
    await dialog.getByText('our roll, can or data sheet').click();
    await dialog.getByLabel('Dry mass per area').press('Enter');
    await page.getByText(/Glass 80 g\/m² is stated anew/).waitFor();
    expect((await materials()).find(({ material }) => material.name === 'Glass 80 g/m²')?.material).toMatchObject({
      arealKgM2: 0.082,
      basis: 'stated',
    });
    await page.getByRole('button', { name: 'Withdraw: Glass 80 g/m²' }).press('Enter');
    await page.getByRole('button', { name: 'Withdraw it' }).press('Enter');
    await page.getByText('Withdrawn: 1').click();
    expect((await materials()).find(({ isWithdrawn }) => isWithdrawn)?.material.name).toBe('Glass 80 g/m²');
    await open('the list with a material withdrawn');
    await page.getByRole('button', { name: 'Put back: Glass 80 g/m²' }).press('Enter');
    expect(await dialog.getByLabel('Dry mass per area').inputValue()).toBe('82 g/m²');
    await dialog.getByRole('button', { name: 'Record the new figures' }).press('Enter');
    await page.getByRole('button', { name: 'Withdraw: Glass 80 g/m²' }).waitFor();
    expect((await materials()).every(({ isWithdrawn }) => !isWithdrawn)).toBe(true);
  });

  it('[E3] a sandwich is built at the keyboard alone, from nothing to an estimate that is calculated', {
    timeout: 180_000,
  }, async () => {
    await openLayUp('FLAP-L');
    await open('a lay-up that is empty');
    const { keyboard } = page;
    await page.getByLabel('Resin', { exact: true }).first().focus();
    await choose('infusion');
    await keyboard.press('Tab');
    await keyboard.press('Tab');
    await keyboard.type('60');
    expect(await focused()).toBe('Fibre fraction');
    for (let tabs = 0; tabs < 5; tabs += 1) await keyboard.press('Tab');
    expect(await focused()).toBe('Area');
    await keyboard.type('0.5');
    await keyboard.press('Tab');
    await keyboard.press('Tab');
    await keyboard.type('3');
    // From the region on to its first line, a ply.
    await keyboard.press('Enter');
    await choose('twill 200');
    await next('2');
    await keyboard.press('Enter');
    await choose('twill 200');
    await next('1');
    await next('0.04 m²');
    await tabTo('+ Core');
    await keyboard.press('Enter');
    await choose('60 kg/m³');
    await next('');
    await next();
    await next('45');
    await tabTo('Outline');
    await keyboard.press('ArrowDown');
    expect(await page.getByLabel('Outline').inputValue()).toBe('rectangle');
    expect(await page.getByLabel('Bevel').inputValue()).toBe('45');
    await tabTo('+ Ply');
    await keyboard.press('Enter');
    await choose('twill 200');
    await next('2');
    await tabTo('+ Coat');
    await keyboard.press('Enter');
    await choose('top coat');
    await tabTo('+ Insert');
    await keyboard.press('Enter');
    // The list lacks it: it is described there and then.
    await keyboard.type('Threaded insert M5');
    await tabTo('Describe “Threaded insert M5” …');
    await keyboard.press('Enter');
    await page.getByRole('dialog').getByLabel('Mass of one').waitFor();
    await tabTo('Mass of one');
    await keyboard.type('4');
    await keyboard.press('Enter');
    await page.getByRole('dialog').waitFor({ state: 'detached' });
    await expect.poll(focused).toBe('Material');
    expect((await materials()).find(({ material }) => material.name === 'Threaded insert M5')?.material).toMatchObject({
      massKg: 0.004,
      basis: 'stated',
    });
    await tabTo('How many');
    await keyboard.type('6');

    // By hand: 4 layers and 0.04 m² of 0.2 kg/m² at 60 %; core (0.5 t - 3 t²/2 + 4/3 t³) 60 with 2 x 0.3 kg/m² taken up; coat 0.15; 6 x 4 g.
    const pliesKg = ((4 * 0.5 + 0.04) * 0.2) / 0.6;
    const coreKg = (0.5 * 0.01 - (3 * 0.01 ** 2) / 2 + (4 / 3) * 0.01 ** 3) * 60 + 0.5 * 0.6;
    const sumKg = pliesKg + coreKg + 0.5 * 0.15 + 0.024;
    const sums = page.getByRole('region', { name: 'What it comes to' });
    await expect.poll(() => page.locator('.problem').allTextContents()).toEqual([]);
    await expect.poll(() => sums.locator('.figure-value').textContent()).toContain(sumKg.toFixed(2));
    expect(await sums.textContent()).toMatch(/Fibre.*Resin.*Core.*Coats.*moulded.*later.*finish.*Wf 60\.0/);
    await open('a lay-up that is typed');

    // The last line of the region goes above the coat, and the focus with it.
    await keyboard.press('Alt+ArrowUp');
    await page.getByText('Line 5 of 6 in Flap skin, left.').waitFor();
    expect(await focused()).toBe('How many');
    expect(await lineNames()).toEqual(['Ply', 'Ply', 'Core', 'Ply', 'Insert', 'Coat']);

    await page.reload();
    await page.locator('.line').nth(5).waitFor();
    await expect.poll(lineNames).toEqual(['Ply', 'Ply', 'Core', 'Ply', 'Insert', 'Coat']);
    await page.getByText('Not recorded; kept on this device.').waitFor();
    await page.getByRole('link', { name: 'Weigh', exact: true }).press('Enter');
    await page.getByRole('dialog', { name: 'The lay-up is not recorded' }).waitFor();
    await open('leaving a lay-up that is not recorded');
    await page.getByRole('button', { name: 'Stay here' }).press('Enter');

    const estimate = page.getByRole('region', { name: 'As the estimate' });
    expect(await estimate.textContent()).toMatch(/24\.0\s%6\.0\s%.*estimatedcalculated/);
    await page.getByRole('button', { name: 'Record as estimate' }).press('Enter');
    await page.getByText(/^As recorded in entry \d+\.$/).waitFor();
    const [now, before] = (await pageOf('FLAP-L')).estimates;
    expect(now).toMatchObject({
      evidence: 'calculated',
      growth: 0.06,
      growthFrom: 'shop default',
      xM: 3,
      flashKg: 0.2,
    });
    expect(now?.massKg).toBeCloseTo(sumKg, 9);
    expect(now?.laterKg).toBeCloseTo(0.024 + 0.075, 9);
    expect(now?.finishKg).toBeCloseTo(0.075, 9);
    expect(before).toMatchObject({ evidence: 'estimated', massKg: 2 });

    await page.getByRole('link', { name: 'FLAP-L Flap skin, left' }).press('Enter');
    const section = page.getByRole('region', { name: 'Lay-up' });
    await section.waitFor();
    expect(await section.textContent()).toMatch(
      new RegExp(`^Lay-up${sumKg.toFixed(2)}\\s±\\s0\\.\\d+\\skg, calculated from 6 lines; plies Wf 60\\.0`),
    );
    await page.getByRole('row', { name: /calculated/ }).waitFor();
  });

  it('[E3] figures that make no sense are told at their place with what to do, and nothing is recorded', {
    timeout: 120_000,
  }, async () => {
    const before = (await pageOf('FLAP-L')).estimates.length;
    await openLayUp('FLAP-L');
    const problems = (place: string) => page.getByRole('region', { name: place }).locator('.problem').allTextContents();
    await page.getByLabel('Area', { exact: true }).fill('0');
    await expect.poll(() => problems('Flap skin, left')).toEqual([expect.stringMatching(/^Area: .*more than 0/)]);
    await page.getByLabel('Fibre fraction', { exact: true }).fill('100');
    await expect
      .poll(() => problems('Resin and fibre'))
      .toEqual([expect.stringMatching(/^Fibre fraction: .*leaves no fibre or no resin\. Give a share/)]);
    await page.getByLabel('Material').first().fill('');
    await page.keyboard.press('Escape');
    await page.keyboard.press('Tab');
    await expect
      .poll(() => problems('Flap skin, left'))
      .toEqual([expect.stringMatching(/^Area/), expect.stringMatching(/^Material: Nothing is given here/)]);
    await page.getByLabel('Layers').first().fill('many');
    await open('a lay-up with figures that make no sense');
    await page.getByRole('button', { name: 'Record as estimate' }).press('Enter');
    await page.getByText('Nothing is recorded while 4 fields must be put right.').waitFor();
    // The keyboard goes to the first of them.
    await expect.poll(focused).toBe('Fibre fraction');
    expect((await pageOf('FLAP-L')).estimates.length).toBe(before);
    await page.getByRole('button', { name: 'Drop it' }).press('Enter');
    await page.getByText(/^As recorded in entry/).waitFor();
    expect(await page.getByLabel('Area', { exact: true }).inputValue()).toBe('0.5 m²');
    await expect.poll(focused).toBe('Region');
    // One press does not lose an hour's typing.
    await page.getByRole('button', { name: 'Put it back' }).press('Enter');
    expect(await page.getByLabel('Area', { exact: true }).inputValue()).toBe('0');
    await page.getByRole('button', { name: 'Drop it' }).press('Enter');
    await page.getByText(/^As recorded in entry/).waitFor();
  });

  it('[E3] the other side takes the mirror image, where the part has no estimate yet', {
    timeout: 120_000,
  }, async () => {
    await openLayUp('FLAP-L');
    await page.getByRole('button', { name: 'Mirror it to FLAP-R …' }).press('Enter');
    await page.getByRole('heading', { name: 'Lay-up of FLAP-R' }).waitFor();
    const dialog = page.getByRole('dialog', { name: 'Take the lay-up of another part' });
    expect(await dialog.getByLabel('Part').inputValue()).toBe('FLAP-L');
    await open('taking the lay-up of another part');
    await dialog.getByRole('button', { name: 'Take it' }).press('Enter');
    await page.getByText('The lay-up of FLAP-L is taken over, mirrored; not recorded yet.').waitFor();
    expect(await page.getByLabel('Region').inputValue()).toBe('Flap skin, right');
    await page.getByLabel('Flash').fill('150 g');
    await page.getByRole('button', { name: 'Record as estimate' }).press('Enter');
    await page.getByText(/^As recorded in entry/).waitFor();
    const [left] = (await pageOf('FLAP-L')).estimates;
    expect((await pageOf('FLAP-R')).estimates).toMatchObject([
      { massKg: left?.massKg, evidence: 'calculated', flashKg: 0.15 },
    ]);
  });

  it('[E3] a material that has moved on is told with old and new, and computing anew is an entry of its own', {
    timeout: 120_000,
  }, async () => {
    const [was] = (await pageOf('FLAP-L')).estimates;
    await record({
      kind: 'material',
      name: 'Carbon twill 200 g/m²',
      is: 'fabric',
      areal: '210 g/m²',
      density: '1780 kg/m³',
    });
    expect((await pageOf('FLAP-L')).estimates[0]).toEqual(was);
    await openLayUp('FLAP-L');
    const notice = page.getByText('The list of materials has moved on').locator('..');
    await notice.waitFor();
    expect(await notice.textContent()).toMatch(/computed from 200 g\/m².*the list now says 210 g\/m²/);
    await open('a lay-up whose materials have moved on');
    await page.getByRole('button', { name: 'Compute anew with the list’s figures' }).press('Enter');
    await page.getByRole('button', { name: 'Record as estimate' }).press('Enter');
    await expect.poll(async () => (await pageOf('FLAP-L')).estimates.length).toBe(3);
    const [now] = (await pageOf('FLAP-L')).estimates;
    expect((now?.massKg ?? 0) - (was?.massKg ?? 0)).toBeCloseTo((2.04 * 0.01) / 0.6, 9);
    await expect.poll(() => notice.count()).toBe(0);
  });

  it('[E5] area and open edge of a geometry are taken over into a region with one act, and the geometry stays', {
    timeout: 120_000,
  }, async () => {
    const { volumeM3: _, ...kept } = keptGeometry();
    const geometry = { ...kept, shape: 'shell', areaM2: 1.25, openEdgeM: 4.5, bordersM: [4.5] } as const;
    await record({ kind: 'part added', number: 'TIP', name: 'Tip', group: 'wing', process: 'wet lay-up' });
    await record({ kind: 'estimate', part: 'TIP', estimate: '1 kg', geometry });
    await openLayUp('TIP');
    await page.getByRole('button', { name: 'Take area and perimeter of the geometry' }).press('Enter');
    expect(await page.getByLabel('Area', { exact: true }).inputValue()).toBe(`${geometry.areaM2} m²`);
    expect(await page.getByLabel('Perimeter').inputValue()).toBe(`${geometry.openEdgeM} m`);
    await page.getByRole('button', { name: '+ Coat' }).press('Enter');
    await choose('primer');
    await page.getByRole('button', { name: '+ Coat' }).press('Enter');
    await page.keyboard.press('Alt+Delete');
    await expect.poll(lineNames).toEqual(['Coat']);
    await page.getByRole('button', { name: 'Put it back' }).press('Enter');
    await expect.poll(lineNames).toEqual(['Coat', 'Coat']);
    // What is dragged goes where it is dropped.
    await page.locator('.line').first().getByLabel('Goes on').selectOption('later');
    await page.locator('.line-handle').first().dragTo(page.locator('.region-foot'));
    await expect.poll(() => page.getByLabel('Goes on').nth(1).inputValue()).toBe('later');
    await page.getByLabel('Material').first().press('Alt+Delete');
    await page.getByRole('button', { name: 'Record as estimate' }).press('Enter');
    await page.getByText(/^As recorded in entry/).waitFor();
    const [now] = (await pageOf('TIP')).estimates;
    expect(now).toMatchObject({ geometry, evidence: 'calculated' });
    expect(now?.massKg).toBeCloseTo(geometry.areaM2 * 0.1, 9);
  });

  it('[E6] the sandwich takes its station from a mesh, is weighed 9 % heavy, and reads as resin-rich on its page', {
    timeout: 120_000,
  }, async () => {
    const { partId, ...laid } = await partOf('FLAP-L');
    await page.goto(`${server.address}/aircraft/${aircraft}/parts/${partId}`);
    await page.getByRole('button', { name: 'Measure a mesh' }).press('Enter');
    const chooser = page.waitForEvent('filechooser');
    await page.getByRole('button', { name: 'Choose a file' }).press('Enter');
    const buffer = Buffer.from(textStl(box(500, 1000, 1)));
    await (await chooser).setFiles({ name: 'flap.stl', mimeType: 'model/stl', buffer });
    await page.getByRole('radio', { name: 'mm', exact: true }).press('Space');
    await page.getByRole('radio', { name: 'A shell: area' }).press('Space');
    await page.getByRole('button', { name: 'Measure it' }).press('Enter');
    for (const [axis, towards] of Object.entries({ x: 'aft', y: 'right', z: 'up' }))
      await page.getByLabel(`The part’s ${axis} axis points`).selectOption(towards);
    for (const [axis, at] of Object.entries({ x: '3.2', y: '-1.5', z: '0.9' }))
      await page.getByLabel(`Its zero lies at station ${axis}`).fill(at);
    await page.getByRole('button', { name: 'Revise the estimate with this station' }).press('Enter');
    await page.getByText('flap.stl, a shell drawn in mm').waitFor();
    const [placed] = (await pageOf('FLAP-L')).estimates;
    expect(placed).toMatchObject({ massKg: laid.estimateKg, xM: 3.45, evidence: 'calculated' });
    expect(placed?.layUp?.regions).toHaveLength(1);

    await page
      .getByRole('button', { name: 'Weigh it' })
      .or(page.getByRole('link', { name: 'Weigh it' }))
      .press('Enter');
    await page.getByRole('radio', { name: 'trimmed' }).press('Space');
    const heavyKg = 1.09 * ((placed?.massKg ?? 0) - (placed?.laterKg ?? 0));
    await page
      .getByLabel(/^Gross/)
      .first()
      .fill(heavyKg.toFixed(3));
    await page
      .getByRole('region', { name: 'Judgement' })
      .getByText(/resin-rich: Wf/)
      .waitFor();
    await page.getByRole('button', { name: 'Save the weighing' }).press('Enter');
    await page.getByText(/^Saved: FLAP-L/).waitFor();
    await page.goto(`${server.address}/aircraft/${aircraft}/parts/${partId}`);
    await page.getByText(/resin-rich: Wf \d\d\.\d\s%\s±\s\d\.\d\s% against \d/).waitFor();
    await open('the page of a part with lay-up, geometry and reading');
  });

  it('[N4] who only reads sees every line in words with its mass, and nothing to change it with', {
    timeout: 120_000,
  }, async () => {
    const foam = { is: 'core', material: 'PVC foam 60 kg/m³ 10 mm', faces: '0' };
    const kerfs = { 'kerf length': '2 m', 'kerf width': '1 mm', 'kerf depth': '8 mm' };
    const regions = [{ name: 'Floor', area: '1 m²', lines: [{ ...foam, ...kerfs }] }];
    await record({ kind: 'part added', number: 'FLOOR', name: 'Floor', group: 'wing', process: 'wet lay-up' });
    const layUp = { resin: 'Epoxy, hand lay-up', 'fibre by volume': '45 %', regions };
    await record({ kind: 'estimate', part: 'FLOOR', layUp });
    const reader = { name: 'Vic Viewer', initials: 'VV', password: 'only here to look' };
    await post('/api/people', { ...reader, role: 'viewer', aircraft: 'all' });
    const { partId } = await partOf('FLOOR');
    const context = await browser.newContext({ viewport: { width: 1366, height: 900 }, reducedMotion: 'reduce' });
    const theirs = await context.newPage();
    await theirs.goto(`${server.address}/aircraft/${aircraft}/parts/${partId}/lay-up`);
    await theirs.getByLabel('Name').fill(reader.name);
    await theirs.getByLabel('Password').fill(reader.password);
    await theirs.getByRole('button', { name: 'Sign in' }).click();
    await theirs.getByText('An engineer makes and changes lay-ups; your role reads them.').waitFor();
    const row = await theirs.getByRole('row', { name: /^Core/ }).textContent();
    // 10 l of foam of 60 kg/m³ less 16 cm³ of kerfs, which fill with resin of 1160 kg/m³.
    expect(row).toContain('kerf depth 8 mm');
    expect(row).toContain(((0.01 - 1.6e-5) * 60 + 1.6e-5 * 1160).toFixed(3));
    expect(await theirs.getByRole('button', { name: /Record|Take|\+/ }).count()).toBe(0);
    await expectNoBarriers(theirs, 'a lay-up for who reads it');
    await expectReflow(theirs, 'a lay-up for who reads it');
    await context.close();
  });

  /** Types until the list has one left, which is taken when the field is left. */
  async function choose(words: string): Promise<void> {
    await page.keyboard.type(words);
    const choices = page.locator('.choices-item');
    const told = async () => (await choices.allTextContents()).map((text) => text.toLowerCase());
    await expect.poll(told).toEqual([expect.stringContaining(words.toLowerCase())]);
    await page.keyboard.press('Enter');
    await choices.first().waitFor({ state: 'detached' });
  }

  async function next(words = ''): Promise<void> {
    await page.keyboard.press('Tab');
    if (words !== '') await page.keyboard.type(words);
  }

  /** Onwards with Tab, never back: nothing on the way holds the keyboard. */
  async function tabTo(name: string): Promise<void> {
    for (let tabs = 0; tabs < 80; tabs += 1) {
      await page.keyboard.press('Tab');
      if ((await focused()) === name) return;
    }
    throw new Error(`Tab does not come to ${name}`);
  }

  /** The name of what has the keyboard. */
  function focused(): Promise<string> {
    return page.evaluate<string>(`(() => {
      const at = document.activeElement;
      return (at?.labels?.[0]?.textContent ?? at?.getAttribute('aria-label') ?? at?.textContent ?? '').trim();
    })()`);
  }

  async function lineNames(): Promise<string[]> {
    const kinds = page.locator('.line select[data-place$=" is"]');
    const names: string[] = [];
    for (const kind of await kinds.all()) names.push((await kind.locator('option:checked').textContent()) ?? '');
    return names;
  }

  async function openLayUp(number: string): Promise<void> {
    const { partId } = await partOf(number);
    await page.goto(`${server.address}/aircraft/${aircraft}/parts/${partId}`);
    await page
      .getByRole('region', { name: 'Lay-up' })
      .getByRole('link', { name: /lay-up$/ })
      .press('Enter');
    await page.getByRole('heading', { name: `Lay-up of ${number}` }).waitFor();
  }

  async function open(where: string): Promise<void> {
    await expectNoBarriers(page, where);
    await expectReflow(page, where);
  }

  async function materials() {
    return SetUpReport.parse(await get(`/api/aircraft/${aircraft}/set-up`)).materials;
  }

  async function partOf(number: string) {
    const { parts } = PartsReport.parse(await get(`/api/aircraft/${aircraft}/parts`));
    const part = parts.find((one) => one.number === number);
    if (part === undefined) throw new Error(`there is a part ${number}`);
    return part;
  }

  async function pageOf(number: string): Promise<PartPageReport> {
    const { partId } = await partOf(number);
    return PartPageReport.parse(await get(`/api/aircraft/${aircraft}/parts/${partId}`));
  }

  async function get(path: string): Promise<unknown> {
    return (await page.request.get(`${server.address}${path}`)).json();
  }

  function record(words: object): Promise<unknown> {
    return post(`/api/aircraft/${aircraft}/entries`, { id: crypto.randomUUID(), ...words });
  }

  async function post(path: string, data: object): Promise<unknown> {
    const answer = await page.request.post(`${server.address}${path}`, { data });
    expect(answer.status(), await answer.text()).toBe(201);
    return answer.json();
  }
});
