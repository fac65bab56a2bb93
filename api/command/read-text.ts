/** Reads a text file given to the command. What is no text is refused in words before anything looks into it. */
import { readFile, stat } from 'node:fs/promises';
import { basename } from 'node:path';
import { isWorkbook } from '#shared/table/csv.ts';
import { Refused } from './refused.ts';

const MOST_BYTES = 64 * 1024 * 1024;

/** The decoded text of a UTF-8 file (or UTF-16 where it says so by its first bytes), and its bare name. */
export async function readText(path: string): Promise<{ readonly name: string; readonly text: string }> {
  const name = basename(path);
  const bytes = await readBytes(path, name);
  if (isWorkbook(bytes)) throw new Refused([{ file: name, refusal: { code: 'file-is-workbook' } }]);
  // UTF-16 that does not say so would pass for UTF-8 full of NULs, and no heading would be found in it.
  if (bytes.subarray(0, 2).includes(0)) throw new Refused([{ file: name, refusal: { code: 'file-not-text' } }]);
  try {
    return { name, text: new TextDecoder(encodingOf(bytes), { fatal: true }).decode(bytes) };
  } catch {
    throw new Refused([{ file: name, refusal: { code: 'file-not-text' } }]);
  }
}

async function readBytes(path: string, name: string): Promise<Buffer> {
  try {
    const { size } = await stat(path);
    if (size > MOST_BYTES) throw new Refused([{ file: name, refusal: { code: 'file-too-large', most: '64 MB' } }]);
    return await readFile(path);
  } catch (error) {
    if (error instanceof Refused) throw error;
    throw new Refused([
      { file: path, refusal: { code: 'file-unreadable', why: (error as NodeJS.ErrnoException).code ?? 'unknown' } },
    ]);
  }
}

function encodingOf(bytes: Buffer): string {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return 'utf-16le';
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return 'utf-16be';
  return 'utf-8';
}
