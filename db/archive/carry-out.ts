/** Reads an aircraft from the database as it is carried out (rule X1): its chain up to the head, and what stands beside it. */
import { type Kysely, sql } from 'kysely';
import type { Database } from '#db/database.ts';
import type { Aircraft } from '#db/ledger/aircraft.ts';
import { readEntries } from '#db/ledger/read.ts';
import { inventedAircraft } from '#db/record/invented-aircraft.ts';
import type { ChainedText } from '#shared/archive/entry-tables.ts';
import type { CarriedBrief, CarriedBriefStatement, CarriedPhoto, CarriedProposal } from './archive.ts';
import type { WriteRequest } from './write-archive.ts';

export async function aircraftToCarry(
  db: Kysely<Database>,
  { id, name, headSeq, headHash }: Aircraft,
  stamp: { readonly exportedAt: string; readonly exportedBy: string },
): Promise<WriteRequest> {
  const entries: ChainedText[] = [];
  for await (const { seq, recordedAt, hash, content } of readEntries(db, { aircraftId: id, upToSeq: headSeq }))
    entries.push({ seq, recordedAt, hash, content });
  const isInvented = (await inventedAircraft(db)).has(id);
  const [proposals, photos] = [await proposalsOf(db, id), await photosOf(db, id)];
  const [briefs, briefStatements] = [await briefsOf(db, id), await briefStatementsOf(db, id)];
  const beside = { proposals, briefs, briefStatements, photos };
  return { aircraft: { id, name, isInvented }, entries, ...beside, headHash, ...stamp };
}

async function proposalsOf(db: Kysely<Database>, aircraftId: string): Promise<readonly CarriedProposal[]> {
  const rows = await db
    .selectFrom('proposal_revision')
    .select(['proposal_id', 'revision', 'id', 'by_name', 'recorded_at', 'sent', 'content'])
    .where('aircraft_id', '=', aircraftId)
    .orderBy('proposal_id')
    .orderBy('revision')
    .execute();
  return rows.map(({ proposal_id: proposalId, by_name: by, recorded_at: recordedAt, ...row }) => ({
    ...row,
    proposalId,
    by,
    recordedAt,
  }));
}

async function briefsOf(db: Kysely<Database>, aircraftId: string): Promise<readonly CarriedBrief[]> {
  const rows = await db
    .selectFrom('brief')
    .select(['brief_id', 'from_seq', 'to_seq', 'by_name', 'recorded_at', 'sent', 'content'])
    .where('aircraft_id', '=', aircraftId)
    .orderBy('recorded_at')
    .orderBy('brief_id')
    .execute();
  return rows.map((row) => ({
    ...{ briefId: row.brief_id, fromSeq: row.from_seq, toSeq: row.to_seq, by: row.by_name },
    ...{ recordedAt: row.recorded_at, sent: row.sent, content: row.content },
  }));
}

async function briefStatementsOf(db: Kysely<Database>, aircraftId: string): Promise<readonly CarriedBriefStatement[]> {
  const rows = await db
    .selectFrom('brief_statement')
    .select(['brief_id', 'revision', 'id', 'act', 'by_name', 'recorded_at', 'sent', 'remarks', 'issue_number', 'hash'])
    .where('aircraft_id', '=', aircraftId)
    // Whole briefs in the order of their numbers, not by the clock: two acts may share a millisecond, and a clock may be set back.
    .orderBy(sql`max(issue_number) over (partition by brief_id)`, (order) => order.asc().nullsLast())
    .orderBy('brief_id')
    .orderBy('revision')
    .execute();
  return rows.map((row) => ({
    ...{ briefId: row.brief_id, revision: row.revision, id: row.id, act: row.act as CarriedBriefStatement['act'] },
    ...{ by: row.by_name, recordedAt: row.recorded_at, sent: row.sent, remarks: row.remarks },
    ...{ number: row.issue_number ?? undefined, hash: row.hash ?? undefined },
  }));
}

async function photosOf(db: Kysely<Database>, aircraftId: string): Promise<readonly CarriedPhoto[]> {
  const rows = await db
    .selectFrom('photo')
    .leftJoin('photo_removal', (join) =>
      join
        .onRef('photo_removal.aircraft_id', '=', 'photo.aircraft_id')
        .onRef('photo_removal.photo_id', '=', 'photo.id'),
    )
    .select([
      'photo.id',
      'part_id',
      'entry_id',
      'photo.by_name',
      'photo.recorded_at',
      'remark',
      'width_px',
      'height_px',
    ])
    .select(['sha256', 'bytes', 'small_bytes', 'reason'])
    .select(['photo_removal.by_name as removed_by', 'photo_removal.recorded_at as removed_at'])
    .where('photo.aircraft_id', '=', aircraftId)
    .orderBy('photo.recorded_at')
    .orderBy('photo.id')
    .execute();
  return rows.map((row) => ({
    id: row.id,
    partId: row.part_id ?? undefined,
    entryId: row.entry_id ?? undefined,
    by: row.by_name,
    recordedAt: row.recorded_at,
    remark: row.remark ?? undefined,
    widthPx: row.width_px,
    heightPx: row.height_px,
    sha256: row.sha256,
    bytes: row.bytes,
    smallBytes: row.small_bytes,
    removal:
      row.removed_by === null || row.removed_at === null || row.reason === null
        ? undefined
        : { by: row.removed_by, recordedAt: row.removed_at, reason: row.reason },
  }));
}
