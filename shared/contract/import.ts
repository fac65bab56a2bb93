/** A list that is brought through the door: what is sent, what looking at it shows, and what its recording tells on the way (rule I7). */
import { z } from 'zod';
import { Evidence, PartId, Process } from '#shared/ledger/entry.ts';
import { IMPORT_KINDS, type ImportKind } from '#shared/table/lists.ts';
import { ProblemReport } from './aircraft.ts';
import { DriftFlag } from './drift.ts';

/** More than a prototype has parts. It bounds the work that one request can ask for. */
export const MOST_ROWS = 20_000;
const MOST_CELLS = 200;
/** No field takes more; a list of parts in one cell may name every part of an aircraft. */
export const MOST_CELL = 4_000;

/** A row with its line in the list, as the person sees it there. The first row is the headings. */
export type SentRow = readonly [line: number, cells: readonly string[]];

/** Either the text of a CSV file, or rows of cells. */
export const SentList = z
  .strictObject({
    text: z.string().optional(),
    rows: z.array(z.any()).refine(areRows, 'rows are a line each: [line, [cell, cell, …]]').optional(),
    decimalComma: z.boolean().optional(),
    columns: z.record(z.string().max(60), z.string().max(200)).optional(),
  })
  .refine(({ text, rows }) => (text === undefined) !== (rows === undefined), {
    message: 'give the text of the list or its rows, and one of the two',
  });
export type SentList = Omit<z.infer<typeof SentList>, 'rows'> & { readonly rows?: readonly SentRow[] | undefined };

/** `digest`: what looking at it answered, so that what is recorded is what was shown. */
export const ImportRequest = z.strictObject({
  lists: z.strictObject({ parts: SentList.optional(), targets: SentList.optional(), weighings: SentList.optional() }),
  revise: z.boolean().optional(),
});
export type ImportRequest = {
  readonly lists: Partial<Record<ImportKind, SentList | undefined>>;
  readonly revise?: boolean | undefined;
};
export const ImportCommit = ImportRequest.extend({ digest: z.string().max(64) });

/** A problem at its place; column 0 speaks of a row as a whole, line 0 of the list. */
export const ImportProblem = z.object({
  list: z.enum(IMPORT_KINDS),
  line: z.int(),
  column: z.int(),
  heading: z.string(),
  code: z.string(),
  words: z.string(),
  remedy: z.string(),
});
export type ImportProblem = z.infer<typeof ImportProblem>;

const ListPreview = z.object({
  rowCount: z.int(),
  /** Rows whose content the ledger holds already. */
  knownRows: z.int(),
  warnings: z.array(z.string()),
  /** What a parts list comes to: its pieces, and the estimates of all of them together, without allowances. */
  listed: z.object({ pieceCount: z.int(), massKg: z.number() }),
  /** Weighings that look like a slip of the hand, all of them: to be confirmed before they are recorded (rule W4). */
  doubts: z.array(z.object({ slip: z.string(), words: z.string(), lines: z.array(z.int()) })),
  /** Weighings that will drift once this is recorded, the largest effect first; `driftCount` counts all. */
  drifts: z.array(
    z.object({
      line: z.int(),
      partId: PartId,
      name: z.string(),
      differenceKg: z.number(),
      differenceFraction: z.number().optional(),
      flag: DriftFlag,
    }),
  ),
  driftCount: z.int(),
  /** Growth allowances that the list did not state and the shop's defaults add. */
  allowances: z.array(
    z.object({ growth: z.number(), evidence: Evidence, processes: z.array(Process), count: z.int() }),
  ),
});
export type ListPreview = z.infer<typeof ListPreview>;

export const ImportPreview = z.object({
  headSeq: z.int(),
  digest: z.string(),
  entryCount: z.int(),
  /** How many entries of each kind would be recorded. */
  kinds: z.record(z.string(), z.int()),
  lists: z.partialRecord(z.enum(IMPORT_KINDS), ListPreview),
  /** The first ones, by place; `problemCount` counts all. */
  problems: z.array(ImportProblem),
  problemCount: z.int(),
});
export type ImportPreview = z.infer<typeof ImportPreview>;

/** One line of the answer while it is recorded. The last one says how it ended. */
export const ImportProgress = z.union([
  z.object({ recorded: z.int(), total: z.int() }),
  z.object({ done: z.object({ recorded: z.int(), knownRows: z.int() }) }),
  z.object({ failed: ProblemReport }),
]);
export type ImportProgress = z.infer<typeof ImportProgress>;

/** A loop of its own: twenty megabytes of cells are looked through in a moment. */
function areRows(value: readonly unknown[]): boolean {
  return value.every(isRow);
}

function isRow(row: unknown): boolean {
  if (!Array.isArray(row) || row.length !== 2) return false;
  const [line, cells] = row as readonly unknown[];
  return (
    Number.isInteger(line) &&
    Number(line) >= 1 &&
    Number(line) <= 10_000_000 &&
    Array.isArray(cells) &&
    cells.length <= MOST_CELLS &&
    cells.every((cell) => typeof cell === 'string')
  );
}
