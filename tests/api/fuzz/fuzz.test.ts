/**
 * Thousands of requests to every door, most of them odd. `npm test` sends some hundred, the same each time; `npm run test:fuzz` sends 24,000, on
 * both engines, from a seed that it prints. `TAREBOOK_FUZZ_SEED` and `TAREBOOK_FUZZ_REQUESTS` set both.
 */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openStore, type Store, type StorePlace } from '#db/engine/open-store.ts';
import { verifyChain } from '#db/ledger/verify.ts';
import { makeDatabase, removePlace } from '#tests/support/engines.ts';
import { fuzz, type Tally } from './fuzz.ts';
import { World } from './world.ts';

const { TAREBOOK_FUZZ_SEED: seedGiven, TAREBOOK_FUZZ_REQUESTS: requestsGiven } = process.env;
const isLong = requestsGiven !== undefined;
const seed = seedGiven === undefined ? (isLong ? Date.now() % 1_000_000 : 7) : Number(seedGiven);
const engines = isLong ? (['memory', 'postgres'] as const) : (['memory'] as const);
const requests = Math.ceil(Number(requestsGiven ?? 600) / engines.length);

describe.each(engines)('whatever is sent (%s)', (kind) => {
  let place: StorePlace;
  let store: Store;
  let world: World;
  beforeAll(async () => {
    place = kind === 'memory' ? { kind } : { kind, url: await makeDatabase() };
    store = await openStore(place);
    world = World.open(store);
  });
  afterAll(async () => {
    world.shop.close();
    await store.close();
    await removePlace(place);
  });

  it(`[N21] no door fails, hangs, answers otherwise than the document says, or records what it refuses (seed ${seed})`, async () => {
    const { faults, doors } = await fuzz(world, { seed, requests });
    if (isLong) process.stdout.write(tableOf(doors, kind));
    expect(faults).toEqual([]);
    expect([...doors].filter(([, { taken }]) => taken === 0).map(([name]) => name)).toEqual([]);
    for (const id of Object.values(world.aircraft)) expect(await verifyChain(store.db, id)).toMatchObject({ ok: true });
  }, 7_200_000);
});

function tableOf(doors: ReadonlyMap<string, Tally>, kind: string): string {
  const rows = [...doors].map(([name, { asked, taken, statuses, longestMs }]) => {
    const each = [...statuses].sort(([a], [b]) => a - b).map(([status, count]) => `${status}: ${count}`);
    return `${String(asked).padStart(6)} ${String(taken).padStart(6)} ${longestMs.toFixed(0).padStart(7)}  ${name}  (${each.join(', ')})`;
  });
  const asked = [...doors.values()].reduce((sum, tally) => sum + tally.asked, 0);
  return `\n${kind}, seed ${seed}: ${asked} requests\n asked  taken longest ms\n${rows.join('\n')}\n`;
}
