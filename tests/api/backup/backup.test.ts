/** Backups through the doors and by the schedule (rules Z5, Z6). */
import { createHash } from 'node:crypto';
import { mkdir, mkdtemp, readdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { backupName } from '#db/backup/folder.ts';
import { checkBackup } from '#db/backup/restore-backup.ts';
import { BackupReport, BackupState } from '#shared/contract/backup.ts';
import { aircraftIn, openShop, partsIn, problemOf, type Shop } from '#tests/api/door-shop.ts';
import { describeOnBothEngines } from '#tests/support/engines.ts';

const HOUR_MS = 3_600_000;

describeOnBothEngines('backups', (engine) => {
  let folder = '';
  let shop: Shop;
  const open = (everyHours?: number, keep = 3) => {
    shop = openShop(engine.store(), { backupPlan: { folder, everyHours, keep } });
  };
  beforeEach(async () => {
    folder = join(await mkdtemp(join(tmpdir(), 'tarebook-server-backups-')), 'kept');
  });
  afterEach(async () => {
    shop.close();
    await rm(join(folder, '..'), { recursive: true, force: true });
  });

  const stateOf = async (cookie: string) => {
    const answer = await shop.call('GET', '/api/backups', { cookie });
    expect(answer.status).toBe(200);
    return BackupState.parse(await answer.json());
  };
  const healthOf = async () => ((await (await shop.call('GET', '/api/health')).json()) as { backups: string }).backups;

  it('[Z6] a lead makes one while an entry is recorded, finds it in the list, and fetches what can be restored', async () => {
    open();
    const { cookie } = await shop.person('lead');
    const aircraftId = await aircraftIn(shop, cookie);
    const making = shop.call('POST', '/api/backups', { cookie });
    await partsIn(shop, cookie, aircraftId);
    const answer = await making;
    expect(answer.status).toBe(201);
    const report = BackupReport.parse(await answer.json());
    expect(report).toMatchObject({
      why: 'asked',
      aircraft: expect.arrayContaining([expect.objectContaining({ id: aircraftId })]),
    });

    const { sha256, aircraft, ...kept } = report;
    expect(await stateOf(cookie)).toEqual({ folder: 'kept', keep: 3, isMaking: false, backups: [kept] });
    const file = await shop.call('GET', `/api/backups/${report.name}`, { cookie });
    expect([file.status, file.headers.get('content-type'), file.headers.get('content-length')]).toEqual([
      200,
      'application/x-tar',
      String(report.bytes),
    ]);
    const bytes = Buffer.from(await file.arrayBuffer());
    expect(createHash('sha256').update(bytes).digest('hex')).toBe(sha256);
    const copy = join(folder, 'copy.tar');
    await writeFile(copy, bytes);
    expect(checkBackup(copy).manifest.aircraft.map(({ id }) => id)).toEqual(aircraft.map(({ id }) => id));
    expect(await healthOf()).toBe('not scheduled');
  });

  it('[Z6] who may not see all aircraft has no part in it, and no path leads out of the folder', async () => {
    open();
    const { cookie: lead } = await shop.person('lead');
    const { cookie: some } = await shop.person('lead', [await aircraftIn(shop, lead)]);
    await writeFile(join(folder, '..', 'other.tar'), 'x');
    await mkdir(folder);
    await writeFile(join(folder, 'notes.txt'), 'x');
    const name = backupName(new Date(), 'asked');
    await writeFile(join(folder, name), 'x');
    for (const [method, path] of [
      ['GET', '/api/backups'],
      ['POST', '/api/backups'],
      ['GET', `/api/backups/${name}`],
    ] as const)
      await problemOf(await shop.call(method, path, { cookie: some }), 403, 'not-allowed');
    for (const path of ['notes.txt', '..%2Fother.tar', backupName(new Date(0), 'asked'), `..%2Fkept%2F${name}`])
      await problemOf(await shop.call('GET', `/api/backups/${path}`, { cookie: lead }), 404, 'not-found');
    expect(await readdir(folder)).toEqual(expect.arrayContaining([name, 'notes.txt']));
  });

  it('[Z6] one that cannot be written is told with what to do, and leaves nothing', async () => {
    open();
    const { cookie } = await shop.person('lead');
    // A file where the folder should be: refused to root as well.
    await writeFile(folder, '');
    const report = await problemOf(await shop.call('POST', '/api/backups', { cookie }), 500, 'server-fault');
    expect(report.problems).toEqual([expect.objectContaining({ code: 'backup-not-written' })]);
    expect(report.remedy).toContain('disk has room');
    await problemOf(await shop.call('GET', '/api/backups', { cookie }), 500, 'server-fault');
  });

  it('[Z5] the schedule makes one when it is due, keeps the newest, and takes a new start for no reason to repeat one', async () => {
    open(6, 2);
    const { cookie } = await shop.person('lead');
    await shop.services.backups.makeDue();
    await shop.services.backups.makeDue();
    const [first] = (await stateOf(cookie)).backups;
    expect(await readdir(folder)).toEqual([first?.name]);
    expect(first?.why).toBe('scheduled');
    shop.later(6 * HOUR_MS - 1000);
    await shop.services.backups.makeDue();
    expect(await readdir(folder)).toHaveLength(1);
    shop.later(2000);
    await shop.services.backups.makeDue();
    await shop.services.backups.makeDue();
    expect(await readdir(folder)).toHaveLength(2);
    expect((await shop.call('POST', '/api/backups', { cookie })).status).toBe(201);
    shop.later(7 * HOUR_MS);
    await shop.services.backups.makeDue();
    const { backups } = await stateOf(cookie);
    expect(backups.map(({ why }) => why)).toEqual(['scheduled', 'scheduled', 'asked']);
    expect(backups.map(({ name }) => name)).not.toContain(first?.name);
    for (const { name } of backups) expect(checkBackup(join(folder, name)).manifest.format).toBe(1);
    expect([await healthOf(), shop.logged]).toEqual(['made', []]);
  });

  it('[Z5] one that fails is told in log, health and list until one is made, and is tried again before the next is due', async () => {
    open(24);
    const { cookie } = await shop.person('lead');
    await writeFile(folder, '');
    await shop.services.backups.makeDue();
    expect(shop.logged.join('')).toMatch(/^BACKUP FAILED: .* may read and write in it\.\n$/);
    expect(await healthOf()).toBe('failing');
    await shop.services.backups.makeDue();
    expect(shop.logged).toHaveLength(1);
    await rm(folder);
    const state = await stateOf(cookie);
    expect(state.failure?.words).toContain('cannot be read (ENOTDIR)');
    expect(state.backups).toEqual([]);
    shop.later(16 * 60 * 1000);
    await shop.services.backups.makeDue();
    expect(shop.logged[1]).toBe('The scheduled backup has been made again.\n');
    expect([await healthOf(), (await stateOf(cookie)).failure]).toEqual(['made', undefined]);
  });

  it('[Z5] a server that stops gives up the one it makes, and leaves nothing half written', async () => {
    open(1);
    const making = shop.services.backups.make('asked');
    shop.close();
    await expect(making).rejects.toThrow();
    expect(await readdir(folder).catch(() => [])).toEqual([]);
    await shop.services.backups.makeDue();
    expect(shop.logged).toEqual([]);
  });
});
