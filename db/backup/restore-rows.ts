/**
 * Puts the rows of a backup into empty tables, as they were. The triggers that stamp and number new rows are off for it, inside the one
 * transaction, and on again as they were when it ends: what they would say is in the rows already.
 */
import { type Kysely, sql, type Transaction } from 'kysely';
import { sqlState } from '#db/engine/sql-state.ts';
import { StoreRefusal } from '#db/engine/store-refusal.ts';
import { say } from '#shared/words/say.ts';
import { type StoreTable, tablesOf } from './read-store.ts';
import type { Chunk } from './survey.ts';
import { TarFault } from './tar.ts';

/** True where any table has a row. */
export async function holdsData<Db>(db: Kysely<Db>): Promise<boolean> {
  for (const { name } of await tablesOf(db)) {
    const { rows } = await sql<{ any: boolean }>`
      select exists (select from ${sql.id('public', name)}) as any`.execute(db);
    if (rows[0]?.any === true) return true;
  }
  return false;
}

/**
 * As the owner of the tables, which have the schema of the backup. Throws `StoreRefusal` where they are not empty, `TarFault` where a row is
 * refused.
 */
export async function restoreRows<Db>(tx: Transaction<Db>, chunks: Iterable<Chunk>): Promise<void> {
  const tables = new Map((await tablesOf(tx)).map((table) => [table.name, table]));
  const putBack = await triggersOff(tx, [...tables.keys()]);
  // Nobody else can write in them from here on.
  if (await holdsData(tx)) throw notEmpty();
  for (const { table: name, lines } of chunks) {
    if (lines.length === 0) continue;
    const table = tables.get(name);
    if (table === undefined) throw new Error(`the backup has a table ${name}, which its schema has not`);
    await insert(tx, table, lines);
  }
  for (const statement of putBack) await sql.raw(statement).execute(tx);
}

async function insert<Db>(tx: Transaction<Db>, { name, columns }: StoreTable, lines: readonly string[]): Promise<void> {
  const listed = sql.join(columns.map((column) => sql.id(column)));
  const table = sql.id('public', name);
  const rows = `[${lines.join(',')}]`;
  try {
    await sql`insert into ${table} (${listed})
      select ${listed} from json_populate_recordset(null::${table}, ${rows}::json)`.execute(tx);
  } catch (error) {
    // Data that are no such value, or that a constraint refuses (SQLSTATE classes 22 and 23): no store ever held them.
    if (/^2[23]/.test(sqlState(error))) throw new TarFault(say`a row of ${name} is none that a store can have`);
    throw error;
  }
}

const ON_AGAIN: Readonly<Record<string, string>> = { A: 'enable always', O: 'enable', R: 'enable replica' };

/** Answers the statements that put them back. */
async function triggersOff<Db>(tx: Transaction<Db>, tables: readonly string[]): Promise<readonly string[]> {
  const { rows } = await sql<{ table: string; trigger: string; state: string }>`
    select quote_ident(c.relname) as table, quote_ident(t.tgname) as trigger, t.tgenabled::text as state
    from pg_trigger t join pg_class c on c.oid = t.tgrelid join pg_namespace n on n.oid = c.relnamespace
    where n.nspname = 'public' and not t.tgisinternal and c.relname::text = any(${tables}::text[])
    order by c.relname, t.tgname`.execute(tx);
  for (const { table, trigger } of rows)
    await sql.raw(`alter table public.${table} disable trigger ${trigger}`).execute(tx);
  return rows.flatMap(({ table, trigger, state }) => {
    const on = ON_AGAIN[state];
    return on === undefined ? [] : [`alter table public.${table} ${on} trigger ${trigger}`];
  });
}

function notEmpty(): StoreRefusal {
  return new StoreRefusal({
    code: 'store-not-empty',
    words: say`There are data here already, and a backup is restored into an empty store only. Nothing was restored.`,
    remedy: say`Give a new folder with --data, or make a new database and name it in DATABASE_URL.`,
  });
}
