/** `tarebook targets`: sets the target baseline, or a new revision, from a file or from options. */
import type { Store } from '#db/engine/open-store.ts';
import { importFiles } from '#db/record/import-files.ts';
import { loadLedger } from '#db/record/load-ledger.ts';
import { aircraftOf } from '#shared/rollup/report.ts';
import { say } from '#shared/words/say.ts';
import { readText } from './read-text.ts';
import { recordSent } from './record-command.ts';
import { Refused } from './refused.ts';
import { printLedger } from './show-command.ts';
import { dayOf, personOf } from './stamp.ts';
import type { Exit, Surroundings } from './surroundings.ts';
import { aircraftNamed, type PlaceOptions, withStore } from './with-store.ts';

type Options = PlaceOptions & {
  readonly aircraft?: string;
  readonly file?: string;
  readonly emptyMass?: string;
  readonly reserve?: string;
  readonly cgForward?: string;
  readonly cgAft?: string;
  readonly group: Readonly<Record<string, string>>;
  readonly partLimit?: string;
  readonly partLimitShare?: string;
  readonly reason?: string;
  readonly by?: string;
  readonly date?: string;
  readonly json: boolean;
};

export async function targetsCommand(options: Options, surroundings: Surroundings): Promise<Exit> {
  const stamp = { ...dayOf(options.date, surroundings), by: personOf(options.by, surroundings) };
  const sent = sentOf(options);
  const file = options.file === undefined ? undefined : await readText(options.file);
  if (file !== undefined) refuseBeside(sent);
  return withStore({ ...options, readsOnly: true }, surroundings, async (store) => {
    const { id, name } = await aircraftNamed(store, options.aircraft);
    if (file === undefined) await recordOptions(store, id, sent, stamp);
    else {
      const create = aircraftOf(await loadLedger(store.db, id));
      if (create === undefined) throw new Error(`the ledger of ${name} does not begin with an aircraft`);
      const files = { targets: { ...file, renamed: {} } };
      const answer = await importFiles(store.db, { aircraft: id, create, files, revise: false, ...stamp });
      if (!answer.ok) throw new Refused(answer.problems);
    }
    const ledger = await loadLedger(store.db, id);
    return printLedger(
      ledger,
      ['headline', 'groups'],
      { ...options, order: 'margin', failOnDrift: false },
      surroundings,
    );
  });
}

/** The options as the words of one entry. */
function sentOf(options: Options): Readonly<Record<string, unknown>> {
  const fields = {
    'empty mass': options.emptyMass,
    reserve: options.reserve,
    'cg forward': options.cgForward,
    'cg aft': options.cgAft,
    'part limit': options.partLimit,
    'part limit share': options.partLimitShare,
    reason: options.reason,
    groups: Object.keys(options.group).length === 0 ? undefined : options.group,
  };
  return Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined));
}

/** A file holds the whole baseline; a target given beside it would be passed over in silence. */
function refuseBeside(sent: Readonly<Record<string, unknown>>): void {
  const beside = Object.keys(sent);
  if (beside.length === 0) return;
  const refusal = {
    code: 'shape-refused',
    why: say`with --file every target, and the reason, stands in the file`,
  } as const;
  throw new Refused(beside.map((field) => ({ pointer: optionOf(`/${field}`), refusal })));
}

/** Records the entry; a problem is told under the option that it is about. */
async function recordOptions(
  store: Store,
  aircraftId: string,
  sent: Readonly<Record<string, unknown>>,
  stamp: Parameters<typeof recordSent>[3],
): Promise<void> {
  try {
    await recordSent(store, aircraftId, [{ kind: 'targets', ...sent }], stamp, () => undefined);
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    throw new Refused(error.problems.map(({ pointer, refusal }) => ({ pointer: optionOf(pointer ?? ''), refusal })));
  }
}

/** `/cg forward` is `--cg-forward`. */
function optionOf(pointer: string): string {
  const [, field = ''] = pointer.split('/');
  return field === 'groups' ? '--group' : `--${field.replaceAll(' ', '-')}`;
}
