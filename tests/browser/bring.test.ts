/**
 * From the first run to a ledger with a list of the shop's own: a workbook with odd headings, its problems put right where they stand, then
 * weighings pasted from a spreadsheet. No state on the way has a barrier.
 */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type MadeCell, makeWorkbook } from '#tests/shared/table/make-workbook.ts';
import { expectNoBarriers, expectReflow } from './barriers.ts';
import { makeFirstAccount, openBrowser, type RunningServer, startServer } from './shop-floor.ts';

const XLSX = 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet';
const PARTS: readonly (readonly MadeCell[])[] = [
  ['Curlew: planned masses', undefined, 'rev C'],
  [],
  ['Part no', 'Description', 'Where', 'Made how', 'Planned', 'Sta [mm]', 'Growth', 'Remarks', 'Checked'],
  ['W-100', 'Wing skin', 'wing', 'prepreg', 4.2, 2510, { share: 0.24 }, 'see drawing', 'yes'],
  ['W-101', 'Spar', 'wing', 'glued', 6.1, 2400, { share: 0.24 }],
  ['W-101', 'Rib', 'wing', 'machined', 0.4, 2400],
  ['T-1', 'Fin', 'tail', 'prepreg', { xml: '<c t="e"><f>E4/0</f><v>#DIV/0!</v></c>' }, 6800, { share: 0.2 }],
  ['Total', undefined, undefined, undefined, { xml: '<c><f>SUM(E4:E7)</f><v>10.7</v></c>' }],
];

