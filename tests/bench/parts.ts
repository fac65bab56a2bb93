/**
 * The table of parts with ten thousand parts, before a real server and in a real browser: how long until it can be used, whether a picture
 * is ever blank while it is scrolled, and what one more entry costs. Against the same rows as a plain HTML table.
 */
import { execFileSync, spawn } from 'node:child_process';
import { randomUUID } from 'node:crypto';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium, type Page } from 'playwright-core';
import { openStore } from '#db/engine/open-store.ts';
import { appendEntries } from '#db/ledger/append.ts';
import { createAircraft } from '#db/ledger/create-aircraft.ts';
import { makePerson } from '#db/people/change-people.ts';
import { hashPassword } from '#db/people/password.ts';
import { entryText } from '#shared/ledger/canonical.ts';
import type { Entry, EntryId, PartId } from '#shared/ledger/entry.ts';
import { foldEntries } from '#shared/ledger/fold.ts';
import { partsReport } from '#shared/rollup/parts-report.ts';
import { CHROMIUM_ARGS, findChromium } from '#tests/support/chromium.ts';
import { asRecorded, makeEntries } from './make-chain.ts';
import { line, medianMs } from './median.ts';

const PARTS = 10_000;
const ASSEMBLIES = 400;
const WHO = { name: 'Bench', initials: 'BE', password: 'only to measure with' };

