/** `tarebook demo`: the invented demonstration aircraft, to look round in. */

import { noteAct } from '#db/audit/acts.ts';
import { createDemonstration } from '#db/demo/create-demonstration.ts';
import { loadLedger } from '#db/record/load-ledger.ts';
import { LOCALE, say } from '#shared/words/say.ts';
import { progressOn } from './progress.ts';
import { Refused } from './refused.ts';
import { printLedger } from './show-command.ts';
import { dayOf, personOf } from './stamp.ts';
import type { Exit, Surroundings } from './surroundings.ts';
import { type PlaceOptions, withStore } from './with-store.ts';

type Options = PlaceOptions & { readonly by?: string; readonly json: boolean };

export async function demoCommand(options: Options, surroundings: Surroundings): Promise<Exit> {
  const { today } = dayOf(undefined, surroundings);
  const by = personOf(options.by, surroundings);
  return withStore(options, surroundings, async (store) => {
    const answer = await createDemonstration(store.db, { by, today, onProgress: progressOn(surroundings) });
    if (!answer.ok) throw new Refused([{ refusal: answer.refusal }]);
    await noteAct(store.db, { kind: 'demonstration made', byName: by, aircraftId: answer.aircraftId });
    const ledger = await loadLedger(store.db, answer.aircraftId);
    if (!options.json)
      surroundings.out.write(
        `${say`${answer.recorded.toLocaleString(LOCALE)} entries recorded. All of it is invented.`}\n\n`,
      );
    const flags = { ...options, order: 'margin', failOnDrift: false } as const;
    return printLedger(ledger, ['headline', 'groups', 'drift'], flags, surroundings, { recorded: answer.recorded });
  });
}
