/** Every screen of every aircraft. Some pages are taken side by side; a screen that cannot be reached is told at the end, and the others are taken. */
import { mkdir } from 'node:fs/promises';
import type { Browser } from 'playwright-core';
import { DIALOGS } from './screens/dialogs.ts';
import { FIRST_RUN, takeFirstRun } from './screens/first-run.ts';
import { PAGES } from './screens/pages.ts';
import type { Screen } from './screens/screen.ts';
import { SHOP_SCREENS } from './screens/shop-screens.ts';
import { settled, watch } from './settled.ts';
import { type Look, shoot, THEMES, WIDTHS } from './shoot.ts';
import { AIRCRAFT, type AircraftKind, type Shop, withShop } from './shop/shop.ts';

const FOLDER = 'screens';
const SIDE_BY_SIDE = 3;
const SCREENS = [...PAGES, ...DIALOGS, ...SHOP_SCREENS];

/** Asked for something that there is not. */
export class NotKnown extends Error {}

/** As typed: nothing is all. A screen is also named by its beginning and a star, `set-up*`. */
export type Asked = {
  readonly screen?: string[];
  readonly aircraft?: string[];
  readonly width?: string[];
  readonly theme?: string[];
  readonly pages?: string;
};
type Job = { readonly screen: Screen; readonly kind: AircraftKind };

export async function takeAll(browser: Browser, asked: Asked): Promise<void> {
  const kinds = chosen(asked.aircraft, AIRCRAFT);
  const names = chosen(asked.screen, [...SCREENS.map(({ name }) => name), ...FIRST_RUN]);
  const told: string[] = [];
  const look: Look = {
    ...{ folder: FOLDER, themes: chosen(asked.theme, THEMES), tell: (line) => told.push(line) },
    widths: chosen(asked.width, WIDTHS.map(String)).map(Number),
  };
  await mkdir(FOLDER, { recursive: true });
  if (FIRST_RUN.some((name) => names.includes(name))) await takeFirstRun(browser, look);
  const jobs = SCREENS.filter(({ name }) => names.includes(name)).flatMap((screen) =>
    (screen.of ?? [kinds[0]]).flatMap((kind) => (kind !== undefined && kinds.includes(kind) ? [{ screen, kind }] : [])),
  );
  if (jobs.length > 0) {
    const waiting = jobs.values();
    const count = Number(asked.pages ?? SIDE_BY_SIDE);
    await withShop(browser, kinds, async (shop) => {
      await Promise.all(Array.from({ length: count }, () => takeEach(waiting, shop, look)));
    });
  }
  process.stdout.write(`${told.join('\n')}\n${jobs.length} screens are in ${FOLDER}/, ${told.length} lines above.\n`);
}

async function takeEach(jobs: Iterable<Job>, shop: Shop, look: Look): Promise<void> {
  for (const { screen, kind } of jobs) {
    const name = screen.of === undefined ? screen.name : `${screen.name}.${kind}`;
    try {
      await takeOne({ screen, kind }, shop, { name, look });
    } catch (error) {
      look.tell(`${name}: not taken. ${error instanceof Error ? error.message.split('\n')[0] : error}`);
    }
  }
}

async function takeOne(job: Job, shop: Shop, { name, look }: { name: string; look: Look }): Promise<void> {
  const { screen, kind } = job;
  const at = screen.at(shop, kind);
  if (at === undefined) return;
  const own = await screen.as?.(shop);
  // A window of its own: the charts of a page that lies behind another are not drawn.
  const context = own ?? (await shop.signedIn());
  const page = await context.newPage();
  page.setDefaultTimeout(30_000);
  watch(page);
  page.on('pageerror', (error) => look.tell(`${name}: ${error.message}`));
  try {
    await page.setViewportSize({ width: 1280, height: 900 });
    const begin = Date.now();
    await page.goto(`${shop.server.address}${screen.of === undefined ? at : `/aircraft/${shop.idOf[kind]}${at}`}`);
    await page.locator('main').first().waitFor();
    await settled(page);
    await screen.go?.(page, shop);
    await shoot(page, name, look);
    process.stdout.write(`${name}, ${((Date.now() - begin) / 1000).toFixed(1)} s\n`);
  } finally {
    await context.close();
  }
}

function chosen<Name extends string>(asked: readonly string[] | undefined, all: readonly Name[]): readonly Name[] {
  if (asked === undefined) return all;
  const fits = (one: string, name: string) => (one.endsWith('*') ? name.startsWith(one.slice(0, -1)) : name === one);
  const wanted = asked.flatMap((words) => words.split(','));
  const unknown = wanted.find((one) => !all.some((name) => fits(one, name)));
  if (unknown !== undefined) throw new NotKnown(`"${unknown}" is none of: ${all.join(', ')}.`);
  return all.filter((name) => wanted.some((one) => fits(one, name)));
}
