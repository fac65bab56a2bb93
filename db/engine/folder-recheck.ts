/**
 * Looks through the data of a folder whose last end was no orderly one, after the engine has recovered it and before anybody uses it. The
 * engine itself checks what its log touches and what it happens to read; damage elsewhere would show on some later day, or as rows that
 * are not there.
 *
 * Every page of every table is read by its own order and by that of each of its indexes, which must find as many rows; the engine checks the
 * sum of each page as it is read. Then every chain is walked, and each must reach as far as was acknowledged.
 */
import { type Kysely, sql } from 'kysely';
import type { Database } from '#db/database.ts';
import { verifyChain } from '#db/ledger/verify.ts';

/** What is wrong, or undefined. Throws the engine's own error where it cannot read. */
export async function recheck(
  db: Kysely<Database>,
  acknowledged: ReadonlyMap<string, number>,
): Promise<string | undefined> {
  return (await countRows(db)) ?? (await walkChains(db, acknowledged));
}

type IndexRow = { place: string; index: string; keys: string; condition: string | null };

async function countRows(db: Kysely<Database>): Promise<string | undefined> {
  const tables = await sql<{ place: string }>`
    select oid::regclass::text as place from pg_class where relkind in ('r', 't', 'm') and relpersistence = 'p'`.execute(
    db,
  );
  const indexes = await sql<IndexRow>`
    select i.indrelid::regclass::text as place, i.indexrelid::regclass::text as "index",
      (select string_agg(pg_get_indexdef(i.indexrelid, n, true), ', ' order by n)
        from generate_series(1, i.indnkeyatts) as n) as keys,
      pg_get_expr(i.indpred, i.indrelid) as condition
      from pg_index i join pg_class c on c.oid = i.indexrelid join pg_am a on a.oid = c.relam
      where a.amname = 'btree' and i.indisvalid`.execute(db);
  return db.connection().execute(async (session) => {
    const count = async (query: string) => (await sql<{ n: number }>`${sql.raw(query)}`.execute(session)).rows[0]?.n;
    // Each way of reading is forced: the one by the table's own pages, then the one by the index.
    await sql`set enable_indexscan = off; set enable_indexonlyscan = off; set enable_bitmapscan = off`.execute(session);
    try {
      for (const { place } of tables.rows) await count(`select count(*)::integer as n from ${place}`);
      const wanted: (number | undefined)[] = [];
      for (const { place, condition } of indexes.rows)
        wanted.push(await count(`select count(*)::integer as n from ${place} where ${condition ?? 'true'}`));
      await sql`set enable_indexscan = on; set enable_seqscan = off; set enable_sort = off`.execute(session);
      for (const [at, { place, index, keys, condition }] of indexes.rows.entries()) {
        const numbered = `select row_number() over (order by ${keys}) as n from ${place} where ${condition ?? 'true'}`;
        const found = await count(`select coalesce(max(n), 0)::integer as n from (${numbered}) as row_numbers`);
        if (found !== wanted[at]) return `${place} has ${wanted[at]} rows, of which the index ${index} finds ${found}`;
      }
      return undefined;
    } finally {
      await sql`reset all`.execute(session);
    }
  });
}

async function walkChains(
  db: Kysely<Database>,
  acknowledged: ReadonlyMap<string, number>,
): Promise<string | undefined> {
  const made = await sql<{ is: boolean }>`select to_regclass('public.aircraft') is not null as "is"`.execute(db);
  if (made.rows[0]?.is !== true && acknowledged.size === 0) return undefined;
  const heads = await db.selectFrom('aircraft').select(['id', 'name', 'head_seq']).execute();
  for (const [aircraftId, seq] of acknowledged) {
    const head = heads.find(({ id }) => id === aircraftId);
    if (head === undefined) return `an aircraft is missing that had ${seq} entries`;
    if (head.head_seq < seq) return `${head.name} has ${head.head_seq} entries, and ${seq} had been acknowledged`;
  }
  for (const { id, name } of heads) {
    const answer = await verifyChain(db, id);
    if (!answer.ok) return `the ledger of ${name} does not verify: ${answer.words}`;
  }
  return undefined;
}
