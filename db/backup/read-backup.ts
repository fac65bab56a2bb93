/**
 * Reads a backup, wholly and before anything is done with it (rule Z3): every member against the list, every row into the survey, every entry
 * against its chain, every headline against the one it was. Holds no more than a member and one aircraft in memory.
 */
import { closeSync, openSync } from 'node:fs';
import { isDeepStrictEqual } from 'node:util';
import { gunzipSync } from 'node:zlib';
import { VERSION } from '#db/archive/version.ts';
import { canonicalHash, sha256Of } from '#db/archive/write-archive.ts';
import { StoreRefusal } from '#db/engine/store-refusal.ts';
import { say } from '#shared/words/say.ts';
import { ABOUT, type AircraftFacts, BACKUP_FORMAT, MANIFEST, Manifest, ROWS_MEMBER, rowsMember } from './manifest.ts';
import { ChainBroken, type Chunk, Surveyor } from './survey.ts';
import { MOST_MEMBER_BYTES, readTar, TarFault } from './tar.ts';

export type OpenBackup = {
  readonly manifest: Manifest;
  /** Aircraft whose headline comes out otherwise, by the rules of another version than made the backup. */
  readonly otherwise: readonly string[];
  /** The rows once more, from the same open file. */
  chunks(): Generator<Chunk, void, void>;
  close(): void;
};

/** Opens and checks the file. Throws `StoreRefusal` where it is not as it was written. */
export function openBackup(path: string): OpenBackup {
  const fd = opened(path);
  try {
    const { manifest, otherwise } = checked(fd, path);
    return { manifest, otherwise, chunks: () => chunksOf(fd, () => undefined), close: () => closeSync(fd) };
  } catch (error) {
    closeSync(fd);
    throw asRefusal(error, path);
  }
}

function opened(path: string): number {
  try {
    return openSync(path, 'r');
  } catch (error) {
    throw unreadable(path, error instanceof Error && 'code' in error ? String(error.code) : 'unknown');
  }
}

function unreadable(path: string, why: string): StoreRefusal {
  return new StoreRefusal({
    code: 'backup-unreadable',
    words: say`The backup ${path} cannot be read (${why}).`,
    remedy: say`Give the file that was written by a backup.`,
  });
}

type Member = Manifest['members'][number];

/** Yields the rows; `meet` is told every member, and gets the bytes of the last one, the manifest. */
function* chunksOf(
  fd: number,
  meet: (member: Member, manifest: Uint8Array | undefined) => void,
): Generator<Chunk, void, void> {
  let last = '';
  for (const { name, bytes } of readTar(fd)) {
    if (last === MANIFEST) throw new TarFault(say`something follows its list`);
    meet({ name, bytes: bytes.length, sha256: sha256Of(bytes) }, name === MANIFEST ? bytes : undefined);
    last = name;
    if (name === ABOUT || name === MANIFEST) continue;
    const table = ROWS_MEMBER.exec(name)?.[1];
    if (table === undefined) throw new TarFault(say`it has a member that no backup has`);
    yield { table, lines: linesOf(bytes) };
  }
  if (last !== MANIFEST) throw new TarFault(say`it is cut off`);
}

function linesOf(bytes: Uint8Array): readonly string[] {
  try {
    const text = gunzipSync(bytes, { maxOutputLength: MOST_MEMBER_BYTES });
    const lines = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(text).split('\n');
    if (lines.pop() === '') return lines;
  } catch {
    // Told below.
  }
  throw new TarFault(say`it was changed`);
}

