/** `tarebook verify`: walks the chain of an aircraft's entries (rule L5). */
import { verifyChain } from '#db/ledger/verify.ts';
import { EXIT, type Exit, type Surroundings } from './surroundings.ts';
import { aircraftNamed, type PlaceOptions, withStore } from './with-store.ts';

type Options = PlaceOptions & { readonly aircraft?: string; readonly json: boolean };

export async function verifyCommand(options: Options, surroundings: Surroundings): Promise<Exit> {
  return withStore({ ...options, readsOnly: true }, surroundings, async (store) => {
    const aircraft = await aircraftNamed(store, options.aircraft);
    const answer = await verifyChain(store.db, aircraft.id);
    if (options.json) surroundings.out.write(`${JSON.stringify({ aircraft: aircraft.name, ...answer }, null, 2)}\n`);
    else if (answer.ok)
      surroundings.out.write(
        `${aircraft.name}: ${answer.entryCount} entries, the chain is whole. Last hash ${answer.headHash}\n`,
      );
    else surroundings.out.write(`${aircraft.name}: the chain does not fit at entry ${answer.seq}. ${answer.words}\n`);
    return answer.ok ? EXIT.done : EXIT.badInput;
  });
}
