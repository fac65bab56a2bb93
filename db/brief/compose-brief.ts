/**
 * Composes a brief of an aircraft in the store (rule B1): which entries it is made from where nobody says, the hashes that the chain has of them,
 * and the proposals. The ledger is read by whoever asks, since a server keeps it and the command reads it anew.
 */
import type { Kysely } from 'kysely';
import type { Database } from '#db/database.ts';
import { listRevisions } from '#db/proposal/proposals.ts';
import { inventedAircraft } from '#db/record/invented-aircraft.ts';
import { briefContent } from '#shared/brief/content.ts';
import { earlierOf } from '#shared/brief/earlier.ts';
import type { BriefContent, BriefLine } from '#shared/contract/brief.ts';
import type { AircraftId } from '#shared/ledger/entry.ts';
import { type Ledger, openLedger } from '#shared/ledger/fold.ts';
import { accept, type Result, refuse } from '#shared/result.ts';
import type { PathProblem } from '#shared/words/path-problem.ts';
import { listBriefs } from './briefs.ts';

/** Calls `work` with the ledger as known at an entry that is there; it must be done when it returns. */
export type ReadAt = <Answer>(seq: number, work: (ledger: Ledger) => Answer) => Promise<Answer>;

export type BriefAsked = {
  readonly aircraft: { readonly id: string; readonly name: string };
  /** Left out: the last entry there is. */
  readonly entry: number | undefined;
  /** Left out: where the last issued brief before it ends, or the beginning. */
  readonly since: number | undefined;
  readonly by: string;
  /** The shop's day. */
  readonly on: string;
};

export async function composeBrief(
  db: Kysely<Database>,
  asked: BriefAsked,
  readAt: ReadAt,
): Promise<Result<BriefContent, readonly PathProblem[]>> {
  const { aircraft, by, on } = asked;
  const last = await lastSeqOf(db, aircraft.id);
  const briefs = await listBriefs(db, aircraft.id);
  const entry = asked.entry ?? last;
  const since = asked.since ?? lastIssued(briefs, entry)?.toSeq ?? 0;
  const problems = problemsOf({ entry, since, last });
  if (problems.length > 0) return refuse(problems);
  const hashes = await recordedOf(db, aircraft.id, [since, entry]);
  const toHash = hashes.get(entry)?.hash;
  if (toHash === undefined) throw new Error(`entry ${entry} is there and has no hash`);
  const before = briefs.find(({ state, toSeq }) => state === 'issued' && toSeq === since);
  const given = {
    aircraft: {
      ...{ id: aircraft.id as AircraftId, name: aircraft.name },
      isInvented: (await inventedAircraft(db)).has(aircraft.id),
    },
    ...{ by, on, hashes: { from: hashes.get(since)?.hash, to: toHash } },
    revisions: await listRevisions(db, aircraft.id),
    newAfter: before?.madeAt ?? hashes.get(since)?.recordedAt ?? '',
  };
  const earlier = since === 0 ? earlierOf(openLedger()) : await readAt(since, earlierOf);
  return accept(await readAt(entry, (ledger) => briefContent(ledger, earlier, given)));
}

/** The last brief that was issued of what was known at an entry. */
export function lastIssued(briefs: readonly BriefLine[], entry: number): BriefLine | undefined {
  return briefs
    .filter(({ issued, toSeq }) => issued !== undefined && toSeq <= entry)
    .sort((a, b) => (b.issued?.number ?? 0) - (a.issued?.number ?? 0))[0];
}

function problemsOf(given: { readonly entry: number; readonly since: number; readonly last: number }): PathProblem[] {
  const { entry, since, last } = given;
  const missing = (field: string, seq: number): PathProblem => ({
    path: [field],
    refusal: { code: 'no-such-entry', seq, last },
  });
  if (last === 0) return [missing('entry', Math.max(1, entry))];
  const unknown = [
    ...(entry > last ? [missing('entry', entry)] : []),
    ...(since > last ? [missing('since', since)] : []),
  ];
  if (unknown.length > 0 || since <= entry) return unknown;
  return [{ path: ['since'], refusal: { code: 'period-reversed', from: String(since), to: String(entry) } }];
}

async function lastSeqOf(db: Kysely<Database>, aircraftId: string): Promise<number> {
  const row = await db.selectFrom('aircraft').select('head_seq').where('id', '=', aircraftId).executeTakeFirst();
  return row?.head_seq ?? 0;
}

async function recordedOf(db: Kysely<Database>, aircraftId: string, seqs: readonly number[]) {
  const rows = await db
    .selectFrom('entry')
    .select(['seq', 'hash', 'recorded_at'])
    .where('aircraft_id', '=', aircraftId)
    .where('seq', 'in', seqs)
    .execute();
  return new Map(rows.map((row) => [row.seq, { hash: row.hash, recordedAt: row.recorded_at }]));
}
