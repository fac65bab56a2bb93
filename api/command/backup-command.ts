/** `tarebook backup`: the whole store into one file, while others work on it (rule Z1). */
import { existsSync } from 'node:fs';
import { basename, join } from 'node:path';
import { hasActs, noteAct } from '#db/audit/acts.ts';
import { backupName } from '#db/backup/folder.ts';
import { makeBackup } from '#db/backup/make-backup.ts';
import type { AircraftFacts } from '#db/backup/manifest.ts';
import { openStore, type Store, type StorePlace } from '#db/engine/open-store.ts';
import { StoreRefusal } from '#db/engine/store-refusal.ts';
import { showFixed, showLength, showMass } from '#shared/quantity/show.ts';
import { counted, say } from '#shared/words/say.ts';
import { Refused } from './refused.ts';
import { EXIT, type Exit, type Surroundings } from './surroundings.ts';
import { backupFolderOf, type PlaceOptions, placeOf } from './with-store.ts';

type Options = PlaceOptions & { readonly to?: string; readonly json: boolean };

export async function backupCommand(options: Options, surroundings: Surroundings): Promise<Exit> {
  const place = placeOf(options, surroundings.env);
  const now = surroundings.now();
  const store = await opened(place);
  try {
    const to = options.to ?? join(backupFolderOf(place, surroundings.env) ?? '.', backupName(now, 'asked'));
    const { path, ...report } = await makeBackup(store.db, to, now);
    // A store of an earlier version has no such list yet, and a backup moves nothing forward.
    if (await hasActs(store.db)) await noteAct(store.db, { kind: 'backup made', detail: { file: basename(path) } });
    surroundings.out.write(
      options.json
        ? `${JSON.stringify({ to: path, ...report }, null, 2)}\n`
        : `${say`Backed up to ${path}: ${contentsInWords(report)}, ${showFixed(report.bytes / 1_048_576, 1)} MB. SHA-256 ${report.sha256}`}\n${report.aircraft.map(aircraftInWords).join('')}`,
    );
    return EXIT.done;
  } finally {
    await store.close();
  }
}

/** As it is: a backup moves nothing forward. */
async function opened(place: StorePlace): Promise<Store> {
  if (place.kind === 'folder' && !existsSync(place.path))
    throw new Refused([{ refusal: { code: 'folder-missing', folder: place.path } }]);
  try {
    return await openStore(place, { schema: 'as it is' });
  } catch (error) {
    if (!(error instanceof StoreRefusal) || error.code !== 'folder-in-use') throw error;
    throw new StoreRefusal({
      code: error.code,
      words: error.words,
      remedy: say`If that is the server, it makes the backup itself: let a lead ask for one there, or start it with --backup-hours. Else stop it first.`,
    });
  }
}

export function contentsInWords({
  rows,
  aircraft,
}: {
  readonly rows: Readonly<Record<string, number>>;
  readonly aircraft: readonly AircraftFacts[];
}): string {
  return [
    say`${aircraft.length} aircraft`,
    counted(rows['entry'] ?? 0, 'entry', 'entries'),
    counted(rows['photo'] ?? 0, 'photo', 'photos'),
    counted(rows['person'] ?? 0, 'account', 'accounts'),
  ].join(', ');
}

export function aircraftInWords({ name, entryCount, headHash, headline }: AircraftFacts): string {
  const figures =
    headline === null
      ? say`headline not worked out`
      : say`predicted ${showMass(headline.predictedKg, 'kg')} kg, CG ${headline.cgXM === null ? say`not known` : `x ${showLength(headline.cgXM, 'm')} m`}`;
  return `  ${say`${name}: ${counted(entryCount, 'entry', 'entries')}, ${figures}. Last hash ${headHash}`}\n`;
}
