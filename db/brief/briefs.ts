/**
 * Keeps briefs (rule B3): the content as it was made, and row upon row what was said of it. Anything sent again is answered as the first
 * time; what is said without having seen the last row is refused, and so is anything once the brief is issued or dropped. The database sees
 * to all of that itself.
 */
import { createHash } from 'node:crypto';
import canonicalize from 'canonicalize';
import { type Kysely, type Selectable, sql } from 'kysely';
import type { BriefStatementTable, Database } from '#db/database.ts';
import type { ReadCopy } from '#db/engine/read-copy.ts';
import { sqlState } from '#db/engine/sql-state.ts';
import {
  type Brief,
  BriefContent,
  type BriefLine,
  BriefRemarks,
  type BriefState,
  type KeptBrief,
} from '#shared/contract/brief.ts';

export type BriefRefusal =
  | { readonly code: 'no-such-brief' }
  | { readonly code: 'brief-id-reused' }
  | { readonly code: 'brief-moved-on'; readonly by: string }
  | { readonly code: 'brief-closed'; readonly state: BriefState; readonly by: string };

export type BriefAnswer = { ok: true; kept: KeptBrief } | { ok: false; refusal: BriefRefusal };

type Named = { readonly aircraftId: string; readonly briefId: string };

export type Making = Named & {
  readonly by: string;
  /** What was asked for, in one spelling: by it a brief asked for again is known for the same. */
  readonly sent: string;
  readonly content: BriefContent;
};

export type BriefAct = 'remark' | 'issue' | 'drop';

export type Stating = Named & {
  /** Of this very statement. */
  readonly id: string;
  /** The revision that was seen; 0 of a brief that nothing was said of. */
  readonly after: number;
  readonly act: BriefAct;
  readonly by: string;
  /** With `remark`: all remarks as they are to be. */
  readonly remarks: BriefRemarks;
};

/** The first answer, where this very brief is there already; undefined where its id is new. */
export async function madeBefore(
  db: Kysely<Database>,
  { aircraftId, briefId, by, sent }: Omit<Making, 'content'>,
): Promise<BriefAnswer | undefined> {
  const row = await db
    .selectFrom('brief')
    .select(['by_name', 'sent'])
    .where('aircraft_id', '=', aircraftId)
    .where('brief_id', '=', briefId)
    .executeTakeFirst();
  if (row === undefined) return undefined;
  if (row.by_name !== by || row.sent !== sent) return { ok: false, refusal: { code: 'brief-id-reused' } };
  return { ok: true, kept: { replayed: true, briefId, revision: 0, state: 'draft' } };
}

export async function keepBrief(db: Kysely<Database>, making: Making): Promise<BriefAnswer> {
  const { aircraftId, briefId, by, sent, content } = making;
  const added = await db
    .insertInto('brief')
    .values({
      ...{ aircraft_id: aircraftId, brief_id: briefId, by_name: by, sent, content: canonicalize(content) ?? '' },
      ...{ from_seq: content.from.seq, to_seq: content.to.seq },
    })
    .onConflict((conflict) => conflict.columns(['aircraft_id', 'brief_id']).doNothing())
    .executeTakeFirstOrThrow();
  if (added.numInsertedOrUpdatedRows === 1n)
    return { ok: true, kept: { replayed: false, briefId, revision: 0, state: 'draft' } };
  const before = await madeBefore(db, making);
  if (before === undefined) throw new Error('a brief that is not added was there before');
  return before;
}

/** Says something of a draft. */
export async function stateBrief(db: Kysely<Database>, stating: Stating): Promise<BriefAnswer> {
  const { aircraftId, briefId, id, after, act, by, remarks } = stating;
  const sent = canonicalize({ act, remarks }) ?? '';
  const before = await statedBefore(db, { ...stating, sent });
  if (before !== undefined) return before;
  try {
    await db
      .insertInto('brief_statement')
      .values({
        ...{ aircraft_id: aircraftId, brief_id: briefId, revision: after + 1, id, act, by_name: by, sent },
        remarks: canonicalize(remarks) ?? '{}',
      })
      .execute();
    return { ok: true, kept: { replayed: false, briefId, revision: after + 1, state: stateOf(act) } };
  } catch (error) {
    if (!REFUSED.has(sqlState(error))) throw error;
  }
  // Somebody was faster: with this very statement, sent twice at once, or with another one.
  const faster = await statedBefore(db, { ...stating, sent });
  if (faster !== undefined) return faster;
  const last = await lastStatement(db, stating);
  if (last !== undefined && last.act !== 'remark')
    return { ok: false, refusal: { code: 'brief-closed', state: stateOf(last.act), by: last.by_name } };
  if (last !== undefined) return { ok: false, refusal: { code: 'brief-moved-on', by: last.by_name } };
  return { ok: false, refusal: (await isThere(db, stating)) ? UNSAID : { code: 'no-such-brief' } };
}

/** Seen further than there is: nobody has said anything of it. */
const UNSAID: BriefRefusal = { code: 'brief-moved-on', by: '' };

/** A broken unique index, no such brief, a revision that does not follow the last one, a brief that is closed. */
const REFUSED: ReadonlySet<string> = new Set(['23505', '23503', 'TB003', 'TB004']);

