/**
 * The data folder on disk: its marker, and its making. Layout: `tarebook.json` (the marker), `owner.json` (the lock, see
 * `folder-lock.ts`), `pgdata/` (the embedded engine's own files), `sealed.txt` and `acknowledged.txt` (what these were at the last orderly
 * end and had been told to somebody, see `folder-seal.ts` and `acknowledged-heads.ts`).
 *
 * Writes into a folder only if it is empty or carries the marker. The marker says `preparing` until the engine has been
 * set up and is on the disk; a folder left in that state was never handed out, so its half-made engine files are made anew.
 */
import { accessSync, constants, readdirSync } from 'node:fs';
import { access, mkdir, readdir, readFile, rm, stat } from 'node:fs/promises';
import { dirname, join, resolve } from 'node:path';
import { acknowledgedName } from '#db/engine/acknowledged-heads.ts';
import { syncPath, writeWhole } from '#db/engine/durable-file.ts';
import { ownerFileName } from '#db/engine/folder-lock.ts';
import { sealName } from '#db/engine/folder-seal.ts';
import { StoreRefusal } from '#db/engine/store-refusal.ts';
import { say } from '#shared/words/say.ts';

const markerName = 'tarebook.json';
const engineFolderName = 'pgdata';
/** Raised when the layout changes so that an older program must keep out. */
const layoutVersion = 1;

type Marker = { tarebook: number; state: 'preparing' | 'ready' };

/** Makes the folder if it is missing and refuses what cannot be ours. Writes nothing into an existing folder. */
export async function admitFolder(path: string): Promise<void> {
  try {
    await makeFolders(path);
    if (!(await stat(path)).isDirectory()) throw notAFolder(path);
    await access(path, constants.R_OK | constants.W_OK | constants.X_OK);
  } catch (error) {
    if (error instanceof StoreRefusal) throw error;
    const code = error instanceof Error && 'code' in error ? String(error.code) : '';
    if (code === 'EEXIST' || code === 'ENOTDIR') throw notAFolder(path);
    if (code === '') throw error;
    throw notWritable(say`The data folder ${path} cannot be made or written (${code}).`);
  }
  const marker = await readMarker(path);
  if (marker === 'none' && !(await isEmpty(path))) throw notOurs(path);
  if (marker === 'foreign') throw notOurs(path);
  if (typeof marker === 'object' && marker.tarebook > layoutVersion) {
    throw new StoreRefusal({
      code: 'schema-newer',
      words: say`The data folder ${path} was made by a newer Tarebook.`,
      remedy: say`Start the newer version, or give this one another folder with --data.`,
    });
  }
}

/**
 * Readies an admitted and locked folder for the engine and answers where the engine's files go. `fresh` when there is
 * nothing in it yet: then call `markReady` once the engine is set up.
 */
export async function prepareFolder(path: string): Promise<{ enginePath: string; fresh: boolean }> {
  const enginePath = join(path, engineFolderName);
  const marker = await readMarker(path);
  if (typeof marker === 'object' && marker.state === 'ready') return { enginePath, fresh: false };
  await writeMarker(path, { tarebook: layoutVersion, state: 'preparing' });
  await rm(enginePath, { recursive: true, force: true });
  return { enginePath, fresh: true };
}

/** Refuses a folder of which this user may not read and write all that is ours: the engine would stumble over it as over damage. */
export function mustBeWritable(path: string): void {
  for (const name of [markerName, sealName, acknowledgedName]) mustBeAllowed(join(path, name), FILE_RIGHTS);
  mustBeAllowed(join(path, engineFolderName), FOLDER_RIGHTS);
}

const FILE_RIGHTS = constants.R_OK | constants.W_OK;
const FOLDER_RIGHTS = FILE_RIGHTS | constants.X_OK;

/** A file, or a folder with all that is in it. */
function mustBeAllowed(path: string, rights: number): void {
  try {
    accessSync(path, rights);
    const inside = rights === FOLDER_RIGHTS ? readdirSync(path, { withFileTypes: true }) : [];
    for (const entry of inside)
      mustBeAllowed(join(path, entry.name), entry.isDirectory() ? FOLDER_RIGHTS : FILE_RIGHTS);
  } catch (error) {
    refuseForbidden(error, path);
    // What is missing is looked for by others.
    if (!(error instanceof Error && 'code' in error && error.code === 'ENOENT')) throw error;
  }
}

/** Brings the engine's new files to the disk (its set-up copies them without) and then says so in the marker. */
export async function markReady(path: string): Promise<void> {
  await syncTree(join(path, engineFolderName));
  await writeMarker(path, { tarebook: layoutVersion, state: 'ready' });
}

/** Step by step, because Node's own recursive mkdir never ends below a folder such as /proc. */
async function makeFolders(path: string): Promise<void> {
  try {
    await mkdir(path, { mode: 0o700 });
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? error.code : undefined;
    if (code === 'EEXIST') return;
    const parent = dirname(resolve(path));
    if (code !== 'ENOENT' || (await exists(parent))) throw error;
    await makeFolders(parent);
    await mkdir(path, { mode: 0o700 });
  }
}

function exists(path: string): Promise<boolean> {
  return stat(path).then(
    () => true,
    () => false,
  );
}

async function isEmpty(path: string): Promise<boolean> {
  const names = await readdir(path);
  // A lock alone is left when a first start was killed before it wrote the marker.
  return names.every((name) => name.startsWith(ownerFileName) || name.startsWith(`${markerName}.`));
}

async function readMarker(path: string): Promise<Marker | 'none' | 'foreign'> {
  let text: string;
  try {
    text = await readFile(join(path, markerName), 'utf8');
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return 'none';
    refuseForbidden(error, join(path, markerName));
    return 'foreign';
  }
  try {
    const read: unknown = JSON.parse(text);
    if (typeof read !== 'object' || read === null || !('tarebook' in read) || !('state' in read)) return 'foreign';
    const { tarebook, state } = read;
    if (typeof tarebook !== 'number' || (state !== 'preparing' && state !== 'ready')) return 'foreign';
    return { tarebook, state };
  } catch {
    return 'foreign';
  }
}

function writeMarker(path: string, marker: Marker): Promise<void> {
  return writeWhole(join(path, markerName), `${JSON.stringify(marker)}\n`);
}

async function syncTree(path: string): Promise<void> {
  for (const entry of await readdir(path, { withFileTypes: true })) {
    const inner = join(path, entry.name);
    if (entry.isDirectory()) await syncTree(inner);
    else if (entry.isFile()) await syncPath(inner);
  }
  await syncPath(path);
}

function notAFolder(path: string): StoreRefusal {
  return new StoreRefusal({
    code: 'not-a-folder',
    words: say`${path} is not a folder, or lies under something that is not one.`,
    remedy: say`Give a folder with --data.`,
  });
}

function refuseForbidden(error: unknown, path: string): void {
  const code = error instanceof Error && 'code' in error ? String(error.code) : '';
  if (['EACCES', 'EPERM', 'EROFS'].includes(code))
    throw notWritable(say`This user may not read and write ${path} in the data folder (${code}).`);
}

function notWritable(words: string): StoreRefusal {
  return new StoreRefusal({
    code: 'folder-not-writable',
    words,
    remedy: say`Give this user the right to read and write there, or another folder with --data.`,
  });
}

function notOurs(path: string): StoreRefusal {
  return new StoreRefusal({
    code: 'not-a-data-folder',
    words: say`The folder ${path} holds something else than Tarebook's data; nothing was written into it.`,
    remedy: say`Give an empty or a new folder with --data.`,
  });
}
