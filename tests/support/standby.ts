/**
 * A standby of a test server: its data folder is copied while it runs (its package brings no program for that), and what happens since is streamed. Started
 * with the same program, as the user who owns the data.
 */
import { type ChildProcess, execFile, spawn } from 'node:child_process';
import { once } from 'node:events';
import { appendFile, rm, stat, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { promisify } from 'node:util';
import { onServer } from './engines.ts';
import { freePort } from './postgres-server.ts';

const run = promisify(execFile);

export type Standby = {
  /** The same database of it as that of a URL of its primary. */
  urlOf(primaryUrl: string): string;
  /** Waits until all that has been recorded has come here. */
  caughtUp(): Promise<void>;
  /** What comes from now on is not shown here until it is resumed. */
  pause(): Promise<void>;
  resume(): Promise<void>;
  kill(): Promise<void>;
  restart(): Promise<void>;
  stop(): Promise<void>;
};

/** `primaryUrl`: of a superuser, to a server on this machine that `startServer` started. */
export async function standbyOf(primaryUrl: string): Promise<Standby> {
  const { program, dataFolder } = await onServer(async (client) => {
    const found = await client.query<{ bin: string; data: string }>(
      "select (select setting from pg_config() where name = 'BINDIR') as bin, current_setting('data_directory') as data",
    );
    const { bin = '', data = '' } = found.rows[0] ?? {};
    return { program: join(bin, 'postgres'), dataFolder: data };
  }, primaryUrl);
  const folder = join(dirname(dataFolder), `standby-${await freePort()}`);
  const { uid, gid } = await stat(dataFolder);
  const port = await freePort();
  const { hostname, port: primaryPort, username, password } = new URL(primaryUrl);

  await onServer(async (client) => {
    await client.query("select pg_backup_start('standby', true)");
    await run('cp', ['-a', dataFolder, folder]);
    const stopped = await client.query<{ labelfile: string; spcmapfile: string }>(
      'select labelfile, spcmapfile from pg_backup_stop(false)',
    );
    const { labelfile = '', spcmapfile = '' } = stopped.rows[0] ?? {};
    await writeFile(join(folder, 'backup_label'), labelfile);
    if (spcmapfile !== '') await writeFile(join(folder, 'tablespace_map'), spcmapfile);
  }, primaryUrl);
  await rm(join(folder, 'postmaster.pid'), { force: true });
  await writeFile(join(folder, 'standby.signal'), '');
  const source = `host=${hostname} port=${primaryPort} user=${username} password=${password}`;
  await appendFile(join(folder, 'postgresql.auto.conf'), `primary_conninfo = '${source}'\n`);
  await run('chown', ['-R', `${uid}:${gid}`, folder]);

  const urlOf = (url: string) => Object.assign(new URL(url), { port: String(port) }).href;
  const ask = <Row>(statement: string, url = urlOf(primaryUrl)) =>
    onServer(async (client) => (await client.query(statement)).rows[0] as Row | undefined, url);
  let child: ChildProcess | undefined;
  let said = '';
  const start = async () => {
    const isRoot = process.getuid?.() === 0;
    const started = spawn(program, ['-D', folder, '-p', String(port), '-c', 'max_connections=200', '-c', 'fsync=off'], {
      ...(isRoot ? { uid, gid } : {}),
      stdio: ['ignore', 'ignore', 'pipe'],
    });
    child = started;
    started.stderr.on('data', (chunk) => {
      said = `${said}${String(chunk)}`.slice(-4_000);
    });
    for (let tries = 0; tries < 600; tries += 1) {
      if (started.exitCode !== null || started.signalCode !== null) break;
      const state = await ask<{ is: boolean }>('select pg_is_in_recovery() as is').catch(() => undefined);
      if (state?.is === true) return;
      await sleep(50);
    }
    started.kill('SIGQUIT');
    throw new Error(`The standby did not start. It said: ${said}`);
  };
  const end = async (signal: NodeJS.Signals) => {
    if (child === undefined || child.exitCode !== null || child.signalCode !== null) return;
    const ended = once(child, 'exit');
    child.kill(signal);
    await ended;
  };
  const until = async (statement: string) => {
    while ((await ask<{ is: boolean }>(statement))?.is !== true) await sleep(20);
  };
  const stop = async () => {
    await end('SIGINT');
    await rm(folder, { recursive: true, force: true });
  };
  try {
    await start();
  } catch (error) {
    await stop();
    throw error;
  }
  return {
    urlOf,
    async caughtUp() {
      const now = await ask<{ lsn: string }>('select pg_current_wal_insert_lsn()::text as lsn', primaryUrl);
      await until(`select pg_last_wal_replay_lsn() >= '${now?.lsn}'::pg_lsn as is`);
    },
    async pause() {
      await ask('select pg_wal_replay_pause()');
      await until("select pg_get_wal_replay_pause_state() = 'paused' as is");
    },
    async resume() {
      await ask('select pg_wal_replay_resume()');
    },
    // Its main process alone: the others end when they find it gone.
    kill: () => end('SIGKILL'),
    restart: start,
    stop,
  };
}
