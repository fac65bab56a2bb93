/** A PostgreSQL server that goes away under a running server, and comes back. */
import { setTimeout as sleep } from 'node:timers/promises';
import { sql } from 'kysely';
import pg from 'pg';
import { expect, it } from 'vitest';
import { openStore } from '#db/engine/open-store.ts';
import { makeDatabase, onServer, removePlace } from '#tests/support/engines.ts';
import { firstLead, mustBeRefused, sendJson, startServerProcess } from '#tests/support/server-process.ts';
import { wayTo } from '#tests/support/way-to.ts';

const nameOf = (url: string) => new URL(url).pathname.slice(1);

it('[Y1] a connection that is cut, idle or in the middle of a transaction, ends a request and not the process', async () => {
  const url = await makeDatabase();
  const store = await openStore({ kind: 'postgres', url });
  const cut = () =>
    onServer((client) =>
      client.query(
        "select pg_terminate_backend(pid) from pg_stat_activity where datname = $1 and application_name = 'tarebook'",
        [nameOf(url)],
      ),
    );
  await sql`select 1`.execute(store.db);
  await cut();
  // Time for the loss to be heard of: unheard, it would be the next test's.
  await sleep(200);
  const broken = store.db.transaction().execute(async (tx) => {
    await sql`select 1`.execute(tx);
    await cut();
    await sleep(200);
    return sql`select 1`.execute(tx);
  });
  await expect(broken).rejects.toThrow();
  expect((await sql`select 1`.execute(store.db)).rows).toHaveLength(1);
  await store.close();
  await removePlace({ kind: 'postgres', url });
});

it('[Y1] while the database is gone the server says so, to whoever asks; it goes on when it is back', async () => {
  const url = await makeDatabase();
  const way = await wayTo(url);
  const server = startServerProcess(['--port', '0'], { DATABASE_URL: way.url });
  try {
    const cookie = await firstLead(server);
    const at = await server.address();
    const statusAt = async (path: string) => (await sendJson(`${at}${path}`, { cookie })).status;
    expect(await statusAt('/api/ready')).toBe(200);
    way.shut();
    for (const path of ['/api/ready', '/api/health', '/api/aircraft']) {
      const answer = await sendJson(`${at}${path}`, { cookie });
      mustBeRefused(answer, 503, 'database-away');
      expect(answer.body).toMatchObject({ requestId: answer.headers.get('x-request-id') });
    }
    await way.open();
    // The session is in the database and holds.
    expect(await statusAt('/api/aircraft')).toBe(200);
    expect(await statusAt('/api/ready')).toBe(200);
    expect(await server.stop()).toBe(0);
    expect(server.said()).not.toContain('Fault');
  } finally {
    await server.kill();
    way.shut();
    await removePlace({ kind: 'postgres', url });
  }
});

it('[Y1] a database that takes connections and answers nothing is not ready after two seconds', async () => {
  const url = await makeDatabase();
  const server = startServerProcess(['--port', '0'], { DATABASE_URL: url });
  const locker = new pg.Client({ connectionString: url });
  try {
    const at = await server.address();
    await locker.connect();
    await locker.query('begin');
    await locker.query('lock table aircraft in access exclusive mode');
    mustBeRefused(await sendJson(`${at}/api/ready`, {}), 503, 'database-away');
    await locker.query('rollback');
    expect((await sendJson(`${at}/api/ready`, {})).status).toBe(200);
    expect(await server.stop()).toBe(0);
  } finally {
    await locker.end().catch(() => undefined);
    await server.kill();
    await removePlace({ kind: 'postgres', url });
  }
});
