/** Small files that are there whole or not at all, also after a power cut. */
import { open, rename } from 'node:fs/promises';
import { dirname } from 'node:path';

export async function writeWhole(path: string, text: string): Promise<void> {
  const draft = `${path}.draft`;
  const file = await open(draft, 'w', 0o600);
  try {
    await file.writeFile(text);
    await file.sync();
  } finally {
    await file.close();
  }
  await rename(draft, path);
  await syncPath(dirname(path));
}

/** Brings a folder's list of names, or a file, to the disk. */
export async function syncPath(path: string): Promise<void> {
  // Windows cannot open a folder, and needs no sync of one.
  const file = await open(path, 'r').catch(() => undefined);
  if (file === undefined) return;
  try {
    await file.sync();
  } catch (error) {
    if (process.platform !== 'win32') throw error;
  } finally {
    await file.close();
  }
}
