/**
 * Brings an aircraft in as it was carried out (rule X3): all of it in one transaction, or nothing. At its end the chain is walked again and every
 * text is held against the one that came, so that what is answered is what is on the disk.
 */
import { type Kysely, sql } from 'kysely';
import type { Database } from '#db/database.ts';
import { createAircraft } from '#db/ledger/create-aircraft.ts';
import { readEntries } from '#db/ledger/read.ts';
import { verifyChain } from '#db/ledger/verify.ts';
import { markInvented } from '#db/record/invented-aircraft.ts';
import type { ChainedText } from '#shared/archive/entry-tables.ts';
import type { Refusal } from '#shared/problem/registry.ts';
import { say } from '#shared/words/say.ts';
import type { ReadArchive } from './archive.ts';

export type BringRequest = {
  readonly archive: ReadArchive;
  /** Under which name; else its own. No hash covers it. */
  readonly name?: string | undefined;
  readonly by: string;
  readonly onProgress?: (done: number, total: number) => void;
};

export type BringAnswer =
  | { readonly ok: true; readonly aircraftId: string; readonly name: string; readonly entryCount: number }
  | { readonly ok: false; readonly refusal: Refusal };

const BATCH_ENTRIES = 250;
const BATCH_CHARACTERS = 1_000_000;

export async function bringAircraft(db: Kysely<Database>, request: BringRequest): Promise<BringAnswer> {
  const { archive, by } = request;
  const { id } = archive.aircraft;
  const name = request.name ?? archive.aircraft.name;
  try {
    return await db.transaction().execute(async (tx) => {
      await makeAircraft(tx, { id, name });
      await tx
        .insertInto('brought_aircraft')
        .values({ aircraft_id: id, by_name: by, entry_count: archive.entries.length, head_hash: archive.headHash })
        .execute();
      await bringEntries(tx, request);
      await bringBeside(tx, archive);
      if (archive.aircraft.isInvented) await markInvented(tx, id);
      await mustBeAsCarried(tx, archive);
      return { ok: true, aircraftId: id, name, entryCount: archive.entries.length };
    });
  } catch (error) {
    if (error instanceof Refused) return { ok: false, refusal: error.refusal };
    throw error;
  }
}

/** Carries a refusal out of the transaction that it ends. */
class Refused extends Error {
  readonly refusal: Refusal;

  constructor(refusal: Refusal) {
    super(refusal.code);
    this.refusal = refusal;
  }
}

async function makeAircraft(tx: Kysely<Database>, { id, name }: { readonly id: string; readonly name: string }) {
  const there = await tx.selectFrom('aircraft').select('id').where('id', '=', id).executeTakeFirst();
  if (there !== undefined) throw new Refused({ code: 'aircraft-here-already' });
  const created = await createAircraft(tx, { id, name });
  if (created.ok && !created.replayed) return;
  if (!created.ok && created.refusal.code === 'aircraft-name-taken')
    throw new Refused({ code: 'aircraft-name-taken', name: created.refusal.name });
  // Somebody was faster.
  throw new Refused({ code: 'aircraft-here-already' });
}

async function bringEntries(tx: Kysely<Database>, { archive, onProgress }: BringRequest): Promise<void> {
  const { entries, aircraft } = archive;
  for (let from = 0; from < entries.length; ) {
    const batch = batchFrom(entries, from);
    const contents = batch.map(({ content }) => content);
    const moments = batch.map(({ recordedAt }) => recordedAt);
    await sql`select public.bring_entries(${aircraft.id}::uuid, ${contents}::text[], ${moments}::text[])`.execute(tx);
    from += batch.length;
    onProgress?.(from, entries.length);
  }
}

/** At least one entry, and no more than one statement should hold. */
function batchFrom(entries: readonly ChainedText[], from: number): readonly ChainedText[] {
  let characters = 0;
  let to = from;
  while (to < entries.length && to - from < BATCH_ENTRIES) {
    characters += entries[to]?.content.length ?? 0;
    if (to > from && characters > BATCH_CHARACTERS) break;
    to += 1;
  }
  return entries.slice(from, to);
}

async function bringBeside(tx: Kysely<Database>, archive: ReadArchive): Promise<void> {
  const { aircraft, proposals, briefs, briefStatements, photos } = archive;
  for (const { proposalId, revision, id, by, recordedAt, sent, content } of proposals)
    await sql`select public.bring_proposal(${aircraft.id}::uuid, ${proposalId}::uuid, ${revision}::integer, ${id}::uuid,
      ${by}::text, ${recordedAt}::text, ${sent}::text, ${content}::text)`.execute(tx);
  for (const { briefId, fromSeq, toSeq, by, recordedAt, sent, content } of briefs)
    await sql`select public.bring_brief(${aircraft.id}::uuid, ${briefId}::uuid, ${fromSeq}::integer, ${toSeq}::integer,
      ${by}::text, ${recordedAt}::text, ${sent}::text, ${content}::text)`.execute(tx);
  for (const { briefId, revision, id, act, by, recordedAt, sent, remarks } of briefStatements)
    await sql`select public.bring_brief_statement(${aircraft.id}::uuid, ${briefId}::uuid, ${revision}::integer, ${id}::uuid,
      ${act}::text, ${by}::text, ${recordedAt}::text, ${sent}::text, ${remarks}::text)`.execute(tx);
  for (const photo of photos) {
    const { id, partId = null, entryId = null, by, recordedAt, remark = null, removal } = photo;
    const { widthPx, heightPx, sha256 } = photo;
    const [bytes, small] = [Buffer.from(photo.bytes), Buffer.from(photo.smallBytes)];
    await sql`select public.bring_photo(${aircraft.id}::uuid, ${id}::uuid, ${partId}::uuid, ${entryId}::uuid, ${by}::text,
      ${recordedAt}::text, ${remark}::text, ${widthPx}::integer, ${heightPx}::integer, ${sha256}::text, ${bytes}::bytea,
      ${small}::bytea, ${removal?.by ?? null}::text, ${removal?.recordedAt ?? null}::text,
      ${removal?.reason ?? null}::text)`.execute(tx);
  }
}

/** Another answer than the one that came would be a bug here; the transaction takes everything back. */
async function mustBeAsCarried(
  tx: Kysely<Database>,
  { aircraft, entries, headHash, briefStatements }: ReadArchive,
): Promise<void> {
  const chain = await verifyChain(tx, aircraft.id);
  if (!chain.ok) throw new Error(`the chain that was brought in does not fit: ${chain.words}`);
  if (chain.headHash !== headHash || chain.entryCount !== entries.length)
    throw new Error('the chain that was brought in ends otherwise');
  for await (const { seq, content, recordedAt } of readEntries(tx, { aircraftId: aircraft.id })) {
    const came = entries[seq - 1];
    if (came?.content !== content || came.recordedAt !== recordedAt)
      throw new Error(`entry ${seq} was not stored as it came`);
  }
  const issued = await tx
    .selectFrom('brief_statement')
    .select(['id', 'remarks', 'issue_number', 'hash'])
    .where('aircraft_id', '=', aircraft.id)
    .execute();
  const came = new Map(briefStatements.map((one) => [one.id, one]));
  for (const { id, remarks, issue_number, hash } of issued) {
    const one = came.get(id);
    if (one?.remarks !== remarks || (one.number ?? null) !== issue_number || (one.hash ?? null) !== hash)
      throw new Refused({
        code: 'archive-row-refused',
        why: say`an issued brief has another number or hash than it would be given`,
      });
  }
}
