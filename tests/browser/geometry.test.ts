/** A part measured from a mesh on its page: chosen by the keyboard, its unit asked, placed, recorded, and seen; stopped; and refused. */
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { binaryStl, box, textStl } from '#tests/shared/geometry/make-mesh.ts';
import { expectNoBarriers, expectReflow } from './barriers.ts';
import { beginBox, type Shop } from './box-shop.ts';
import { makeFirstAccount, openBrowser, type RunningServer, startServer } from './shop-floor.ts';

type Estimate = { xM?: number; zM?: number; massKg: number; geometry?: { fileName: string; sha256: string } };

describe('geometry on the page of a part', () => {
  let browser: Browser;
  let server: RunningServer;
  let page: Page;
  let shop: Shop;
  let folder: string;
  const faults: string[] = [];
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'tarebook-mesh-'));
    [browser, server] = await Promise.all([openBrowser(), startServer({ wantsCode: true })]);
    const context = await browser.newContext({ viewport: { width: 820, height: 1180 }, reducedMotion: 'reduce' });
    page = await context.newPage();
    page.setDefaultTimeout(20_000);
    page.on('pageerror', (error) => faults.push(String(error)));
    page.on('console', (message) => {
      if (message.type() === 'error') faults.push(message.text());
    });
    await makeFirstAccount(page, server);
    await page.getByRole('heading', { name: 'How do you want to begin?' }).waitFor();
    shop = await beginBox(page, server.address);
    await shop.send({ kind: 'part added', number: 'FLAP', name: 'Flap', group: 'wing' });
  });
  beforeEach(() => {
    faults.length = 0;
  });
  afterAll(async () => {
    await browser.close();
    await server.stop();
    await rm(folder, { recursive: true, force: true });
  });

  it('[E5] a mesh chosen by the keyboard asks for its unit, is placed, and gives the estimate its station; the mass stays', async () => {
    await open('SKIN');
    await page.getByRole('button', { name: 'Measure a mesh' }).click();
    const chooser = page.waitForEvent('filechooser');
    await page.getByRole('button', { name: 'Choose a file' }).focus();
    await page.keyboard.press('Enter');
    await (await chooser).setFiles({
      name: 'skin.stl',
      mimeType: 'model/stl',
      buffer: Buffer.from(textStl(box(400, 300, 2))),
    });
    await page.getByText('skin.stl').waitFor();
    await press('Measure it');
    await page.getByText('The file does not say its unit: choose it.').waitFor();
    await page.getByText('Say which of the two it is.').waitFor();

    await page.getByRole('radio', { name: 'mm', exact: true }).focus();
    await page.keyboard.press('Space');
    await page.getByRole('radio', { name: 'A shell: area' }).focus();
    await page.keyboard.press('Space');
    await press('Measure it');
    await page.getByText('it looks like a solid sheet, and both of its faces count').waitFor();
    await page.getByText('0.2428 m²').waitFor();

    await press('Revise the estimate with this station');
    await page.getByText('Still to say: where its x axis points').waitFor();
    await point({ x: 'aft', y: 'left', z: 'up' });
    await page.getByText('the axes would make the part its own mirror image').waitFor();
    await point({ x: 'aft', y: 'right', z: 'up' });
    await zero({ x: '2.8', y: '-150 mm', z: '0.5' });
    await page.getByText('Its centroid lies at x = 3.000 m, y = 0.000 m, z = 0.501 m').waitFor();
    await page.getByRole('img', { name: /From the left side.*SKIN reaches from x 2\.800 to 3\.200 m/ }).waitFor();
    await expectNoBarriers(page, 'a mesh that was measured');
    await expectReflow(page, 'a mesh that was measured');

    await press('Revise the estimate with this station');
    await page.getByText('Recorded: entry').waitFor();
    await page.getByText('skin.stl, a shell drawn in mm').waitFor();
    await page.getByRole('img', { name: /From above.*y −0\.150 to 0\.150 m/ }).waitFor();
    const [estimate] = await estimatesOf('SKIN');
    expect(estimate).toMatchObject({ massKg: 4, xM: 3, zM: 0.501, geometry: { fileName: 'skin.stl' } });
    await expectNoBarriers(page, 'the page of a part with a geometry');
    expect(faults).toEqual([]);
  });

  it('[E5] the geometry goes on when another figure is revised, and is left behind by another station', async () => {
    await open('SKIN');
    await page.getByRole('button', { name: 'Revise the estimate' }).click();
    await page.getByLabel('Installed mass, each').fill('4.2');
    await press('Record it');
    await page.getByText('Recorded: entry').first().waitFor();
    expect((await estimatesOf('SKIN'))[0]).toMatchObject({ massKg: 4.2, xM: 3, geometry: { fileName: 'skin.stl' } });

    await page.getByRole('button', { name: 'Revise the estimate' }).click();
    await page.getByLabel('Station x').fill('3.1');
    await press('Record it');
    await expect.poll(async () => (await estimatesOf('SKIN'))[0]?.xM).toBe(3.1);
    expect((await estimatesOf('SKIN'))[0]?.geometry).toBeUndefined();
    await page.getByRole('button', { name: 'Measure a mesh' }).waitFor();
  });

  it('[E5] a part without an estimate is asked for its mass, and none is invented', async () => {
    await open('FLAP');
    await measure('flap.stl', binaryStl(box(1, 0.2, 0.1)), { unit: 'm', shape: 'A solid: volume' });
    await page.getByText('20.00 L').waitFor();
    await point({ x: 'right', y: 'forward', z: 'up' });
    await zero({ x: '3', y: '0', z: '0' });
    await press('Record the estimate');
    await page.getByText('beside its field above').waitFor();
    expect(await estimatesOf('FLAP')).toEqual([]);
    await page.getByLabel('Installed mass, each').fill('1.5');
    await press('Record the estimate');
    await page.getByText('Recorded: entry').waitFor();
    expect((await estimatesOf('FLAP'))[0]).toMatchObject({ massKg: 1.5, xM: 2.9, geometry: { fileName: 'flap.stl' } });
  });

  it('[E5] a large mesh tells how far it is and is stopped; nothing is kept', async () => {
    const path = join(folder, 'large.stl');
    const triangles = 2_000_000;
    const bytes = Buffer.alloc(84 + 50 * triangles);
    bytes.writeUInt32LE(triangles, 80);
    for (let at = 0; at < triangles; at += 1) bytes.writeFloatLE(at / 1000, 84 + 50 * at + 12);
    await writeFile(path, bytes);
    await open('TIP');
    await page.getByRole('button', { name: 'Measure a mesh' }).click();
    const chooser = page.waitForEvent('filechooser');
    await page.getByRole('button', { name: 'Choose a file' }).click();
    await (await chooser).setFiles(path);
    await say({ unit: 'mm', shape: 'A shell: area' });
    const stop = page.getByRole('button', { name: 'Stop' });
    await stop.waitFor();
    // The page itself is free meanwhile.
    expect(await page.evaluate('1 + 1')).toBe(2);
    await page.getByRole('progressbar', { name: 'Measured' }).waitFor();
    await stop.click();
    await page.getByText('Stopped. Nothing was kept.').waitFor();
    expect((await estimatesOf('TIP'))[0]?.geometry).toBeUndefined();
  });

  it('[E5] a file that is not taken says why, and nothing is recorded', async () => {
    await open('TIP');
    await measure('tip.stl', binaryStl(box(1, 1, 1)).slice(0, 500), { unit: 'mm', shape: 'A shell: area' });
    await page.getByText('By its own count of 12 triangles this STL file should have 684 bytes; it has 500.').waitFor();
    await expectNoBarriers(page, 'a mesh that was refused');
    await page.getByRole('button', { name: 'Close' }).click();
    await measure('tip.stl', textStl(box(1, 1, 1).slice(1)), { unit: 'mm', shape: 'A solid: volume' });
    await page.getByText('It is not closed: 3 edges have a triangle missing').waitFor();
    expect(await page.getByRole('button', { name: 'Revise the estimate with this station' }).count()).toBe(0);
    expect((await estimatesOf('TIP')).length).toBe(1);
    expect(faults).toEqual([]);
  });

  async function partId(number: string): Promise<string> {
    const { parts } = await shop.get<{ parts: { partId: string; number: string }[] }>('/parts');
    return parts.find((part) => part.number === number)?.partId ?? '';
  }

  async function open(number: string): Promise<void> {
    await page.goto(`${shop.address}/parts/${await partId(number)}`);
    await page.getByRole('heading', { name: 'Geometry' }).waitFor();
  }

  async function estimatesOf(number: string): Promise<readonly Estimate[]> {
    return (await shop.get<{ estimates: Estimate[] }>(`/parts/${await partId(number)}`)).estimates;
  }

  async function measure(
    name: string,
    bytes: Uint8Array,
    said: { readonly unit: string; readonly shape: string },
  ): Promise<void> {
    await page.getByRole('button', { name: 'Measure a mesh' }).click();
    const chooser = page.waitForEvent('filechooser');
    await page.getByRole('button', { name: 'Choose a file' }).click();
    await (await chooser).setFiles({ name, mimeType: 'model/stl', buffer: Buffer.from(bytes) });
    await say(said);
  }

  async function say({ unit, shape }: { readonly unit: string; readonly shape: string }): Promise<void> {
    await page.getByText(unit, { exact: true }).click();
    await page.getByText(shape).click();
    await press('Measure it');
  }

  async function point(points: Readonly<Record<string, string>>): Promise<void> {
    for (const [axis, direction] of Object.entries(points))
      await page.getByLabel(`The part’s ${axis} axis points`).selectOption(direction);
  }

  async function zero(places: Readonly<Record<string, string>>): Promise<void> {
    for (const [axis, text] of Object.entries(places))
      await page.getByLabel(`Its zero lies at station ${axis}`).fill(text);
  }

  async function press(name: string): Promise<void> {
    await page.getByRole('button', { name, exact: true }).click();
  }
});