export async function benchParts(): Promise<string> {
  const entries = shopFloor();
  const folder = await mkdtemp(join(tmpdir(), 'tarebook-bench-'));
  const data = join(folder, 'data');
  const aircraftId = await fill(data, entries);
  execFileSync('npx', ['vite', 'build', 'client', '--logLevel', 'warn'], { stdio: ['ignore', 'ignore', 'inherit'] });
  const server = spawn(process.execPath, ['api/server.ts', '--port', '0', '--data', data], {
    env: { ...process.env, DATABASE_URL: '' },
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const browser = await chromium.launch({ executablePath: findChromium(), args: CHROMIUM_ARGS });
  try {
    const address = await addressOf(server.stdout);
    const page = await browser.newPage({ viewport: { width: 1600, height: 1000 } });
    await signIn(page, address);
    return [
      `Parts: ${PARTS.toLocaleString('en-GB')} parts in ${ASSEMBLIES} assemblies, ${entries.length.toLocaleString('en-GB')} entries\n`,
      await rules(entries),
      await overTheWire(page, `${address}/api/aircraft/${aircraftId}`),
      await inTheBrowser(page, `${address}/aircraft/${aircraftId}`),
    ].join('');
  } finally {
    await browser.close();
    server.kill('SIGTERM');
    await new Promise((resolve) => server.once('exit', resolve));
    await rm(folder, { recursive: true, force: true });
  }
}

/** The chain of the other benches, with an aircraft before it and most parts in an assembly. */
function shopFloor(): readonly Entry[] {
  const entries = makeEntries(PARTS, PARTS / 2);
  const ids = entries.flatMap((entry) => (entry.kind === 'part added' ? [entry.partId] : []));
  const assemblyOf = new Map(ids.map((partId, at) => [partId, at < ASSEMBLIES ? undefined : ids[at % ASSEMBLIES]]));
  const stamp = { id: randomUUID() as EntryId, happenedOn: '2026-01-01', by: 'BE' };
  const units = { massUnit: 'kg', lengthUnit: 'm' } as const;
  return [
    { kind: 'aircraft', name: 'Ten thousand', datum: 'the bow', ...units, typed: {}, ...stamp },
    ...entries.map((entry) => (entry.kind === 'part added' ? within(entry, assemblyOf.get(entry.partId)) : entry)),
  ];
}

function within(entry: Extract<Entry, { kind: 'part added' }>, parentPartId: PartId | undefined): Entry {
  return parentPartId === undefined ? entry : { ...entry, parentPartId };
}

async function fill(path: string, entries: readonly Entry[]): Promise<string> {
  const aircraftId = randomUUID();
  const store = await openStore({ kind: 'folder', path });
  try {
    await createAircraft(store.db, { id: aircraftId, name: 'Ten thousand' });
    const answer = await appendEntries(store.db, { aircraftId, contents: entries.map(entryText) });
    if (!answer.ok) throw new Error(answer.refusal.code);
    const { name, initials, password } = WHO;
    const passwordHash = await hashPassword(password);
    await makePerson(store.db, { name, initials, role: 'lead', aircraft: 'all', passwordHash });
  } finally {
    await store.close();
  }
  return aircraftId;
}

function addressOf(out: NodeJS.ReadableStream): Promise<string> {
  return new Promise((resolve) => {
    let text = '';
    out.on('data', (chunk: Buffer) => {
      text += chunk.toString('utf8');
      const address = /https?:\/\/[^\s]+?(?=[\s/]|$)/m.exec(text)?.[0];
      if (address !== undefined) resolve(address);
    });
  });
}

async function signIn(page: Page, address: string): Promise<void> {
  await page.goto(address);
  await page.getByLabel('Name').fill(WHO.name);
  await page.getByLabel('Password').fill(WHO.password);
  await page.getByRole('button', { name: 'Sign in' }).click();
  await page.getByRole('link', { name: 'Parts' }).waitFor({ timeout: 60_000 });
}

/** What blocks the server: the rows are worked out once an entry, whoever asks for them. */
async function rules(entries: readonly Entry[]): Promise<string> {
  const recorded = asRecorded(entries);
  const foldMs = await medianMs(3, () => foldEntries(recorded));
  const ledgers = [1, 2, 3].map(() => foldEntries(recorded));
  const rowsMs = await medianMs(3, () => partsReport(ledgers.pop() ?? foldEntries(recorded)));
  const rows = partsReport(foldEntries(recorded));
  const textMs = await medianMs(5, () => JSON.stringify(rows));
  const fold = { name: 'folding the ledger', ms: foldMs };
  return line('the rows of all parts, from the ledger', rowsMs, fold) + line('the rows as JSON', textMs, fold);
}

async function overTheWire(page: Page, api: string): Promise<string> {
  const health = await medianMs(5, () => page.request.get(new URL('/api/health', api).href));
  const first = { ms: 0, bytes: 0 };
  first.ms = await medianMs(1, async () => {
    first.bytes = (await (await page.request.get(`${api}/parts`)).body()).byteLength;
  });
  const againMs = await medianMs(5, async () => (await page.request.get(`${api}/parts`)).body());
  const least = { name: 'the least question', ms: health };
  return [
    `GET /parts: ${(first.bytes / 1e6).toFixed(2)} MB, ${Math.round(first.bytes / PARTS)} bytes a part\n`,
    line('GET /parts, the first time after an entry', first.ms, least),
    line('GET /parts, again', againMs, least),
  ].join('');
}

async function inTheBrowser(page: Page, aircraft: string): Promise<string> {
  const loads: number[] = [];
  const moves: number[] = [];
  for (let run = 0; run < 3; run += 1) {
    loads.push(await medianMs(1, () => openParts(page, () => page.goto(`${aircraft}/parts`))));
    await page.goto(`${aircraft}/ledger`);
    // What the ledger itself asks for is not what is measured here. Its line to the server stays open, so that no network is ever idle.
    await page.locator('.entry').first().waitFor();
    await page.waitForTimeout(2500);
    moves.push(await medianMs(1, () => openParts(page, () => page.getByRole('link', { name: 'Parts' }).click())));
  }
  const plainMs = await plainTable(page);
  const plain = { name: 'the same rows as a plain table, laid out', ms: plainMs };
  const scrolled = await scroll(page);
  const searchMs = await medianMs(1, async () => {
    await page.getByLabel('Search the parts').fill('P-9999');
    await page.locator('.parts-grid[aria-rowcount="3"]').waitFor();
  });
  return [
    line('Parts, from a load of the page to a cell that hears keys', middle(loads), plain),
    line('Parts, from a press on its link in the ledger', middle(moves), plain),
    line('a search down to one part', searchMs, plain),
    `Scrolled through ${scrolled.px.toLocaleString('en-GB')} px in ${scrolled.frames} pictures: ${scrolled.blank} with a gap; `,
    `longest between two pictures ${scrolled.longestMs.toFixed(0)} ms, median ${scrolled.medianMs.toFixed(0)} ms\n`,
  ].join('');
}

/** Usable: lines are there, and a key moves the active cell. */
async function openParts(page: Page, go: () => Promise<unknown>): Promise<void> {
  await go();
  await page.locator('.parts-body [role=row]').first().waitFor();
  await page.locator('[role=columnheader]').first().focus();
  await page.keyboard.press('ArrowDown');
  await page.waitForFunction(`document.activeElement?.getAttribute('role') === 'rowheader'`);
}

function middle(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0;
}

/** All lines at once, as a table of texts: what a browser needs for them with nothing between. */
function plainTable(page: Page): Promise<number> {
  return page.evaluate<number>(`(async () => {
    const row = document.querySelector('.parts-body [role=row]');
    const cells = [...row.children].map((cell) => '<td>' + cell.textContent + '</td>').join('');
    const table = document.createElement('table');
    const began = performance.now();
    table.innerHTML = ('<tr>' + cells + '</tr>').repeat(${PARTS});
    document.body.append(table);
    table.getBoundingClientRect();
    await new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
    const ms = performance.now() - began;
    table.remove();
    return ms;
  })()`);
}

type Scrolled = { frames: number; blank: number; longestMs: number; medianMs: number; px: number };

/** Turns the wheel hard for some seconds, and looks at each picture: does some of the frame lie below no line? */
async function scroll(page: Page): Promise<Scrolled> {
  await page.evaluate(`(() => {
    const grid = document.querySelector('.parts-grid');
    const seen = (globalThis.seen = { times: [], blank: 0, from: grid.scrollTop, isOn: true });
    const look = (now) => {
      const { top, bottom } = grid.getBoundingClientRect();
      const heading = grid.querySelector('.parts-heading').getBoundingClientRect().bottom;
      let covered = 0;
      for (const row of grid.querySelectorAll('.parts-body [role=row]')) {
        const box = row.getBoundingClientRect();
        covered += Math.max(0, Math.min(box.bottom, bottom) - Math.max(box.top, heading, top));
      }
      if (covered < bottom - heading - 4) seen.blank += 1;
      seen.times.push(now);
      if (seen.isOn) requestAnimationFrame(look);
    };
    requestAnimationFrame(look);
  })()`);
  const box = await page.locator('.parts-grid').boundingBox();
  await page.mouse.move((box?.x ?? 0) + 300, (box?.y ?? 0) + 300);
  for (let turn = 0; turn < 120; turn += 1) {
    await page.mouse.wheel(0, turn % 3 === 2 ? 2400 : 400);
    await page.waitForTimeout(16);
  }
  return page.evaluate<Scrolled>(`(() => {
    const { seen } = globalThis;
    seen.isOn = false;
    const gaps = seen.times.slice(1).map((at, index) => at - seen.times[index]).sort((a, b) => a - b);
    return {
      frames: seen.times.length,
      blank: seen.blank,
      longestMs: gaps.at(-1) ?? 0,
      medianMs: gaps[Math.floor(gaps.length / 2)] ?? 0,
      px: Math.round(document.querySelector('.parts-grid').scrollTop - seen.from),
    };
  })()`);
}
