/** Recording into the embedded engine in memory: the chain's function against a bare insert of the same texts. */
import { randomUUID } from 'node:crypto';
import { sql } from 'kysely';
import { createDemonstration } from '#db/demo/create-demonstration.ts';
import { openStore } from '#db/engine/open-store.ts';
import { appendEntries } from '#db/ledger/append.ts';
import { createAircraft } from '#db/ledger/create-aircraft.ts';
import { entryText } from '#shared/ledger/canonical.ts';
import { makeEntries } from './make-chain.ts';
import { line, medianMs } from './median.ts';

export async function benchRecording(): Promise<string> {
  const texts = makeEntries(1000, 500).map(entryText);
  const store = await openStore({ kind: 'memory' });
  try {
    await sql`create temporary table bare (seq integer primary key, content text not null)`.execute(store.db);
    const bareMs = await medianMs(3, async () => {
      await sql`truncate bare`.execute(store.db);
      await sql`insert into bare select row_number() over (), t from unnest(${texts}::text[]) as t`.execute(store.db);
    });
    const appendMs = await medianMs(3, async () => {
      const aircraftId = randomUUID();
      await createAircraft(store.db, { id: aircraftId, name: aircraftId });
      const answer = await appendEntries(store.db, { aircraftId, contents: texts });
      if (!answer.ok) throw new Error(answer.refusal.code);
    });
    const demonstrationMs = await medianMs(1, () => createDemonstration(store.db, { by: 'AB', today: '2026-10-01' }));
    return [
      `Recording ${texts.length.toLocaleString('en-GB')} entries, embedded engine in memory\n`,
      line('append to the chain, in batches', appendMs, { name: 'one bare insert of the texts', ms: bareMs }),
      line('the demonstration aircraft, from nothing', demonstrationMs, { name: 'that append', ms: appendMs }),
    ].join('');
  } finally {
    await store.close();
  }
}
