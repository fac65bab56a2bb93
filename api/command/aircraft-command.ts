/** `tarebook aircraft`: what is in the store. */
import { listAircraft } from '#db/ledger/list-aircraft.ts';
import { say } from '#shared/words/say.ts';
import { EXIT, type Exit, type Surroundings } from './surroundings.ts';
import { tableText } from './table-text.ts';
import { type PlaceOptions, withStore } from './with-store.ts';

type Options = PlaceOptions & { readonly json: boolean };

export async function listCommand(options: Options, surroundings: Surroundings): Promise<Exit> {
  return withStore({ ...options, readsOnly: true }, surroundings, async (store) => {
    const all = await listAircraft(store.db);
    if (options.json) surroundings.out.write(`${JSON.stringify({ aircraft: all }, null, 2)}\n`);
    else if (all.length === 0) surroundings.out.write(`${say`No aircraft yet: import a parts list to begin one.`}\n`);
    else
      surroundings.out.write(
        tableText(all, [
          { heading: say`Aircraft`, align: 'left', cell: (one) => one.name },
          { heading: say`entries`, align: 'right', cell: (one) => String(one.headSeq) },
        ]),
      );
    return EXIT.done;
  });
}
