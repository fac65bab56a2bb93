/** One screen in every width and theme that is asked for; what has to be pushed sideways, or is cut, is told beside it. */
import type { Page } from 'playwright-core';
import { settled } from './settled.ts';

export const WIDTHS = [360, 820, 1920] as const;
export const THEMES = ['light', 'dark'] as const;

export type Look = {
  readonly folder: string;
  readonly widths: readonly number[];
  readonly themes: readonly (typeof THEMES)[number][];
  /** Of what looks wrong by measure alone. */
  readonly tell: (line: string) => void;
};

const HEIGHT_PX: Readonly<Record<number, number>> = { 360: 740, 820: 1180, 1920: 1080 };
/** A list of ten thousand is known from its beginning. */
const MOST_HEIGHT_PX = 7000;
export async function shoot(page: Page, name: string, look: Look): Promise<void> {
  for (const width of look.widths) {
    await page.setViewportSize({ width, height: HEIGHT_PX[width] ?? 900 });
    await settled(page);
    for (const found of await page.evaluate<string[]>(MEASURE)) look.tell(`${name} at ${width} px: ${found}`);
    for (const theme of look.themes) {
      await page.emulateMedia({ colorScheme: theme });
      await page.waitForTimeout(80);
      const height = Math.min(await page.evaluate<number>('document.documentElement.scrollHeight'), MOST_HEIGHT_PX);
      const path = `${look.folder}/${name}.${width}.${theme}.png`;
      // A dialog lies over what is in sight.
      if ((await page.locator('.veil').count()) > 0) await page.screenshot({ path });
      else await page.screenshot({ path, fullPage: true, clip: { x: 0, y: 0, width, height } });
    }
  }
}

/** In the page: wider than the window, and words that stand out of their box or are cut by it. */
const MEASURE = `(() => {
  const told = [];
  const wide = document.documentElement.scrollWidth - innerWidth;
  if (wide > 0) told.push('to be pushed sideways by ' + wide + ' px');
  for (const one of document.querySelectorAll('button, .button, th, td, dt, dd, h1, h2, h3, label, .card, .flag, select')) {
    if (!one.checkVisibility() || one.clientWidth < 2) continue;
    const over = one.scrollWidth - one.clientWidth;
    if (over > 1 && getComputedStyle(one).overflowX !== 'auto')
      told.push('cut or over by ' + over + ' px: ' + one.tagName + '.' + one.className + ' ' + (one.textContent ?? '').trim().slice(0, 40));
  }
  return [...new Set(told)].slice(0, 6);
})()`;
