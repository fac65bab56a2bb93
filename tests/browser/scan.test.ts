/** A part found by its label (rule H2): with a scanner that types, and with a camera that looks at the code itself. */
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Browser, chromium, type Page } from 'playwright-core';
import { encodeQR } from 'qr';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import type { PartsReport } from '#shared/contract/aircraft.ts';
import { labelCode } from '#shared/label/code.ts';
import type { AircraftId } from '#shared/ledger/entry.ts';
import { CHROMIUM_ARGS } from '#tests/support/chromium.ts';
import { expectNoBarriers, expectReflow } from './barriers.ts';
import { beginBox, type Shop } from './box-shop.ts';
import { makeFirstAccount, openBrowser, type RunningServer, signIn, startServer } from './shop-floor.ts';

const TABLET = { viewport: { width: 820, height: 1180 }, reducedMotion: 'reduce' } as const;

describe('a label that is scanned', () => {
  let browser: Browser;
  let server: RunningServer;
  let page: Page;
  let shop: Shop;
  let other: Shop;
  let parts: PartsReport['parts'];
  const folders: string[] = [];
  beforeAll(async () => {
    [browser, server] = await Promise.all([openBrowser(), startServer({ wantsCode: true })]);
    page = await (await browser.newContext(TABLET)).newPage();
    page.setDefaultTimeout(20_000);
    await makeFirstAccount(page, server);
    await page.getByRole('heading', { name: 'How do you want to begin?' }).waitFor();
    other = await beginBox(page, server.address, 'Curlew');
    shop = await beginBox(page, server.address);
    ({ parts } = await shop.get<PartsReport>('/parts'));
  });
  afterAll(async () => {
    await Promise.all([browser.close(), server.stop()]);
    for (const folder of folders) await rm(folder, { recursive: true, force: true });
  });

  const idOf = (of: Shop) => (of.address.split('/').at(-1) ?? '') as AircraftId;
  const codeOf = (number: string, piece?: number) => {
    const part = parts.find((one) => one.number === number);
    if (part === undefined) throw new Error(`there is a part ${number}`);
    return labelCode({ aircraftId: idOf(shop), partId: part.partId, piece });
  };
  const gross = () => page.getByLabel('Gross', { exact: true });
  const isOpen = (number: string) => page.getByRole('heading', { name: new RegExp(`^${number} `) }).waitFor();

  /** Types as a scanner does: so many milliseconds from key to key, however slow this machine is. */
  async function scan(text: string, everyMs = 8): Promise<void> {
    const keyboard = await page.context().newCDPSession(page);
    let at = Date.now() / 1000;
    const send = async (key: string, words: string) => {
      at += everyMs / 1000;
      const ofKey = { key, ...(words === '' ? {} : { text: words }), timestamp: at };
      await keyboard.send('Input.dispatchKeyEvent', { type: 'keyDown', ...ofKey });
      await keyboard.send('Input.dispatchKeyEvent', { type: 'keyUp', key, timestamp: at });
    };
    for (const key of text) await send(key, key);
    await send('Enter', '\r');
    await keyboard.detach();
  }

  it('[H2] opens its part from the find, the search stays empty, and the piece of the label is chosen', async () => {
    await page.goto(`${shop.address}/weigh`);
    await page.getByLabel('Which part is on the scale?').waitFor();
    await scan(codeOf('RIB', 2));
    await isOpen('RIB');
    const chosen = page.getByRole('button', { name: 'piece 2', exact: true, pressed: true });
    await chosen.waitFor();
    await page.goBack();
    await page.getByLabel('Which part is on the scale?').waitFor();
    expect(await page.getByRole('searchbox').inputValue()).toBe('');
    await page.getByRole('button', { name: 'Check weight' }).click();
    await page.getByRole('heading', { name: 'Check weight' }).waitFor();
    await scan(codeOf('TIP').toLowerCase(), 90);
    await isOpen('TIP');
  });

  it('[H2] leaves what is typed as it was, wherever the keyboard is, and presses nothing', async () => {
    await page.goto(`${shop.address}/weigh?part=SKIN`);
    await page.getByText('trimmed', { exact: true }).click();
    await gross().fill('5.05');
    await page.getByLabel('Note').fill('bay ');
    const save = page.getByRole('button', { name: 'Save the weighing' });
    for (const where of [gross(), page.getByLabel('Note'), page.getByLabel('Why?'), save]) {
      await where.focus();
      await page.waitForTimeout(600);
      await scan('4006381333931');
      await page.getByText('This code is no label of a part.').waitFor();
      await page.getByRole('button', { name: 'Close', exact: true }).click();
      await scan(codeOf('SKIN'));
      expect(await gross().inputValue()).toBe('5.05');
      expect(await page.getByLabel('Note').inputValue()).toBe('bay ');
      expect(await page.getByLabel('Why?').inputValue()).toBe('');
    }
    // A choice has the keyboard: figures go to the highlighted field, and those of a code leave it again.
    await page.getByText('trimmed', { exact: true }).click();
    await scan(codeOf('RIB', 1));
    await isOpen('RIB');
    await page.goto(`${shop.address}/weigh?part=SKIN`);
    await page.getByText('Typed before and not saved yet').waitFor();
    expect(await gross().inputValue()).toBe('5.05');
    expect((await shop.get<PartsReport>('/parts')).parts.flatMap(({ weighed }) => weighed)).toEqual([]);
    await page.getByRole('button', { name: 'Drop it' }).click();
  });

  it('[H2] is not seen in a number that is typed, however fast, nor in a scale’s line', async () => {
    await page.goto(`${shop.address}/weigh?part=TIP`);
    await page.getByText('trimmed', { exact: true }).click();
    await gross().focus();
    await scan('0.305');
    expect(await gross().inputValue()).toBe('0.305');
    await gross().fill('');
    await scan('  0.305 kg');
    expect((await gross().inputValue()).trim()).toBe('0.305 kg');
    await gross().fill('');
  });

  it('[H2] that is of another aircraft, gone or of a piece too many says so in plain words', async () => {
    await page.goto(`${shop.address}/weigh`);
    await page.getByLabel('Which part is on the scale?').waitFor();
    const [one] = (await other.get<PartsReport>('/parts')).parts;
    if (one === undefined) throw new Error('it has parts');
    const refused = page.getByRole('alert');
    await scan(labelCode({ aircraftId: idOf(other), partId: one.partId }));
    await refused.getByText('This label is of a part of Curlew.').waitFor();
    await expectNoBarriers(page, 'a label of another aircraft');
    await expectReflow(page, 'a label of another aircraft');
    await page.waitForTimeout(600);
    await scan(codeOf('RIB', 7));
    await refused.getByText('RIB has 2 pieces, and the label is of piece 7.').waitFor();
    await page.waitForTimeout(600);
    await scan(`${codeOf('RIB').slice(0, -4)}FFFF`);
    await refused.getByText('not in the list any more').waitFor();
    // The address of a part, pasted into the search.
    await page.getByRole('searchbox').fill(`https://elsewhere:1/aircraft/${idOf(shop)}/weigh?part=TIP`);
    await page.getByRole('searchbox').press('Enter');
    await isOpen('TIP');
  });

  /** A camera that sees the code, and nothing else, in every picture: YUV4MPEG2, white around it. */
  async function pictureOf(text: string): Promise<string> {
    const [width, height, size] = [640, 480, 8];
    const modules = encodeQR(text, 'raw', { ecc: 'medium', border: 4 });
    const [left, top] = [width, height].map((side) => Math.trunc((side - modules.length * size) / 2)) as [
      number,
      number,
    ];
    const luma = Buffer.alloc(width * height, 235);
    for (const [row, cells] of modules.entries())
      for (const [column, isDark] of cells.entries())
        if (isDark)
          for (let y = 0; y < size; y += 1)
            luma.fill(
              20,
              (top + row * size + y) * width + left + column * size,
              (top + row * size + y) * width + left + (column + 1) * size,
            );
    const frame = Buffer.concat([Buffer.from('FRAME\n'), luma, Buffer.alloc((width * height) / 2, 128)]);
    const folder = await mkdtemp(join(tmpdir(), 'tarebook-camera-'));
    folders.push(folder);
    const path = join(folder, 'code.y4m');
    await writeFile(
      path,
      Buffer.concat([Buffer.from(`YUV4MPEG2 W${width} H${height} F10:1 Ip A1:1 C420jpeg\n`), frame, frame]),
    );
    return path;
  }

  async function withCamera(args: readonly string[], act: (at: Page) => Promise<void>): Promise<void> {
    const own = await chromium.launch({ executablePath: inject('chromiumPath'), args: [...CHROMIUM_ARGS, ...args] });
    try {
      const context = await own.newContext({ ...TABLET, storageState: await page.context().storageState() });
      const at = await context.newPage();
      at.setDefaultTimeout(30_000);
      await act(at);
    } finally {
      await own.close();
    }
  }

  it('[H2] in the camera’s picture opens its part, by a reader that is loaded only then', {
    timeout: 120_000,
  }, async () => {
    const video = await pictureOf(codeOf('RIB', 2));
    const args = [
      '--use-fake-device-for-media-stream',
      '--use-fake-ui-for-media-stream',
      `--use-file-for-fake-video-capture=${video}`,
    ];
    await withCamera(args, async (at) => {
      const loaded: string[] = [];
      at.on('request', (request) => loaded.push(request.url()));
      await at.goto(`${shop.address}/weigh`);
      await at.getByRole('button', { name: 'Scan a label' }).waitFor();
      expect(loaded.filter((url) => /camera|decode/.test(url))).toEqual([]);
      await at.getByRole('button', { name: 'Scan a label' }).click();
      await at.getByRole('heading', { name: /^RIB / }).waitFor();
      expect(loaded.filter((url) => /camera|decode/.test(url)).length).toBeGreaterThan(0);
      await at.getByRole('button', { name: 'piece 2', exact: true, pressed: true }).waitFor();
      // The next one is scanned without another touch: the camera is on again until somebody closes it.
      await at.getByRole('button', { name: '‹ Another part' }).click();
      await at.getByRole('heading', { name: /^RIB / }).waitFor();
    });
    const strange = await pictureOf('https://example.invalid/a-leaflet');
    await withCamera([...args.slice(0, 2), `--use-file-for-fake-video-capture=${strange}`], async (at) => {
      await at.goto(`${shop.address}/weigh`);
      await at.getByRole('button', { name: 'Scan a label' }).click();
      await at.getByText('This code is no label of a part.').waitFor();
      await expectNoBarriers(at, 'the camera, and a code that is no label');
      await expectReflow(at, 'the camera');
      await at.getByRole('button', { name: 'Close the camera' }).click();
      await at.getByRole('button', { name: 'Scan a label' }).waitFor();
      expect(await at.locator('video').count()).toBe(0);
    });
  });

  it('[H2] a camera that is refused, missing or out of reach on a plain page is explained, with another way', {
    timeout: 120_000,
  }, async () => {
    const trouble = (at: Page) => at.getByRole('region', { name: 'Scan a label' }).getByRole('alert');
    await withCamera(['--use-fake-device-for-media-stream'], async (at) => {
      await at.goto(`${shop.address}/weigh`);
      await at.getByRole('button', { name: 'Scan a label' }).click();
      await trouble(at).getByText('The browser was told to keep the camera from this page.').waitFor();
      await expectNoBarriers(at, 'a camera that is refused');
      await at.getByRole('button', { name: 'Try again' }).click();
      await trouble(at).waitFor();
    });
    await withCamera(['--use-fake-ui-for-media-stream'], async (at) => {
      await at.goto(`${shop.address}/weigh`);
      await at.getByRole('button', { name: 'Scan a label' }).click();
      await trouble(at).getByText('No camera was found.').waitFor();
    });
    // A name that is not this machine's own, over plain http, is no secure context.
    await withCamera(['--host-resolver-rules=MAP shop.test 127.0.0.1'], async (at) => {
      const plain = server.address.replace('127.0.0.1', 'shop.test');
      await signIn(at, plain);
      // The page to sign in has a heading too: its answer is waited for before the next page is asked for.
      await at.getByRole('navigation', { name: 'Screens' }).getByRole('link', { name: 'Weigh', exact: true }).waitFor();
      await at.goto(shop.address.replace('127.0.0.1', 'shop.test').concat('/weigh'));
      await at.getByRole('button', { name: 'Scan a label' }).click();
      await trouble(at).getByText('pages that came over https alone').waitFor();
      expect(await at.getByRole('button', { name: 'Try again' }).count()).toBe(0);
    });
  });
});
