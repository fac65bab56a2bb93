/** Labels as they leave the printer (rule H1): the PDF's pages, what of a label is cut, and the code read back out of the picture of it. */
import type { Browser, Page } from 'playwright-core';
import { decodeQR } from 'qr/decode.js';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { PartsReport } from '#shared/contract/aircraft.ts';
import { findByCode } from '#shared/label/code.ts';
import { expectNoBarriers, expectReflow } from './barriers.ts';
import { beginBox, type Shop } from './box-shop.ts';
import { makeFirstAccount, openBrowser, type RunningServer, startServer } from './shop-floor.ts';

const LONG = 'WING-CENTRE-SECTION-FORWARD-SPAR-WEB-DOUBLER-LEFT-HAND-REV-C';
const LONG_NAME =
  'Doubler of the forward spar web of the wing centre section with all of its inserts, potted and bonded, left hand side';

describe('labels', () => {
  let browser: Browser;
  let server: RunningServer;
  let page: Page;
  let shop: Shop;
  beforeAll(async () => {
    [browser, server] = await Promise.all([openBrowser(), startServer({ wantsCode: true })]);
    const context = await browser.newContext({ viewport: { width: 1180, height: 820 }, reducedMotion: 'reduce' });
    page = await context.newPage();
    page.setDefaultTimeout(20_000);
    await makeFirstAccount(page, server);
    await page.getByRole('heading', { name: 'How do you want to begin?' }).waitFor();
    shop = await beginBox(page, server.address, 'The long and broad Shelduck of the western reaches');
    await shop.send({
      kind: 'part added',
      number: LONG,
      name: LONG_NAME,
      group: 'tail',
      process: 'bonding',
      quantity: '12',
    });
    await shop.send({
      kind: 'estimate',
      part: LONG,
      estimate: '123.456 kg',
      later: '3 kg',
      flash: '1.5 kg',
      allowance: '10 %',
    });
  });
  afterAll(() => Promise.all([browser.close(), server.stop()]));

  const labels = () => page.locator('.part-label');
  const areCount = (count: number) =>
    expect.poll(() => labels().count(), { timeout: 20_000, message: 'labels' }).toBe(count);

  /** The sizes of a PDF's pages in millimetres. */
  async function printedPagesMm(): Promise<readonly (readonly [number, number])[]> {
    const text = (await page.pdf({ preferCSSPageSize: true })).toString('latin1');
    return [...text.matchAll(/\/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)\s*\]/g)].map(
      ([, width, height]) =>
        [Math.round((Number(width) * 25.4) / 72), Math.round((Number(height) * 25.4) / 72)] as const,
    );
  }

  /** What the first labels say that their codes say, read out of their pictures. */
  async function codesRead(most = Number.POSITIVE_INFINITY): Promise<readonly string[]> {
    const codes: string[] = [];
    for (const label of (await labels().all()).slice(0, most)) {
      const png = (await label.screenshot()).toString('base64');
      const { width, height, data } = await page.evaluate<{
        width: number;
        height: number;
        data: number[];
      }>(`(async () => {
        const image = new Image();
        image.src = 'data:image/png;base64,${png}';
        await image.decode();
        const canvas = document.createElement('canvas');
        [canvas.width, canvas.height] = [image.width, image.height];
        const pen = canvas.getContext('2d');
        pen.drawImage(image, 0, 0);
        return { width: image.width, height: image.height, data: [...pen.getImageData(0, 0, image.width, image.height).data] };
      })()`);
      codes.push(decodeQR({ width, height, data: Uint8ClampedArray.from(data) }));
    }
    return codes;
  }

  it('[H1] from the table of parts as it is filtered: a sheet that was begun goes on, and nothing but labels is printed', async () => {
    await page.goto(`${shop.address}/parts`);
    await page.getByLabel('Search the parts').fill('BOX');
    await page.getByText(/of \d parts in sight/).waitFor();
    await page.getByRole('link', { name: 'Labels', exact: true }).click();
    // The assembly, and what is in it: a skin, two ribs, a tip.
    await areCount(5);
    await page.getByLabel('Begin at label').fill('22');
    await page.getByText('goes on at label 3').waitFor();
    expect(await printedPagesMm()).toEqual([
      [210, 297],
      [210, 297],
    ]);
    await page.getByText('one for all').click();
    await areCount(4);
    await page.getByRole('checkbox', { name: /^TIP/ }).uncheck();
    await areCount(3);
    expect(await printedPagesMm()).toEqual([[210, 297]]);
    await page.emulateMedia({ media: 'print' });
    const seen = await page.evaluate<string>('document.body.innerText');
    expect(seen).not.toMatch(/Print|Ledger|Predicted|Begin at/);
    expect(seen).toContain('An assembly: judged by what is in it');
    await page.emulateMedia({ media: null });
    await expectNoBarriers(page, 'labels to print');
    await expectReflow(page, 'labels to print');
  });

  it('[H1] from a part: its pieces, with the figures that Weigh judges by, and codes that read back to them', async () => {
    await page.goto(`${shop.address}/weigh?part=SKIN`);
    await page.getByText('trimmed', { exact: true }).click();
    await page.getByLabel('Gross').fill('4.1');
    const judgement = page.getByRole('region', { name: 'Judgement' });
    await judgement.getByText('Expected').waitFor();
    const judged = (await judgement.textContent())?.replaceAll('\u00a0', ' ');
    expect(judged).toContain('Expected4.000 kg');
    expect(judged).toContain('Limit±0.240 kg');
    const { seq, parts } = await shop.get<PartsReport>('/parts');
    const skin = parts.find(({ number }) => number === 'SKIN');
    await page.goto(`${shop.address}/parts/${skin?.partId}`);
    await page.getByRole('link', { name: 'Print its label' }).click();
    await page.getByText('trimmed', { exact: true }).click();
    await labels().getByText('trimmed').waitFor();
    const words = (await labels().first().textContent())?.replaceAll('\u00a0', ' ');
    expect(words).toContain('SKINSkintrimmed');
    expect(words).toContain('trimmed 4.000 kg3.760 to 4.240 kg');
    expect(words).toContain(`entry ${seq}`);

    await page.goto(`${shop.address}/labels?part=RIB`);
    await page.getByText('one label each').click();
    await areCount(2);
    expect(await labels().nth(1).textContent()).toContain('piece 2 of 2');
    const aircraftId = shop.address.split('/').at(-1) ?? '';
    const found = (await codesRead()).map((code) => findByCode(code, { aircraftId, parts, aircraftIds: [] }));
    expect(found.map((one) => one.is === 'part' && [one.part.number, one.piece])).toEqual([
      ['RIB', 1],
      ['RIB', 2],
    ]);
  });

  it('[H1] on every size the longest number and name leave figures, code and source whole, and each code can be read', {
    timeout: 180_000,
  }, async () => {
    await page.goto(`${shop.address}/labels?part=${LONG}`);
    await page.getByText('one label each').click();
    await areCount(12);
    await page.getByText('as released', { exact: true }).click();
    for (const [paper, picker] of [
      ['A4 sheets', 'Sheet'],
      ['Label roll', 'Size of a label'],
    ] as const) {
      await page.getByText(paper, { exact: true }).click();
      const sizes = await page.getByRole('combobox', { name: picker, exact: true }).locator('option').allTextContents();
      expect(sizes.length).toBeGreaterThan(3);
      for (const size of sizes) {
        await page.getByRole('combobox', { name: picker, exact: true }).selectOption({ label: size });
        const cut = await page.evaluate<string[]>(`[...document.querySelectorAll('.part-label')].flatMap((label) => {
          const frame = label.getBoundingClientRect();
          const whole = (one) => {
            const { left, top, right, bottom } = one.getBoundingClientRect();
            return left >= frame.left - 0.6 && top >= frame.top - 0.6 && right <= frame.right + 0.6 && bottom <= frame.bottom + 0.6;
          };
          const keeps = '.label-code, .label-number, .label-piece, .label-figures, .label-from';
          const outside = [...label.querySelectorAll(keeps + ', .label-figures .unparted')].filter((one) => !whole(one));
          const words = label.querySelector('.label-words');
          const frameOfWords = words.getBoundingClientRect();
          const beyond = [...words.querySelectorAll('p')].filter((one) => one.getBoundingClientRect().bottom > frameOfWords.bottom + 0.6 || one.scrollWidth > one.clientWidth + 1);
          return [...outside, ...beyond].map((one) => one.className.baseVal ?? one.className);
        })`);
        expect([...new Set(cut)], `cut on ${size}`).toEqual([]);
        const [first = ''] = await codesRead(1);
        expect(first, size).toMatch(/^TAREBOOK\.[0-9A-F]{8}\.[0-9A-F]{32}\.1$/);
      }
      const [size] = await printedPagesMm();
      expect(size).toEqual(paper === 'A4 sheets' ? [210, 297] : [100, 50]);
      expect((await printedPagesMm()).length).toBe(paper === 'A4 sheets' ? 1 : 12);
    }
  });

  it('[H1] a size of one’s own is kept on the device, and what is wrong with it is told at its field', async () => {
    await page.goto(`${shop.address}/labels?part=TIP`);
    await page.getByText('A4 sheets', { exact: true }).click();
    await page.getByText('Other sizes and margins').click();
    await page.getByLabel('Width of a label').fill('wide');
    await page.getByText('Give millimetres, 0 to 300.').waitFor();
    expect(await page.getByRole('button', { name: /^Print/ }).isDisabled()).toBe(true);
    await page.getByLabel('Width of a label').fill('120');
    await page.getByText(/mm beyond the right edge/).waitFor();
    await expectNoBarriers(page, 'a sheet that does not fit');
    await page.getByLabel('Width of a label').fill('40,5');
    await labels().first().waitFor();
    await page.reload();
    await labels().first().waitFor();
    expect(await page.getByLabel('Width of a label').inputValue()).toBe('40,5');
    expect(await page.getByRole('combobox', { name: 'Sheet', exact: true }).inputValue()).toBe('own');
  });
});
