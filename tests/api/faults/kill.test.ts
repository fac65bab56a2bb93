/** The server killed at any moment while several clients write to it: nothing acknowledged is lost, nothing is there twice (S3, S6). */
import { setTimeout as sleep } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import type { StorePlace } from '#db/engine/open-store.ts';
import { makeDatabase, nobodyLeft, removePlace, startedFolder } from '#tests/support/engines.ts';
import { faultChance, faultRounds } from '#tests/support/fault-rounds.ts';
import { serverOn, startServerOn } from './server-on.ts';
import { makeShop, ShopUnderLoad } from './shop-under-load.ts';

const rounds = faultRounds(3);
const timeout = 60_000 + rounds * 60_000;

describe('a server that is killed', () => {
  it.each(['folder', 'postgres'] as const)(
    `[S6] ${rounds} times under load keeps what it acknowledged (%s)`,
    {
      timeout,
    },
    async (kind) => {
      const place: StorePlace =
        kind === 'folder' ? { kind, path: await startedFolder() } : { kind, url: await makeDatabase() };
      try {
        const chance = faultChance();
        const load = new ShopUnderLoad(await makeShop(place), chance);
        for (let round = 1; round <= rounds; round += 1) {
          // One has a folder; a database may have two.
          const servers = [await serverOn(place), ...(kind === 'postgres' ? [await serverOn(place)] : [])];
          const addresses = await Promise.all(servers.map((server) => server.address()));
          const check = async (how: string) => {
            for (const address of addresses) await load.check(address, `${chance.seed}, round ${round}, ${how}`);
          };
          await check('read anew');
          load.begin(4, addresses);
          await load.untilMore(1 + chance.below(40));
          if (round === 1 && kind === 'folder') await expectRefused(place);
          if (round % 3 === 1) {
            await load.end();
            await check('carried on');
            load.begin(4, addresses);
            await load.untilMore(1 + chance.below(10));
          }
          for (const server of servers) {
            await sleep(chance.uniform() * 30);
            await server.kill();
          }
          await load.end();
          await nobodyLeft(place);
        }
        const server = await serverOn(place);
        const address = await server.address();
        await load.sendWaiting(address);
        await load.check(address, `${chance.seed}, at the end`);
        expect([...load.refusals], chance.seed).toEqual([]);
        expect(await server.stop()).toBe(0);
      } finally {
        await removePlace(place);
      }
    },
  );
});

/** Another server on a folder that is in use. */
async function expectRefused(place: StorePlace): Promise<void> {
  const second = startServerOn(place);
  expect(await second.ended).toBe(2);
  expect(second.said()).toMatch(/is in use by process \d+ on host .* Stop it first\./);
}
