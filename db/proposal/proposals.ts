/**
 * Keeps proposals (rule F8): one more row for each statement, the latest in force. A statement sent again is answered as the first time;
 * one that was made without having seen the last revision is refused.
 */
import type { Kysely } from 'kysely';
import type { Database } from '#db/database.ts';
import { sqlState } from '#db/engine/sql-state.ts';
import { ProposalContent, type ProposalRevision } from '#shared/contract/proposal.ts';

export type KeptRevision = { readonly proposalId: string; readonly revision: number; readonly replayed: boolean };

export type KeepRefusal =
  | { readonly code: 'no-such-proposal' }
  | { readonly code: 'proposal-id-reused' }
  | { readonly code: 'proposal-moved-on'; readonly revision: number; readonly by: string };

export type KeepAnswer = { ok: true; kept: KeptRevision } | { ok: false; refusal: KeepRefusal };

export type Keeping = {
  readonly aircraftId: string;
  readonly proposalId: string;
  /** Of this statement; that of the first one is the proposal's. */
  readonly id: string;
  /** The revision that was seen; 0 for a new proposal. */
  readonly after: number;
  readonly by: string;
  /** What was sent, in one spelling: by it a statement sent again is known for the same. */
  readonly sent: string;
  readonly content: ProposalContent;
};

/** Every revision of every proposal, oldest first. */
export async function listRevisions(db: Kysely<Database>, aircraftId: string): Promise<readonly ProposalRevision[]> {
  const rows = await db
    .selectFrom('proposal_revision')
    .select(['proposal_id', 'revision', 'by_name', 'recorded_at', 'content'])
    .where('aircraft_id', '=', aircraftId)
    .orderBy('recorded_at')
    .orderBy('proposal_id')
    .orderBy('revision')
    .execute();
  return rows.map((row) => ({
    proposalId: row.proposal_id,
    revision: row.revision,
    by: row.by_name,
    recordedAt: row.recorded_at,
    content: ProposalContent.parse(JSON.parse(row.content)),
  }));
}

/** What a proposal says now. */
export async function latestOf(
  db: Kysely<Database>,
  { aircraftId, proposalId }: Pick<Keeping, 'aircraftId' | 'proposalId'>,
): Promise<{ readonly revision: number; readonly by: string; readonly content: ProposalContent } | undefined> {
  const row = await db
    .selectFrom('proposal_revision')
    .select(['revision', 'by_name', 'content'])
    .where('aircraft_id', '=', aircraftId)
    .where('proposal_id', '=', proposalId)
    .orderBy('revision', 'desc')
    .limit(1)
    .executeTakeFirst();
  if (row === undefined) return undefined;
  return { revision: row.revision, by: row.by_name, content: ProposalContent.parse(JSON.parse(row.content)) };
}

/** The first answer, where this very statement is there already; undefined where its id is new. */
export async function answeredBefore(
  db: Kysely<Database>,
  { aircraftId, proposalId, id, after, by, sent }: Omit<Keeping, 'content'>,
): Promise<KeepAnswer | undefined> {
  const row = await db
    .selectFrom('proposal_revision')
    .select(['proposal_id', 'revision', 'by_name', 'sent'])
    .where('aircraft_id', '=', aircraftId)
    .where('id', '=', id)
    .executeTakeFirst();
  if (row === undefined) return undefined;
  const isSame =
    row.proposal_id === proposalId && row.revision === after + 1 && row.by_name === by && row.sent === sent;
  if (!isSame) return { ok: false, refusal: { code: 'proposal-id-reused' } };
  return { ok: true, kept: { proposalId, revision: row.revision, replayed: true } };
}

export async function keepRevision(db: Kysely<Database>, keeping: Keeping): Promise<KeepAnswer> {
  const { aircraftId, proposalId, id, after, by, sent, content } = keeping;
  const before = await answeredBefore(db, keeping);
  if (before !== undefined) return before;
  try {
    await db
      .insertInto('proposal_revision')
      .values({
        aircraft_id: aircraftId,
        proposal_id: proposalId,
        revision: after + 1,
        id,
        by_name: by,
        sent,
        content: JSON.stringify(content),
      })
      .execute();
    return { ok: true, kept: { proposalId, revision: after + 1, replayed: false } };
  } catch (error) {
    if (!TAKEN.has(sqlState(error))) throw error;
  }
  // Somebody was faster: with this very statement, sent twice at once, or with another one.
  const faster = await answeredBefore(db, keeping);
  if (faster !== undefined) return faster;
  const latest = await latestOf(db, keeping);
  if (latest === undefined) return { ok: false, refusal: { code: 'no-such-proposal' } };
  return { ok: false, refusal: { code: 'proposal-moved-on', revision: latest.revision, by: latest.by } };
}

/** A broken unique index, or a revision that does not follow the last one. */
const TAKEN: ReadonlySet<string> = new Set(['23505', 'TB003']);
