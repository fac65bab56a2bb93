/**
 * Every row of a store, as it stood at one instant (rule Z1): read in one transaction that sees nothing of what is recorded meanwhile, table by
 * table through a cursor, so that no more than some megabytes are held at a time. Which tables there are is asked of the database, so that one
 * of a later version cannot be forgotten, and a store of an earlier version can be read as it is.
 */
import { type Kysely, sql, type Transaction } from 'kysely';
import type { Chunk } from './survey.ts';

/** Sessions end with a backup. */
const LEFT_OUT: ReadonlySet<string> = new Set(['session']);
/** Written as an empty text: the number of a transaction means nothing in another database, and could come up there again. */
const BLANKED: ReadonlySet<string> = new Set(['brought_aircraft.began_in']);

const CHUNK_CHARACTERS = 2_000_000;
const FIRST_FETCH_ROWS = 16;
const MOST_FETCH_ROWS = 2_000;

export type StoreTable = {
  readonly name: string;
  readonly columns: readonly string[];
  /** The columns of its primary key. */
  readonly key: readonly string[];
  /** Tables that its rows refer to. */
  readonly after: readonly string[];
};

/** Calls `visit` with every row of the store, and answers the steps of its schema. Other work goes on, in other connections. */
export function readStore<Db>(db: Kysely<Db>, visit: (chunk: Chunk) => unknown): Promise<readonly string[]> {
  return db
    .transaction()
    .setIsolationLevel('repeatable read')
    .setAccessMode('read only')
    .execute(async (tx) => {
      await asOwner(tx);
      for await (const chunk of rowsOf(tx)) await visit(chunk);
      return schemaOf(tx);
    });
}

/** For the rest of the transaction: back from the app's role to the one who signed in. */
export async function asOwner<Db>(tx: Transaction<Db>): Promise<void> {
  await sql`set local role none`.execute(tx);
}

/** The steps by which the schema has come about, in order; none in a database that was never opened. */
export async function schemaOf<Db>(db: Kysely<Db>): Promise<readonly string[]> {
  const { rows } = await sql<{ there: boolean }>`
    select to_regclass('public.kysely_migration') is not null as there`.execute(db);
  if (rows[0]?.there !== true) return [];
  const steps = await sql<{ name: string }>`select name from public.kysely_migration order by name`.execute(db);
  return steps.rows.map(({ name }) => name);
}

/** The tables of a backup, each after those it refers to. Ours are the ones that the app may read. */
export async function tablesOf<Db>(db: Kysely<Db>): Promise<readonly StoreTable[]> {
  const { rows } = await sql<StoreTable>`
    select c.relname::text as name,
      array(select a.attname::text from pg_attribute a
        where a.attrelid = c.oid and a.attnum > 0 and not a.attisdropped order by a.attnum) as columns,
      array(select a.attname::text from pg_index i cross join unnest(i.indkey) with ordinality as k (attnum, at)
        join pg_attribute a on a.attrelid = c.oid and a.attnum = k.attnum
        where i.indrelid = c.oid and i.indisprimary order by k.at) as key,
      array(select distinct r.relname::text from pg_constraint f join pg_class r on r.oid = f.confrelid
        where f.conrelid = c.oid and f.contype = 'f' and f.confrelid <> c.oid) as after
    from pg_class c join pg_namespace n on n.oid = c.relnamespace
    where n.nspname = 'public' and c.relkind = 'r' and has_table_privilege('tarebook_app', c.oid, 'select')
    order by c.relname collate "C"`.execute(db);
  return inOrder(rows.filter(({ name }) => !LEFT_OUT.has(name)));
}

function inOrder(tables: readonly StoreTable[]): readonly StoreTable[] {
  const placed: StoreTable[] = [];
  for (let left = tables; left.length > 0; ) {
    const waits = ({ after }: StoreTable) => left.some(({ name }) => after.includes(name));
    const ready = left.filter((table) => !waits(table));
    if (ready.length === 0) throw new Error('tables refer to one another in a circle');
    placed.push(...ready);
    left = left.filter(waits);
  }
  return placed;
}

/** The rows of every table, in the order of their keys, spelt alike on every server. Inside a transaction. */
export async function* rowsOf<Db>(tx: Transaction<Db>): AsyncGenerator<Chunk, void, void> {
  for (const setting of [`timezone = 'UTC'`, `datestyle = 'ISO'`, `bytea_output = 'hex'`, 'extra_float_digits = 1'])
    await sql.raw(`set local ${setting}`).execute(tx);
  for (const table of await tablesOf(tx)) yield* rowsOfTable(tx, table);
}

async function* rowsOfTable<Db>(
  tx: Transaction<Db>,
  { name, columns, key }: StoreTable,
): AsyncGenerator<Chunk, void, void> {
  const listed = columns.map((column) =>
    BLANKED.has(`${name}.${column}`) ? sql`'' as ${sql.id(column)}` : sql.id(column),
  );
  await sql`declare backup_rows no scroll cursor for select row_to_json(r)::text as line
    from (select ${sql.join(listed)} from ${sql.id('public', name)}) r order by ${sql.join(key.map((column) => sql.id('r', column)))}`.execute(
    tx,
  );
  // An empty table is there as well.
  yield { table: name, lines: [] };
  for (let count = FIRST_FETCH_ROWS; ; ) {
    const { rows } = await sql<{ line: string }>`fetch ${sql.raw(String(count))} from backup_rows`.execute(tx);
    if (rows.length === 0) break;
    const lines = rows.map(({ line }) => line);
    for (const part of inParts(lines)) yield { table: name, lines: part };
    const average = lines.reduce((all, line) => all + line.length, 0) / lines.length;
    count = Math.max(1, Math.min(Math.round(CHUNK_CHARACTERS / average), count * 4, MOST_FETCH_ROWS));
  }
  await sql`close backup_rows`.execute(tx);
}

/** At least one row, and no more than fit a chunk. */
function inParts(lines: readonly string[]): readonly (readonly string[])[] {
  const parts: string[][] = [];
  let room = 0;
  for (const line of lines) {
    if (line.length > room) {
      parts.push([]);
      room = CHUNK_CHARACTERS;
    }
    parts.at(-1)?.push(line);
    room -= line.length;
  }
  return parts;
}
