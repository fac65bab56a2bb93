/**
 * Appends entries to an aircraft's ledger through the SQL function `append_entries` (L1, L2, L3, L5), or one of the two
 * that migrations 9 and 10 make of it. There is no other way in, and none to change what is there.
 *
 * All or nothing: many contents go in batches inside one transaction, so that one statement stays small (the embedded
 * engine holds up its process for as long as a statement runs) and progress can be shown.
 */
import { type Kysely, sql } from 'kysely';
import type { Database } from '#db/database.ts';
import { projectContent } from '#db/ledger/projection.ts';

export type AppendedEntry = {
  seq: number;
  /** ISO 8601, UTC, milliseconds: when the database took it. */
  recordedAt: string;
  hash: string;
  /** True when this very entry was there before: the first answer again, nothing added (L3). */
  replayed: boolean;
};

/** `index` counts the given contents from 0. */
export type AppendRefusal =
  | { code: 'content-unstorable'; index: number; words: string }
  | { code: 'unknown-aircraft' }
  /** L3: `content` is the text of the entry that has the id, for naming the field that differs. */
  | { code: 'entry-id-reused'; index: number; entryId: string; seq: number; content: string }
  | { code: 'ledger-moved-on'; headSeq: number }
  | { code: 'nothing-to-correct'; index: number; entryId: string; supersedesId: string }
  /** L2: `correctedBySeq` is the first correction. */
  | { code: 'already-corrected'; index: number; entryId: string; supersedesId: string; correctedBySeq: number };

export type AppendAnswer = { ok: true; entries: AppendedEntry[] } | { ok: false; refusal: AppendRefusal };

export type AppendRequest = {
  aircraftId: string;
  /** Canonical JSON texts, in the order they are to stand. */
  contents: readonly string[];
  /** Refuse unless the ledger still ends here (0: still empty). A pure replay is answered all the same. */
  expectedSeq?: number;
  onProgress?: (done: number, total: number) => void;
  /** The caller tells who listens, once this is committed; else the database does so with the commit. */
  isUntold?: boolean;
  /** Inside the transaction that holds the aircraft: the moment it was held, at which all of them are recorded. */
  heldAt?: string;
};

const batchEntries = 250;
const batchCharacters = 1_000_000;

/**
 * Holds an aircraft until the transaction ends: nobody else adds to its ledger. Answers where that ends and when this was (ISO 8601, UTC, by the
 * clock of the database); undefined where there is no such aircraft.
 */
export async function holdAircraft(
  tx: Kysely<Database>,
  aircraftId: string,
): Promise<{ readonly headSeq: number; readonly heldAt: string } | undefined> {
  const { rows } = await sql<{ head_seq: number; held_at: string }>`
    select head_seq, held_at from public.hold_aircraft(${aircraftId}::uuid)`.execute(tx);
  const [row] = rows;
  return row && { headSeq: row.head_seq, heldAt: row.held_at };
}

/**
 * Appends `contents`, all or none. Given a transaction it works inside it, and a refusal leaves that transaction as it
 * was before the call. Throws only on what is a bug or a failure of the database.
 */
export async function appendEntries(db: Kysely<Database>, request: AppendRequest): Promise<AppendAnswer> {
  for (const [index, content] of request.contents.entries()) {
    const answer = projectContent(content);
    if (!answer.ok) return { ok: false, refusal: { code: 'content-unstorable', index, words: answer.words } };
  }
  return appendStorable(db, request);
}

/** As `appendEntries`, of contents that `projectContent` has answered for. */
export async function appendStorable(db: Kysely<Database>, request: AppendRequest): Promise<AppendAnswer> {
  const batches = splitBatches(request.contents);
  // One statement is all or nothing by itself.
  if (batches.length === 1) return appendBatches(db, request, batches);
  if (db.isTransaction) {
    await sql`savepoint append_entries`.execute(db);
    const answer = await appendBatches(db, request, batches);
    if (!answer.ok) await sql`rollback to savepoint append_entries`.execute(db);
    await sql`release savepoint append_entries`.execute(db);
    return answer;
  }
  try {
    return await db.transaction().execute(async (tx) => {
      const answer = await appendBatches(tx, request, batches);
      if (!answer.ok) throw new Refused(answer.refusal);
      return answer;
    });
  } catch (error) {
    if (error instanceof Refused) return { ok: false, refusal: error.refusal };
    throw error;
  }
}

/** Carries a refusal out of the transaction that it ends. */
class Refused extends Error {
  readonly refusal: AppendRefusal;

  constructor(refusal: AppendRefusal) {
    super(refusal.code);
    this.refusal = refusal;
  }
}

type FunctionRow = {
  seq: number | null;
  recorded_at: string | null;
  hash: string | null;
  replayed: boolean | null;
  refusal: AppendRefusal | null;
};

async function appendBatches(
  db: Kysely<Database>,
  request: AppendRequest,
  batches: readonly (readonly string[])[],
): Promise<AppendAnswer> {
  const entries: AppendedEntry[] = [];
  let added = 0;
  for (const batch of batches) {
    // The head moves on with each batch of our own; nobody else can move it while this transaction holds its row.
    const expected = request.expectedSeq === undefined ? null : request.expectedSeq + added;
    const result = await sql<FunctionRow>`
      select seq, recorded_at, hash, replayed, refusal
        from ${callFor(request, expected, batch)}
        order by ordinal`.execute(db);
    for (const row of result.rows) {
      if (row.refusal !== null) return { ok: false, refusal: shiftIndex(row.refusal, entries.length) };
    }
    const answered = result.rows.map(toAppended);
    if (answered.length !== batch.length) throw new Error('append_entries did not answer for every content.');
    added += answered.filter((entry) => !entry.replayed).length;
    entries.push(...answered);
    request.onProgress?.(entries.length, request.contents.length);
  }
  return { ok: true, entries };
}

function callFor(
  { aircraftId, isUntold = false, heldAt }: AppendRequest,
  expected: number | null,
  batch: readonly string[],
) {
  const given = sql`${aircraftId}::uuid, ${expected}::integer, ${batch}::text[]`;
  if (heldAt !== undefined) return sql`public.append_held(${given}, ${heldAt}::text, ${!isUntold}::boolean)`;
  return isUntold ? sql`public.append_untold(${given})` : sql`public.append_entries(${given})`;
}

function toAppended(row: FunctionRow): AppendedEntry {
  const { seq, recorded_at, hash, replayed } = row;
  if (seq === null || recorded_at === null || hash === null || replayed === null) {
    throw new Error('append_entries answered with neither an entry nor a refusal.');
  }
  return { seq, recordedAt: recorded_at, hash, replayed };
}

function shiftIndex(refusal: AppendRefusal, by: number): AppendRefusal {
  return 'index' in refusal ? { ...refusal, index: refusal.index + by } : refusal;
}

/** At least one batch, also for no contents: the aircraft is then still looked up. */
function splitBatches(contents: readonly string[]): string[][] {
  const batches: string[][] = [];
  let batch: string[] = [];
  let characters = 0;
  for (const content of contents) {
    if (batch.length > 0 && (batch.length >= batchEntries || characters + content.length > batchCharacters)) {
      batches.push(batch);
      batch = [];
      characters = 0;
    }
    batch.push(content);
    characters += content.length;
  }
  batches.push(batch);
  return batches;
}
