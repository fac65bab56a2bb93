/**
 * What stands beside an aircraft's chain and has a hash of its own: issued briefs and photos (rule L5). Recomputed in TypeScript from what is
 * stored. Each hash covers its own thing alone, and stands beside it: one that was changed together with its hash is not found here. An issued
 * brief carries the hash on paper. Drafts, what was said of them, proposals, remarks on photos and their small copies have none. Reads only.
 */

import { createHash } from 'node:crypto';
import type { Kysely } from 'kysely';
import type { Database } from '#db/database.ts';
import { BriefContent } from '#shared/contract/brief.ts';
import { say } from '#shared/words/say.ts';
import { entryHash } from './entry-hash.ts';

export type Beside = {
  /** How many were read. */
  readonly briefs: number;
  readonly photos: number;
  /** In words, one for each that is not as it was. */
  readonly faults: readonly string[];
};

export async function verifyBeside(db: Kysely<Database>, aircraftId: string): Promise<Beside> {
  const [briefs, photos] = [await briefFaults(db, aircraftId), await photoFaults(db, aircraftId)];
  return { briefs: briefs.length, photos: photos.length, faults: [...briefs, ...photos].flat() };
}

type Found = readonly string[];

async function briefFaults(db: Kysely<Database>, aircraftId: string): Promise<readonly Found[]> {
  const issued = await db
    .selectFrom('brief_statement')
    .select(['brief_id', 'issue_number', 'remarks', 'hash'])
    .where('aircraft_id', '=', aircraftId)
    .where('act', '=', 'issue')
    .orderBy('issue_number')
    .execute();
  const found: Found[] = [];
  let before = 0;
  for (const { brief_id: briefId, issue_number, remarks, hash } of issued) {
    const number = issue_number ?? 0;
    const brief = await db
      .selectFrom('brief')
      .select(['content', 'from_seq', 'to_seq'])
      .where('aircraft_id', '=', aircraftId)
      .where('brief_id', '=', briefId)
      .executeTakeFirst();
    found.push([
      ...(number === before + 1 ? [] : [say`Issued brief ${before + 1} is missing; the next one there is ${number}.`]),
      ...(brief === undefined
        ? [say`Issued brief ${number} has no content any more.`]
        : sha256(`${brief.content}\n${remarks}`) === hash
          ? await entryFaults(db, aircraftId, { ...brief, number })
          : [say`Issued brief ${number} has another hash than its content and remarks give: one of them was changed.`]),
    ]);
    before = issue_number ?? before;
  }
  return found;
}

/** A brief that is as it was issued names the entries that it was made from, and the hashes they had. */
async function entryFaults(
  db: Kysely<Database>,
  aircraftId: string,
  brief: {
    readonly content: string;
    readonly from_seq: number;
    readonly to_seq: number;
    readonly number: number;
  },
): Promise<Found> {
  const read = contentOf(brief.content);
  if (read === undefined) return [say`Issued brief ${brief.number} cannot be read.`];
  const { from, to } = read;
  const faults: string[] = [];
  if (from.seq !== brief.from_seq || to.seq !== brief.to_seq)
    faults.push(say`Issued brief ${brief.number} has other entry numbers beside its content than the content says.`);
  for (const { seq, hash } of [from, to]) {
    if (hash === undefined) continue;
    if ((await entryHash(db, aircraftId, seq)) !== hash)
      faults.push(
        say`Issued brief ${brief.number} was made from an entry ${seq} with another hash than the ledger has now.`,
      );
  }
  return faults;
}

function contentOf(text: string): BriefContent | undefined {
  try {
    return BriefContent.safeParse(JSON.parse(text)).data;
  } catch {
    return undefined;
  }
}

async function photoFaults(db: Kysely<Database>, aircraftId: string): Promise<readonly Found[]> {
  const photos = db.selectFrom('photo').where('aircraft_id', '=', aircraftId);
  const ids = await photos.select(['id', 'recorded_at', 'by_name']).orderBy('recorded_at').orderBy('id').execute();
  const found: Found[] = [];
  // One after the other: they are up to a megabyte each.
  for (const { id, recorded_at: at, by_name: by } of ids) {
    const { sha256: hash, bytes } = await photos
      .select(['sha256', 'bytes'])
      .where('id', '=', id)
      .executeTakeFirstOrThrow();
    found.push(
      sha256(bytes) === hash
        ? []
        : [say`The photo ${id}, taken in by ${by} at ${at}, has another hash than its bytes give: it was changed.`],
    );
  }
  return found;
}

function sha256(data: string | Uint8Array): string {
  return createHash('sha256').update(data).digest('hex');
}
