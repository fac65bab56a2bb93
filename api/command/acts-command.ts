/** `tarebook acts`: who did what beside the ledgers (rule N18). The command is the owner's, and sees every aircraft. */
import { listActs } from '#db/audit/acts.ts';
import { EXIT, type Exit, type Surroundings } from './surroundings.ts';
import { tableText } from './table-text.ts';
import { type PlaceOptions, withStore } from './with-store.ts';

type Options = PlaceOptions & { readonly last?: number; readonly json: boolean };

export async function actsCommand(options: Options, surroundings: Surroundings): Promise<Exit> {
  return withStore({ ...options, readsOnly: true }, surroundings, async (store) => {
    const most = options.last ?? 50;
    const { acts, next } = await listActs(store.db, { most, sight: () => 'see' });
    if (options.json) surroundings.out.write(`${JSON.stringify({ acts, isAll: next === undefined }, null, 2)}\n`);
    else if (acts.length === 0) surroundings.out.write('Nothing has been done yet but in the ledgers.\n');
    else
      surroundings.out.write(
        tableText(acts, [
          { heading: 'When (UTC)', align: 'left', cell: ({ doneAt }) => doneAt.slice(0, 19).replace('T', ' ') },
          { heading: 'who', align: 'left', cell: ({ by }) => by ?? '' },
          { heading: 'what', align: 'left', cell: ({ kind, detail }) => [kind, ...factsOf(detail)].join(', ') },
          { heading: 'about', align: 'left', cell: ({ about }) => about ?? '' },
          { heading: 'aircraft', align: 'left', cell: ({ aircraft }) => aircraft?.name ?? '' },
          { heading: 'from', align: 'left', cell: ({ address }) => address ?? 'the command' },
        ]),
      );
    return EXIT.done;
  });
}

function factsOf(detail: Readonly<Record<string, string>>): readonly string[] {
  return Object.entries(detail).flatMap(([name, fact]) => (fact === '' ? [] : [`${name}: ${fact}`]));
}
