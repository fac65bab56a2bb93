/** Waits until a page is what it is going to be: nothing asked that is not answered, nothing being read, and its size the same for a while. */
import type { Page } from 'playwright-core';

const STEP_MS = 120;
const STILL_STEPS = 4;
const MOST_STEPS = 400;
const asked = new WeakMap<Page, Set<object>>();

/** Counts what the page asks of the doors, from now on; the live line stays open. */
export function watch(page: Page): void {
  const open = new Set<object>();
  asked.set(page, open);
  page.on('request', (request) => (/\/api\/(?!live)/.test(request.url()) ? open.add(request) : undefined));
  page.on('requestfinished', (request) => open.delete(request));
  page.on('requestfailed', (request) => open.delete(request));
}

export async function settled(page: Page): Promise<void> {
  let before = '';
  for (let still = 0, step = 0; still < STILL_STEPS; step += 1) {
    if (step > MOST_STEPS) throw new Error('the page does not come to rest');
    await page.waitForTimeout(STEP_MS);
    const now = await page.evaluate<string>(SIZE);
    const isQuiet = (asked.get(page)?.size ?? 0) === 0 && !now.startsWith('reading');
    still = isQuiet && now === before ? still + 1 : 0;
    before = now;
  }
}

const SIZE = `(() => {
  const { scrollWidth, scrollHeight } = document.documentElement;
  return (document.querySelector('main .waiting') === null ? '' : 'reading ') + scrollWidth + ' ' + scrollHeight;
})()`;
