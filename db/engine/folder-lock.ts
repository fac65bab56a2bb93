/**
 * One process per data folder. The embedded engine has no lock of its own, and two of them on one folder lose each
 * other's rows in silence.
 *
 * On Linux the lock is an abstract unix socket: the kernel frees it when its process ends, however it ends. It is known
 * only within one network namespace, so an owner file in the folder says who holds it, and its time stamp beats while
 * the holder lives: a process that cannot see the holder's socket (another container, another machine on a shared disk)
 * watches for that beat. Elsewhere the owner file alone is the lock, checked against the living processes.
 *
 * Knows nothing of what is in the folder otherwise.
 */
import { createHash, randomUUID } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { link, readFile, readlink, realpath, rename, rm, stat, utimes, writeFile } from 'node:fs/promises';
import { createServer, type Server } from 'node:net';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { StoreRefusal } from '#db/engine/store-refusal.ts';
import { say } from '#shared/words/say.ts';

export const ownerFileName = 'owner.json';

const beatEveryMs = 2_000;
/** Several beats long, because a long query of the embedded engine holds up its process's timers. */
const watchForBeatMs = 10_000;

/** Who holds a folder, as its owner file says. */
type Owner = {
  pid: number;
  host: string;
  /** ISO 8601, UTC. */
  since: string;
  token: string;
  /** Where the holder's socket can be seen: machine start and network namespace; empty where there is no socket. */
  sight: string;
  socketName: string;
};

export type FolderLock = { release(): Promise<void> };

/** Overridable for tests only. */
export type FolderLockOptions = { platform?: NodeJS.Platform; watchMs?: number; sight?: string };

/**
 * Takes the lock of an existing, writable `folder`, or throws `StoreRefusal` `folder-in-use` naming the holder. A lock
 * whose holder is gone is taken over; that takes some seconds when the holder's namespace cannot be looked into.
 */
export async function lockFolder(folder: string, options: FolderLockOptions = {}): Promise<FolderLock> {
  const onLinux = (options.platform ?? process.platform) === 'linux';
  const ownerPath = join(folder, ownerFileName);
  const socketName = onLinux
    ? `tarebook-${createHash('sha256')
        .update(await realpath(folder))
        .digest('hex')}`
    : '';
  const sight = onLinux ? (options.sight ?? (await readSight())) : '';
  const socket = onLinux ? await holdSocket(socketName) : undefined;
  if (onLinux && socket === undefined) throw inUse(folder, await readOwnerPatiently(ownerPath));
  const me: Owner = {
    pid: process.pid,
    host: hostname(),
    since: new Date().toISOString(),
    token: randomUUID(),
    sight,
    socketName,
  };
  try {
    const holder = await readOwner(ownerPath);
    if (holder !== undefined) {
      const watchMs = options.watchMs ?? watchForBeatMs;
      if (await isAlive({ holder, me, ownerPath, watchMs })) throw inUse(folder, holder);
      await removeIfStill(ownerPath, holder);
    }
    if (!(await claim(ownerPath, me))) throw inUse(folder, await readOwner(ownerPath));
  } catch (error) {
    await closeSocket(socket);
    throw error;
  }
  const beat = setInterval(() => {
    const now = new Date();
    // A beat that fails is missed, not fatal: the folder may be on a disk that is away for a moment.
    utimes(ownerPath, now, now).catch(() => undefined);
  }, beatEveryMs);
  beat.unref();
  return {
    async release() {
      clearInterval(beat);
      await removeIfStill(ownerPath, me);
      await closeSocket(socket);
    },
  };
}

/** Binds the abstract socket; undefined when another process holds it. */
function holdSocket(name: string): Promise<Server | undefined> {
  return new Promise((resolve, reject) => {
    const server = createServer((connection) => connection.destroy());
    server.once('error', (error: NodeJS.ErrnoException) => {
      if (error.code === 'EADDRINUSE') resolve(undefined);
      else reject(error);
    });
    server.listen(`\0${name}`, () => {
      server.unref();
      resolve(server);
    });
  });
}

