/**
 * The seal of a data folder: what every file of the engine was, length and sum, when the engine was last shut down in order. Held against the
 * files before the engine is started on them again, so that none is used that was cut, lost, exchanged or changed in the meantime: by
 * itself the engine reads a file that ends early as if nothing had ever followed.
 *
 * There is a seal only while nobody has the folder open. Where there is none (the last end was no orderly one), `folder-recheck.ts` looks
 * instead.
 */
import { closeSync, openSync, readdirSync, readSync } from 'node:fs';
import { readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { crc32 } from 'node:zlib';
import { syncPath, writeWhole } from '#db/engine/durable-file.ts';

export const sealName = 'sealed.txt';
/** What the engine makes anew where it is missing, and may not have brought to the disk: taken away, since it is used as it is found. */
const passing = /^(postmaster\.(pid|opts)|pg_internal\.init.*|pgsql_tmp.*|xlogtemp\..*)$/;
const chunkBytes = 1024 * 1024;

type Sums = ReadonlyMap<string, string>;

/** Writes down what the engine's files are. The engine has been shut down. Without room for that there is no seal, and the next start looks. */
export async function sealFolder(path: string, enginePath: string): Promise<void> {
  const lines = [...sumsOf(enginePath)].map(([name, sum]) => `${sum} ${name}\n`).join('');
  const seal = join(path, sealName);
  await writeWhole(seal, `${sumOf(lines)}\n${lines}`).catch(() => rm(`${seal}.draft`, { force: true }));
}

/**
 * Holds the seal against the files and takes it away, since what follows changes them. `whole`: every file is as it was. `none`: there is
 * no seal to go by. Else what is wrong with which file, and the seal stays.
 */
export async function breakSeal(path: string, enginePath: string): Promise<'whole' | 'none' | { fault: string }> {
  const sealed = await readSeal(path);
  if (sealed !== undefined) {
    const passed: string[] = [];
    const now = sumsOf(enginePath, passed);
    for (const [name, sum] of sealed) {
      if (!now.has(name)) return { fault: `the file ${name} is missing` };
      if (now.get(name) !== sum) return { fault: `the file ${name} is not as it was left` };
    }
    for (const name of passed) await rm(join(enginePath, name), { recursive: true });
  }
  await rm(join(path, sealName), { force: true });
  await syncPath(path);
  return sealed === undefined ? 'none' : 'whole';
}

async function readSeal(path: string): Promise<Sums | undefined> {
  const text = await readFile(join(path, sealName), 'utf8').catch(() => '');
  const end = text.indexOf('\n');
  const lines = text.slice(end + 1);
  if (end < 0 || text.slice(0, end) !== sumOf(lines)) return undefined;
  return new Map(lines.split('\n').flatMap((line) => (line === '' ? [] : [splitLine(line)])));
}

function splitLine(line: string): [string, string] {
  const at = line.indexOf(' ', line.indexOf(' ') + 1);
  return [line.slice(at + 1), line.slice(0, at)];
}

/** Without waiting between the files, since nothing else is going on and there are a thousand. */
function sumsOf(folder: string, passed: string[] = [], under = '', sums = new Map<string, string>()): Sums {
  for (const entry of readdirSync(join(folder, under), { withFileTypes: true })) {
    const name = under === '' ? entry.name : `${under}/${entry.name}`;
    if (passing.test(entry.name)) passed.push(name);
    else if (entry.isDirectory()) sumsOf(folder, passed, name, sums);
    else if (entry.isFile()) sums.set(name, sumOfFile(join(folder, name)));
  }
  return sums;
}

/** CRC-32 and length: they find every damage that is no forgery, and forgery is what the chain is for. */
function sumOfFile(path: string): string {
  const file = openSync(path, 'r');
  try {
    const chunk = Buffer.allocUnsafe(chunkBytes);
    let sum = 0;
    let length = 0;
    for (;;) {
      const read = readSync(file, chunk, 0, chunkBytes, null);
      if (read === 0) return `${hex(sum)} ${length}`;
      sum = crc32(chunk.subarray(0, read), sum);
      length += read;
    }
  } finally {
    closeSync(file);
  }
}

function sumOf(text: string): string {
  return hex(crc32(text));
}

function hex(sum: number): string {
  return sum.toString(16).padStart(8, '0');
}
