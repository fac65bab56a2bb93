/** The embedded engine's folder: one process at a time (S3), commits on the disk (S2), and what is not ours is left alone. */
import { execFile } from 'node:child_process';
import { chmod, chown, mkdir, readdir, readFile, rm, stat, utimes, writeFile } from 'node:fs/promises';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { sql } from 'kysely';
import { afterEach, describe, expect, it } from 'vitest';
import { checkpointIfDue } from '#db/engine/embedded-engine.ts';
import { lockFolder } from '#db/engine/folder-lock.ts';
import { openFolder, openStore } from '#db/engine/open-store.ts';
import { appendEntries } from '#db/ledger/append.ts';
import { findAircraft } from '#db/ledger/list-aircraft.ts';
import { startChild } from '#tests/support/child.ts';
import { makeAircraft, makeFolder, removePlace } from '#tests/support/engines.ts';
import { contentOf } from '#tests/support/entry-content.ts';

const holderFile = join(import.meta.dirname, '..', 'faults', 'hold-folder.ts');
const openerFile = join(import.meta.dirname, 'open-as.ts');
/** A user without any right of its own. */
const NOBODY = 65_534;
const made: string[] = [];

async function folder(): Promise<string> {
  const path = await makeFolder();
  made.push(path);
  return path;
}

afterEach(async () => {
  for (const path of made.splice(0)) await removePlace({ kind: 'folder', path });
});

describe('one process per folder', () => {
  it('[S3] a second process is refused and told the first, until the first is killed', async () => {
    const path = await folder();
    const holder = startChild(holderFile, [path]);
    await holder.said(1);
    const refused = openStore({ kind: 'folder', path });
    await expect(refused).rejects.toMatchObject({
      name: 'StoreRefusal',
      code: 'folder-in-use',
      remedy: expect.stringMatching(/^Stop it first\. .*the PDF of a brief on the page of the brief.*--data\.$/),
    });
    await expect(refused).rejects.toThrow(
      `The data folder ${path} is in use by process ${holder.process.pid} on host ${hostname()} since 20`,
    );
    await holder.kill();
    const start = performance.now();
    const lock = await lockFolder(path);
    // Nothing to wait for, as there would be with a beat to watch for: the kernel has freed the lock.
    if (process.platform === 'linux') expect(performance.now() - start).toBeLessThan(5_000);
    await lock.release();
    await (await openStore({ kind: 'folder', path })).close();
  });

  it('[S3] two stores of one process on one folder are refused, also by another way to the folder', async () => {
    const path = await folder();
    const first = await openStore({ kind: 'folder', path });
    await expect(openStore({ kind: 'folder', path })).rejects.toMatchObject({ code: 'folder-in-use' });
    await expect(openStore({ kind: 'folder', path: `${path}/../data/.` })).rejects.toThrow(`process ${process.pid}`);
    await first.close();
    await first.close();
    expect((await readdir(path)).sort()).toEqual(['pgdata', 'sealed.txt', 'tarebook.json']);
    await (await openStore({ kind: 'folder', path })).close();
  });

  it('[S3] of many that start at once on a new folder exactly one gets it', async () => {
    const path = await folder();
    const answers = await Promise.allSettled(Array.from({ length: 4 }, () => openStore({ kind: 'folder', path })));
    const opened = answers.flatMap((answer) => (answer.status === 'fulfilled' ? [answer.value] : []));
    expect(opened).toHaveLength(1);
    for (const answer of answers) if (answer.status === 'rejected') expect(answer.reason.code).toBe('folder-in-use');
    for (const store of opened) await store.close();
  });
});

