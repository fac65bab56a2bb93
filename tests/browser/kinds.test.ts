/** Every new kind of entry made through the screens: its row in the ledger, its effect, and the figures that follow from it. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type { Listed } from '#shared/contract/reports.ts';
import { expectNoBarriers, expectReflow } from './barriers.ts';
import { beginBox, type Shop } from './box-shop.ts';
import { makeFirstAccount, openBrowser, type RunningServer, startServer } from './shop-floor.ts';

type Headline = { headline: { predictedKg: number; cg: { xM: number }; inDoubt: Listed; withoutDecision: Listed } };

describe('kinds of entry on the screens', () => {
  let browser: Browser;
  let server: RunningServer;
  let page: Page;
  let shop: Shop;
  let seenSeq = 0;
  const faults: string[] = [];
  beforeAll(async () => {
    [browser, server] = await Promise.all([openBrowser(), startServer({ wantsCode: true })]);
    const context = await browser.newContext({ viewport: { width: 768, height: 1024 }, reducedMotion: 'reduce' });
    page = await context.newPage();
    page.setDefaultTimeout(20_000);
    page.on('pageerror', (error) => faults.push(String(error)));
    await makeFirstAccount(page, server);
    await page.getByRole('heading', { name: 'How do you want to begin?' }).waitFor();
    shop = await beginBox(page, server.address);
  });
  beforeEach(async () => {
    await page.goto(`${shop.address}/ledger`);
    await page.getByRole('heading', { name: 'Shelduck' }).waitFor();
  });
  afterAll(async () => {
    await browser.close();
    await server.stop();
  });

  it('[U3] the headline tells each figure with its uncertainty, and of how many parts it was assumed', async () => {
    // Three per cent of 4 kg, of twice 0.5 kg under one estimate, and of 0.3 kg: sqrt(0.12^2 + 0.03^2 + 0.009^2) = 0.124 kg.
    expect(await figure('Predicted empty weight')).toMatch(/^5\.83 ± 0\.12 kg$/);
    expect(await figure('Margin')).toMatch(/^−0\.33 ± 0\.12 kg$/);
    await page.getByText('For 3 parts nobody stated one, and 3 % of the estimate is assumed.').waitFor();
  });

  it('[W1] a scale with its calibration; what is refused stands at its field and nothing typed is lost', async () => {
    await record('Scale and calibration');
    await page.getByLabel('Name of the scale').fill('bench');
    await page.getByLabel('Capacity').fill('30');
    await page.getByLabel('Resolution').fill('5 g');
    await page.getByLabel('Uncertainty on the certificate').fill('0.02');
    await page.getByRole('button', { name: 'Record it' }).click();
    const coverage = page.getByLabel('Coverage factor k');
    await page.getByText('It is not said whether the uncertainty').waitFor();
    expect(await coverage.getAttribute('aria-invalid')).toBe('true');
    await expectOpen('a scale, refused');

    await page.getByRole('button', { name: 'Cancel' }).click();
    await record('Scale and calibration');
    expect(await page.getByLabel('Capacity').inputValue()).toBe('30');
    await coverage.fill('2');
    await page.getByRole('button', { name: 'Record it' }).click();
    await page.getByText('Recorded: entry').waitFor();
    expect(await newestRow()).toMatch(
      /^Scale bench: capacity 30\.000 kg, resolution 5 g = 0\.005 kg, calibration uncertainty 0\.02 %/,
    );
  });

  it('[W12] a check weight in two touches from Weigh; one that fails names the weighings in doubt', async () => {
    await page.getByRole('link', { name: 'Weigh', exact: true }).click();
    await page.getByRole('button', { name: 'Check weight' }).click();
    await page.getByText('bench', { exact: true }).click();
    await page.getByLabel('The weight is').fill('5');
    await page.getByLabel('The scale shows').fill('5.005');
    await page.getByRole('button', { name: 'Record the check' }).click();
    await page.getByText('● Passed.').waitFor();

    // A piece on that scale, finished and light, through the pad's own screen.
    await weigh('SKIN', { gross: '3.2 kg', condition: 'finished', scale: 'bench' });
    await page.getByText('Saved: SKIN is entry').waitFor();

    await page.getByRole('button', { name: 'Check weight' }).click();
    expect(await page.getByLabel('The weight is').inputValue()).toBe('5');
    await page.getByLabel('The scale shows').fill('5.1');
    await expectOpen('a check weight');
    await page.getByRole('button', { name: 'Record the check' }).click();
    await page.getByText('▲ Failed.').waitFor();
    await page.getByText(/In doubt since the last check that passed: entry \d+\. Parts: SKIN\./).waitFor();
    await expectOpen('a check weight that failed');
    await page.getByRole('link', { name: 'Ledger' }).click();
    await page.getByText('weighed on a scale in doubt').waitFor();
    expect(await newestRow()).toContain('5.000 kg shown as 5.100 kg, failed');
  });

  it('[W11] a light piece is not accepted without a word of inspection', async () => {
    const parts = page.getByRole('region', { name: 'Parts' });
    await parts.getByText('drifting light').waitFor();
    await parts.getByText('Scale in doubt').waitFor();
    await page.getByRole('button', { name: 'Decide on SKIN' }).click();
    await page.getByText('A light part can be a weak part, with').waitFor();
    await page.getByText('accepted', { exact: true }).click();
    await page.getByRole('button', { name: 'Record the decision' }).click();
    const inspection = page.getByLabel('What was inspected and found');
    await page.getByText('would be accepted without a word of inspection').waitFor();
    expect(await inspection.getAttribute('aria-invalid')).toBe('true');
    await expectOpen('a decision, refused');
    await inspection.fill('tapped all over, no dry spot');
    await page.getByRole('button', { name: 'Record the decision' }).click();
    await page.getByText('Recorded: entry').waitFor();
    expect(await newestRow()).toMatch(/^Accepted: SKIN; inspected: tapped all over/);
    await parts.getByText('accepted, RL').waitFor();
    const { headline } = await shop.get<Headline>('');
    expect(headline).toMatchObject({ withoutDecision: { count: 0 }, inDoubt: { first: ['SKIN'] } });
  });

  it('[W5] the cause of a weighing is stated where it drifts, and its day and figures stay', async () => {
    await page.getByRole('button', { name: 'State the cause of SKIN' }).click();
    await page.getByRole('combobox', { name: 'Cause' }).selectOption('dry');
    await expectOpen('the cause of a drift');
    await page.getByRole('button', { name: 'Record the cause' }).click();
    await page.getByText('Recorded: entry').waitFor();
    expect(await newestRow()).toMatch(/^Correction of \d+: weighing: SKIN finished, 3\.200 kg, dry; cause/);
    await page.getByRole('button', { name: 'Change the cause of SKIN' }).waitFor();
  });

  it('[W6] an arm by two supports shows where the CG lies, and moves that of the aircraft', async () => {
    const before = (await shop.get<Headline>('')).headline.cg.xM;
    await record('Arm measured');
    await page.getByText('Loads on two supports').click();
    await choosePart('Part', 'SKIN');
    await page.getByLabel('Load F1', { exact: true }).fill('1.2');
    await page.getByLabel('Load F2', { exact: true }).fill('2.0');
    await page.getByLabel('Station x1', { exact: true }).fill('0.4');
    await page.getByLabel('Station x2', { exact: true }).fill('0.4');
    await page.getByRole('button', { name: 'Record it' }).click();
    await page.getByText('The supports stand at the same station.').waitFor();
    await page.getByLabel('Station x2', { exact: true }).fill('2.0');
    await page.getByLabel('Station of the bench zero').fill('2.0');
    // (1.2 x 0.4 + 2.0 x 2.0)/3.2 = 1.4 m aft of the bench zero.
    await page
      .getByRole('status')
      .getByText(/3\.400\s±\s0\.011\sm/)
      .waitFor();
    await expectOpen('an arm by two supports');
    await page.getByRole('button', { name: 'Record it' }).click();
    await page.getByText('Recorded: entry').waitFor();
    expect(await newestRow()).toMatch(/^Arm measured: SKIN .* = 3\.400 m by two supports/);
    expect(await page.locator('.entry').first().textContent()).toMatch(/arm measured, moment\+1\.28\skg\sm/);
    expect((await shop.get<Headline>('')).headline.cg.xM).toBeGreaterThan(before);
  });

  it('[W6] an arm balanced on a bar follows from its point, and one by hand is refused without an uncertainty', async () => {
    await record('Arm measured');
    await page.getByText('Balanced on a bar').click();
    await choosePart('Part', 'TIP');
    await page.getByLabel('It balances at').fill('0.42');
    await page.getByLabel('Station of the bench zero').fill('3');
    await page.getByLabel('Uncertainty of that point').fill('4 mm');
    await page
      .getByRole('status')
      .getByText(/3\.4200\s±\s0\.0040\sm/)
      .waitFor();
    await expectOpen('an arm balanced on a bar');
    await page.getByRole('button', { name: 'Record it' }).click();
    await page.getByText('Recorded: entry').waitFor();
    expect(await newestRow()).toMatch(/^Arm measured: TIP balance point 0\.42 m.* = 3\.420 m, balanced on a bar/);

    await record('Arm measured');
    await page.getByText('By hand', { exact: true }).click();
    await choosePart('Part', 'TIP');
    await page.getByLabel('Station x', { exact: true }).fill('3.41');
    await page.getByRole('button', { name: 'Record it' }).click();
    await page.getByText('An arm found by hand is only as good as the hand').waitFor();
    expect(await page.getByLabel('Station’s uncertainty').getAttribute('aria-invalid')).toBe('true');
    await page.getByLabel('Station’s uncertainty').fill('0.03');
    await page.getByRole('button', { name: 'Record it' }).click();
    await page.getByText('Recorded: entry').waitFor();
    expect(await newestRow()).toMatch(/^Arm measured: TIP x 3\.410 m.*, by hand/);
  });

  it('[W7] a part that has parts is weighed as an assembly, with what is not yet in it ticked off', async () => {
    await page.getByRole('link', { name: 'Weigh', exact: true }).click();
    await page.getByLabel('Which part is on the scale?').fill('BOX');
    await page.locator('.part-buttons button').first().click();
    await page.getByText('fitted', { exact: true }).click();
    await page.getByRole('checkbox', { name: /^TIP/ }).check();
    await page.getByRole('checkbox', { name: /^RIB/ }).check();
    await page.getByLabel('Which of its 2 pieces').fill('2');
    await page.getByLabel('Gross').fill('4.1');
    // 3.2 kg of skin and one rib of 0.5 kg are 3.7 kg: 0.4 kg more is in it than its parts.
    const judgement = page.getByRole('region', { name: 'Judgement' });
    await judgement.getByText('drifting heavy').waitFor();
    await judgement.getByText(/\+0\.400\skg/).waitFor();
    await expectOpen('an assembly on the scale');
    await page.getByRole('button', { name: 'Save the weighing' }).click();
    await page.getByText('Saved: BOX is entry').waitFor();
    await page.getByRole('link', { name: 'Ledger' }).click();
    expect(await newestRow()).toMatch(/^Assembly weighing: BOX with 2 parts in it, fitted, 4\.100 kg/);
    expect(await page.locator('.entry').first().textContent()).toMatch(/assembly residual\+0\.400\skg/);
    await page
      .getByRole('region', { name: 'Weighed assemblies' })
      .getByText(/\+0\.400\skg, \+10\.8\s%/)
      .waitFor();
  });

  it('[L2] a correction of any kind begins with what was typed; a correction is corrected, and struck out', async () => {
    const last = (await shop.get<{ seq: number }>('/entries?limit=1')).seq;
    await page.getByRole('button', { name: `Correct entry ${last}` }).click();
    expect(await page.getByRole('checkbox', { name: /^RIB/ }).isChecked()).toBe(true);
    expect(await page.getByLabel('Which of its 2 pieces').inputValue()).toBe('2');
    await page.getByLabel('Gross', { exact: true }).fill('4.0');
    await page.getByRole('button', { name: 'Record the correction' }).click();
    const reason = page.getByLabel('Reason for the correction');
    await page.getByText('Nothing is given here.').waitFor();
    expect(await reason.getAttribute('aria-invalid')).toBe('true');
    await expectOpen('a correction of an assembly, refused');
    await reason.fill('misread');
    await page.getByRole('button', { name: 'Record the correction' }).click();
    await page
      .getByText(`Correction of ${last}: assembly weighing: BOX with 2 parts in it, fitted, 4.000 kg`)
      .waitFor();

    await page.getByRole('button', { name: `Correct entry ${last + 1}` }).click();
    expect(await page.getByLabel('Gross', { exact: true }).inputValue()).toBe('4.0 kg');
    await page.getByText('It should never have been made').click();
    await reason.fill('the fixture was on it');
    await page.getByRole('button', { name: 'Strike the entry out' }).click();
    await page.getByText(`Correction of ${last + 1}: struck out, which said: assembly weighing: BOX`).waitFor();

    await page.getByRole('button', { name: `Correct entry ${last + 2}` }).click();
    expect(await page.getByLabel('Gross', { exact: true }).inputValue()).toBe('4.0 kg');
    await page.getByRole('button', { name: 'Cancel' }).click();
  });

  it('[L3] an entry whose answer was lost is sent again, and is there once', async () => {
    const { seq } = await shop.get<{ seq: number }>('/entries?limit=1');
    await record('Note');
    await page.getByLabel('In words').fill('the mould is back from the joiner');
    await page.route('**/entries', async (route) => {
      await route.fetch();
      await route.abort();
    });
    await page.getByRole('button', { name: 'Record it' }).click();
    await page.getByText('Not recorded. The server cannot be reached.').waitFor();
    await page.unroute('**/entries');
    await page.getByRole('button', { name: 'Record it' }).click();
    await page.getByText(`Was recorded already: entry ${seq + 1}.`).waitFor();
    expect((await shop.get<{ seq: number }>('/entries?limit=1')).seq).toBe(seq + 1);
  });

  it('[L6] what changed between two entries: causes that add up, as a picture with its table', async () => {
    const { seq } = await shop.get<{ seq: number }>('/entries?limit=1');
    await page.getByText('entries', { exact: true }).click();
    await page.getByRole('textbox', { name: 'After entry' }).fill(String(seq + 5));
    await page.getByText('The first entry lies after the last.').waitFor();
    await page.getByRole('textbox', { name: 'After entry' }).fill('8');
    const table = page.getByRole('region', { name: 'Change in predicted weight, by cause, as a table' });
    await page.locator('figure', { hasText: 'Change in predicted weight' }).getByText('As a table').click();
    const figures = async () => (await table.locator('td:nth-child(2)').allTextContents()).map(numberOf);
    await expect
      .poll(async () => {
        const [from = 0, ...rest] = await figures();
        const to = rest.pop() ?? 0;
        return rest.length > 0 && Math.abs(from + rest.reduce((sum, one) => sum + one, 0) - to) < 0.0021;
      })
      .toBe(true);
    expect(await table.textContent()).toContain('weighed against estimate');
    await expectOpen('what changed');
    expect(faults).toEqual([]);
  });

  it('[N4] crew are offered what crew may record, and neither corrections nor decisions', async () => {
    const who = { name: 'Chris Crew', initials: 'CC', password: 'hands at the mould' };
    const answer = await page.request.post(`${server.address}/api/people`, {
      data: { ...who, role: 'crew', aircraft: 'all' },
    });
    expect(answer.status()).toBe(201);
    const tablet = await (await browser.newContext({ reducedMotion: 'reduce' })).newPage();
    tablet.setDefaultTimeout(20_000);
    await tablet.goto(server.address);
    await tablet.getByLabel('Name').fill(who.name);
    await tablet.getByLabel('Password').fill(who.password);
    await tablet.getByRole('button', { name: 'Sign in' }).click();
    // Who stands at the mould came to weigh.
    await tablet.waitForURL(/\/weigh$/);
    await tablet.getByRole('link', { name: 'Ledger' }).click();
    await tablet.locator('.entry').first().waitFor();
    await tablet.getByText('An engineer corrects it: a note tells which').waitFor();
    await tablet.getByRole('region', { name: 'Parts' }).getByText('drifting light').waitFor();
    for (const act of [/^Correct entry/, /^Decide on/, /the cause of/])
      expect(await tablet.getByRole('button', { name: act }).count()).toBe(0);
    await tablet.getByRole('button', { name: 'Record an entry' }).click();
    const kinds = tablet.locator('.kind-buttons strong');
    await expect.poll(() => kinds.allTextContents()).toEqual(['Assembly weighed', 'Check weight', 'Note']);
    await tablet.context().close();
  });

  async function record(kind: string): Promise<void> {
    await page.getByRole('button', { name: 'Record an entry' }).click();
    await page
      .getByRole('dialog')
      .getByRole('button', { name: new RegExp(`^${kind}`) })
      .click();
  }

  async function choosePart(label: string, number: string): Promise<void> {
    await page.getByRole('combobox', { name: label }).fill(number);
    await page.locator('.choices-item', { hasText: number }).first().click();
  }

  async function weigh(number: string, said: { gross: string; condition: string; scale: string }): Promise<void> {
    await page.getByLabel('Which part is on the scale?').fill(number);
    await page.locator('.part-buttons button').first().click();
    await page.getByText(said.condition, { exact: true }).click();
    await page.getByText('More about this weighing').click();
    await page.getByLabel('Scale', { exact: true }).fill(said.scale);
    await page.getByLabel('Gross').fill(said.gross);
    await page.getByRole('button', { name: 'Save the weighing' }).click();
  }

  async function figure(name: string): Promise<string> {
    const text = page.getByRole('heading', { name }).locator('xpath=following-sibling::p[1]');
    return ((await text.textContent()) ?? '').replaceAll(/\s+/g, ' ').trim();
  }

  /** The words of the newest row, once there is one that was not seen before. */
  async function newestRow(): Promise<string> {
    const lastSeq = async () => (await shop.get<{ seq: number }>('/entries?limit=1')).seq;
    await expect.poll(lastSeq).toBeGreaterThan(seenSeq);
    const seq = await lastSeq();
    seenSeq = seq;
    const row = page.locator(`.entry[value="${seq}"]`);
    await row.waitFor();
    const words = ((await row.locator('.entry-words').textContent()) ?? '').replaceAll(/\s+/g, ' ');
    return words.charAt(0).toUpperCase() + words.slice(1);
  }

  async function expectOpen(where: string): Promise<void> {
    await expectNoBarriers(page, where);
    await expectReflow(page, where);
  }
});

function numberOf(text: string): number {
  return Number(text.replace('−', '-').replace('+', ''));
}