async function statedBefore(
  db: Kysely<Database>,
  { aircraftId, briefId, id, after, by, sent }: Omit<Stating, 'remarks' | 'act'> & { readonly sent: string },
): Promise<BriefAnswer | undefined> {
  const row = await db
    .selectFrom('brief_statement')
    .select(['brief_id', 'revision', 'by_name', 'sent', 'act'])
    .where('aircraft_id', '=', aircraftId)
    .where('id', '=', id)
    .executeTakeFirst();
  if (row === undefined) return undefined;
  const isSame = row.brief_id === briefId && row.revision === after + 1 && row.by_name === by && row.sent === sent;
  if (!isSame) return { ok: false, refusal: { code: 'brief-id-reused' } };
  return { ok: true, kept: { replayed: true, briefId, revision: row.revision, state: stateOf(row.act) } };
}

async function lastStatement(db: Kysely<Database>, { aircraftId, briefId }: Named) {
  return await db
    .selectFrom('brief_statement')
    .selectAll()
    .where('aircraft_id', '=', aircraftId)
    .where('brief_id', '=', briefId)
    .orderBy('revision', 'desc')
    .limit(1)
    .executeTakeFirst();
}

async function isThere(db: Kysely<Database>, { aircraftId, briefId }: Named): Promise<boolean> {
  const row = await db
    .selectFrom('brief')
    .select('brief_id')
    .where('aircraft_id', '=', aircraftId)
    .where('brief_id', '=', briefId)
    .executeTakeFirst();
  return row !== undefined;
}

function stateOf(act: string | undefined): BriefState {
  if (act === 'issue') return 'issued';
  return act === 'drop' ? 'dropped' : 'draft';
}

export type KeptWhole = {
  readonly brief: Brief;
  /** Of an issued brief: its content and remarks are those that were hashed when it was issued. */
  readonly fitsItsHash: boolean;
};

/** A brief whole. The content of one that is issued is read from the copy, where that has it as it was hashed. */
export async function briefWith(db: Kysely<Database>, named: Named, copy?: ReadCopy): Promise<KeptWhole | undefined> {
  const row = await ofBrief(db, named).select('recorded_at').executeTakeFirst();
  if (row === undefined) return undefined;
  const last = await lastStatement(db, named);
  const remarks = last?.remarks ?? '{}';
  const fits = (text: string) => {
    const hash = createHash('sha256').update(`${text}\n${remarks}`, 'utf8').digest('hex');
    return last?.act !== 'issue' || last.hash === hash;
  };
  const contentIn = async (one: Kysely<Database>) =>
    (await ofBrief(one, named).select('content').executeTakeFirst())?.content;
  // Of a draft there is no hash to hold it against.
  const copied = last?.act === 'issue' ? await copy?.read(contentIn, async (text) => fits(text)) : undefined;
  const content = copied ?? (await contentIn(db));
  if (content === undefined) throw new Error('a brief is never taken away');
  return {
    brief: {
      ...standingOf(named.briefId, row.recorded_at, last),
      content: BriefContent.parse(JSON.parse(content)),
      remarks: BriefRemarks.parse(JSON.parse(remarks)),
    },
    fitsItsHash: fits(content),
  };
}

function ofBrief(db: Kysely<Database>, { aircraftId, briefId }: Named) {
  return db.selectFrom('brief').where('aircraft_id', '=', aircraftId).where('brief_id', '=', briefId);
}

type Standing = Pick<BriefLine, 'briefId' | 'state' | 'revision' | 'madeAt' | 'issued'>;
type Last = Pick<
  Selectable<BriefStatementTable>,
  'act' | 'revision' | 'by_name' | 'recorded_at' | 'hash' | 'issue_number'
>;

function standingOf(briefId: string, madeAt: string, last: Last | undefined): Standing {
  const { issue_number: number, hash } = last ?? {};
  const isIssued = last !== undefined && typeof number === 'number' && typeof hash === 'string';
  return {
    ...{ briefId, state: stateOf(last?.act), revision: last?.revision ?? 0, madeAt },
    ...(isIssued ? { issued: { number, by: last.by_name, at: last.recorded_at, hash } } : {}),
  };
}

/** The drafts and the issued briefs of an aircraft, newest first. Those that were dropped are left out. */
export async function listBriefs(db: Kysely<Database>, aircraftId: string): Promise<readonly BriefLine[]> {
  const briefs = await db
    .selectFrom('brief')
    .select(['brief_id', 'from_seq', 'to_seq', 'by_name', 'recorded_at'])
    .select(sql<string>`content::json -> 'headline' ->> 'lead'`.as('lead'))
    .where('aircraft_id', '=', aircraftId)
    .orderBy('recorded_at', 'desc')
    .orderBy('brief_id')
    .execute();
  const statements = await db
    .selectFrom('brief_statement')
    .select(['brief_id', 'revision', 'act', 'by_name', 'recorded_at', 'hash', 'issue_number'])
    .where('aircraft_id', '=', aircraftId)
    .orderBy('revision')
    .execute();
  const last = new Map(statements.map((statement) => [statement.brief_id, statement]));
  return briefs
    .map((row) => ({
      ...standingOf(row.brief_id, row.recorded_at, last.get(row.brief_id)),
      ...{ by: row.by_name, fromSeq: row.from_seq, toSeq: row.to_seq, lead: row.lead },
    }))
    .filter(({ state }) => state !== 'dropped');
}