describe('the lock file', () => {
  const elsewhere = (fields: object) =>
    JSON.stringify({
      pid: 1,
      host: 'far',
      since: '2026-01-01',
      token: 't',
      sight: 'other',
      socketName: 's',
      ...fields,
    });

  async function emptyFolder(): Promise<string> {
    const path = await folder();
    await mkdir(path, { recursive: true });
    return path;
  }

  it('[S3] a holder that cannot be seen and still beats keeps the folder', async () => {
    const path = await emptyFolder();
    const ownerPath = join(path, 'owner.json');
    await writeFile(ownerPath, elsewhere({}));
    let beats = 0;
    const beating = setInterval(() => {
      beats += 1;
      utimes(ownerPath, beats, beats).catch(() => undefined);
    }, 50);
    await expect(lockFolder(path, { watchMs: 3_000 })).rejects.toThrow('in use by process 1 on host far since 2026');
    clearInterval(beating);
    // The refused one has not kept the socket.
    const lock = await lockFolder(path, { watchMs: 400 });
    expect(await readFile(ownerPath, 'utf8')).toContain(`"pid":${process.pid}`);
    await lock.release();
    expect(await readdir(path)).toEqual([]);
  });

  it('[S3] an owner file that cannot be read is taken over when nobody beats', async () => {
    const path = await emptyFolder();
    await writeFile(join(path, 'owner.json'), '{"pid":');
    await (await lockFolder(path, { watchMs: 300 })).release();
  });

  it('[S3] without sockets the living process keeps the folder and a dead one does not', async () => {
    const path = await emptyFolder();
    const first = await lockFolder(path, { platform: 'darwin' });
    await expect(lockFolder(path, { platform: 'darwin' })).rejects.toMatchObject({ code: 'folder-in-use' });
    await first.release();
    await writeFile(
      join(path, 'owner.json'),
      elsewhere({ pid: 2_147_483_646, host: hostname(), sight: '', socketName: '' }),
    );
    const second = await lockFolder(path, { platform: 'darwin', watchMs: 60_000 });
    await second.release();
  });

  it('[S3] the holder beats', async () => {
    const path = await emptyFolder();
    const lock = await lockFolder(path);
    const ownerPath = join(path, 'owner.json');
    // Seen as from another machine, which has only the beat to go by.
    await writeFile(ownerPath, (await readFile(ownerPath, 'utf8')).replace(hostname(), 'far'));
    const elsewhereSees = lockFolder(path, { platform: 'darwin', watchMs: 6_000 });
    await expect(elsewhereSees).rejects.toMatchObject({ code: 'folder-in-use' });
    await lock.release();
  });
});

describe('commits', () => {
  it('[S2] each commit of a folder is brought to the disk, and the settings say so', async () => {
    const path = await folder();
    const store = await openFolder(path);
    const settings = await sql`select current_setting('fsync') as fsync, current_setting('wal_sync_method') as method,
      current_setting('synchronous_commit') as commit, current_setting('full_page_writes') as pages,
      current_setting('shared_buffers') as buffers`.execute(store.db);
    expect(settings.rows).toEqual([{ fsync: 'on', method: 'fsync', commit: 'on', pages: 'on', buffers: '16MB' }]);
    const aircraftId = await makeAircraft(store.db);
    const before = store.syncCount();
    for (let count = 0; count < 20; count += 1) await appendEntries(store.db, { aircraftId, contents: [contentOf()] });
    expect(store.syncCount() - before).toBeGreaterThanOrEqual(20);
    // The engine's log is cut short by the app's own connection, and only when it has grown.
    expect(await checkpointIfDue(store.db, 1e12)).toBe(false);
    expect(await checkpointIfDue(store.db, 5_000)).toBe(true);
    expect(await checkpointIfDue(store.db, 5_000)).toBe(false);
    await store.close();
  });

  it('[S2] what was written is there after closing and opening again', async () => {
    const path = await folder();
    const first = await openStore({ kind: 'folder', path });
    const aircraftId = await makeAircraft(first.db);
    await appendEntries(first.db, { aircraftId, contents: [contentOf()] });
    await first.close();
    const second = await openStore({ kind: 'folder', path });
    expect(await findAircraft(second.db, aircraftId)).toMatchObject({ headSeq: 1 });
    await second.close();
  });

  it('[S1] a store in memory takes entries and keeps none', async () => {
    const store = await openStore({ kind: 'memory' });
    expect(store.engine).toBe('memory');
    const aircraftId = await makeAircraft(store.db);
    expect(await appendEntries(store.db, { aircraftId, contents: [contentOf()] })).toMatchObject({ ok: true });
    await store.close();
  });
});

