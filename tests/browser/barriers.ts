/** What keeps somebody out of a page: axe against WCAG 2.2 AA in both themes, and words that run off a narrow screen. */
import axe from 'axe-core';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';

type Fading = {
  getAnimations(): {
    readonly effect: { getTiming(): { readonly iterations: number } } | null;
    readonly finished: Promise<unknown>;
  }[];
};
type AxeResult = { violations: { id: string; nodes: { html: string }[] }[] };

/** What axe finds on the page as it is. */
export async function expectNoBarriers(page: Page, where = page.url()): Promise<void> {
  for (const theme of ['light', 'dark']) {
    await page.evaluate(`document.documentElement.dataset.theme = '${theme}'`);
    // A colour on its way from one theme to the other belongs to neither.
    await page.evaluate(async () => {
      const page = globalThis as unknown as { document: Fading };
      const passing = page.document.getAnimations().filter((one) => one.effect?.getTiming().iterations !== Infinity);
      await Promise.allSettled(passing.map((one) => one.finished));
    });
    // Handed over as a value, not as a script element, which the page's own policy would refuse.
    await page.evaluate(axe.source);
    const found = await page.evaluate(async () => {
      const page = globalThis as unknown as { axe: { run(options: unknown): Promise<AxeResult> } };
      const { violations } = await page.axe.run({ rules: { 'target-size': { enabled: true } } });
      return violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.html).join(' ')}`);
    });
    expect(found, `${where}, ${theme}`).toEqual([]);
  }
}

/** WCAG 1.4.10: at 320 px nothing has to be pushed sideways to be read. */
const NARROWEST_PX = 320;

export async function expectReflow(page: Page, where: string): Promise<void> {
  const before = page.viewportSize();
  if (before === null) throw new Error('the page has a size');
  await page.setViewportSize({ width: NARROWEST_PX, height: before.height });
  // A picture takes a moment to follow its page.
  const width = () => page.evaluate<number>('document.documentElement.scrollWidth');
  await expect.poll(width, { message: `${where}, its width on a narrow screen` }).toBeLessThanOrEqual(NARROWEST_PX);
  await page.setViewportSize(before);
}