describe('a list is brought', () => {
  let browser: Browser;
  let server: RunningServer;
  let page: Page;
  const faults: string[] = [];
  beforeAll(async () => {
    [browser, server] = await Promise.all([openBrowser(), startServer({ wantsCode: true })]);
    page = await (
      await browser.newContext({ viewport: { width: 1280, height: 900 }, reducedMotion: 'reduce' })
    ).newPage();
    page.on('pageerror', (error) => faults.push(String(error)));
  });
  afterAll(async () => {
    await browser.close();
    await server.stop();
    expect(faults).toEqual([]);
  });

  const toBring = async () => {
    await page.getByRole('navigation', { name: 'Screens' }).getByRole('link', { name: 'Parts' }).click();
    await page.getByRole('link', { name: 'Bring a list' }).click();
  };
  const expectOpen = async (where: string) => {
    await expectNoBarriers(page, where);
    await expectReflow(page, where);
  };
  const column = (heading: string) => page.getByLabel(`${heading} is taken for`);
  const problems = (words: string | RegExp) => page.getByRole('region', { name: 'Problems' }).getByText(words);
  const fieldOf = (heading: string, line: number) => page.getByLabel(`${heading}, line ${line}`, { exact: true });
  const put = async (heading: string, line: number, text: string) => {
    await fieldOf(heading, line).fill(text);
    await page.keyboard.press('Enter');
  };

  it('[I8] from the first run: a workbook with odd headings is matched, put right in place and recorded', {
    timeout: 120_000,
  }, async () => {
    await makeFirstAccount(page, server);
    await page.getByRole('button', { name: 'Bring a parts list' }).click();
    await page.getByLabel('Name').fill('Curlew');
    await page.getByLabel('Datum').fill('200 mm ahead of the nose');
    await expectOpen('three questions before the list');
    await page.getByRole('button', { name: 'Begin, then bring the list' }).click();
    await page.getByRole('heading', { name: 'Bring a list' }).waitFor();
    await expectOpen('nothing chosen yet');

    const file = { name: 'planned.xlsx', mimeType: XLSX, buffer: Buffer.from(workbookOf(PARTS)) };
    await page.locator('input[type=file]').setInputFiles(file);
    await page.getByText('Say which column is the group.').waitFor();
    await expectOpen('columns that are not known');
    await column('Where').selectOption('group');
    await column('Made how').selectOption('process');
    await column('Planned').selectOption('estimate');
    // Three numbers without a unit, one cell that is none, a word that is none, a number twice, and a line of sums.
    await problems('7 problems in 5 lines.').waitFor();
    await page.getByLabel('Unit of Planned').selectOption('kg');
    await problems('4 problems in 4 lines.').waitFor();
    await expectOpen('a list with problems');

    await page.getByRole('button', { name: 'Leave out line 8' }).click();
    await problems('line 8 left out').waitFor();
    await page.getByRole('button', { name: 'Next problem' }).click();
    await page.locator('input:focus[aria-label="Made how, line 5"]').waitFor();
    await page.keyboard.press('ControlOrMeta+A');
    await page.keyboard.type('bonding');
    await page.keyboard.press('Enter');
    await put('Part no', 6, 'W-102');
    await problems('1 problem in 1 line.').waitFor();
    expect(await page.getByRole('button', { name: /^Record/ }).isDisabled()).toBe(true);
    await page.getByText('The spreadsheet has an error here (#DIV/0!)').first().waitFor();
    await put('Planned [kg]', 7, '1.9');
    await page.getByText('To be recorded: 4 parts, 4 estimates.').waitFor();
    await page.getByText('comes to 4 pieces, 12.600 kg together, each estimate being of one piece').waitFor();
    await page.getByRole('region', { name: 'Recording' }).getByText('Not used: Checked.').waitFor();
    await expectOpen('a list that can be recorded');
    await page.getByRole('button', { name: 'Record 8 entries' }).click();
    await page.getByRole('heading', { name: '8 entries recorded' }).waitFor();
    await page.getByRole('link', { name: 'Set the targets' }).waitFor();
    await expectOpen('a list that is recorded');
  });

  it('[I8] pasted weighings: a wrong unit and a double row are put right, one drifts, and again adds nothing', {
    timeout: 120_000,
  }, async () => {
    const cells = [
      'Part\tOn scale [kg]\tCradle [kg]\tState\tOn day',
      'W-100\t5,12\t0,5\ttrimmed\t4.5.2026',
      'T-1\t2,4 stone\t0,5\ttrimmed\t2026-05-05',
      'W-100\t5,12\t0,5\ttrimmed\t4/5/2026',
    ];
    const paste = async () => {
      await page.getByLabel('Cells from a spreadsheet').fill(cells.join('\n'));
      await page.getByRole('button', { name: 'Read the cells' }).click();
      await column('On scale [kg]').selectOption('gross');
      await column('Cradle [kg]').selectOption('tare');
      await column('On day').selectOption('date');
    };
    await page.getByRole('button', { name: 'Bring another list' }).click();
    await paste();
    await page.getByText('day, month, year', { exact: true }).click();
    await problems('2 problems in 2 lines.').waitFor();
    await page.getByText('is not a unit that is known here').first().waitFor();
    await page.getByText('The row says the same as line 2.').first().waitFor();
    await put('On scale [kg]', 3, '2,4');
    await page.getByRole('button', { name: 'Leave out line 4' }).click();
    await page.getByText('To be recorded: 2 weighings.').waitFor();
    await page.getByRole('button', { name: 'Record 2 entries' }).click();
    await page.getByRole('heading', { name: '2 entries recorded' }).waitFor();

    await page.getByRole('button', { name: 'Bring another list' }).click();
    cells.splice(2, 2, 'T-1\t2,4\t0,5\ttrimmed\t2026-05-05');
    await paste();
    await page.getByText('day, month, year', { exact: true }).click();
    await page.getByText('Nothing new in this list. 2 rows are in the ledger already.').waitFor();
    await page.getByRole('link', { name: 'Ledger' }).click();
    await page.locator('.entry').first().waitFor();
    const report = await (
      await page.request.get(page.url().replace('/aircraft/', '/api/aircraft/').replace('/ledger', ''))
    ).json();
    expect(report).toMatchObject({ headline: { partCount: 4, weighedKg: 4.62 + 1.9, driftingCount: 1 } });
  });

  it('[I3] a list that can be recorded is recorded once, and a file that cannot be read says why', async () => {
    await toBring();
    const bring = (name: string, text: string | Uint8Array) =>
      page
        .locator('input[type=file]')
        .setInputFiles({ name, mimeType: 'text/csv', buffer: Buffer.from(text as Uint8Array) });
    await bring('old.xls', Uint8Array.of(0xd0, 0xcf, 0x11, 0xe0, 1));
    await page.getByRole('alert').getByText('older kind').waitFor();
    await bring('latin.csv', Uint8Array.of(0x6e, 0xe9, 0x0a));
    await page.getByRole('alert').getByText('not UTF-8').waitFor();
    await bring('quotes.csv', 'number,group\nA" b,wing');
    await page.getByRole('alert').getByText('quotes.csv, line 2').waitFor();
    await expectOpen('a file that cannot be read');
    await bring('parts.csv', 'number,group,estimate [kg]\nW-100,wing,5');
    await problems('1 problem in 1 line.').waitFor();
    await page.getByText('changed estimates of known parts are revisions').click();
    await page.getByRole('button', { name: 'Record 1 entry' }).click();
    await page.getByRole('heading', { name: '1 entry recorded' }).waitFor();
  });

  it('[I7] what was put right in a list is not thrown away unasked; added allowances are told before and after', {
    timeout: 120_000,
  }, async () => {
    await page.getByRole('button', { name: 'Bring another list' }).click();
    const paste = async () => {
      await page.getByLabel('Cells from a spreadsheet').fill('number\tgroup\tprocess\tmass\nN-1\ttail\tprepreg\t5');
      await page.getByRole('button', { name: 'Read the cells' }).click();
      await problems('1 problem in 1 line.').waitFor();
    };
    // Nothing was changed: nothing is asked.
    await paste();
    await page.getByRole('button', { name: 'Another list' }).click();
    await paste();
    await put('mass', 2, '5 kg');
    await problems('24 % growth allowance is added to 1 estimate that states none').waitFor();
    const question = page.getByRole('alert').getByText('Nothing of this list is recorded yet.');
    const stay = async () => {
      await question.waitFor();
      await page.locator('button:focus', { hasText: 'Stay with this list' }).waitFor();
      await page.keyboard.press('Enter');
      await question.waitFor({ state: 'detached' });
      expect(await fieldOf('mass', 2).inputValue()).toBe('5 kg');
    };
    await page.getByRole('button', { name: 'Another list' }).click();
    await question.waitFor();
    await expectOpen('a list that is about to be left');
    await stay();
    await page.getByRole('link', { name: 'Parts', exact: true }).click();
    await stay();
    await page.goBack();
    await stay();
    expect(new URL(page.url()).pathname).toMatch(/\/bring$/);
    const closing = page.waitForEvent('dialog');
    const closed = page.evaluate('location.reload()').catch(() => undefined);
    const dialog = await closing;
    expect(dialog.type()).toBe('beforeunload');
    await dialog.dismiss();
    await closed;

    await page.getByRole('button', { name: 'Record 2 entries' }).click();
    await page.getByText('24 % growth allowance was added to 1 estimate that states none').waitFor();
    await page.getByRole('link', { name: 'The defaults stand in Set-up, Allowances' }).waitFor();
    await expectOpen('a list that is recorded, with allowances added');
    await page.getByRole('button', { name: 'Bring another list' }).click();
    await paste();
    await put('number', 2, 'N-2');
    await page.getByRole('link', { name: 'Parts', exact: true }).click();
    await question.waitFor();
    await page.getByRole('button', { name: 'Leave it' }).click();
    await page.getByRole('heading', { level: 1, name: 'Parts' }).waitFor();
  });

  it('[W4] readings in doubt wait until each is confirmed; the receipt leads to what drifts, and the bar hides no field', {
    timeout: 120_000,
  }, async () => {
    await toBring();
    const lines = [
      'part\tgross [kg]\tcondition\tdate\tnote',
      // 4.6 kg are in the ledger of this day already.
      'W-100\t4,62\ttrimmed\t2026-05-04\tagain',
      'W-101\t13\ttrimmed\t2026-05-06\t',
      'W-102\t2,5\ttrimmed\t2026-05-06\t',
      'W-102\t2,6\tfinished\t2026-05-07\t',
    ];
    await page.getByLabel('Cells from a spreadsheet').fill(lines.join('\n'));
    await page.getByRole('button', { name: 'Read the cells' }).click();
    await page.getByText('Nothing is recorded until all 4 lines in doubt are confirmed or put right.').waitFor();
    await problems('no problems.').waitFor();
    await page.getByText('of the same day says the same').waitFor();
    const act = page.getByRole('button', { name: /^Record/ });
    expect(await act.isDisabled()).toBe(true);
    await expectOpen('a list with doubts');

    for (const [width, height] of [
      [1280, 600],
      [360, 640],
    ] as const) {
      await page.setViewportSize({ width, height });
      for (let row = 2; row <= 5; row += 1) {
        await fieldOf('gross [kg]', row).focus();
        const field = await fieldOf('gross [kg]', row).boundingBox();
        const bar = await page.getByRole('region', { name: 'Recording' }).boundingBox();
        expect((field?.y ?? 0) + (field?.height ?? 0)).toBeLessThanOrEqual(bar?.y ?? 0);
      }
    }
    await page.setViewportSize({ width: 1280, height: 900 });

    await page.getByRole('button', { name: 'Leave out line 2' }).click();
    await page.getByRole('button', { name: /^All 2 are right: More than double/ }).click();
    await page.getByRole('button', { name: 'It is right, line 3' }).click();
    await page.getByText('Every doubt is confirmed.').waitFor();
    // A row that is changed is asked about again.
    await page.getByRole('button', { name: 'Change line 4' }).click();
    await put('gross [kg]', 4, '2,7');
    await page.getByText('Nothing is recorded until the line in doubt is').waitFor();
    await page.getByRole('button', { name: 'Next doubt' }).click();
    await page.locator('input:focus[aria-label="gross [kg], line 4"]').waitFor();
    await page.getByRole('button', { name: 'It is right, line 4' }).click();
    await page.getByRole('button', { name: 'Record 3 entries' }).click();
    await page.getByRole('heading', { name: '2 weighings drift' }).waitFor();
    await page.getByText('drifting heavy').first().waitFor();
    await expectOpen('a receipt with drifts');
    await page.getByRole('link', { name: 'W-102' }).click();
    await page.getByRole('heading', { level: 1, name: /W-102/ }).waitFor();
  });

  it('[R4] five questions begin an aircraft, and its groups are offered where one is typed', async () => {
    await page.goto(`${server.address}/new`);
    await page.getByLabel('Name').fill('Sandpiper');
    await page.getByLabel('Datum').fill('the firewall');
    await page.getByLabel('Empty-weight target').fill('300');
    await page.getByLabel('Reserve').fill('5');
    await page.getByText('ATA chapters').click();
    await page.getByLabel('Target of 57 wings (kg)').fill('70');
    await page.getByRole('button', { name: 'Remove 21 air conditioning' }).click();
    await expectOpen('five questions');
    await page.getByLabel('Target of 53 fuselage (kg)').fill('much');
    await page.getByRole('button', { name: 'Begin', exact: true }).click();
    await page.getByRole('alert').getByText('is not a number').waitFor();
    await expectOpen('five questions, refused');
    await page.getByLabel('Target of 53 fuselage (kg)').fill('');
    await page.getByRole('button', { name: 'Begin', exact: true }).click();
    await page.getByRole('link', { name: 'Bring the parts list' }).click();
    await page.getByLabel('Cells from a spreadsheet').fill('number\tgroup\nA\t');
    await page.getByRole('button', { name: 'Read the cells' }).click();
    await fieldOf('group', 2).waitFor();
    const offered = await page
      .locator('datalist option')
      .evaluateAll((all) => all.map((one) => one.getAttribute('value')));
    expect(offered).toContain('57 wings');
    expect(offered).toContain('53 fuselage');
    expect(offered).not.toContain('21 air conditioning');
  });
});

function workbookOf(rows: readonly (readonly MadeCell[])[]): Uint8Array {
  return makeWorkbook({ name: 'Notes', rows: [] }, { name: 'Masses', rows, merged: ['A1:B1'] });
}
