/** PostgreSQL crashes and comes back while the server stays up: it says so meanwhile, loses nothing, and goes on by itself (Y1, S7). */
import { describe, expect, it } from 'vitest';
import { problemOf } from '#tests/api/door-shop.ts';
import { onServer } from '#tests/support/engines.ts';
import { faultChance, faultRounds } from '#tests/support/fault-rounds.ts';
import { startServer } from '#tests/support/postgres-server.ts';
import { serverOn } from './server-on.ts';
import { makeShop, ShopUnderLoad } from './shop-under-load.ts';

const rounds = Math.max(2, Math.ceil(faultRounds(2) / 5));
/** As long as the driver waits for a connection, and some. */
const patienceMs = 15_000;

describe('a PostgreSQL server that crashes', () => {
  it(`[S7] ${rounds} times under load is told in words, and the server goes on by itself`, {
    timeout: 120_000 + rounds * 60_000,
  }, async () => {
    const postgres = await startServer();
    try {
      await onServer((client) => client.query(`create database shop template template0 encoding 'UTF8'`), postgres.url);
      const place = { kind: 'postgres', url: postgres.url.replace(/postgres$/, 'shop') } as const;
      const chance = faultChance();
      const load = new ShopUnderLoad(await makeShop(place), chance);
      const servers = [await serverOn(place), await serverOn(place)];
      const addresses = await Promise.all(servers.map((server) => server.address()));
      const line = await fetch(`${addresses[0]}/api/health`);
      expect(line.status).toBe(200);
      for (let round = 1; round <= rounds; round += 1) {
        const told = `${chance.seed}, round ${round}`;
        load.begin(12, addresses);
        await load.untilMore(5 + chance.below(30));
        await postgres.crash(round % 2 === 0 ? 'immediate' : 'killed');
        load.refusals.clear();
        const beganMs = performance.now();
        for (const address of addresses) {
          const answer = await fetch(`${address}/api/health`);
          await problemOf(answer, 503, 'database-away');
          expect(answer.headers.get('retry-after')).toBe('2');
        }
        while ((load.refusals.get('database-away') ?? 0) < 100) await new Promise((resolve) => setTimeout(resolve, 20));
        expect(performance.now() - beganMs, told).toBeLessThan(patienceMs);
        await postgres.restart();
        await load.untilMore(20);
        await load.end();
        expect([...load.refusals.keys()], told).toEqual(['database-away']);
        for (const address of addresses) await load.check(address, told);
      }
      for (const address of addresses) await load.sendWaiting(address);
      for (const server of servers) {
        expect(server.said()).toContain('The database does not answer');
        expect(server.said()).not.toContain('Fault');
        expect(await server.stop()).toBe(0);
      }
    } finally {
      await postgres.stop();
    }
  });
});
