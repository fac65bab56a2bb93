/**
 * Walks an aircraft's hash chain (L5) and names the first entry that does not fit. Recomputes every hash and every
 * derived column in TypeScript from the stored text, so it does not rely on the SQL that wrote them.
 *
 * What it cannot see: a ledger rewritten as a whole, or cut together with its head. Checkpoints outside the database
 * catch those (`db/checkpoint`). Of the aircraft's own row it covers id and head, not name and birth. Reads only.
 */
import { type Kysely, type Selectable, sql } from 'kysely';
import type { Database, EntryTable } from '#db/database.ts';
import { entryHash, genesisHash } from '#db/ledger/chain-hash.ts';
import { projectContent } from '#db/ledger/projection.ts';
import { say } from '#shared/words/say.ts';

export type ChainFault = {
  ok: false;
  /** The first place in the ledger that does not fit; for a missing entry, where it should stand. */
  seq: number;
  fault: 'gap' | 'link' | 'hash' | 'text' | 'projection' | 'head' | 'twice';
  /** The derived column, for `projection`. */
  column?: string;
  words: string;
};

export type ChainAnswer = { ok: true; entryCount: number; headHash: string } | ChainFault;

/** What to do about any fault: the evidence first, since a repair would destroy it. */
export const FAULT_REMEDY = say`Record nothing more here. Keep a copy of the whole store as it is now, with its logs, and note who had access to the database: that is the evidence. Then restore the last backup that verifies, and record again what came after it.`;

const pageEntries = 1_000;

/**
 * Verifies the chain of an aircraft that exists (throws otherwise). Needs no transaction and lets writers go on: the
 * head is read after the entries, and it only grows, so entries beyond it are forged and entries short of it are cut.
 */
export async function verifyChain(db: Kysely<Database>, aircraftId: string): Promise<ChainAnswer> {
  const walked: Walked = { seq: 0, hash: genesisHash(aircraftId) };
  for (;;) {
    const fault = await walkToEnd(db, aircraftId, walked);
    if (fault !== undefined) return fault;
    const head = await readHead(db, aircraftId);
    if (head.seq < walked.seq) {
      const words = say`The aircraft says that its ledger ends with entry ${head.seq}, but more entries follow.`;
      return { ok: false, seq: head.seq + 1, fault: 'head', words };
    }
    if (head.seq === walked.seq) {
      if (head.hash === walked.hash)
        return (await findStray(db, aircraftId, walked)) ?? { ok: true, entryCount: walked.seq, headHash: walked.hash };
      const words = say`The aircraft names another hash for its last entry, ${walked.seq}, than that entry has.`;
      return { ok: false, seq: walked.seq, fault: 'head', words };
    }
    // Either appended since, or cut off: a second look tells which.
    const before = walked.seq;
    const late = await walkToEnd(db, aircraftId, walked);
    if (late !== undefined) return late;
    if (walked.seq === before) {
      const words = say`The aircraft says that its ledger ends with entry ${head.seq}, but entry ${before + 1} is missing.`;
      return { ok: false, seq: before + 1, fault: 'head', words };
    }
  }
}

/** How far the walk has come: the last entry that fits, and its hash. */
type Walked = { seq: number; hash: string };

async function walkToEnd(db: Kysely<Database>, aircraftId: string, walked: Walked): Promise<ChainFault | undefined> {
  for (;;) {
    const page = await db
      .selectFrom('entry')
      .selectAll()
      .where('aircraft_id', '=', aircraftId)
      .where('seq', '>', walked.seq)
      .orderBy('seq')
      .limit(pageEntries)
      .execute();
    for (const row of page) {
      const fault = checkEntry(row, walked);
      if (fault !== undefined) return fault;
      walked.seq = row.seq;
      walked.hash = row.hash;
    }
    if (page.length < pageEntries) return undefined;
  }
}

function checkEntry(row: Selectable<EntryTable>, before: Walked): ChainFault | undefined {
  const seq = before.seq + 1;
  if (row.seq === before.seq) return twice(row.seq);
  if (row.seq !== seq) {
    return { ok: false, seq, fault: 'gap', words: say`Entry ${seq} is missing; the next one there is ${row.seq}.` };
  }
  if (row.prev_hash !== before.hash) {
    const words =
      seq === 1
        ? say`Entry 1 does not begin the chain of this aircraft: it was changed, or belongs to another one.`
        : say`Entry ${seq} does not name the hash of entry ${before.seq}: it was changed, or that one was, or some before it.`;
    return { ok: false, seq, fault: 'link', words };
  }
  const hash = entryHash({
    aircraftId: row.aircraft_id,
    seq: row.seq,
    recordedAt: row.recorded_at,
    prevHash: row.prev_hash,
    content: row.content,
  });
  if (row.hash !== hash) {
    const words = say`Entry ${seq} has another hash than its text and time give: one of them was changed.`;
    return { ok: false, seq, fault: 'hash', words };
  }
  const answer = projectContent(row.content);
  if (!answer.ok) return { ok: false, seq, fault: 'text', words: say`Entry ${seq} cannot be read. ${answer.words}` };
  const { projection } = answer;
  const expected = {
    id: projection.id,
    kind: projection.kind,
    happened_on: projection.happenedOn,
    by_name: projection.byName,
    part_id: projection.partId,
    supersedes_id: projection.supersedesId,
    // The database keeps the sign of a zero in this column, and drops one that a text might have.
    mass_kg: projection.massKg === 0 ? 0 : projection.massKg,
  } satisfies Partial<Selectable<EntryTable>>;
  for (const [column, value] of Object.entries(expected)) {
    if (Object.entries(row).some(([name, stored]) => name === column && Object.is(stored, value))) continue;
    const words = say`Entry ${seq} has another ${column} beside its text than the text says.`;
    return { ok: false, seq, fault: 'projection', column, words };
  }
  return undefined;
}

function twice(seq: number): ChainFault {
  return { ok: false, seq, fault: 'twice', words: say`Entry ${seq} is there twice: one of the two was put in.` };
}

/** Rows that the walk passed by, which only a table without its own constraints holds: twice there, or before the first. */
async function findStray(db: Kysely<Database>, aircraftId: string, walked: Walked): Promise<ChainFault | undefined> {
  const ofAircraft = db.selectFrom('entry').where('aircraft_id', '=', aircraftId).where('seq', '<=', walked.seq);
  const { count } = await ofAircraft.select(sql<number>`count(*)::integer`.as('count')).executeTakeFirstOrThrow();
  if (count === walked.seq) return undefined;
  const found = await ofAircraft
    .select('seq')
    .groupBy('seq')
    .having(sql<boolean>`count(*) > 1 or seq < 1`)
    .orderBy('seq')
    .executeTakeFirst();
  if (found === undefined) throw new Error('The entries of a ledger do not add up, and none is there twice.');
  if (found.seq >= 1) return twice(found.seq);
  const words = say`An entry stands before the first, under the number ${found.seq}: it was put in.`;
  return { ok: false, seq: found.seq, fault: 'twice', words };
}

async function readHead(db: Kysely<Database>, aircraftId: string): Promise<Walked> {
  const head = await db
    .selectFrom('aircraft')
    .select(['head_seq', 'head_hash'])
    .where('id', '=', aircraftId)
    .executeTakeFirst();
  if (head === undefined) throw new Error('verifyChain was asked about an aircraft that does not exist.');
  return { seq: head.head_seq, hash: head.head_hash };
}
