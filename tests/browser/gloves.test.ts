/** Weigh in gloves on a 10-inch tablet (rule H4): how large what is touched is, how far apart, and that nothing moves under a finger. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { beginBox, type Shop } from './box-shop.ts';
import { makeFirstAccount, openBrowser, type RunningServer, startServer } from './shop-floor.ts';

const TABLET = [
  { width: 820, height: 1180 },
  { width: 1180, height: 820 },
] as const;

const LEAST_PX = 48;
const LEAST_APART_PX = 8;

type Target = {
  readonly words: string;
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
};

/** Everything of the screen that can be touched, as large as the finger finds it: a field with its label, a tick with its words. */
function targetsOf(page: Page): Promise<readonly Target[]> {
  return page.evaluate<Target[]>(`(() => {
    const touched = 'a[href], button, input, select, textarea, summary, [role="button"], [role="radio"], [role="checkbox"]';
    const found = new Map();
    for (const one of document.querySelectorAll('.top-bar, #content')) {
      for (const part of one.querySelectorAll(touched)) {
        const target = part.closest('label') ?? part;
        const { left, top, width, height } = target.getBoundingClientRect();
        if (width <= 1 || height <= 1 || !part.checkVisibility() || part.disabled && target === part) continue;
        found.set(target, { words: (target.getAttribute('aria-label') ?? target.textContent ?? '').trim() || target.outerHTML.slice(0, 80), left, top, width, height });
      }
    }
    return [...found.values()];
  })()`);
}

/** A target inside another (a clear button in a search field) is reached by its own. */
function apartPx(a: Target, b: Target): number {
  const across = Math.max(a.left, b.left) - Math.min(a.left + a.width, b.left + b.width);
  const down = Math.max(a.top, b.top) - Math.min(a.top + a.height, b.top + b.height);
  return Math.max(across, down);
}

/** What is folded away is touched with gloves on too: the form of the scale on a cable comes a moment after the rest. */
async function unfoldAll(page: Page): Promise<void> {
  await page.getByText('Scale on a cable').waitFor();
  const folded = page.locator('#content details:not([open]) > summary');
  while ((await folded.count()) > 0) await folded.first().click();
}

async function expectGloves(page: Page, where: string): Promise<void> {
  const targets = await targetsOf(page);
  expect(targets.length, where).toBeGreaterThan(3);
  const small = targets.filter(({ width, height }) => width < LEAST_PX - 0.01 || height < LEAST_PX - 0.01);
  expect(small, `${where}: smaller than ${LEAST_PX} px`).toEqual([]);
  const near = targets.flatMap((a, at) =>
    targets
      .slice(at + 1)
      .filter((b) => apartPx(a, b) < LEAST_APART_PX - 0.01)
      .map((b) => `${a.words} | ${b.words}: ${apartPx(a, b).toFixed(1)} px`),
  );
  expect(near, `${where}: nearer than ${LEAST_APART_PX} px`).toEqual([]);
}

