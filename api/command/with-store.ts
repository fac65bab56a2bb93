/** Opens the store a command works on, and closes it whatever happens. */

import { existsSync } from 'node:fs';
import { openStore, type Store, type StorePlace, usualBackupFolder } from '#db/engine/open-store.ts';
import { type Aircraft, nameKey } from '#db/ledger/aircraft.ts';
import { findAircraft, listAircraft } from '#db/ledger/list-aircraft.ts';
import { say } from '#shared/words/say.ts';
import { Refused } from './refused.ts';
import type { Surroundings } from './surroundings.ts';

export type PlaceOptions = { readonly data?: string; readonly memory?: boolean };

export const DEFAULT_FOLDER = 'tarebook-data';

/** `--memory`, then `--data`, then DATABASE_URL, then the default folder here. */
export function placeOf(options: PlaceOptions, env: Surroundings['env']): StorePlace {
  if (options.memory === true) return { kind: 'memory' };
  if (options.data !== undefined) return { kind: 'folder', path: options.data };
  const url = env['DATABASE_URL'];
  if (url !== undefined && url !== '') return { kind: 'postgres', url };
  return { kind: 'folder', path: DEFAULT_FOLDER };
}

/** Where backups of that store are kept. */
export function backupFolderOf(place: StorePlace, env: Surroundings['env']): string | undefined {
  return env['TAREBOOK_BACKUP_FOLDER'] || usualBackupFolder(place);
}

/** Runs `work` on the store. A command that only reads does not make a new folder on the way. */
export async function withStore<Answer>(
  options: PlaceOptions & { readonly readsOnly?: boolean },
  surroundings: Surroundings,
  work: (store: Store) => Promise<Answer>,
): Promise<Answer> {
  const place = placeOf(options, surroundings.env);
  if (place.kind === 'folder' && !existsSync(place.path)) {
    if (options.readsOnly === true) throw new Refused([{ refusal: { code: 'folder-missing', folder: place.path } }]);
    surroundings.err.write(`${say`Preparing a new data folder, ${place.path}: this takes a few seconds.`}\n`);
  }
  const store = await openStore(place, { backups: backupFolderOf(place, surroundings.env) });
  if (store.backedUpTo !== undefined) surroundings.err.write(movedForward(store.backedUpTo));
  try {
    return await work(store);
  } finally {
    await store.close();
  }
}

/** What is said where opening a store has moved its data forward. */
export function movedForward(backup: string): string {
  return `${say`The data were those of an earlier version and have been moved forward. A backup of them as they were: ${backup}`}\n`;
}

/** The aircraft a command is about: the one named, by its whole name or a beginning that no other has; or the only one there is. */
export async function aircraftNamed(store: Store, name: string | undefined): Promise<Aircraft> {
  const all = await listAircraft(store.db);
  const only = (some: readonly Aircraft[]) => (some.length === 1 ? some[0] : undefined);
  const begins = (one: Aircraft) => nameKey(one.name).startsWith(nameKey(name ?? ''));
  const found =
    name === undefined
      ? only(all)
      : ((await findAircraft(store.db, name)) ?? only(name.trim() === '' ? [] : all.filter(begins)));
  if (found !== undefined) return found;
  throw new Refused([{ refusal: { code: 'aircraft-unknown', name: name ?? '', known: all.map((one) => one.name) } }]);
}