function checked(fd: number, path: string): { readonly manifest: Manifest; readonly otherwise: readonly string[] } {
  const members: Member[] = [];
  let manifest: Manifest | undefined;
  const surveyor = new Surveyor();
  let broken: ChainBroken | undefined;
  const meet = (member: Member, text: Uint8Array | undefined) => {
    if (text === undefined) members.push(member);
    else manifest = readManifest(text, path);
  };
  for (const chunk of chunksOf(fd, meet)) {
    try {
      if (broken === undefined) surveyor.add(chunk);
    } catch (error) {
      // What was changed in the file is told as that, once it has been read to its end.
      broken = asBroken(error);
    }
  }
  if (manifest === undefined) throw new TarFault(say`it is cut off`);
  if (!isDeepStrictEqual(members, manifest.members)) throw new TarFault(say`it was changed`);
  if (broken !== undefined) throw broken;
  const counts = new Map<string, number>();
  for (const { name } of members.slice(1)) {
    const table = ROWS_MEMBER.exec(name)?.[1] ?? '';
    counts.set(table, (counts.get(table) ?? 0) + 1);
    if (name !== rowsMember(table, counts.get(table) ?? 0)) throw new TarFault(say`its members are out of order`);
  }
  return { manifest, otherwise: mustBeOf(manifest, surveyor) };
}

function asBroken(error: unknown): ChainBroken {
  if (error instanceof ChainBroken) return error;
  if (error instanceof SyntaxError || error instanceof TypeError) throw new TarFault(say`it was changed`);
  throw error;
}

/** Holds what was surveyed against what the manifest says. */
function mustBeOf(manifest: Manifest, surveyor: Surveyor): readonly string[] {
  const survey = surveyor.finish();
  const withRows = (tables: Manifest['tables']) => tables.filter(({ rows }) => rows > 0);
  // Empty tables have no member.
  if (!isDeepStrictEqual(withRows([...survey.tables]), withRows(manifest.tables)))
    throw new TarFault(say`its rows are not those that it lists`);
  return differingHeadlines(manifest, survey.aircraft);
}

/**
 * Names the aircraft whose headline is another one now. Throws where that, or anything else of an aircraft, cannot come of another version's
 * rules.
 */
export function differingHeadlines(manifest: Manifest, found: readonly AircraftFacts[]): readonly string[] {
  const bare = (aircraft: readonly AircraftFacts[]) => aircraft.map(({ headline: _, ...facts }) => facts);
  if (!isDeepStrictEqual(bare(found), bare(manifest.aircraft)))
    throw new TarFault(say`its ledgers are not those that it lists`);
  const otherwise = found.filter(
    ({ headline }, at) => !isDeepStrictEqual(headline, manifest.aircraft[at]?.headline ?? null),
  );
  if (otherwise.length > 0 && manifest.version === VERSION)
    throw new TarFault(say`the headline of an aircraft comes out otherwise`);
  return otherwise.map(({ name }) => name);
}

function readManifest(bytes: Uint8Array, path: string): Manifest {
  let read: unknown;
  try {
    read = JSON.parse(new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes));
  } catch {
    throw new TarFault(say`its list cannot be read`);
  }
  const { check, ...rest } = (read ?? {}) as Record<string, unknown>;
  if (canonicalHash(rest) !== check) throw new TarFault(say`its list was changed`);
  if (typeof rest['format'] === 'number' && rest['format'] > BACKUP_FORMAT)
    throw newer(path, say`form ${rest['format']}`);
  const parsed = Manifest.safeParse(read);
  if (!parsed.success) throw new TarFault(say`its list is not one of a backup`);
  // What is spelt otherwise and says the same is no byte of ours.
  if (Buffer.from(`${JSON.stringify(read, null, 2)}\n`).compare(bytes) !== 0)
    throw new TarFault(say`its list was changed`);
  return parsed.data;
}

export function newer(path: string, what: string): StoreRefusal {
  return new StoreRefusal({
    code: 'backup-newer',
    words: say`The backup ${path} was made by a newer Tarebook: this one does not know its ${what}.`,
    remedy: say`Restore it with the newer version.`,
  });
}

function asRefusal(error: unknown, path: string): unknown {
  if (error instanceof ChainBroken)
    return damaged(path, say`the ledger of ${error.aircraft} does not fit at entry ${error.seq}`);
  if (error instanceof Error && 'syscall' in error && 'code' in error) return unreadable(path, String(error.code));
  return error instanceof TarFault ? damaged(path, error.message) : error;
}

export function damaged(path: string, why: string): StoreRefusal {
  return new StoreRefusal({
    code: 'backup-damaged',
    words: say`The backup ${path} is not as it was written: ${why}. Nothing was restored.`,
    remedy: say`Take another copy of this backup, or another backup.`,
  });
}