describe('what is not a data folder', () => {
  it('[S3] a folder that holds something else is refused and left as it is', async () => {
    const path = await folder();
    await mkdir(path, { recursive: true });
    await writeFile(join(path, 'thesis.txt'), 'mine');
    await expect(openStore({ kind: 'folder', path })).rejects.toMatchObject({ code: 'not-a-data-folder' });
    expect(await readdir(path)).toEqual(['thesis.txt']);
    await writeFile(join(path, 'tarebook.json'), 'something else');
    await expect(openStore({ kind: 'folder', path })).rejects.toMatchObject({ code: 'not-a-data-folder' });
    expect((await readdir(path)).sort()).toEqual(['tarebook.json', 'thesis.txt']);
  });

  it('[S3] a file, and a path below a file, are refused', async () => {
    const path = await folder();
    await writeFile(path, 'a file');
    await expect(openStore({ kind: 'folder', path })).rejects.toMatchObject({ code: 'not-a-folder' });
    await expect(openStore({ kind: 'folder', path: join(path, 'below') })).rejects.toMatchObject({
      code: 'not-a-folder',
    });
  });

  it('[S3] a place that cannot be written is refused', async () => {
    // A place that even root cannot write is known on Linux only.
    if (process.platform !== 'linux') return;
    const refused = openStore({ kind: 'folder', path: '/proc/tarebook-test' });
    await expect(refused).rejects.toMatchObject({ code: 'folder-not-writable' });
  });

  it('[S3] what this user may not read is refused by its name, not called damage, and the folder opens again with the right to it', async () => {
    if (process.platform === 'win32') return;
    const path = await folder();
    await (await openStore({ kind: 'folder', path })).close();
    const isRoot = process.getuid?.() === 0;
    // Root may read everything: the data are given to another user, all but one, and opened as that one.
    if (isRoot) await promisify(execFile)('chown', ['-R', `${NOBODY}`, join(path, '..')]);
    for (const name of ['tarebook.json', 'sealed.txt', 'pgdata/global/pg_control', 'pgdata/base', 'pgdata']) {
      const { mode } = await stat(join(path, name));
      if (isRoot) await chown(join(path, name), 0, 0);
      await chmod(join(path, name), isRoot ? 0o700 : 0);
      const child = startChild(openerFile, [path, ...(isRoot ? [`${NOBODY}`] : [])]);
      await child.ended;
      const refused = `^folder-not-writable This user may not .*/${name} in the data folder .EACCES.`;
      expect(child.lines.join('\n')).toMatch(new RegExp(refused));
      if (isRoot) await chown(join(path, name), NOBODY, -1);
      await chmod(join(path, name), mode);
    }
    // What is not the engine's is not asked for: a key that is not to be changed, a file system's own folder.
    await writeFile(join(path, 'checkpoint-key.pem'), 'a key', { mode: 0o400 });
    await mkdir(join(path, 'lost+found'), { mode: isRoot ? 0o700 : 0 });
    const child = startChild(openerFile, [path, ...(isRoot ? [`${NOBODY}`] : [])]);
    await child.ended;
    expect(child.lines).toEqual(['opened']);
  });

  it('[S3] engine files that were never finished are made anew', async () => {
    const path = await folder();
    await mkdir(join(path, 'pgdata'), { recursive: true });
    await writeFile(join(path, 'tarebook.json'), '{"tarebook":1,"state":"preparing"}');
    await writeFile(join(path, 'pgdata', 'PG_VERSION'), '18\n');
    await (await openStore({ kind: 'folder', path })).close();
    expect(await readFile(join(path, 'tarebook.json'), 'utf8')).toContain('ready');
  });

  it('[S3] a folder of a newer layout is refused', async () => {
    const path = await folder();
    await mkdir(path, { recursive: true });
    await writeFile(join(path, 'tarebook.json'), '{"tarebook":2,"state":"ready"}');
    await expect(openStore({ kind: 'folder', path })).rejects.toMatchObject({ code: 'schema-newer' });
  });

  it('[S3] damaged data is refused in words, and the folder is free again', async () => {
    const path = await folder();
    await (await openStore({ kind: 'folder', path })).close();
    await rm(join(path, 'pgdata', 'global'), { recursive: true });
    for (let attempt = 0; attempt < 2; attempt += 1) {
      await expect(openStore({ kind: 'folder', path })).rejects.toMatchObject({ code: 'folder-damaged' });
    }
  });
});
