/** The server as a process: it moves an earlier folder forward after a backup, and makes the backups of its schedule (rules Z4, Z5). */

import { spawn } from 'node:child_process';
import { mkdtemp, readdir, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { OptionRefusal, readServerOptions } from '#api/server-options.ts';
import { checkBackup, restoreBackup } from '#db/backup/restore-backup.ts';
import { SCHEMA_STEPS } from '#db/migration/migrate.ts';

const SERVER = join(import.meta.dirname, '../../../api/server.ts');
const FIXTURE = join(import.meta.dirname, '../../db/migration/fixtures/0006-shared-tablets.tar');

let folder = '';
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tarebook-backup-server-'));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

it('[Z5] started on the folder of an earlier version it keeps what was, says where, and begins its schedule', {
  timeout: 180_000,
}, async () => {
  const data = join(folder, 'data');
  const { manifest } = await restoreBackup({ kind: 'folder', path: data }, FIXTURE, 'as it was');
  const child = spawn(process.execPath, [SERVER, '--data', data, '--port', '0', '--backup-hours', '12'], {
    env: { ...process.env, DATABASE_URL: '' },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let said = '';
  for (const stream of [child.stdout, child.stderr])
    stream.on('data', (chunk) => {
      said += String(chunk);
    });
  const gone = new Promise((resolve) => child.once('close', resolve));
  try {
    const made = async () => (await readdir(`${data}-backups`).catch(() => [])).filter((name) => name.endsWith('.tar'));
    while ((await made()).length < 2 && child.exitCode === null) await sleep(50);
    child.kill('SIGTERM');
    expect(await gone).toBe(0);
    const [before = '', scheduled = ''] = (await made()).sort();
    expect([before, scheduled]).toEqual([
      expect.stringContaining('before-upgrade'),
      expect.stringContaining('scheduled'),
    ]);
    expect(said).toContain(`A backup of them as they were: ${join(`${data}-backups`, before)}\n`);
    const [was, is] = [before, scheduled].map((name) => checkBackup(join(`${data}-backups`, name)).manifest);
    expect(was?.schema).toEqual(manifest.schema);
    expect(is?.schema).toEqual(SCHEMA_STEPS);
    expect([was?.aircraft, is?.aircraft]).toEqual([manifest.aircraft, manifest.aircraft]);
  } finally {
    child.kill('SIGKILL');
  }
});

it('[Z5] hours and how many to keep are whole numbers, by option or by environment', () => {
  const plan = (args: readonly string[], env = {}) => readServerOptions(args, env)?.backups;
  expect(plan([])).toMatchObject({
    folder: expect.stringMatching(/tarebook-data-backups$/),
    everyHours: undefined,
    keep: 14,
  });
  expect(plan([], { DATABASE_URL: 'postgres://x/y' })?.folder).toBe('tarebook-backups');
  const env = { TAREBOOK_BACKUP_FOLDER: 'kept', TAREBOOK_BACKUP_HOURS: '6', TAREBOOK_BACKUP_KEEP: '3' };
  expect(plan([], env)).toEqual({ folder: 'kept', everyHours: 6, keep: 3 });
  expect(plan(['--backup-hours', '1'], env)).toMatchObject({ everyHours: 1 });
  for (const hours of ['0', '-1', '1.5', 'daily', '8761'])
    expect(() => plan(['--backup-hours', hours])).toThrow(OptionRefusal);
  expect(() => plan(['--backup-keep', '0'])).toThrow('--backup-keep takes a whole number from 1');
});
