/** `tarebook acts`: who did what beside the ledgers (rule N18). The command is the owner's, and sees every aircraft. */
import { listActs } from '#db/audit/acts.ts';
import { dayWords } from '#shared/words/day.ts';
import { say, term } from '#shared/words/say.ts';
import { EXIT, type Exit, type Surroundings } from './surroundings.ts';
import { tableText } from './table-text.ts';
import { type PlaceOptions, withStore } from './with-store.ts';

type Options = PlaceOptions & { readonly last?: number; readonly json: boolean };

export async function actsCommand(options: Options, surroundings: Surroundings): Promise<Exit> {
  return withStore({ ...options, readsOnly: true }, surroundings, async (store) => {
    const most = options.last ?? 50;
    const { acts, next } = await listActs(store.db, { most, sight: () => 'see' });
    if (options.json) surroundings.out.write(`${JSON.stringify({ acts, isAll: next === undefined }, null, 2)}\n`);
    else if (acts.length === 0) surroundings.out.write(`${say`Nothing has been done yet but in the ledgers.`}\n`);
    else
      surroundings.out.write(
        tableText(acts, [
          {
            heading: say`When (UTC)`,
            align: 'left',
            cell: ({ doneAt }) => `${dayWords(doneAt)} ${doneAt.slice(11, 19)}`,
          },
          { heading: say`who`, align: 'left', cell: ({ by }) => by ?? '' },
          {
            heading: say`what`,
            align: 'left',
            cell: ({ kind, detail }) => [term(kind), ...factsOf(detail)].join(', '),
          },
          { heading: say`about`, align: 'left', cell: ({ about }) => about ?? '' },
          { heading: say`aircraft`, align: 'left', cell: ({ aircraft }) => aircraft?.name ?? '' },
          { heading: say`from`, align: 'left', cell: ({ address }) => address ?? say`the command` },
        ]),
      );
    return EXIT.done;
  });
}

function factsOf(detail: Readonly<Record<string, string>>): readonly string[] {
  return Object.entries(detail).flatMap(([name, fact]) => (fact === '' ? [] : [`${term(name)}: ${term(fact)}`]));
}
