/** What is asked often is kept by PostgreSQL, and goes on being answered when its tables change (S1). */
import { sql } from 'kysely';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { openStore, type Store } from '#db/engine/open-store.ts';
import { makeDatabase, onServer, removePlace } from '#tests/support/engines.ts';

let url: string;
let store: Store;

beforeAll(async () => {
  url = await makeDatabase();
  store = await openStore({ kind: 'postgres', url });
});

afterAll(async () => {
  await store?.close();
  await removePlace({ kind: 'postgres', url });
});

/** In one session, the texts that it keeps. */
async function keptAfter(work: (db: Store['db']) => Promise<void>): Promise<string[]> {
  return store.db.connection().execute(async (db) => {
    await work(db);
    const { rows } = await sql<{ statement: string }>`select statement from pg_prepared_statements`.execute(db);
    return rows.map(({ statement }) => statement);
  });
}

it('[S1] a statement is kept from the third time on, once a session, and answers with the values of each time', async () => {
  const add = (db: Store['db'], a: number) => sql<{ sum: number }>`select ${a}::integer + 41 as sum`.execute(db);
  const kept = await keptAfter(async (db) => {
    for (let a = 1; a <= 6; a += 1) expect((await add(db, a)).rows).toEqual([{ sum: a + 41 }]);
  });
  expect(kept.filter((text) => text.includes('+ 41'))).toEqual(['select $1::integer + 41 as sum']);
  expect(await keptAfter(async (db) => void (await add(db, 1)))).toContain('select $1::integer + 41 as sum');
});

it('[S1] one that is asked seldom is not, nor one that asks for all columns or has a list in it', async () => {
  const kept = await keptAfter(async (db) => {
    for (let a = 0; a < 2; a += 1) await sql`select ${a}::integer + 42 as seldom`.execute(db);
    for (let a = 0; a < 5; a += 1) await db.selectFrom('aircraft').selectAll().where('head_seq', '=', a).execute();
    for (let a = 0; a < 5; a += 1)
      await db.selectFrom('aircraft').select('id').where('head_seq', 'in', [a, 7]).execute();
  });
  expect(kept.filter((text) => /seldom|\*| in /.test(text))).toEqual([]);
});

it('[S1] what fails is no reason to keep nothing: the next is answered', async () => {
  const divide = (db: Store['db'], by: number) => sql<{ q: number }>`select 84 / ${by}::integer as q`.execute(db);
  await keptAfter(async (db) => {
    for (let a = 0; a < 4; a += 1) await expect(divide(db, 0)).rejects.toThrow('division by zero');
    expect((await divide(db, 2)).rows).toEqual([{ q: 42 }]);
    await expect(divide(db, 0)).rejects.toThrow('division by zero');
    expect((await divide(db, 2)).rows).toEqual([{ q: 42 }]);
  });
});

it('[S1] one that is kept no more, or answers with another type, or is sent what cannot be sent, breaks once and not for ever', async () => {
  const outcomes = async (ask: () => Promise<unknown>, times = 4) => {
    const told: string[] = [];
    for (let count = 0; count < times; count += 1)
      await ask().then(
        () => told.push('answered'),
        () => told.push('broken'),
      );
    return told;
  };
  await store.db.connection().execute(async (db) => {
    const ask = () => sql`select ${'a'}::text as of_a_pooler`.execute(db);
    expect(await outcomes(ask)).toEqual(['answered', 'answered', 'answered', 'answered']);
    await sql.raw('deallocate all').execute(db);
    expect(await outcomes(ask)).toEqual(['broken', 'answered', 'answered', 'answered']);
  });
  await store.db.connection().execute(async (db) => {
    await onServer(
      (client) => client.query('create table size (v integer); grant select on size to tarebook_app'),
      url,
    );
    const ask = () => sql`select v from size where v = ${1}::integer`.execute(db);
    expect(await outcomes(ask)).toEqual(['answered', 'answered', 'answered', 'answered']);
    await onServer((client) => client.query('alter table size alter v type bigint'), url);
    expect(await outcomes(ask)).toEqual(['broken', 'answered', 'answered', 'answered']);
  });
  await store.db.connection().execute(async (db) => {
    const round: Record<string, unknown> = {};
    round['self'] = round;
    const ask = (value: unknown) => () => sql`select ${value}::text as of_anything`.execute(db);
    await outcomes(ask('a'));
    expect(await outcomes(ask(round), 1)).toEqual(['broken']);
    expect(await outcomes(ask('b'))).toEqual(['answered', 'answered', 'answered', 'answered']);
  });
});

it('[S1] a newer version adds a column while this one runs: it goes on', async () => {
  const names = () => store.db.selectFrom('person').select(['id', 'name']).where('is_active', '=', true).execute();
  const all = () => store.db.selectFrom('person').selectAll().where('is_active', '=', true).execute();
  const ask = async () => {
    for (let count = 0; count < 5; count += 1) await Promise.all([names(), all(), names()]);
  };
  await ask();
  await onServer((client) => client.query('alter table person add column shoe_size integer'), url);
  await ask();
  await onServer((client) => client.query('alter table person drop column shoe_size'), url);
  await ask();
});
