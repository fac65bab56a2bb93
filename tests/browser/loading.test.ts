/** Loading, as a lead meets it: the demonstration outside and brought inside by ballast; limits stated from nothing by the keyboard, and refused. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { LoadingReport } from '#shared/contract/loading.ts';
import { expectNoBarriers, expectReflow } from './barriers.ts';
import { openShop, type RunningServer } from './shop-floor.ts';

describe('Loading', () => {
  let browser: Browser;
  let server: RunningServer;
  let page: Page;
  beforeAll(async () => {
    ({ browser, server, page } = await openShop({ width: 1024, height: 900 }));
    await page.getByRole('button', { name: 'Look round with Dabchick' }).click();
    await page.getByRole('heading', { name: 'Predicted empty weight' }).waitFor({ timeout: 60_000 });
  }, 300_000);
  afterAll(async () => {
    await browser.close();
    await server.stop();
  });

  const verdict = () => page.getByRole('region', { name: 'Verdict' });
  const ballast = () => page.getByRole('region', { name: 'Ballast' });

  it('[V9] the demonstration is outside, first of all and in words, with nothing that puts it away', {
    timeout: 120_000,
  }, async () => {
    await page.getByRole('link', { name: 'Loading', exact: true }).click();
    await verdict().getByText('Outside the envelope').waitFor({ timeout: 30_000 });
    const text = (await verdict().textContent()) ?? '';
    expect(text).toMatch(/forecast empty weight .* 5\.1\smm aft of the limit at 505\.8\skg: Left seat 55\skg/);
    expect(text).toContain('4 of 5 named cases are inside');
    expect(text).toContain('no flight on them');
    expect(await verdict().getByRole('button').count()).toBe(0);
    await page.getByRole('heading', { name: /^Every permitted loading against the envelope/ }).waitFor();
    await page.getByText('As a table').click();
    await expectOpen('Loading of the demonstration');
  });

  it('[C4] the least ballast brings it inside; a place on the wrong side is refused in words', {
    timeout: 120_000,
  }, async () => {
    await ballast().getByLabel('Station x').fill('6');
    await ballast().getByText('Choose a station forward of that').waitFor({ timeout: 20_000 });
    await expectOpen('ballast on the wrong side');
    await ballast().getByLabel('Place').fill('Bow locker');
    await ballast().getByLabel('Station x').fill('0.85');
    await ballast()
      .getByText(/1\.034\skg at Bow locker/)
      .waitFor({ timeout: 20_000 });
    await ballast()
      .getByText(/After: ● inside, on the aft limit/)
      .waitFor();
    await ballast().getByText('T-15 Rudder').waitFor();
    await expectOpen('ballast found');
    await ballast().getByRole('button', { name: 'Try it in What if' }).click();
    await ballast().getByRole('link', { name: 'What if' }).click();
    await page.getByRole('region', { name: 'As it is and with the changes' }).waitFor();
    const change = page.getByRole('listitem', { name: 'Change 1' });
    expect(await change.locator('input').first().inputValue()).toBe('Ballast, Bow locker');
    await page.getByRole('link', { name: 'Loading', exact: true }).click();
    await ballast().waitFor({ timeout: 30_000 });
    expect(await ballast().getByLabel('Place').inputValue()).toBe('Bow locker');
  });

  it('[C2] the empty CG range from the envelope becomes the target range, with a reason', {
    timeout: 120_000,
  }, async () => {
    const range = page.getByRole('region', { name: 'Empty CG range from the envelope' });
    await range.getByText('At the aft end that is more than the envelope allows').waitFor();
    await range.getByRole('button', { name: 'Use as target CG range' }).click();
    await expectOpen('the range as a target');
    await page.getByRole('button', { name: 'Record the revision' }).click();
    await page.getByText(/^Recorded: entry/).waitFor();
    await range.getByText('The envelope allows all of that.').waitFor();
  });

  it('[V9] limits are stated from nothing by the keyboard, each refusal at its field, and stay on the device', {
    timeout: 240_000,
  }, async () => {
    const made = await page.request.post(`${server.address}/api/aircraft`, {
      data: { name: 'Curlew', datum: 'tip of the spinner', massUnit: 'lb', lengthUnit: 'in' },
    });
    const { id } = (await made.json()) as { id: string };
    for (const data of [
      { kind: 'part added', number: 'HULL', group: 'body', process: 'machined' },
      { kind: 'estimate', part: 'HULL', estimate: '700 lb', allowance: '0 %', x: '83 in' },
      { kind: 'targets', 'empty mass': '700 lb' },
    ])
      await page.request.post(`${server.address}/api/aircraft/${id}/entries`, {
        data: { id: crypto.randomUUID(), ...data },
      });
    await page.goto(`${server.address}/aircraft/${id}/loading`);
    await page.getByRole('button', { name: 'State the limits' }).focus();
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: 'State the loading limits' }).waitFor();
    await page.getByRole('button', { name: 'Record the limits' }).click();
    await page.getByText('Not recorded').waitFor();
    await expectOpen('empty limits, refused');
    await page.getByRole('textbox', { name: 'Maximum weight' }).fill('600');
    await page.getByRole('button', { name: 'Pilot’s seat, 55 to 110 kg' }).focus();
    await page.keyboard.press('Enter');
    // What is wrong rests for half a second before it is told; of a row that is new nothing is.
    await page.waitForTimeout(1000);
    const pilot = page.getByRole('listitem', { name: 'Pilot', exact: true });
    expect(await pilot.locator('[aria-invalid=true]').count()).toBe(0);
    await page.keyboard.type('75');
    const corner = (number: number) => page.getByRole('textbox', { name: `Mass of corner ${number}`, exact: true });
    await corner(1).focus();
    for (const text of ['600', '78', '1400', '79']) {
      await page.keyboard.type(text);
      await page.keyboard.press('Enter');
    }
    const card = page.getByRole('region', { name: 'Envelope' });
    await card.getByText('The envelope has two corners').or(card.getByText('The envelope has 2 corners')).waitFor();
    await expectOpen('an envelope of two corners');
    for (const text of ['600', '88', '1400', '86']) {
      await page.keyboard.type(text);
      await page.keyboard.press('Enter');
    }
    await card.getByText('The envelope crosses or touches itself').waitFor();
    await corner(3).focus();
    await page.keyboard.press('Alt+ArrowDown');
    await card.getByText('The envelope crosses or touches itself').waitFor({ state: 'detached' });
    await page.getByText('is not above the empty weight').waitFor();
    await page.getByRole('textbox', { name: 'Maximum weight' }).fill('1400');
    const least = page.getByRole('textbox', { name: 'Least', exact: true });
    await least.fill('130 kg');
    await page.getByText('The least (286.60 lb) is above the most').waitFor();
    await least.fill('55 kg');
    await page.reload();
    await page.getByRole('button', { name: 'Go on with the limits that are typed' }).click();
    expect(await page.getByRole('textbox', { name: 'Maximum weight' }).inputValue()).toBe('1400');
    const last = page.getByRole('textbox', { name: /^Mass of corner/ }).last();
    if ((await last.inputValue()) === '') {
      await last.focus();
      await page.keyboard.press('Alt+Delete');
    }
    await page.getByRole('button', { name: 'Record the limits' }).click();
    await page.getByText(/^Recorded: entry/).waitFor();
    await verdict().waitFor();
    await expectOpen('limits recorded in pounds and inches');
    const range = page.getByRole('region', { name: 'Empty CG range from the envelope' });
    await range.getByText('The targets state no CG range yet.').waitFor();
    await range.getByRole('button', { name: 'Use as target CG range' }).click();
    await page.getByRole('button', { name: 'Record the revision' }).click();
    await range.getByText('The envelope allows all of that.').waitFor();
    const answer = await page.request.get(`${server.address}/api/aircraft/${id}/loading`);
    const { stated } = LoadingReport.parse(await answer.json());
    expect(stated?.limits.stations[0]).toMatchObject({ xM: 1.905, leastKg: 55, isPilot: true });
    expect(stated?.limits.envelope.points).toHaveLength(4);
  });

  async function expectOpen(where: string): Promise<void> {
    await expectNoBarriers(page, where);
    await expectReflow(page, where);
  }
});