function closeSocket(socket: Server | undefined): Promise<void> {
  return new Promise((resolve) => {
    if (socket === undefined) resolve();
    else socket.close(() => resolve());
  });
}

/** Machine start and network namespace: within one such pair a free socket proves that its holder is gone. */
async function readSight(): Promise<string> {
  const namespace = await readlink('/proc/self/ns/net').catch(() => '');
  const start = await readFile('/proc/sys/kernel/random/boot_id', 'utf8').catch(() => '');
  return namespace === '' || start === '' ? '' : `${start.trim()} ${namespace}`;
}

async function isAlive(case_: { holder: Owner; me: Owner; ownerPath: string; watchMs: number }): Promise<boolean> {
  const { holder, me, ownerPath, watchMs } = case_;
  if (me.socketName !== '' && me.sight !== '' && holder.sight === me.sight && holder.socketName === me.socketName) {
    return false;
  }
  if (me.socketName === '' && holder.host === me.host) return processRuns(holder.pid);
  return beats(ownerPath, watchMs);
}

function processRuns(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    // EPERM: it runs, and belongs to someone else.
    return error instanceof Error && 'code' in error && error.code === 'EPERM';
  }
}

/** Watches the time stamp for a change. Compared with itself, because the clocks of two machines may differ. */
async function beats(ownerPath: string, watchMs: number): Promise<boolean> {
  const stamp = async () => (await stat(ownerPath).catch(() => undefined))?.mtimeMs;
  const first = await stamp();
  const until = Date.now() + watchMs;
  while (Date.now() < until) {
    await sleep(Math.min(250, watchMs));
    const now = await stamp();
    if (now === undefined) return false;
    if (now !== first) return true;
  }
  return false;
}

/** Puts the owner file in place, whole, and only if none is there: a link fails where a rename would replace. */
async function claim(ownerPath: string, me: Owner): Promise<boolean> {
  const draft = `${ownerPath}.${me.token}`;
  await writeFile(draft, `${JSON.stringify(me)}\n`, { mode: 0o600 });
  try {
    await link(draft, ownerPath);
    return true;
  } catch (error) {
    if (!(error instanceof Error && 'code' in error)) throw error;
    if (error.code === 'EEXIST') return false;
    // A disk without hard links: there the socket, or the check just made, has to be enough.
    await rename(draft, ownerPath);
    return true;
  } finally {
    await rm(draft, { force: true });
  }
}

async function removeIfStill(ownerPath: string, owner: Owner): Promise<void> {
  if ((await readOwner(ownerPath))?.token === owner.token) await rm(ownerPath, { force: true });
}

async function readOwner(ownerPath: string): Promise<Owner | undefined> {
  try {
    const read: unknown = JSON.parse(readFileSync(ownerPath, 'utf8'));
    return isOwner(read) ? read : unreadableOwner;
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return undefined;
    return unreadableOwner;
  }
}

/** The holder's socket is there a moment before its owner file. */
async function readOwnerPatiently(ownerPath: string): Promise<Owner | undefined> {
  for (let attempt = 0; attempt < 20; attempt += 1) {
    const owner = await readOwner(ownerPath);
    if (owner !== undefined) return owner;
    await sleep(50);
  }
  return undefined;
}

const unreadableOwner: Owner = { pid: 0, host: '', since: '', token: '', sight: '', socketName: '' };

function isOwner(value: unknown): value is Owner {
  if (typeof value !== 'object' || value === null) return false;
  const given = new Map(Object.entries(value));
  const texts = ['host', 'since', 'token', 'sight', 'socketName'].every((key) => typeof given.get(key) === 'string');
  return texts && Number.isInteger(given.get('pid'));
}

function inUse(folder: string, owner: Owner | undefined): StoreRefusal {
  const who =
    owner === undefined || owner.pid === 0
      ? say`another process`
      : say`process ${owner.pid} on host ${owner.host} since ${owner.since}`;
  return new StoreRefusal({
    code: 'folder-in-use',
    words: say`The data folder ${folder} is in use by ${who}.`,
    remedy: say`Stop it first. If it is the server, what is asked here stands on its pages while it runs, the PDF of a brief on the page of the brief. For other data name their folder with --data.`,
  });
}
