/**
 * Imports a parts list, a target baseline and a list of weighings in one go, into a new aircraft or one that is here (rules I1-I6).
 * All or nothing over all files: where any of them has a problem, the aircraft is not even created.
 */
import { randomUUID } from 'node:crypto';
import type { Kysely } from 'kysely';
import type { Database } from '#db/database.ts';
import { createAircraft } from '#db/ledger/create-aircraft.ts';
import { findAircraft } from '#db/ledger/list-aircraft.ts';
import type { AircraftId, Entry, EntryId, StatementOf } from '#shared/ledger/entry.ts';
import { applyEntry, type Ledger } from '#shared/ledger/fold.ts';
import type { Refusal } from '#shared/problem/registry.ts';
import type { CellProblem } from '#shared/table/columns.ts';
import { readCsv } from '#shared/table/csv.ts';
import {
  draftLists,
  IMPORT_KINDS,
  type ImportKind,
  type List,
  type ListProblem,
  type Lists,
  type Outcomes,
} from '#shared/table/lists.ts';
import { headSeqOf } from './load-ledger.ts';
import { recordEntries } from './record-entries.ts';
import { stableId } from './stable-id.ts';

export type ImportFile = {
  readonly name: string;
  readonly text: string;
  /** Field to heading, where a heading is not one of the usual names. */
  readonly renamed: Readonly<Record<string, string>>;
};

export type ImportRequest = {
  /** Name or id of an aircraft; where none has that name, `create` says what the new one is. */
  readonly aircraft: string;
  readonly create: StatementOf<'aircraft'>;
  readonly files: Partial<Record<ImportKind, ImportFile>>;
  readonly today: string;
  readonly day: string;
  readonly by: string;
  readonly revise: boolean;
  readonly onProgress?: (done: number, total: number) => void;
};

export type FileProblem = CellProblem & { readonly file: string };

export type ImportAnswer =
  | {
      readonly ok: true;
      readonly aircraftId: AircraftId;
      readonly isNew: boolean;
      readonly recorded: number;
      readonly files: Outcomes;
    }
  | { readonly ok: false; readonly problems: readonly FileProblem[] };

/** Imports the files. Throws only on what is a bug or a failure of the database. */
export async function importFiles(db: Kysely<Database>, request: ImportRequest): Promise<ImportAnswer> {
  const tables = readTables(request.files);
  if (!tables.ok) return tables;
  try {
    return await db.transaction().execute(async (tx) => {
      const answer = await importInto(tx, request, tables.tables);
      // Thrown, so that the transaction takes a newly created aircraft back as well.
      if (!answer.ok) throw new Refused(answer.problems);
      return answer;
    });
  } catch (error) {
    if (error instanceof Refused) return { ok: false, problems: error.problems };
    throw error;
  }
}

class Refused extends Error {
  readonly problems: readonly FileProblem[];

  constructor(problems: readonly FileProblem[]) {
    super('import refused');
    this.problems = problems;
  }
}

function readTables(
  files: ImportRequest['files'],
): { ok: true; tables: Lists } | { ok: false; problems: readonly FileProblem[] } {
  const tables: { -readonly [kind in ImportKind]?: List } = {};
  const problems: FileProblem[] = [];
  for (const kind of IMPORT_KINDS) {
    const file = files[kind];
    if (file === undefined) continue;
    const table = readCsv(file.text);
    if (table.ok) tables[kind] = { table: table.value, renamed: kind === 'targets' ? {} : file.renamed };
    else problems.push(wholeFile(file.name, table.refusal.refusal, table.refusal.line));
  }
  return problems.length > 0 ? { ok: false, problems } : { ok: true, tables };
}

/** A problem of a file as a whole, or of one of its lines. */
export function wholeFile(file: string, refusal: Refusal, line = 0): FileProblem {
  return { file, line, column: 0, heading: '', refusal };
}

async function importInto(tx: Kysely<Database>, request: ImportRequest, tables: Lists): Promise<ImportAnswer> {
  const found = await findAircraft(tx, request.aircraft);
  const aircraftId = (found?.id ?? randomUUID()) as AircraftId;
  if (found === undefined) {
    const created = await createAircraft(tx, { id: aircraftId, name: request.create.name });
    if (!created.ok)
      return { ok: false, problems: [wholeFile('', { code: 'aircraft-name-taken', name: request.create.name })] };
  }
  let files: Outcomes = {};
  const progress = request.onProgress === undefined ? {} : { onProgress: request.onProgress };
  const recorded = await recordEntries<readonly FileProblem[]>(tx, { aircraftId, ...progress }, (ledger) => {
    const opening = found === undefined ? [openingEntry(ledger, request, aircraftId)] : [];
    const { today, day, by, revise } = request;
    const idOf = (name: string) => stableId(aircraftId, name);
    const { outcomes, problems } = draftLists(tables, { ledger, today, day, by, revise, idOf });
    files = outcomes;
    if (problems.length > 0) return { ok: false, refused: problems.map((problem) => ofFile(problem, request.files)) };
    return { ok: true, entries: [...opening, ...IMPORT_KINDS.flatMap((kind) => files[kind]?.entries ?? [])] };
  });
  if (recorded.ok)
    return { ok: true, aircraftId, isNew: found === undefined, recorded: recorded.entries.length, files };
  return { ok: false, problems: 'refused' in recorded ? recorded.refused : [wholeFile('', recorded.refusal)] };
}

/** A new ledger begins with what the aircraft is. */
function openingEntry(ledger: Ledger, request: ImportRequest, aircraftId: AircraftId): Entry {
  const entry: Entry = {
    ...request.create,
    id: stableId(aircraftId, 'aircraft') as EntryId,
    happenedOn: request.day,
    by: request.by,
  };
  applyEntry(ledger, { seq: headSeqOf(ledger) + 1, recordedAt: '', entry });
  return entry;
}

function ofFile({ list, ...problem }: ListProblem, files: ImportRequest['files']): FileProblem {
  return { ...problem, file: files[list]?.name ?? list };
}
