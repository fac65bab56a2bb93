/** An archive on a disk: a folder, or a ZIP file. It appears whole or not at all, and nothing that is there is written over. */
import { existsSync } from 'node:fs';
import { mkdir, readdir, readFile, rename, rm, stat, writeFile } from 'node:fs/promises';
import { dirname, join, resolve } from 'node:path';
import { type Answer, type ArchiveFiles, ofWhole } from './archive.ts';
import { isOfSystem, MOST_ALL_BYTES, MOST_FILE_BYTES, MOST_FILES, unzipArchive, zipArchive } from './zip.ts';

/** Writes the files to `place`: a ZIP file where it is named so, else a new folder. */
export async function writeToPlace(place: string, files: ArchiveFiles, at: Date): Promise<Answer<undefined>> {
  const no = (refusal: Parameters<typeof ofWhole>[1]) => ({ ok: false, problems: [ofWhole('', refusal)] }) as const;
  const path = resolve(place);
  if (existsSync(path)) return no({ code: 'archive-place-taken', place });
  const part = `${path}.part-${process.pid}`;
  try {
    await mkdir(dirname(path), { recursive: true });
    if (isZip(place)) await writeFile(part, zipArchive(files, at), { flag: 'wx' });
    else await writeFolder(part, files);
    await rename(part, path);
    return { ok: true, value: undefined };
  } catch (error) {
    await rm(part, { recursive: true, force: true });
    const why = (error as NodeJS.ErrnoException).code;
    if (why === undefined) throw error;
    return no({ code: 'file-unreadable', why });
  }
}

async function writeFolder(path: string, files: ArchiveFiles): Promise<void> {
  await mkdir(path);
  for (const [name, bytes] of files) {
    await mkdir(dirname(join(path, name)), { recursive: true });
    await writeFile(join(path, name), bytes);
  }
}

export async function readFromPlace(place: string): Promise<Answer<ArchiveFiles>> {
  try {
    const there = await stat(place);
    if (there.isDirectory()) return await readFolder(place);
    if (there.size > MOST_ALL_BYTES) return tooLarge();
    return unzipArchive(await readFile(place));
  } catch (error) {
    const why = (error as NodeJS.ErrnoException).code;
    if (why === undefined) throw error;
    return { ok: false, problems: [ofWhole(place, { code: 'file-unreadable', why })] };
  }
}

/** Files alone, and those of the one folder that there may be: what a link leads to is not looked at. */
async function readFolder(place: string): Promise<Answer<ArchiveFiles>> {
  const files = new Map<string, Uint8Array>();
  const names: string[] = [];
  for (const folder of ['', 'photos/']) {
    if (!existsSync(join(place, folder))) continue;
    for (const entry of await readdir(join(place, folder), { withFileTypes: true }))
      if (
        !isOfSystem(entry.name) &&
        (entry.isFile() || (entry.isDirectory() && folder === '' && entry.name !== 'photos'))
      )
        names.push(`${folder}${entry.name}`);
  }
  if (names.length > MOST_FILES) return tooLarge();
  let allBytes = 0;
  for (const name of names.sort()) {
    const { size } = await stat(join(place, name));
    allBytes += size;
    if (size > MOST_FILE_BYTES || allBytes > MOST_ALL_BYTES) return tooLarge(name);
    files.set(
      name,
      (await stat(join(place, name))).isDirectory() ? new Uint8Array() : await readFile(join(place, name)),
    );
  }
  return { ok: true, value: files };
}

function tooLarge(file = ''): Answer<never> {
  const what = `${MOST_FILES.toLocaleString('en-GB')} files, ${MOST_FILE_BYTES / 1_048_576} MB in one of them and ${MOST_ALL_BYTES / 1_048_576} MB in all are the most`;
  return { ok: false, problems: [ofWhole(file, { code: 'archive-too-large', what })] };
}

function isZip(place: string): boolean {
  return /\.zip$/i.test(place);
}
