/** `tarebook import`: files into a new or a known aircraft, and the ledger that comes of it. */

import { noteAct } from '#db/audit/acts.ts';
import { findAircraft } from '#db/ledger/list-aircraft.ts';
import { type ImportAnswer, type ImportRequest, importFiles } from '#db/record/import-files.ts';
import { loadLedger } from '#db/record/load-ledger.ts';
import { allowanceSentence } from '#shared/table/added-allowances.ts';
import { IMPORT_KINDS, type ImportKind } from '#shared/table/lists.ts';
import { PARTS_COLUMNS } from '#shared/table/parts-file.ts';
import { WEIGHINGS_COLUMNS } from '#shared/table/weighings-file.ts';
import { FieldReader } from '#shared/words/field-reader.ts';
import { aircraftFromWords } from '#shared/words/plain-statements.ts';
import { counted, say } from '#shared/words/say.ts';
import { progressOn } from './progress.ts';
import { readText } from './read-text.ts';
import { Refused } from './refused.ts';
import { printLedger, type ViewFlags, viewsOf } from './show-command.ts';
import { dayOf, personOf } from './stamp.ts';
import type { Exit, Surroundings } from './surroundings.ts';
import { type PlaceOptions, withStore } from './with-store.ts';

type Options = PlaceOptions &
  ViewFlags & {
    readonly aircraft: string;
    readonly parts?: string;
    readonly weighings?: string;
    readonly targets?: string;
    readonly column: Readonly<Record<string, string>>;
    readonly revise: boolean;
    readonly by?: string;
    readonly date?: string;
    readonly datum?: string;
    readonly mac?: string;
    readonly lemac?: string;
    readonly massUnit?: string;
    readonly lengthUnit?: string;
  };

export async function importCommand(options: Options, surroundings: Surroundings): Promise<Exit> {
  const views = viewsOf([], options);
  const stamp = { ...dayOf(options.date, surroundings), by: personOf(options.by, surroundings) };
  const create = newAircraft(options);
  checkColumns(options);
  const files = await filesOf(options);
  return withStore(options, surroundings, async (store) => {
    // Who gives no list and no datum has mistyped a name rather than begun an aircraft.
    const isNew = (await findAircraft(store.db, options.aircraft)) === undefined && options.datum !== undefined;
    if (Object.keys(files).length === 0 && !isNew) throw new Refused([{ refusal: { code: 'nothing-to-import' } }]);
    const { aircraft, revise } = options;
    const request: ImportRequest = { aircraft, create, files, revise, ...stamp, onProgress: progressOn(surroundings) };
    const answer = await importFiles(store.db, request);
    if (!answer.ok) throw new Refused(answer.problems);
    if (answer.isNew)
      await noteAct(store.db, { kind: 'aircraft made', byName: stamp.by, aircraftId: answer.aircraftId });
    const ledger = await loadLedger(store.db, answer.aircraftId);
    if (!options.json) surroundings.out.write(summaryOf(answer, files));
    return printLedger(ledger, views, options, surroundings, { imported: importedData(answer) });
  });
}

function newAircraft(options: Options) {
  const reader = new FieldReader({
    name: options.aircraft,
    datum: options.datum ?? 'as in the imported lists',
    mac: options.mac,
    lemac: options.lemac,
    'mass unit': options.massUnit,
    'length unit': options.lengthUnit,
  });
  const aircraft = aircraftFromWords(reader);
  if (aircraft !== undefined) return aircraft;
  throw new Refused(
    reader.problems.map(({ field, refusal }) => ({ pointer: `--${field.replaceAll(' ', '-')}`, refusal })),
  );
}

/** A field that no given list has would be passed over in silence, and its column with it. */
function checkColumns({ column, parts, weighings }: Options): void {
  const lists = [...(parts === undefined ? [] : PARTS_COLUMNS), ...(weighings === undefined ? [] : WEIGHINGS_COLUMNS)];
  const choices = [...new Set(lists.map(({ field }) => field))];
  const unknown = Object.keys(column).filter((field) => !choices.includes(field));
  if (unknown.length > 0)
    throw new Refused(
      unknown.map((text) => ({ pointer: '--column', refusal: { code: 'not-a-choice', text, choices } })),
    );
}

async function filesOf(options: Options): Promise<ImportRequest['files']> {
  const files: ImportRequest['files'] = {};
  for (const kind of IMPORT_KINDS) {
    const path = options[kind];
    if (path !== undefined) files[kind] = { ...(await readText(path)), renamed: options.column };
  }
  return files;
}

type Done = Extract<ImportAnswer, { ok: true }>;

function summaryOf(answer: Done, files: ImportRequest['files']): string {
  const lines = IMPORT_KINDS.flatMap((kind: ImportKind) => {
    const outcome = answer.files[kind];
    if (outcome === undefined) return [];
    const allowances = allowanceSentence(outcome.allowances, 'was');
    const known =
      outcome.knownRows === 0 ? '' : say`, ${counted(outcome.knownRows, 'row', 'rows')} in the ledger already`;
    return [
      `${files[kind]?.name}: ${counted(outcome.rowCount, 'row', 'rows')}, ${counted(outcome.entries.length, 'new entry', 'new entries')}${known}`,
      ...(allowances === undefined ? [] : [`  ${say`Note: ${allowances}`}`]),
      ...outcome.warnings.map((warning) => `  ${say`Note: ${warning}`}`),
    ];
  });
  const recorded = say`${counted(answer.recorded, 'entry', 'entries')} recorded.`;
  return `${[...lines, recorded, ...doubtLines(answer, files)].join('\n')}\n\n`;
}

/** Nobody is there to be asked: what looks like a slip is recorded as it stands, and told (rule W4). */
function doubtLines(answer: Done, files: ImportRequest['files']): readonly string[] {
  const doubts = IMPORT_KINDS.flatMap((kind) =>
    (answer.files[kind]?.doubts ?? []).map((doubt) => ({ ...doubt, file: files[kind]?.name ?? kind })),
  );
  if (doubts.length === 0) return [];
  const told = doubts.map(({ file, line, number, words }) => `  ${say`${file}, line ${line}, ${number}: ${words}`}`);
  return ['', say`Recorded, and to be looked at again:`, ...told];
}

function importedData({ isNew, recorded, files }: Done) {
  const told = IMPORT_KINDS.flatMap((kind) => {
    const outcome = files[kind];
    if (outcome === undefined) return [];
    const { rowCount, knownRows, warnings, allowances, entries } = outcome;
    const doubts = outcome.doubts.map(({ line, number, slip, words }) => ({ line, number, slip, words }));
    return [[kind, { rowCount, knownRows, entryCount: entries.length, warnings, allowances, doubts }]];
  });
  return { isNew, recorded, files: Object.fromEntries(told) };
}
