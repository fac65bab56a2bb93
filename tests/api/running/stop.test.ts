/** A server that is told to stop while everybody weighs. */
import { setTimeout as sleep } from 'node:timers/promises';
import { expect, it } from 'vitest';
import { openStore, type StorePlace } from '#db/engine/open-store.ts';
import { verifyChain } from '#db/ledger/verify.ts';
import { makeDatabase, removePlace, startedFolder } from '#tests/support/engines.ts';
import {
  beginAircraft,
  firstLead,
  mustBeRefused,
  sendJson,
  startServerProcess,
} from '#tests/support/server-process.ts';
import { loadOn } from './load.ts';

it.each(['folder', 'postgres'] as const)(
  '[Y1] told to stop under load it says so, ends what is under way and its lines, and has all that it acknowledged (%s)',
  { timeout: 120_000 },
  async (kind) => {
    const place: StorePlace =
      kind === 'folder' ? { kind, path: await startedFolder() } : { kind, url: await makeDatabase() };
    const where =
      place.kind === 'folder'
        ? { TAREBOOK_DATA: place.path }
        : place.kind === 'postgres'
          ? { DATABASE_URL: place.url }
          : {};
    const server = startServerProcess(['--port', '0', '--drain-seconds', '4'], where);
    try {
      const cookie = await firstLead(server);
      const at = await server.address();
      const id = await beginAircraft(at, cookie);
      const heard = fetch(`${at}/api/live`, { headers: { Cookie: cookie } }).then((line) => line.text());
      const load = loadOn(`${at}/api/aircraft/${id}/entries`, { cookie, hands: 4 });
      while (load.acknowledged.size < 20) await sleep(20);

      const beganAtMs = performance.now();
      const ended = server.stop();
      // While it drains it says so, and serves on.
      while ((await sendJson(`${at}/api/ready`, {})).status !== 503) await sleep(5);
      const told = await sendJson(`${at}/api/ready`, {});
      mustBeRefused(told, 503, 'stopping');
      expect(told.headers.get('connection')).toBe('close');
      expect((await sendJson(`${at}/api/session`, { cookie })).status).toBe(200);
      expect(await ended).toBe(0);
      expect(performance.now() - beganAtMs).toBeLessThan(4_000 + 12_000);
      await load.end(0);
      expect(await heard).toMatch(/retry: \d+\nevent: leaving\ndata: this server stops\n\n$/);
      expect([load.torn, load.refused]).toEqual([[], []]);

      const store = await openStore(place);
      const rows = await store.db.selectFrom('entry').select('id').where('aircraft_id', '=', id).execute();
      const kept = new Set(rows.map((row) => row.id));
      expect([...load.acknowledged].filter((entry) => !kept.has(entry))).toEqual([]);
      expect(await verifyChain(store.db, id)).toMatchObject({ ok: true });
      await store.close();
    } finally {
      await server.kill();
      await removePlace(place);
    }
  },
);