describe('Weigh in gloves', () => {
  let browser: Browser;
  let server: RunningServer;
  let page: Page;
  let shop: Shop;
  beforeAll(async () => {
    [browser, server] = await Promise.all([openBrowser(), startServer({ wantsCode: true })]);
    const context = await browser.newContext({ viewport: TABLET[0], hasTouch: true, reducedMotion: 'reduce' });
    page = await context.newPage();
    page.setDefaultTimeout(20_000);
    await makeFirstAccount(page, server);
    await page.getByRole('heading', { name: 'How do you want to begin?' }).waitFor();
    shop = await beginBox(page, server.address);
  });
  afterAll(() => Promise.all([browser.close(), server.stop()]));

  const press = (name: string | RegExp) => page.getByRole('button', { name }).first().click();
  const judgement = () => page.getByRole('region', { name: 'Judgement' });
  const boxesOf = (selector: string) =>
    page.evaluate<number[][]>(`[...document.querySelectorAll('${selector}')].map((one) => {
      const { left, top, width, height } = one.getBoundingClientRect();
      return [left, top + scrollY, width, height];
    })`);

  it.each(TABLET)(
    '[H4] everything that is touched is 48 px and 8 px from the next, at $width x $height',
    {
      timeout: 120_000,
    },
    async (size) => {
      await page.setViewportSize(size);
      await page.goto(`${shop.address}/weigh`);
      await page.getByLabel('Which part is on the scale?').waitFor();
      await expectGloves(page, 'the find');
      await press('Check weight');
      await page.getByRole('heading', { name: 'Check weight' }).waitFor();
      await unfoldAll(page);
      await expectGloves(page, 'a check weight');
      for (const [number, condition, gross, words] of [
        ['RIB', 'trimmed', '0.9', 'Sure?'],
        ['SKIN', 'as released', '4.9', 'drifting heavy'],
        ['BOX', 'finished', '5.4', 'in line'],
      ] as const) {
        await page.goto(`${shop.address}/weigh?part=${number}`);
        await page.getByText(condition, { exact: true }).click();
        await unfoldAll(page);
        await page.getByLabel('Gross').fill(gross);
        await judgement().getByText(words).first().waitFor();
        await expectGloves(page, `${number} on the scale`);
        await press(/^Drop it|Another part/);
      }
      await expectGloves(page, 'the find with readings that are not saved');
    },
  );

  it('[H4] while the judgement comes, and asks, nothing that is touched moves', async () => {
    await page.setViewportSize(TABLET[0]);
    for (const size of [...TABLET, { width: 360, height: 800 }]) {
      await page.setViewportSize(size);
      await page.goto(`${shop.address}/weigh?part=TIP`);
      await page.getByText('trimmed', { exact: true }).click();
      const keys = '.weigh-what button, .weigh-what label, .weigh-keys button, .weigh-keys label, .judgement-strip';
      const all = size.width > 700 ? `${keys}, .weigh-save button` : keys;
      const before = await boxesOf(all);
      expect(before.length).toBeGreaterThan(20);
      for (const [gross, words] of [
        ['0.3', 'in line'],
        ['0.38', 'drifting heavy'],
        ['0.66', 'Sure?'],
        ['six', 'is not a'],
      ] as const) {
        await page.getByLabel('Gross').fill(gross);
        await judgement().getByText(words).first().waitFor();
        expect(await boxesOf(all), `${words} at ${size.width} px`).toEqual(before);
      }
      await page.getByLabel('Gross').fill('');
    }
  });

  it.each(TABLET)(
    '[H4] keys, readings and Save stand beside the judgement in one view, for either hand, at $width x $height',
    async (size) => {
      await page.setViewportSize(size);
      await page.goto(`${shop.address}/weigh?part=TIP`);
      await page.getByRole('group', { name: 'Number pad' }).waitFor();
      const middle = async (selector: string) => {
        const [[left = 0, top = 0, width = 0, height = 0] = []] = await boxesOf(selector);
        expect(top + height, selector).toBeLessThanOrEqual(size.height);
        return left + width / 2;
      };
      const acrossOf = async () => [
        await middle('.number-pad'),
        await middle('.weigh-save'),
        await middle('.readings'),
      ];
      for (const across of await acrossOf()) expect(across).toBeGreaterThan(size.width / 2);
      await press('Keys to the left');
      for (const across of await acrossOf()) expect(across).toBeLessThan(size.width / 2);
      // The device remembers the hand.
      await page.reload();
      await page.getByRole('group', { name: 'Number pad' }).waitFor();
      for (const across of await acrossOf()) expect(across).toBeLessThan(size.width / 2);
      await press('Keys to the right');
    },
  );

  it.each(TABLET)(
    '[H4] of several pieces, one weighed and its tare kept, Save stays in view and is apart, at $width x $height',
    async (size) => {
      await page.setViewportSize(size);
      await page.goto(`${shop.address}/weigh?part=RIB`);
      await page.getByText('trimmed', { exact: true }).click();
      await page.getByLabel('Gross').fill('1.5');
      await page.getByLabel('Tare (fixture)').fill('1.0');
      await judgement().getByText('in line').first().waitFor();
      await press('Save the weighing');
      await page.getByRole('status').filter({ hasText: 'Saved: ' }).waitFor();
      await page.goto(`${shop.address}/weigh?part=RIB`);
      await page.getByText('Kept: 1.0 kg, the tare of RIB').waitFor();
      await page.getByText('Scale on a cable').waitFor();
      const [[, top = 0, , height = 0] = []] = await boxesOf('.weigh-save');
      expect(top + height).toBeLessThanOrEqual(size.height);
      await expectGloves(page, 'several pieces with a kept tare');
    },
  );

  it('[H4] held upright a tablet shows the name of every screen whole, with a count beside one', async () => {
    await page.setViewportSize(TABLET[0]);
    await shop.send({ kind: 'weighing', part: 'TIP', gross: '0.5 kg', condition: 'finished' });
    await page.goto(`${shop.address}/weigh`);
    await page.locator('.screen-count').waitFor();
    const bar = await page.evaluate<{ wide: number; room: number }>(
      `(({ scrollWidth, clientWidth }) => ({ wide: scrollWidth, room: clientWidth }))(document.querySelector('.top-bar nav'))`,
    );
    expect(bar.wide).toBeLessThanOrEqual(bar.room);
  });
});
