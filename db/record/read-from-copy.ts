/**
 * Reads the beginning of a long ledger from a copy of the database (rule Y6). The hash of each entry is worked out from what was read, and the last must be
 * the one that the database has under that number: then every entry before it is the database's own as well (rule L5).
 */
import type { Kysely } from 'kysely';
import type { Database } from '#db/database.ts';
import type { ReadCopy } from '#db/engine/read-copy.ts';
import { entryHash as chained, genesisHash } from '#db/ledger/chain-hash.ts';
import { entryHash as hashOf } from '#db/ledger/entry-hash.ts';
import { type ReadEntry, readEntries } from '#db/ledger/read.ts';

/**
 * Hands the entries up to `upToSeq` that have come to the copy to `take`. False where they could not be read or are not the database's: what was
 * taken is to be thrown away, as it is where this throws.
 */
export async function readFromCopy(
  copy: ReadCopy,
  db: Kysely<Database>,
  { aircraftId, upToSeq }: { readonly aircraftId: string; readonly upToSeq: number },
  take: (entries: AsyncIterable<ReadEntry>) => Promise<void>,
): Promise<boolean> {
  const end = { seq: 0, hash: genesisHash(aircraftId) };
  async function* following(entries: AsyncIterable<ReadEntry>): AsyncGenerator<ReadEntry, void, void> {
    for await (const entry of entries) {
      end.hash = chained({ ...entry, aircraftId, prevHash: end.hash });
      end.seq = entry.seq;
      yield entry;
    }
  }
  const read = await copy.read(
    async (there) => {
      await take(following(readEntries(there, { aircraftId, upToSeq })));
      return end;
    },
    // A ledger so long of which nothing is there is most likely another database.
    async ({ seq, hash }) => seq > 0 && (await hashOf(db, aircraftId, seq)) === hash,
  );
  return read !== undefined;
}
