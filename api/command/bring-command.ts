/** `tarebook bring`: an aircraft that was carried out, into this store, all of it or nothing (rule X3). */

import { bringAircraft } from '#db/archive/bring-aircraft.ts';
import { readFromPlace } from '#db/archive/place.ts';
import { readArchive } from '#db/archive/read-archive.ts';
import { noteAct } from '#db/audit/acts.ts';
import { FieldReader } from '#shared/words/field-reader.ts';
import { counted, say } from '#shared/words/say.ts';
import { progressOn } from './progress.ts';
import { Refused } from './refused.ts';
import { dayOf, personOf, refusedOption } from './stamp.ts';
import { EXIT, type Exit, type Surroundings } from './surroundings.ts';
import { type PlaceOptions, withStore } from './with-store.ts';

type Options = PlaceOptions & {
  readonly from: string;
  readonly as?: string;
  readonly by?: string;
  readonly json: boolean;
};

export async function bringCommand(options: Options, surroundings: Surroundings): Promise<Exit> {
  const by = personOf(options.by, surroundings);
  const name = nameOf(options.as);
  const { today } = dayOf(undefined, surroundings);
  const files = await readFromPlace(options.from);
  if (!files.ok) throw new Refused(files.problems);
  const archive = readArchive(files.value, { today });
  if (!archive.ok) throw new Refused(archive.problems);
  return withStore(options, surroundings, async (store) => {
    const request = { archive: archive.value, name, by, onProgress: progressOn(surroundings) };
    const answer = await bringAircraft(store.db, request);
    if (!answer.ok) throw new Refused([{ refusal: answer.refusal }]);
    await noteAct(store.db, { kind: 'aircraft brought in', byName: by, aircraftId: answer.aircraftId });
    const { headHash, proposals, photos, isHeadlineOtherwise } = archive.value;
    const counts = { entries: answer.entryCount, proposalRevisions: proposals.length, photos: photos.length };
    surroundings.out.write(
      options.json
        ? `${JSON.stringify({ aircraft: answer.name, ...counts, headHash, isHeadlineOtherwise }, null, 2)}\n`
        : `${say`${answer.name}: ${counted(answer.entryCount, 'entry', 'entries')}, ${counted(proposals.length, 'statement', 'statements')} of proposals and ${counted(photos.length, 'photo', 'photos')} brought in; chain and every entry are as they were carried out. Last hash ${headHash}`}\n${isHeadlineOtherwise ? `${OTHERWISE}\n` : ''}`,
    );
    return EXIT.done;
  });
}

const OTHERWISE = say`The headline comes out otherwise than when it was carried out: another version of Tarebook wrote it, with other rules.`;

function nameOf(as: string | undefined): string | undefined {
  if (as === undefined) return undefined;
  const reader = new FieldReader({ as });
  const name = reader.text('as', 80);
  if (reader.problems.length > 0) throw refusedOption(reader);
  return name;
}
