/** `tarebook checkpoint`: signs how an aircraft's ledger stands, as a page for the paper file (rule L10). */
import { existsSync } from 'node:fs';
import { writeFile } from 'node:fs/promises';
import { noteAct } from '#db/audit/acts.ts';
import { makeCheckpoint } from '#db/checkpoint/checkpoint.ts';
import { shopKey } from '#db/checkpoint/key-file.ts';
import { inGroups } from '#db/checkpoint/signature.ts';
import { loadLedger } from '#db/record/load-ledger.ts';
import { foldedOverview } from '#shared/bulk/overview.ts';
import { say } from '#shared/words/say.ts';
import { KEY_FILE_VARIABLE, keyFileOf } from './key-place.ts';
import { Refused } from './refused.ts';
import { personOf } from './stamp.ts';
import { EXIT, type Exit, type Surroundings } from './surroundings.ts';
import { aircraftNamed, type PlaceOptions, placeOf, withStore } from './with-store.ts';

type Options = PlaceOptions & {
  readonly aircraft?: string;
  readonly out: string;
  readonly checkpointKey?: string;
  readonly by?: string;
  readonly json: boolean;
};

export async function checkpointCommand(options: Options, surroundings: Surroundings): Promise<Exit> {
  const by = personOf(options.by, surroundings);
  const keyFile = keyFileOf(
    options.checkpointKey ?? surroundings.env[KEY_FILE_VARIABLE],
    placeOf(options, surroundings.env),
  );
  if (keyFile === undefined) throw new Refused([{ refusal: { code: 'key-file-needed' } }]);
  if (existsSync(options.out))
    throw new Refused([{ pointer: '--out', refusal: { code: 'file-taken', file: options.out } }]);
  return withStore({ ...options, readsOnly: true }, surroundings, async (store) => {
    const aircraft = await aircraftNamed(store, options.aircraft);
    const key = await shopKey(keyFile);
    if (!key.ok) throw new Refused([{ refusal: key.refusal }]);
    const made = await makeCheckpoint(store.db, {
      ...{ aircraft, by, madeAt: surroundings.now().toISOString(), key: key.value },
      overviewAt: async (seq, work) => work(foldedOverview(await loadLedger(store.db, aircraft.id, seq))),
    });
    if (!made.ok) throw new Refused([{ refusal: made.refusal }]);
    await writePage(options.out, made.value.page);
    const { entry, hash } = made.value.statement;
    const { fingerprint, isNew } = key.value;
    await noteAct(store.db, { kind: 'checkpoint made', byName: by, aircraftId: aircraft.id, detail: { entry } });
    surroundings.out.write(
      options.json
        ? `${JSON.stringify({ aircraft: aircraft.name, out: options.out, entry: Number(entry), hash, fingerprint, keyFile, isKeyNew: isNew }, null, 2)}\n`
        : `${isNew ? newKeyText(keyFile) : ''}${say`${aircraft.name}: the checkpoint of entry ${entry} is in ${options.out}, signed with the key ${inGroups(fingerprint)}. Print it, and keep it away from this computer.`}\n`,
    );
    return EXIT.done;
  });
}

function newKeyText(keyFile: string): string {
  return `${say`A key of the shop was made, in ${keyFile}. Write its fingerprint down on paper: by it checkpoints are known for the shop's own. A copy of that file, also in a backup of its folder, signs as well as the file itself.`}\n`;
}

async function writePage(file: string, page: string): Promise<void> {
  try {
    await writeFile(file, page, { flag: 'wx' });
  } catch (error) {
    const why = (error as NodeJS.ErrnoException).code;
    if (why === undefined) throw error;
    throw new Refused([{ pointer: '--out', refusal: { code: 'file-not-written', file, why } }]);
  }
}
