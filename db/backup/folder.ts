/** A folder of backups: how they are named, which there are, and which are taken away again (rule Z5). */
import { readdir, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { StoreRefusal } from '#db/engine/store-refusal.ts';
import type { BackupWhy, KeptBackup } from '#shared/contract/backup.ts';
import { say } from '#shared/words/say.ts';

const NAME = /^tarebook-(\d{4})(\d\d)(\d\d)T(\d\d)(\d\d)(\d\d)(\d{3})Z-(asked|scheduled|before-upgrade)\.tar$/;
/** One that its maker left half written, being killed; nothing honest takes as long. */
const DEAD_PART_MS = 24 * 60 * 60 * 1000;

/** Names sort by the moment. */
export function backupName(at: Date, why: BackupWhy): string {
  return `tarebook-${at.toISOString().replace(/[-:.]/g, '')}-${why.replace(' ', '-')}.tar`;
}

export function isBackupName(name: string): boolean {
  return NAME.test(name);
}

/** The backups in a folder, the newest first; none where there is no folder. Throws `StoreRefusal` where it cannot be read. */
export async function listBackups(folder: string): Promise<readonly KeptBackup[]> {
  const kept: KeptBackup[] = [];
  for (const name of (await namesIn(folder)).sort().reverse()) {
    const found = NAME.exec(name);
    if (found === null) continue;
    const [, year, month, day, hour, minute, second, milli, why = ''] = found;
    const { size } = await stat(join(folder, name));
    const madeAt = `${year}-${month}-${day}T${hour}:${minute}:${second}.${milli}Z`;
    kept.push({ name, why: why.replace('-', ' ') as BackupWhy, madeAt, bytes: size });
  }
  return kept;
}

/**
 * Takes away all but the newest `keep` of those that the schedule made, and what was left half written. No other: those of a time that lies
 * ahead stay, and count for none, since the clock was set back and the newest are not the newest by name.
 */
export async function keepNewest(folder: string, keep: number, now: Date): Promise<readonly string[]> {
  const scheduled = (await listBackups(folder)).filter(
    ({ why, madeAt }) => why === 'scheduled' && Date.parse(madeAt) <= now.getTime(),
  );
  const old = scheduled.slice(keep).map(({ name }) => name);
  for (const name of old) await rm(join(folder, name), { force: true });
  for (const name of await namesIn(folder)) {
    if (!name.endsWith('.part') || !NAME.test(name.slice(0, -'.part'.length))) continue;
    const { mtimeMs } = await stat(join(folder, name));
    if (now.getTime() - mtimeMs > DEAD_PART_MS) await rm(join(folder, name), { force: true });
  }
  return old;
}

async function namesIn(folder: string): Promise<string[]> {
  try {
    return await readdir(folder);
  } catch (error) {
    const why = error instanceof Error && 'code' in error ? String(error.code) : '';
    if (why === 'ENOENT') return [];
    if (why === '') throw error;
    throw new StoreRefusal({
      code: 'backup-unreadable',
      words: say`The folder of backups ${folder} cannot be read (${why}).`,
      remedy: say`Check that it is a folder, and that the server may read and write in it.`,
    });
  }
}
