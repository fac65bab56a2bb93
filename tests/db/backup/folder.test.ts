/** The folder of backups: names that sort, and what is taken away again (rule Z5). */
import { mkdtemp, readdir, rm, utimes, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { backupName, isBackupName, keepNewest, listBackups } from '#db/backup/folder.ts';

const NOW = new Date('2026-06-30T12:00:00.000Z');
const daysAgo = (days: number) => new Date(NOW.getTime() - days * 86_400_000);

let folder = '';
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tarebook-backups-'));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

const put = (name: string) => writeFile(join(folder, name), 'x');

it('[Z5] a name tells moment and reason, and no path is taken for one', async () => {
  await put(backupName(NOW, 'before upgrade'));
  await put('holiday.tar');
  expect(await listBackups(folder)).toEqual([
    {
      name: 'tarebook-20260630T120000000Z-before-upgrade.tar',
      why: 'before upgrade',
      madeAt: NOW.toISOString(),
      bytes: 1,
    },
  ]);
  expect(await listBackups(join(folder, 'none'))).toEqual([]);
  for (const name of [
    '../tarebook-20260630T120000000Z-asked.tar',
    'tarebook-20260630T120000000Z-asked.tar.part',
    'x.tar',
  ])
    expect(isBackupName(name)).toBe(false);
});

it('[Z5] the newest of the schedule are kept, and nothing that anybody else made is taken away', async () => {
  for (const days of [0, 1, 2, 3, 4]) await put(backupName(daysAgo(days), 'scheduled'));
  const others = [
    backupName(daysAgo(400), 'asked'),
    backupName(daysAgo(300), 'before upgrade'),
    'notes.txt',
    'own.tar',
  ];
  for (const name of others) await put(name);
  const dead = `${backupName(daysAgo(2), 'scheduled')}.part`;
  const young = `${backupName(NOW, 'asked')}.part`;
  for (const name of [dead, young]) await put(name);
  await utimes(join(folder, dead), daysAgo(2), daysAgo(2));
  await utimes(join(folder, young), NOW, NOW);

  const old = [backupName(daysAgo(3), 'scheduled'), backupName(daysAgo(4), 'scheduled')];
  expect(await keepNewest(folder, 3, NOW)).toEqual(old);
  const kept = [0, 1, 2].map((days) => backupName(daysAgo(days), 'scheduled'));
  expect((await readdir(folder)).sort()).toEqual([...kept, ...others, young].sort());
});

it('[S10] what was made while the clock was ahead stays, and does not push out what is made now', async () => {
  const ahead = [1, 2, 3].map((days) => backupName(daysAgo(-days), 'scheduled'));
  const now = [0, 1].map((days) => backupName(daysAgo(days), 'scheduled'));
  for (const name of [...ahead, ...now]) await put(name);
  expect(await keepNewest(folder, 2, NOW)).toEqual([]);
  expect((await readdir(folder)).sort()).toEqual([...ahead, ...now].sort());
});
