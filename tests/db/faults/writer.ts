/**
 * Child of the fault tests: several writers append to one aircraft until the process is killed. Says `try <ids>` before
 * an append, `part` after a batch that others of the same append are to follow, and `done <ids>` after it was acknowledged; on a pipe these
 * writes are out when the call returns.
 */
import { openStore, type StorePlace } from '#db/engine/open-store.ts';
import { appendEntries } from '#db/ledger/append.ts';
import { contentsOf, idOf } from '#tests/support/entry-content.ts';

const [kind = '', where = '', aircraftId = ''] = process.argv.slice(2);
const place: StorePlace = kind === 'folder' ? { kind, path: where } : { kind: 'postgres', url: where };
const store = await openStore(place);

async function write(): Promise<void> {
  for (let round = 0; ; round += 1) {
    // Every tenth is long enough for four batches: those must stay together as well.
    const contents = contentsOf(round % 10 === 9 ? 1_000 : 1 + (round % 3));
    const ids = contents.map(idOf).join(' ');
    process.stdout.write(`try ${ids}\n`);
    const answer = await appendEntries(store.db, {
      aircraftId,
      contents,
      onProgress: (done, total) => done < total && process.stdout.write('part\n'),
    });
    if (!answer.ok) throw new Error(answer.refusal.code);
    process.stdout.write(`done ${ids}\n`);
    // Yields to the timers and the pipe.
    await new Promise((resolve) => setImmediate(resolve));
  }
}

await Promise.all([write(), write(), write(), write()]);
