/** A process that is killed while it backs up or restores leaves nothing that is half of either (rules Z1, Z2). */
import { mkdtemp, readdir, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeBackup } from '#db/backup/make-backup.ts';
import { asOwner } from '#db/backup/read-store.ts';
import { checkBackup, restoreBackup } from '#db/backup/restore-backup.ts';
import { createDemonstration } from '#db/demo/create-demonstration.ts';
import { openStore, type StorePlace } from '#db/engine/open-store.ts';
import { startChild } from '#tests/support/child.ts';
import { makeDatabase, makeFolder, nobodyLeft, removePlace } from '#tests/support/engines.ts';
import { contentsOf } from './contents.ts';
import { fillStore } from './fill-store.ts';

const ROUNDS = 8;
const source = { kind: 'postgres' as const, url: '' };
let folder = '';

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tarebook-kill-'));
  source.url = await makeDatabase();
  const store = await openStore(source);
  const made = await createDemonstration(store.db, { by: 'Ann', today: '2026-06-30' });
  if (!made.ok) throw new Error(made.refusal.code);
  await store.db.transaction().execute(async (tx) => {
    await asOwner(tx);
    await fillStore(tx);
  });
  await makeBackup(store.db, join(folder, 'whole.tar'), new Date());
  await store.close();
});
afterAll(async () => {
  await removePlace(source);
  await rm(folder, { recursive: true, force: true });
});

describe('SIGKILL', () => {
  it('[Z1] while backups are made, every file that has the name of one is whole', async () => {
    const at = join(folder, 'made');
    let parts = 0;
    for (let round = 0; round < ROUNDS; round += 1) {
      const child = startChild(join(import.meta.dirname, 'backing.ts'), [source.url, at]);
      await child.said(round % 2 === 0 ? 1 : 2);
      await sleep(Math.random() * 120);
      await child.kill();
      const names = await readdir(at).catch(() => []);
      parts += names.filter((name) => name.endsWith('.part')).length;
      const done = child.lines.filter((line) => line === 'done').length;
      const whole = names.filter((name) => name.endsWith('.tar'));
      expect(whole.length).toBeGreaterThanOrEqual(done);
      for (const name of whole) expect(checkBackup(join(at, name)).manifest.aircraft).toHaveLength(3);
      await rm(at, { recursive: true, force: true });
    }
    // Else none was killed in the middle, and the test has shown nothing.
    expect(parts).toBeGreaterThan(0);
  });

  it.each(['folder', 'postgres'] as const)(
    '[Z2] while one is restored, the store is empty or whole (%s)',
    async (kind) => {
      const was = await contentsIn(source);
      const waits = kind === 'folder' ? [4_000, 600] : [0, 50, 150, 300, 500, 800];
      for (const waitMs of waits) {
        const place: StorePlace =
          kind === 'folder' ? { kind, path: await makeFolder() } : { kind, url: await makeDatabase() };
        try {
          const where = place.kind === 'folder' ? place.path : place.url;
          const child = startChild(join(import.meta.dirname, 'restoring.ts'), [kind, where, join(folder, 'whole.tar')]);
          await child.said(1);
          await sleep(waitMs);
          await child.kill();
          await nobodyLeft(place);
          if (!child.lines.includes('done')) {
            // What was not told as done may be whole, or not be there; then it can be restored once more.
            const refused = await restoreBackup(place, join(folder, 'whole.tar')).catch((error) => error.code);
            expect([expect.objectContaining({ otherwise: [] }), 'store-not-empty']).toContainEqual(refused);
          }
          expect(await contentsIn(place)).toEqual(was);
        } finally {
          await removePlace(place);
        }
      }
    },
  );
});

async function contentsIn(place: StorePlace) {
  const store = await openStore(place);
  try {
    return await contentsOf(store.db);
  } finally {
    await store.close();
  }
}
