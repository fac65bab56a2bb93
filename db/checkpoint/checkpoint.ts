/**
 * Signed checkpoints (rules L9, L10): how an aircraft's ledger stood, said outside the database. The chain finds what was changed in the middle
 * of it; a checkpoint finds a tail that was cut off and a chain that was made anew, which fit themselves. Reads only.
 */

import type { Kysely } from 'kysely';
import type { Database } from '#db/database.ts';
import { entryHash } from '#db/ledger/entry-hash.ts';
import { type ChainAnswer, type ChainFault, verifyChain } from '#db/ledger/verify.ts';
import type { Overview } from '#shared/bulk/overview.ts';
import type { Refusal } from '#shared/problem/registry.ts';
import {
  type DisplayUnits,
  SI_UNITS,
  showFixed,
  showLengthWithStd,
  showMassWithStd,
  type WithStd,
} from '#shared/quantity/show.ts';
import { accept, type Result, refuse } from '#shared/result.ts';
import { say } from '#shared/words/say.ts';
import type { ShopKey } from './key-file.ts';
import { pageText } from './page.ts';
import { isSignedBy, signatureOf } from './signature.ts';
import { type Checkpoint, onOneLine, type Statement, signedBytes } from './statement.ts';

export type CheckpointAsked = {
  readonly aircraft: { readonly id: string; readonly name: string };
  readonly by: string;
  /** ISO 8601, UTC. */
  readonly madeAt: string;
  readonly key: ShopKey;
  /** Calls `work` with the aircraft as known at an entry that is there. */
  readonly overviewAt: <Answer>(seq: number, work: (overview: Overview) => Answer) => Promise<Answer>;
};

export type Made = { readonly page: string; readonly statement: Statement };

/** The page of the last entry. A ledger that is not whole is not signed. */
export async function makeCheckpoint(
  db: Kysely<Database>,
  { aircraft, by, madeAt, key, overviewAt }: CheckpointAsked,
): Promise<Result<Made, Refusal>> {
  const chain = await verifyChain(db, aircraft.id);
  if (!chain.ok) return refuse({ code: 'ledger-not-whole', seq: chain.seq, why: chain.words });
  const seq = chain.entryCount;
  if (seq === 0) return refuse({ code: 'no-such-entry', seq: 1, last: 0 });
  const { recorded_at: recorded } = await db
    .selectFrom('entry')
    .select('recorded_at')
    .where('aircraft_id', '=', aircraft.id)
    .where('seq', '=', seq)
    .executeTakeFirstOrThrow();
  const statement: Statement = {
    ...{ aircraft: onOneLine(aircraft.name), 'aircraft id': aircraft.id, entry: String(seq), recorded },
    ...{ hash: chain.headHash, ...(await overviewAt(seq, figuresOf)), made: madeAt, by: onOneLine(by) },
  };
  const signature = signatureOf(key.privateKey, signedBytes(statement));
  return accept({ page: pageText({ statement, publicKey: key.publicKey, signature }), statement });
}

function figuresOf({ aircraft, headline: told }: Overview): Pick<Statement, 'empty weight' | 'empty CG'> {
  const units: DisplayUnits =
    aircraft === undefined ? SI_UNITS : { mass: aircraft.massUnit, length: aircraft.lengthUnit };
  const { predictedKg, predictedStdKg, cg } = told();
  const shown = ({ value, std }: WithStd, unit: string) => `${value}${std === undefined ? '' : ` ± ${std}`} ${unit}`;
  const inMac = cg.percentMac === undefined ? '' : ` (${showFixed(cg.percentMac, 1)} % MAC)`;
  return {
    'empty weight': `predicted ${shown(showMassWithStd(predictedKg, predictedStdKg, units.mass), units.mass)}`,
    'empty CG':
      cg.xM === undefined
        ? 'not known'
        : `predicted x ${shown(showLengthWithStd(cg.xM, cg.xStdM, units.length), units.length)}${inMac}`,
  };
}

/** Whether the page is as it was when it was signed with its own key. Whose key that is, its fingerprint tells. */
export function isGenuine({ statement, publicKey, signature }: Checkpoint): boolean {
  return isSignedBy(publicKey, signedBytes(statement), signature);
}

export type HeldFault = Omit<ChainFault, 'fault'> & { readonly fault: 'cut' | 'rewritten' };
export type Held =
  | { readonly ok: true; readonly entriesSince: number }
  | HeldFault
  /** The chain itself does not fit at or before the checkpoint, which therefore says no more. */
  | { readonly ok: 'unknown' };

/** An aircraft's chain, as `verifyChain` found it, held against a genuine checkpoint of that aircraft. */
export async function holdAgainst(
  db: Kysely<Database>,
  { aircraftId, seq, hash }: Checkpoint,
  chain: ChainAnswer,
): Promise<Held> {
  const last = chain.ok ? chain.entryCount : chain.seq - 1;
  if (last < seq) {
    if (!chain.ok) return { ok: 'unknown' };
    const words = say`The checkpoint is of entry ${seq}, and the ledger ends with entry ${last}: what came after it was cut off.`;
    return { ok: false, seq: last + 1, fault: 'cut', words };
  }
  if ((await entryHash(db, aircraftId, seq)) === hash) return { ok: true, entriesSince: last - seq };
  const words = say`Entry ${seq} has another hash than the checkpoint says: it, or one before it, was changed, and the chain was made anew from there.`;
  return { ok: false, seq, fault: 'rewritten', words };
}
