/** A process killed at any moment loses nothing it acknowledged, and leaves nothing half done (S6). */
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { openStore, type StorePlace } from '#db/engine/open-store.ts';
import { appendEntries } from '#db/ledger/append.ts';
import { verifyChain } from '#db/ledger/verify.ts';
import { startChild } from '#tests/support/child.ts';
import {
  makeAircraft,
  makeDatabase,
  makeFolder,
  nobodyLeft,
  removePlace,
  startedFolder,
} from '#tests/support/engines.ts';
import { contentOf } from '#tests/support/entry-content.ts';
import { faultRounds } from '#tests/support/fault-rounds.ts';

const rounds = faultRounds(4);
/** Each round starts an engine twice, which takes seconds where others want the machine too. */
const timeout = 60_000 + rounds * 30_000;
const writerFile = join(import.meta.dirname, 'writer.ts');
const holderFile = join(import.meta.dirname, 'hold-folder.ts');

const idsOf = (lines: readonly string[], verb: string) =>
  lines.filter((line) => line.startsWith(`${verb} `)).map((line) => line.slice(verb.length + 1).split(' '));

async function storedIds(place: StorePlace, aircraftId: string): Promise<string[]> {
  const store = await openStore(place);
  try {
    expect(await verifyChain(store.db, aircraftId)).toMatchObject({ ok: true });
    const rows = await store.db.selectFrom('entry').select('id').where('aircraft_id', '=', aircraftId).execute();
    return rows.map((row) => row.id);
  } finally {
    await store.close();
  }
}

describe('SIGKILL under concurrent writes', () => {
  it.each(['folder', 'postgres'] as const)(
    `[S6] ${rounds} kills lose and tear nothing (%s)`,
    { timeout },
    async (kind) => {
      const place: StorePlace =
        kind === 'folder' ? { kind, path: await startedFolder() } : { kind, url: await makeDatabase() };
      try {
        const store = await openStore(place);
        const aircraftId = await makeAircraft(store.db);
        await store.close();
        const lines: string[] = [];
        for (let round = 0; round < rounds; round += 1) {
          const where = place.kind === 'folder' ? place.path : place.url;
          const child = startChild(writerFile, [place.kind, where, aircraftId]);
          await child.said(40);
          // Every other time between two batches of one append, which a moment taken at random hardly ever finds.
          const from = child.lines.length;
          if (round % 2 === 0) await child.until((said) => said.includes('part', from));
          else await sleep(Math.random() * 120);
          await child.kill();
          await nobodyLeft(place);
          lines.push(...child.lines);
          const stored = await storedIds(place, aircraftId);
          const present = new Set(stored);
          expect(present.size).toBe(stored.length);
          const acknowledged = idsOf(lines, 'done').flat();
          expect(acknowledged.filter((id) => !present.has(id))).toEqual([]);
          const torn = idsOf(lines, 'try').filter((ids) => new Set(ids.map((id) => present.has(id))).size !== 1);
          expect(torn).toEqual([]);
        }
        expect(idsOf(lines, 'done').length).toBeGreaterThan(rounds * 10);
      } finally {
        await removePlace(place);
      }
    },
  );
});

describe('SIGKILL at a first start', () => {
  it('[S6] a folder whose making was cut short is made anew', async () => {
    const place = { kind: 'folder', path: await makeFolder() } as const;
    try {
      for (const waitMs of [0, 1_200]) {
        const child = startChild(holderFile, [place.path]);
        while (!existsSync(join(place.path, 'tarebook.json'))) await sleep(5);
        await sleep(waitMs);
        await child.kill();
        expect(child.lines).toEqual([]);
      }
      const store = await openStore(place);
      const aircraftId = await makeAircraft(store.db);
      expect(await appendEntries(store.db, { aircraftId, contents: [contentOf()] })).toMatchObject({ ok: true });
      await store.close();
    } finally {
      await removePlace(place);
    }
  });
});
