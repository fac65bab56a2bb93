/**
 * In a language made up for the test, which puts every message between ⟦ and ⟧, no English is left on any screen: what stands outside is the shop's own.
 */
import { execFileSync } from 'node:child_process';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { englishIn, markedWords, ownWords } from '#tests/support/made-up-language.ts';
import { LEAD, openBrowser, type RunningServer, startServer } from './shop-floor.ts';

describe('another language', () => {
  let folder: string;
  let browser: Browser;
  let server: RunningServer;
  let page: Page;
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'tarebook-words-'));
    await writeFile(join(folder, 'de.json'), JSON.stringify(markedWords('whole')));
    const env = { TAREBOOK_LOCALE: 'de-AT', TAREBOOK_WORDS: folder };
    execFileSync('npx', ['vite', 'build', 'client', '--logLevel', 'warn'], {
      env: { ...process.env, NODE_ENV: 'production', ...env },
    });
    [browser, server] = await Promise.all([openBrowser(), startServer({ wantsCode: true, env })]);
    page = await browser.newPage({ viewport: { width: 1280, height: 900 } });
  }, 300_000);
  afterAll(async () => {
    await browser?.close();
    await server?.stop();
    await rm(folder, { recursive: true, force: true });
  });

  it('[N16] before anybody is signed in', async () => {
    await page.goto(server.address);
    await page.locator('form').waitFor();
    expect(await page.locator('html').getAttribute('lang')).toBe('de-AT');
    expect(await englishOn(page, [])).toEqual([]);
  });

  it('[N16] on every screen of the demonstration', { timeout: 600_000 }, async () => {
    const ask = async (path: string, data?: object) => {
      const address = `${server.address}/api${path}`;
      return (await (data === undefined ? page.request.get(address) : page.request.post(address, { data }))).json();
    };
    await ask('/first-run', { code: server.code, ...LEAD });
    const { id } = await ask('/demonstration', {});
    const aircraft = `/aircraft/${id}`;
    const entries: unknown[] = [];
    for (let seq = 0, after = -1; seq > after; ) {
      after = seq;
      const copy = await ask(`${aircraft}/entries/copy?after=${after}`);
      entries.push(copy.entries);
      seq = copy.entries.at(-1)?.seq ?? after;
    }
    const { proposals } = await ask(`${aircraft}/proposals`);
    const said = proposals.map(({ title, owner, reason }: Readonly<Record<string, unknown>>) => [title, owner, reason]);
    const own = ownWords([entries, LEAD, said]);
    const { parts } = await ask(`${aircraft}/parts`);
    const { partId } = parts.find(({ number }: { number: string }) => number === 'W-11');
    const left: Record<string, readonly string[]> = {};
    for (const path of [...SCREENS.map((screen) => `${aircraft}/${screen.replace('W-11', partId)}`), ...AROUND]) {
      await page.goto(`${server.address}${path}`);
      await page.locator('h1').first().waitFor();
      // What is asked for when it is up comes soon after.
      await page.waitForLoadState('load');
      await page.waitForTimeout(1000);
      for (const folded of await page.locator('summary').all())
        await folded.click({ timeout: 2000 }).catch(() => undefined);
      const english = [...(await englishOn(page, own)), ...(await isoDaysOn(page))];
      if (english.length > 0) left[path.replace(id, '…')] = english;
    }
    expect(JSON.stringify(left, null, 1)).toBe('{}');

    // Figures are written and read as the language does: 1,234 is one and a bit, and nobody is asked.
    await page.goto(`${server.address}${aircraft}/ledger`);
    const figure = page.locator('.figure-value').first();
    await figure.waitFor();
    expect(await figure.textContent()).toMatch(/^\d+,\d/);
    const estimate = {
      kind: 'estimate',
      id: crypto.randomUUID(),
      part: 'W-11',
      estimate: '1,234 kg',
      evidence: 'estimated',
    };
    const recorded = await ask(`${aircraft}/entries`, estimate);
    expect(recorded.entry?.entry.massKg ?? recorded).toBe(1.234);
  });
});

const SCREENS = [
  ...['ledger', 'open', 'parts', 'parts/W-11', 'parts/W-11/lay-up', 'lay-up-accuracy', 'weigh', 'processes', 'what-if'],
  ...['loading', 'aircraft-weighing', 'brief', 'labels', 'bring', 'where'],
  ...[
    '',
    '/targets',
    '/groups',
    '/allowances',
    '/materials',
    '/scales',
    '/datum',
    '/carry',
    '/access',
    '/acts',
    '/verify',
    '/backup',
  ].map((of) => `set-up${of}`),
];
const AROUND = ['/people', '/new', '/new/list', '/guide/crew', '/guide/lead'];

async function englishOn(page: Page, own: readonly string[]): Promise<readonly string[]> {
  return englishIn((await page.evaluate(OUTSIDE)) as readonly string[], own);
}

/** Days that are not written as they are there. */
async function isoDaysOn(page: Page): Promise<readonly string[]> {
  const texts = (await page.evaluate(`[document.body.innerText, ...Array.from(document.querySelectorAll('[aria-label]'),
    (one) => one.getAttribute('aria-label'))]`)) as readonly string[];
  return texts.flatMap((text) => text.match(/.{0,40}\b\d{4}-\d{2}-\d{2}\b.{0,20}/g) ?? []);
}

/** What stands outside of the marks, in texts and in names for a screen reader. A message with elements in it spans several texts. */
const OUTSIDE = `(() => {
  let depth = 0;
  const outside = (text) =>
    [...text].map((c) => (c === '⟦' ? (depth++, ' ') : c === '⟧' ? (depth--, ' ') : depth > 0 ? '' : c)).join('').trim();
  const left = [];
  const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let text = texts.nextNode(); text !== null; text = texts.nextNode())
    if (!text.parentElement.closest('script, style, noscript')) left.push(outside(text.data));
  for (const element of document.querySelectorAll('*'))
    for (const name of ['aria-label', 'placeholder', 'title', 'aria-description', 'alt', 'aria-roledescription', 'aria-valuetext', 'data-name']) {
      depth = 0;
      left.push(outside(element.getAttribute(name) ?? ''));
    }
  return left.filter((text) => text !== '');
})()`;
