/** A full disk under the embedded engine: refused in words with the remedy, nothing half recorded, and on it goes once there is room (S8). */
import { execFileSync } from 'node:child_process';
import { appendFile, mkdtemp, rm, stat, truncate } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { sql } from 'kysely';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openStore, type Store } from '#db/engine/open-store.ts';
import { verifyChain } from '#db/ledger/verify.ts';
import { loadLedger } from '#db/record/load-ledger.ts';
import { headlineReport } from '#shared/rollup/report.ts';
import { aircraftIn, newId, openShop, partsIn, problemOf, type Shop } from '#tests/api/door-shop.ts';

/** A disk of its own takes root on Linux: elsewhere there is none to fill without filling the machine's. */
const mayMount = process.platform === 'linux' && process.getuid?.() === 0;
const diskMb = 120;

describe('a full disk', () => {
  let disk = '';
  beforeEach(async () => {
    disk = await mkdtemp(join(tmpdir(), 'tarebook-disk-'));
    if (mayMount) execFileSync('mount', ['-t', 'tmpfs', '-o', `size=${diskMb}m`, 'tmpfs', disk]);
  });
  afterEach(async () => {
    if (mayMount) execFileSync('umount', ['-l', disk]);
    await rm(disk, { recursive: true, force: true });
  });

  const filler = () => join(disk, 'filler');
  async function fill(): Promise<void> {
    for (let bytes = 1024 * 1024; bytes >= 4096; )
      await appendFile(filler(), Buffer.alloc(bytes)).catch(() => {
        bytes /= 2;
      });
  }

  /** Room for rows, and too little for another file of the log (16 MB). */
  async function fillAllButRows(): Promise<void> {
    await fill();
    await truncate(filler(), (await stat(filler())).size - 2 * 1024 * 1024);
  }

  it('[S8] refuses what cannot be recorded, keeps what was, and goes on by itself when there is room', {
    timeout: 300_000,
  }, async () => {
    if (!mayMount) return;
    const place = { kind: 'folder', path: join(disk, 'data') } as const;
    let store = await openStore(place);
    let shop = openShop(store);
    const { cookie } = await shop.person('lead');
    const aircraftId = await aircraftIn(shop, cookie);
    await partsIn(shop, cookie, aircraftId);
    const path = `/api/aircraft/${aircraftId}`;
    const taken: string[] = [];
    const refused: { id: string; kind: string; text: string }[] = [];
    /** Notes until one is refused, which must be in words. */
    const noteUntilRefused = async () => {
      for (;;) {
        const body = { id: newId(), kind: 'note', text: `${taken.length} `.repeat(300) };
        const answer = await shop.call('POST', `${path}/entries`, { cookie, body });
        if (answer.status !== 201) {
          refused.push(body);
          const { remedy } = await problemOf(answer, 503, 'disk-full');
          expect(remedy).toMatch(/makes room on its disk\. Then send it again/);
          return;
        }
        taken.push(body.id);
      }
    };
    const whole = () => isWhole(store, shop, { aircraftId, cookie, taken });

    // The tables cannot grow: the engine goes on, and whoever only reads is answered.
    await fill();
    await noteUntilRefused();
    expect((await shop.call('GET', path, { cookie })).status).toBe(200);
    await whole();

    // Its log cannot grow: it ends itself, and is started again once that is possible.
    await fillAllButRows();
    await switchLog(store);
    await noteUntilRefused();
    for (let count = 0; count < 3; count += 1) expect((await shop.call('GET', path, { cookie })).status).toBe(503);
    await truncate(filler(), 0);
    await sendUntilTaken(shop, `${path}/entries`, cookie, refused, taken);
    await whole();
    expect(shop.logged.join('')).toMatch(/^The disk is full \(request /);
    expect(shop.logged.join('')).not.toContain('Fault');

    // Closed on a full disk, and opened when there is room.
    await fill();
    await noteUntilRefused();
    shop.close();
    await store.close();
    const other = openStore({ kind: 'folder', path: join(disk, 'other') });
    await expect(other).rejects.toMatchObject({ code: 'disk-full', remedy: expect.stringMatching(/^Make room on it/) });
    await truncate(filler(), 0);
    store = await openStore(place);
    shop = openShop(store);
    await sendUntilTaken(shop, `${path}/entries`, cookie, refused, taken);
    await whole();
    shop.close();
    await store.close();
  });
});

/** The engine's next record begins another file of its log, as after 16 MB of them. */
async function switchLog(store: Store): Promise<void> {
  const owner = store.db.transaction().execute(async (tx) => {
    await sql`set local role none`.execute(tx);
    await sql`select pg_switch_wal()`.execute(tx);
  });
  // Where the other file cannot be made already here, all the same.
  await owner.catch(() => undefined);
}

type Body = { id: string; kind: string; text: string };

async function sendUntilTaken(shop: Shop, path: string, cookie: string, refused: Body[], taken: string[]) {
  for (const body of refused.splice(0)) {
    let answer = await shop.call('POST', path, { cookie, body });
    for (let tries = 0; answer.status === 503 && tries < 100; tries += 1) {
      await new Promise((resolve) => setTimeout(resolve, 200));
      answer = await shop.call('POST', path, { cookie, body });
    }
    expect([200, 201]).toContain(answer.status);
    taken.push(body.id);
  }
}

async function isWhole(
  store: Store,
  shop: Shop,
  { aircraftId, cookie, taken }: { aircraftId: string; cookie: string; taken: readonly string[] },
): Promise<void> {
  const ledger = await loadLedger(store.db, aircraftId);
  const ids = ledger.entries.map(({ entry }) => entry.id as string);
  expect(ids.slice(5)).toEqual(taken);
  expect(await verifyChain(store.db, aircraftId)).toMatchObject({ ok: true, entryCount: ids.length });
  const answer = await shop.call('GET', `/api/aircraft/${aircraftId}`, { cookie });
  expect(await answer.json()).toMatchObject({ headline: JSON.parse(JSON.stringify(headlineReport(ledger))) });
}
