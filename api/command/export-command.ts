/** `tarebook export`: a whole aircraft out into a folder of tables, or a ZIP file of them (rule X1). */

import { aircraftToCarry } from '#db/archive/carry-out.ts';
import { writeToPlace } from '#db/archive/place.ts';
import { writeArchive } from '#db/archive/write-archive.ts';
import { noteAct } from '#db/audit/acts.ts';
import { counted, say } from '#shared/words/say.ts';
import { Refused } from './refused.ts';
import { personOf } from './stamp.ts';
import { EXIT, type Exit, type Surroundings } from './surroundings.ts';
import { aircraftNamed, type PlaceOptions, withStore } from './with-store.ts';

type Options = PlaceOptions & {
  readonly aircraft?: string;
  readonly to: string;
  readonly by?: string;
  readonly json: boolean;
};

export async function exportCommand(options: Options, surroundings: Surroundings): Promise<Exit> {
  const exportedBy = personOf(options.by, surroundings);
  const now = surroundings.now();
  return withStore({ ...options, readsOnly: true }, surroundings, async (store) => {
    const aircraft = await aircraftNamed(store, options.aircraft);
    const request = await aircraftToCarry(store.db, aircraft, { exportedAt: now.toISOString(), exportedBy });
    const files = writeArchive(request);
    if (!files.ok) throw new Refused(files.problems);
    const written = await writeToPlace(options.to, files.value, now);
    if (!written.ok) throw new Refused(written.problems);
    await noteAct(store.db, { kind: 'aircraft carried out', byName: exportedBy, aircraftId: aircraft.id });
    const { entries, proposals, photos, headHash } = request;
    const counts = { entries: entries.length, proposalRevisions: proposals.length, photos: photos.length };
    surroundings.out.write(
      options.json
        ? `${JSON.stringify({ aircraft: aircraft.name, to: options.to, ...counts, files: files.value.size, headHash }, null, 2)}\n`
        : `${say`${aircraft.name}: ${counted(entries.length, 'entry', 'entries')}, ${counted(proposals.length, 'statement', 'statements')} of proposals and ${counted(photos.length, 'photo', 'photos')} carried out to ${options.to}. Last hash ${headHash}`}\n`,
    );
    return EXIT.done;
  });
}
