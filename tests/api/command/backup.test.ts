/** `backup` and `restore` in a shell (rules Z1 to Z3). */
import { existsSync } from 'node:fs';
import { mkdtemp, readdir, rm, truncate, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { restoreBackup } from '#db/backup/restore-backup.ts';
import { openStore } from '#db/engine/open-store.ts';
import { makeDatabase, removePlace } from '#tests/support/engines.ts';
import { run } from './run.ts';

let folder = '';
let data = '';
let file = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tarebook-backup-command-'));
  data = join(folder, 'data');
  file = join(folder, 'one.tar');
  expect((await run(['demo', '--data', data])).exit).toBe(0);
});
afterAll(() => rm(folder, { recursive: true, force: true }));

it('[Z2] from the embedded database into PostgreSQL by two commands, and the ledger reads the same there', async () => {
  const backedUp = await run(['backup', '--to', file, '--data', data]);
  expect({ exit: backedUp.exit, err: backedUp.err }).toEqual({ exit: 0, err: '' });
  expect(backedUp.out).toMatch(
    /^Backed up to .*one\.tar: 1 aircraft, \d+ entries, 0 photos, 0 accounts, \d\.\d MB\. SHA-256 [0-9a-f]{64}\n/,
  );
  const [, aircraft = ''] = backedUp.out.split('\n');
  expect(aircraft).toMatch(
    /^ {2}Dabchick .*: \d+ entries, predicted \d+\.\d{3} kg, CG x \d\.\d+ m\. Last hash [0-9a-f]{64}$/,
  );

  const url = await makeDatabase();
  try {
    const env = { DATABASE_URL: url };
    const restored = await run(['restore', '--from', file], { env });
    expect({ exit: restored.exit, err: restored.err }).toEqual({ exit: 0, err: '' });
    expect(restored.out).toContain('Every chain is whole, and every headline is the one it was.');
    expect(restored.out).toContain(aircraft);
    const [here, there] = [await run(['show', '--data', data]), await run(['show'], { env })];
    expect(there).toEqual(here);
    const again = await run(['restore', '--from', file], { env });
    expect(again.exit).toBe(2);
    expect(again.err).toContain('into an empty store only. Nothing was restored. Give a new folder with --data');
  } finally {
    await removePlace({ kind: 'postgres', url });
  }
});

it('[Z3] --check looks and restores nothing; --json tells the same to programs', async () => {
  const made = await run(['backup', '--data', data, '--json'], {
    env: { TAREBOOK_BACKUP_FOLDER: join(folder, 'kept') },
  });
  expect(made.exit).toBe(0);
  const { to, rows, aircraft } = JSON.parse(made.out);
  expect(await readdir(join(folder, 'kept'))).toEqual([expect.stringMatching(/^tarebook-\d{8}T\d{9}Z-asked\.tar$/)]);
  expect(rows).toMatchObject({ aircraft: 1, entry: aircraft[0].entryCount });
  const checked = await run(['restore', '--from', to, '--check', '--json', '--data', join(folder, 'never')]);
  expect(JSON.parse(checked.out)).toMatchObject({ restored: false, rows, aircraft, headlineOtherwise: [] });
  expect(existsSync(join(folder, 'never'))).toBe(false);
});

it('[Z3] what cannot be restored is told in words or in JSON, and makes no folder', async () => {
  const torn = join(folder, 'torn.tar');
  expect((await run(['backup', '--to', torn, '--data', data])).exit).toBe(0);
  await truncate(torn, 5_000);
  const target = join(folder, 'not-made');
  const told = await run(['restore', '--from', torn, '--data', target]);
  expect({ exit: told.exit, out: told.out }).toEqual({ exit: 2, out: '' });
  expect(told.err).toMatch(
    /torn\.tar is not as it was written: it is cut off\. Nothing was restored\. Take another copy/,
  );
  const json = await run(['restore', '--from', join(folder, 'none.tar'), '--data', target, '--json']);
  expect(JSON.parse(json.out)).toMatchObject({ problems: [{ code: 'backup-unreadable' }] });
  expect(existsSync(target)).toBe(false);
});

it('[Z1] a file that is there, a folder that is not, and a folder that a server holds are told with what to do', async () => {
  const taken = join(folder, 'taken.tar');
  await writeFile(taken, 'x');
  expect(await run(['backup', '--to', taken, '--data', data])).toMatchObject({
    exit: 2,
    err: expect.stringContaining('is there already'),
  });
  expect(await run(['backup', '--data', join(folder, 'none')])).toMatchObject({
    exit: 2,
    err: expect.stringContaining('There is no data folder'),
  });
  const store = await openStore({ kind: 'folder', path: data });
  const held = await run(['backup', '--to', join(folder, 'held.tar'), '--data', data]);
  await store.close();
  expect(held).toMatchObject({
    exit: 2,
    err: expect.stringContaining('let a lead ask for one there, or start it with --backup-hours'),
  });
  expect(existsSync(join(folder, 'held.tar'))).toBe(false);
});

it('[Z4] data of an earlier schema are backed up as they are, and moved forward by the next command that opens them', async () => {
  const old = join(folder, 'old');
  const fixture = join(import.meta.dirname, '../../db/migration/fixtures/0002-people.tar');
  await restoreBackup({ kind: 'folder', path: old }, fixture, 'as it was');
  const kept = join(folder, 'kept-old');
  const asItIs = await run(['backup', '--to', join(kept, 'own.tar'), '--data', old, '--json']);
  expect(JSON.parse(asItIs.out)).toMatchObject({ schema: ['0001-ledger', '0002-people'] });
  const opened = await run(['aircraft', '--data', old], { env: { TAREBOOK_BACKUP_FOLDER: kept } });
  expect(opened).toMatchObject({ exit: 0, err: expect.stringContaining('A backup of them as they were:') });
  expect(await readdir(kept)).toEqual(['own.tar', expect.stringContaining('before-upgrade')]);
  expect(await run(['aircraft', '--data', old])).toMatchObject({ exit: 0, err: '' });
});
